// SPDX-License-Identifier: GPL-3.0-or-later
#include "page/format.hpp"

#include <catch2/catch.hpp>
#include <limits>
#include <stdexcept>

#include "page/ring_fit.hpp"

namespace calmplate::page {

TEST_CASE("what has a meaning in HTML is written as an entity", "[page]") {
  CHECK(escaped("<script>alert('a' & \"b\")</script>") ==
        "&lt;script&gt;alert(&#39;a&#39; &amp; &quot;b&quot;)&lt;/script&gt;");
  CHECK(escaped(std::string("a\x01z", 3)) == "az");
}

TEST_CASE("numbers have their decimals, no negative zero, and a dash for none", "[page]") {
  CHECK(fixed(3.14159, 2) == "3.14");
  CHECK(fixed(-0.04, 1) == "0.0");
  CHECK(fixed(-0.06, 1) == "-0.1");
  CHECK(fixed(std::numeric_limits<double>::quiet_NaN(), 1) == "–");
  CHECK(short_number(62.5) == "62.5");
  CHECK(short_number(40.0) == "40");
}

TEST_CASE("a text is filled, and a name that nobody fills is refused", "[page]") {
  CHECK(fill("{a} and {b}, {a}", {{"a", "1"}, {"b", "{x}"}}) == "1 and {x}, 1");
  CHECK_THROWS_AS(fill("{a} and {c}", {{"a", "1"}}), std::invalid_argument);
  CHECK_THROWS_AS(fill("{a", {{"a", "1"}}), std::invalid_argument);
}

// Source: [memory] the test vectors of RFC 4648; the round trip below checks anew.
TEST_CASE("base 64 gives the known words and comes back", "[page][memory]") {
  CHECK(base64("") == "");
  CHECK(base64("f") == "Zg==");
  CHECK(base64("fo") == "Zm8=");
  CHECK(base64("foobar") == "Zm9vYmFy");
  std::string bytes;
  for (int k = 0; k < 1000; ++k) bytes += static_cast<char>((k * k + 7 * k) & 0xFF);
  CHECK(testing::from_base64(base64(bytes)) == bytes);
}

TEST_CASE("a long text is cut between characters, not inside one", "[page]") {
  CHECK(shortened("mitte", 5) == "mitte");
  CHECK(shortened("größer", 4) == "grö…");
}

}  // namespace calmplate::page
