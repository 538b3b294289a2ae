// SPDX-License-Identifier: GPL-3.0-or-later
#include "base/input_error.hpp"

#include <array>
#include <catch2/catch.hpp>

using calmplate::base::InputError;
using calmplate::base::nearest_word;

TEST_CASE("an input error is one line: file, line, key, fault, what is allowed", "[base]") {
  const InputError e(
      {"door.toml", 14, "sheet[2].thickness_mm"}, "is -2 mm", "above 0, up to 10 mm");
  CHECK(
      e.what() ==
      std::string("door.toml:14: sheet[2].thickness_mm: is -2 mm; allowed: above 0, up to 10 mm"));
  CHECK(e.where().file == "door.toml");
  CHECK(e.where().line == 14);
  CHECK(e.where().key == "sheet[2].thickness_mm");
  CHECK(e.wrong() == "is -2 mm");
  CHECK(e.allowed() == "above 0, up to 10 mm");
}

TEST_CASE("what is empty is left out of the message", "[base]") {
  CHECK(InputError({"door.stl", 0, ""}, "holds no triangle").what() ==
        std::string("door.stl: holds no triangle"));
  CHECK(InputError({"", 0, "band.low_Hz"}, "is missing").what() ==
        std::string("band.low_Hz: is missing"));
  CHECK(InputError({"", 0, ""}, "is missing", "a number").what() ==
        std::string("is missing; allowed: a number"));
  CHECK(InputError({"door.toml", 3, ""}, "is no table").what() ==
        std::string("door.toml:3: is no table"));
}

TEST_CASE("control characters cannot break the line", "[base]") {
  const std::string text =
      InputError({"a\nb.toml", 1, "k\te"}, "is \"x\r\n\"", "one\x1b[31m line").what();
  CHECK(text == "a b.toml:1: k e: is \"x  \"; allowed: one [31m line");
}

TEST_CASE("the nearest word is found for slips of the finger", "[base]") {
  const std::array<std::string, 4> known = {"thickness_mm", "price_per_sheet", "outline_mm", "fs"};
  const auto near = [&](const std::string& word) {
    return nearest_word(word, known.data(), known.size());
  };
  CHECK(near("thicknes_mm") == "thickness_mm");
  CHECK(near("thikcness_mm") == "thickness_mm");  // two neighbours swapped
  CHECK(near("outline") == "");                   // three letters missing of seven: too far
  CHECK(near("outlne_mm") == "outline_mm");
  CHECK(near("sf") == "fs");
  CHECK(near("xy") == "");
  CHECK(near("") == "");
  CHECK(nearest_word("fs", known.data(), 0) == "");
}
