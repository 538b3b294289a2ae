// SPDX-License-Identifier: GPL-3.0-or-later
#include "window/words.hpp"

#include <QKeySequence>
#include <QList>
#include <QStringList>
#include <catch2/catch.hpp>
#include <fstream>
#include <iterator>
#include <map>

namespace calmplate::window {

// Source: [derived] the guide and the card are two printings of one table.
TEST_CASE("the user guide has the table of the help card", "[window][derived]") {
  std::ifstream stream(CALMPLATE_SOURCE_FOLDER "/docs/user-guide.md");
  const std::string guide{std::istreambuf_iterator<char>(stream), std::istreambuf_iterator<char>()};
  const std::vector<words::HelpRow> rows = words::help_rows();
  CHECK(rows.size() > 20);
  for (const words::HelpRow& row : rows) {
    const std::string line =
        ("| " + row.what + " | " + row.mouse + " | " + row.keys + " |").toStdString();
    CAPTURE(line);
    CHECK(guide.find(line) != std::string::npos);
  }
}

// Source: [derived] no key may start two actions, and none may be missing on the card.
TEST_CASE("every action has a key of its own that the help card names", "[window][derived]") {
  QString card;
  for (const words::HelpRow& row : words::help_rows())
    card += " " + row.mouse + " " + row.keys + " ";
  for (const char sign : {',', ':', ';'}) card.replace(sign, ' ');
  std::map<std::string, int> uses;
  for (int i = 0; i <= static_cast<int>(words::Act::cautions); ++i) {
    const words::ActWord word = words::act(static_cast<words::Act>(i));
    CAPTURE(i, word.word.toStdString(), word.keys.toStdString());
    CHECK_FALSE(word.word.isEmpty());
    REQUIRE_FALSE(word.keys.isEmpty());
    for (const QKeySequence& key : QKeySequence::listFromString(word.keys)) {
      CHECK_FALSE(key.isEmpty());
      CHECK(++uses[key.toString().toStdString()] == 1);
    }
    const QString first = word.keys.split("; ").front();
    CHECK(card.contains(" " + first + " "));
  }
}

// Source: [practice] the list of cautions that the project gives everywhere.
TEST_CASE("the cautions name what can be harmed", "[window][practice]") {
  QString all = words::cautions_first();
  for (const QString& caution : words::cautions()) all += " " + caution;
  for (const char* word : {"vehicle maker's instructions",
                           "Drain holes",
                           "Side-impact",
                           "Airbags",
                           "Window travel",
                           "Battery",
                           "Sharp foil",
                           "Solvents",
                           "Hearing"}) {
    CAPTURE(word);
    CHECK(all.contains(word));
  }
}

}  // namespace calmplate::window
