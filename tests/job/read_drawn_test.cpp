// SPDX-License-Identifier: GPL-3.0-or-later
#include <catch2/catch.hpp>
#include <string>
#include <vector>

#include "base/units.hpp"
#include "job/good_job.hpp"
#include "job/read_sections.hpp"
#include "panel/drawn_shape.hpp"

namespace calmplate {
namespace {

const std::string kDrawn =
    "[job]\ntitle = 't'\n[drive]\nkind = 'pressure'\n[panel]\nthickness_mm = 0.8\nfree = true\n"
    "outline_mm = [[0, 0], [1000, 0], [1000, 600], [0, 600]]\n";

job::Job read(const std::string& text) { return job::read_job_text(text, "door.toml"); }

std::string refusal(const std::string& further, const std::string& base = kDrawn) {
  try {
    read(base + further);
  } catch (const base::InputError& fault) {
    return fault.what();
  }
  return "it was read without complaint";
}

}  // namespace

// Source: [practice] common practice, no source: each value read against the job's text.
TEST_CASE("a drawing is read into SI, radii and bows in their order", "[job][practice]") {
  const job::Job j = read(testing::drawn_job(false));
  REQUIRE(j.drawn.has_value());
  const panel::DrawnInput& d = *j.drawn;
  CHECK(j.mesh_file.empty());
  CHECK(d.outline.corners.rows() == 4);
  CHECK(d.outline.corners(2, 0) == Approx(1.04));
  CHECK(d.outline.radius_m[0] == Approx(0.04));
  CHECK(d.outline.radius_m[1] == Approx(0.06));
  CHECK(d.outline.bow_m[1] == Approx(-0.008));
  CHECK(d.outline.where.key == "panel.outline_mm");
  CHECK(d.radius_along_m == Approx(11.0));
  CHECK(d.radius_up_m == Approx(3.0));
  REQUIRE(d.crown_centre.has_value());
  CHECK(d.crown_centre->y() == Approx(0.28));
  CHECK(d.crown_where.key == "panel.crown_radius_along_m");
  REQUIRE(d.holes.size() == 3);
  CHECK(d.holes[1].where.key == "panel.hole[2]");
  CHECK(d.holes[2].radius_m == std::vector<double>{0.012, 0.012, 0.008, 0.012});
  REQUIRE(d.swages.size() == 2);
  CHECK(d.swages[0].line.rows() == 2);
  CHECK(d.swages[1].line.rows() == 3);
  CHECK(d.swages[1].height_m == Approx(-0.002));
  REQUIRE(d.recesses.size() == 1);
  CHECK(d.recesses[0].depth_m == Approx(0.016));
  CHECK(d.recesses[0].angle_rad == Approx(base::from_degrees(3.0)));
  const job::Job measured = read(testing::drawn_job(true));
  REQUIRE(measured.drawn->crown.size() == 4);
  CHECK(measured.drawn->crown[0].height_m == Approx(0.0125));
  CHECK(measured.drawn->crown[0].to->y() == Approx(0.59));
  CHECK_FALSE(measured.drawn->crown[1].from.has_value());
}

// Source: [practice] as above: the defaults that the document states.
TEST_CASE("what a drawing leaves out has the document's defaults", "[job][practice]") {
  const job::Job j = read(kDrawn +
                          "[[panel.recess]]\ncentre_mm = [500, 300]\nsize_mm = [200, 100]\n"
                          "depth_mm = 12\n");
  const panel::DrawnInput& d = *j.drawn;
  CHECK(j.panel_options.element_size_m == 0.0);
  CHECK(d.outline.radius_m == std::vector<double>(4, 0.0));
  CHECK(d.outline.bow_m == std::vector<double>(4, 0.0));
  CHECK(d.radius_up_m == 0.0);
  CHECK(d.recesses[0].corner_radius_m == Approx(0.05));
  CHECK(d.recesses[0].wall_m == Approx(0.018));
  const job::Job closed = read(testing::with(kDrawn, "[0, 600]]", "[0, 600], [0, 0]]"));
  CHECK(closed.drawn->outline.corners.rows() == 4);
}

// Source: [practice] as above: one line with file, line, key, fault, remedy.
TEST_CASE("each fault in a drawing has one line that says where and what", "[job][practice]") {
  const std::string p = "door.toml:8: panel.outline_mm";
  const auto with_outline = [](const std::string& outline) {
    return testing::with(kDrawn, "[[0, 0], [1000, 0], [1000, 600], [0, 600]]", outline);
  };
  CHECK(refusal("") == "it was read without complaint");
  CHECK(refusal("", with_outline("[[0, 0], [1000, 0]]")) ==
        p + ": is a list of length 2; allowed: a list of 3 points or more, each [x, y] or [x, y, "
            "corner radius] in mm");
  CHECK(
      refusal("", with_outline("[[0, 0], [1000, 0], [1000]]")) ==
      p + "[3]: is a list of length 1; allowed: a list of 3 points or more, each [x, y] or [x, y, "
          "corner radius] in mm");
  CHECK(refusal("", with_outline("[[0, 0], [1000, 0, -5], [1000, 600]]")) ==
        p + "[2][3]: is -5 mm; allowed: 0 to 1000 mm");
  CHECK(refusal("", with_outline("[[0, 0], [1000, 0], [0, 600], [1000, 600]]")) ==
        p + ": crosses itself near [500, 300] mm; allowed: an outline that does not touch itself");
  CHECK(refusal("", with_outline("[[0, 0], [1, 0], [1, 0.6], [0, 0.6]]")) ==
        p + ": is 1 mm across (are the points in millimetres?); allowed: 20 to 4000 mm");
  CHECK(
      refusal("corner_radius_mm = 350\n") ==
      p + ": the side from point 2 to 3 is 600 mm long, and the rounding of its corners needs 700 "
          "mm; allowed: smaller corner radii");
  CHECK(refusal("bow_mm = [0, 10]\n") ==
        "door.toml:9: panel.bow_mm: has 2 numbers for 4 sides; allowed: one for each side, 0 where "
        "it "
        "is straight; the first side goes from point 1 to point 2");
  CHECK(refusal("mesh = 'a.vtp'\n") ==
        p + ": stands beside mesh; allowed: a mesh file or a drawn outline");
  CHECK_THAT(refusal("along = [1, 0, 0]\n"),
             Catch::StartsWith("door.toml:9: panel.along: does not go with outline_mm; allowed: "));
  CHECK_THAT(refusal("bow_mm = [0, 0, 0, 0]\n",
                     testing::with(kDrawn,
                                   "outline_mm = [[0, 0], [1000, 0], [1000, 600], [0, 600]]",
                                   "mesh = 'a.vtp'")),
             Catch::StartsWith("door.toml:9: panel.bow_mm: does not go with mesh; allowed: "));
  CHECK(refusal("",
                testing::with(
                    kDrawn, "outline_mm = [[0, 0], [1000, 0], [1000, 600], [0, 600]]\n", "")) ==
        "door.toml:5: panel.mesh: is missing; allowed: a mesh file, or outline_mm for a skin drawn "
        "here");
}

// Source: [practice] as above.
TEST_CASE("each fault in what is drawn on the skin has one line", "[job][practice]") {
  CHECK(refusal("[[panel.hole]]\ncentre_mm = [500, 300]\n") ==
        "door.toml:9: panel.hole[1]: has no shape; allowed: one of diameter_mm, length_mm with "
        "width_mm (a slot), outline_mm");
  CHECK(refusal("[[panel.hole]]\ncentre_mm = [500, 300]\nlength_mm = 40\nwidth_mm = 40\n") ==
        "door.toml:11: panel.hole[1].length_mm: is not above width_mm; allowed: the slot's whole "
        "length, ends included; or diameter_mm for a round hole");
  CHECK(
      refusal("[[panel.hole]]\ncentre_mm = [1500, 300]\ndiameter_mm = 40\n") ==
      "door.toml:9: panel.hole[1]: lies outside the outline; allowed: a hole with skin all round");
  CHECK_THAT(refusal("[[panel.hole]]\ncentre_mm = [990, 300]\ndiameter_mm = 40\n"),
             Catch::StartsWith("door.toml:9: panel.hole[1]: crosses the outline near [1000, "));
  CHECK_THAT(
      refusal("[[panel.hole]]\ncentre_mm = [500, 300]\ndiameter_mm = 40\nwidth_mm = 4\n"),
      Catch::StartsWith("door.toml:12: panel.hole[1].width_mm: does not go with diameter_mm"));
  CHECK(refusal("crown_radius_up_m = 3\n[[panel.crown]]\nat_mm = [1, 1]\nheight_mm = 0\n") ==
        "door.toml:9: panel.crown_radius_up_m: stands beside [[panel.crown]]; allowed: radii or "
        "measured heights");
  CHECK(
      refusal("crown_centre_mm = [1, 1]\n") ==
      "door.toml:9: panel.crown_centre_mm: has no radius beside it; allowed: crown_radius_along_m "
      "or crown_radius_up_m with it");
  CHECK(
      refusal("[[panel.crown]]\nat_mm = [500, 300]\nheight_mm = 0\nfrom_mm = [0, 300]\n") ==
      "door.toml:9: panel.crown[1].to_mm: is missing; allowed: both from_mm and to_mm, or neither");
  CHECK_THAT(refusal("[[panel.crown]]\nat_mm = [500, 300]\nheight_mm = 290\n"
                     "from_mm = [500, 0]\nto_mm = [500, 600]\n"),
             Catch::StartsWith("door.toml:9: panel.crown[1]: makes the skin slope by ") &&
                 Catch::Contains("which is no shallow skin"));
  CHECK(
      refusal("[[panel.crown]]\nat_mm = [500, 900]\nheight_mm = 10\n"
              "from_mm = [500, 0]\nto_mm = [500, 950]\n") ==
      "door.toml:9: panel.crown[1]: is measured at [500, 900] mm, off the outline; allowed: places "
      "inside the outline or within 30 mm of it");
  CHECK(refusal("[[panel.swage]]\nwidth_mm = 40\nheight_mm = 5\n") ==
        "door.toml:9: panel.swage[1]: has no line; allowed: from_mm and to_mm, or line_mm with two "
        "points or more");
  CHECK(refusal("[[panel.swage]]\nline_mm = [[1, 1]]\nwidth_mm = 40\nheight_mm = 5\n") ==
        "door.toml:10: panel.swage[1].line_mm: is a list of length 1; allowed: a list of at least "
        "two "
        "points [x, y] in mm");
  CHECK_THAT(
      refusal("[[panel.swage]]\nline_mm = [[1, 100], [900, 100]]\nwidth_mm = 20\n"
              "height_mm = 5\n"),
      Catch::StartsWith("door.toml:9: panel.swage[1]: is 5 mm high over a width of 20 mm: its "
                        "sides would be steeper than 45 degrees"));
  CHECK_THAT(
      refusal("[[panel.recess]]\ncentre_mm = [500, 300]\nsize_mm = [60, 40]\ndepth_mm = 30\n"),
      Catch::StartsWith("door.toml:9: panel.recess[1]: is 30 mm deep over walls 18 mm wide"));
}

}  // namespace calmplate
