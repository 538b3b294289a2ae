// SPDX-License-Identifier: GPL-3.0-or-later
#include <catch2/catch.hpp>
#include <cstddef>
#include <random>
#include <string>
#include <vector>

#include "job/good_job.hpp"
#include "job/read_sections.hpp"

namespace calmplate {
namespace {

/// How often a text was read, and how often refused; anything else escapes and fails the test.
struct Tally {
  int read = 0, refused = 0;

  void add(const std::string& text) {
    try {
      job::read_job_text(text, "door.toml");
      ++read;
    } catch (const base::InputError& e) {
      const std::string message = e.what();
      if (message.find('\n') != std::string::npos || message.size() > 1000) FAIL(message);
      ++refused;
    }
  }
};

std::vector<std::string> lines_of(const std::string& text) {
  std::vector<std::string> lines;
  for (std::size_t begin = 0; begin < text.size();) {
    const std::size_t end = text.find('\n', begin) + 1;
    lines.push_back(text.substr(begin, end - begin));
    begin = end;
  }
  return lines;
}

std::string text_of(const std::vector<std::string>& lines) {
  std::string text;
  for (const std::string& line : lines) text += line;
  return text;
}

}  // namespace

// Source: [practice] common practice, no source: damaged input is refused, never a crash.
TEST_CASE("a job cut off at any byte is read or refused", "[job][practice]") {
  const std::string good = testing::good_job();
  Tally tally;
  for (std::size_t n = 0; n <= good.size(); ++n) tally.add(good.substr(0, n));
  // After [drive] a cut between two lines leaves a whole job.
  CHECK(tally.read > 20);
  CHECK(tally.refused > 1000);
}

// Source: [practice] as above.
TEST_CASE("a job with a line lost, doubled or moved is read or refused", "[job][practice]") {
  const std::vector<std::string> good = lines_of(testing::good_job());
  Tally tally;
  for (std::size_t i = 0; i < good.size(); ++i) {
    std::vector<std::string> lost = good, doubled = good, moved = good;
    lost.erase(lost.begin() + static_cast<std::ptrdiff_t>(i));
    doubled.insert(doubled.begin() + static_cast<std::ptrdiff_t>(i), good[i]);
    std::swap(moved[i], moved[(i + 1) % moved.size()]);
    for (const auto& lines : {lost, doubled, moved}) tally.add(text_of(lines));
  }
  CHECK(tally.read > 50);
  CHECK(tally.refused > 50);
}

// Source: [practice] as above; fixed seed.
TEST_CASE("a job with bytes changed at random is read or refused", "[job][practice]") {
  const std::string good = testing::good_job();
  std::mt19937 random(20240611U);
  const auto below = [&random](std::size_t n) { return random() % n; };
  const std::string spice = "[]{}\"'\\=.,#\n\r\t -+019e_axu\x01\x7f\xc3\xff";
  Tally tally;
  for (int i = 0; i < 4000; ++i) {
    std::string text = good;
    for (std::size_t k = 0; k < 1 + below(3); ++k)
      text[below(text.size())] = spice[below(spice.size())];
    tally.add(text);
  }
  CHECK(tally.read > 60);
  CHECK(tally.refused > 1000);
}

// Source: [practice] as above. Each shape is one that parsers have been known to choke on.
TEST_CASE("deep and long nonsense is refused", "[job][practice]") {
  const std::size_t many = 200000;
  std::string dotted = "a", spaced = "a", tables, long_list = "a = [";
  for (std::size_t i = 0; i < many; ++i) {
    dotted += ".a";
    spaced += " . \"a\"";
  }
  for (int i = 0; i < 20000; ++i) tables += "[[layout]]\n";
  for (std::size_t i = 0; i < many; ++i) long_list += "1,";
  Tally tally;
  for (const std::string& text : {dotted + " = 1\n",
                                  spaced + " = 1\n",
                                  "[" + dotted + "]\n",
                                  "x = {" + dotted + " = 1}\n",
                                  "a = " + std::string(many, '[') + "\n",
                                  std::string(many, '[') + "\n",
                                  std::string(many, '\0'),
                                  "a = \"" + std::string(many, '\\') + "\"\n",
                                  tables,
                                  long_list + "]\n"})
    tally.add(text);
  CHECK(tally.read == 0);
  CHECK(tally.refused == 10);
}

}  // namespace calmplate
