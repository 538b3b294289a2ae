// SPDX-License-Identifier: GPL-3.0-or-later
// What the coverage curve shows, measured on its pixels. Places are mm on the page of 297 x 210 mm,
// from its lower left corner.
#include "picture/coverage_picture.hpp"

#include <catch2/catch.hpp>

#include "picture/draw_program.hpp"
#include "picture/page.hpp"
#include "picture/pictures.hpp"
#include "picture/sample_results.hpp"

namespace calmplate::picture {
namespace {

using nlohmann::json;
using sample::share_of;

json curve_of(const std::vector<std::pair<double, double>>& share_and_db, int knee) {
  json points = json::array();
  for (std::size_t i = 0; i < share_and_db.size(); ++i)
    points.push_back({{"pieces", i},
                      {"share", share_and_db[i].first},
                      {"mass_kg", 2.0 * share_and_db[i].first},
                      {"cost", 0.0},
                      {"reduction_dB", share_and_db[i].second}});
  return {{"layout", "placed"},
          {"knee", knee},
          {"sentence", "40 % of the skin gives most of it."},
          {"points", points}};
}

sample::ProgramRun draw(const sample::TemporaryFolder& folder, const json& curve) {
  json results = sample::write_sample(folder.path(), {12, 8});
  results["coverage_curve"] = curve;
  sample::write_json(folder.path(), results);
  return sample::run_draw_program(folder.path(),
                                  "'" + folder.path().string() + "' --only coverage");
}

}  // namespace

// Source: derived. Points at 0, 40 and 100 % of the skin and 0, 8 and 10 dB on axes of 0 to 100 %
// and 0 to 10 dB; a table of three rows of 5 mm lies below.
TEST_CASE("coverage: points lie at their values, the knee is black", "[picture][derived]") {
  const sample::TemporaryFolder folder("coverage");
  const auto run = draw(folder, curve_of({{0.0, 0.0}, {0.4, 8.0}, {1.0, 10.0}}, 1));
  CAPTURE(run.err);
  REQUIRE(run.status == 0);
  const RgbaImage image = sample::read_png(folder.path() / "pictures" / "coverage.png");
  const double left = kContentLow.x + 20.0, right = kContentHigh.x - 6.0;
  const double foot = kContentLow.y + 26.0 + 15.0, head = kContentHigh.y - 6.0;
  const auto x_at = [&](double percent) { return left + percent / 100.0 * (right - left); };
  const auto y_at = [&](double db) { return foot + db / 10.0 * (head - foot); };
  const Colour curve{0.0, 0.36, 0.68};
  CHECK(share_of(image, x_at(40.0), y_at(8.0), kBlack, 1.0) > 0.95);
  CHECK(share_of(image, x_at(20.0), y_at(4.0), curve, 0.2) > 0.8);
  CHECK(share_of(image, x_at(70.0), y_at(9.0), curve, 0.2) > 0.8);
  CHECK(share_of(image, x_at(25.0), y_at(7.0), kWhite, 1.5) == 1.0);
  CHECK(share_of(image, x_at(65.0), y_at(3.0), kWhite, 1.5) == 1.0);
}

TEST_CASE("coverage: a damaged curve is refused by one line", "[picture]") {
  const auto refused = [](const json& curve) {
    const sample::TemporaryFolder folder("coverage-bad");
    const auto run = draw(folder, curve);
    CHECK(run.status == 2);
    return run.err;
  };
  CHECK_THAT(refused(curve_of({{0.0, 0.0}, {0.4, 8.0}}, 2)), Catch::Contains("knee"));
  CHECK_THAT(refused(curve_of({{0.5, 0.0}, {0.4, 8.0}}, 0)), Catch::Contains("share"));
  CHECK_THAT(refused(curve_of({{0.0, 0.0}}, 0)), Catch::Contains("points"));
}

}  // namespace calmplate::picture
