// SPDX-License-Identifier: GPL-3.0-or-later
// What the pictures of a woofer in the door show, measured on their pixels. Places are mm on the
// page of 297 x 210 mm, from its lower left corner.
#include "picture/door_pictures.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <functional>
#include <set>

#include "picture/draw_program.hpp"
#include "picture/page.hpp"
#include "picture/pictures.hpp"
#include "picture/sample_results.hpp"
#include "picture/sample_woofer.hpp"

namespace calmplate::picture {
namespace {

namespace fs = std::filesystem;
using nlohmann::json;
using sample::share_of;
using Change = std::function<void(json&)>;

std::set<std::string> drawn_names(const Change& change) {
  const sample::TemporaryFolder folder("door-names");
  json results = sample::write_sample(folder.path(), {12, 8});
  change(results);
  sample::write_json(folder.path(), results);
  const auto run = sample::run_draw_program(folder.path(), "'" + folder.path().string() + "'");
  CAPTURE(run.err);
  REQUIRE(run.status == 0);
  std::set<std::string> names;
  for (const auto& entry : fs::directory_iterator(folder.path() / "pictures")) {
    names.insert(entry.path().stem().string());
  }
  return names;
}

RgbaImage drawn(const std::string& name, const Change& change = nullptr) {
  const sample::TemporaryFolder folder("door-pictures");
  json results = sample::write_sample(folder.path(), {12, 8});
  sample::add_woofer(results);
  if (change) change(results);
  sample::write_json(folder.path(), results);
  const auto run =
      sample::run_draw_program(folder.path(), "'" + folder.path().string() + "' --only " + name);
  CAPTURE(run.err);
  REQUIRE(run.status == 0);
  return sample::read_png(folder.path() / "pictures" / (name + ".png"));
}

void set_all(json& list, double value) {
  for (json& item : list) item = value;
}

/// Where a frequency lies on an axis of logarithms between two places.
double x_of(double freq_hz, double low_hz, double high_hz, double left, double right) {
  return left + std::log(freq_hz / low_hz) / std::log(high_hz / low_hz) * (right - left);
}

/// Share of inked pixels about a place.
double ink_about(const RgbaImage& image, double x_mm, double y_mm, double half_mm) {
  return 1.0 - share_of(image, x_mm, y_mm, kWhite, half_mm);
}

}  // namespace

TEST_CASE("a woofer adds its pictures; each needs its own data", "[picture]") {
  const std::set<std::string> without = drawn_names([](json&) {});
  const std::set<std::string> with = drawn_names([](json& j) { sample::add_woofer(j); });
  std::set<std::string> more = without;
  for (const char* name : {"skin_and_woofer", "skin_level", "woofer", "rattles", "door_modes"}) {
    CHECK(without.count(name) == 0);
    more.insert(name);
  }
  CHECK(with == more);
  // A force on a door with air shut in, and points with limits: no woofer to draw.
  const std::set<std::string> force = drawn_names([](json& j) {
    const json drive = j["drive"];
    sample::add_woofer(j);
    j["drive"] = drive;
    j["woofer"] = nullptr;
    for (json& layout : j["layouts"]) {
      layout["sound"] = json::array();
      layout["skin_level_dB"] = json::array();
    }
  });
  more = without;
  more.insert({"rattles", "door_modes"});
  CHECK(force == more);
}

// Source: derived. With powers of 90 and 110 dB at the ends an axis holds 105 dB at three quarters
// of its height and 95 dB at one quarter. Under the chart lie four rows of 5 mm, over a sentence of
// one line of 10 pt.
TEST_CASE("skin and woofer: powers lie at their levels, cells over the woofer are grey",
          "[picture][derived]") {
  const RgbaImage image = drawn("skin_and_woofer", [](json& j) {
    for (json& layout : j["layouts"]) {
      for (json& band : layout["sound"]) {
        band["skin_power_dB"] = 95.0;
        band["woofer_power_dB"] = 105.0;
        band["skin_under_woofer_dB"] = 10.0;
      }
    }
    json& bare = j["layouts"][0]["sound"];
    bare[0]["skin_power_dB"] = 90.0;
    bare[8]["skin_power_dB"] = 110.0;
    j["layouts"][0]["sound"][4]["skin_under_woofer_dB"] = -3.0;
    j["layouts"][1]["sound"][4]["skin_under_woofer_dB"] = -0.4;
  });
  const double left = kContentLow.x + 55.0, right = kContentHigh.x;
  const double foot = kContentLow.y + line_height_mm(10.0) + 2.0 + 14.0 + 5.0 * 4.0;
  const double head = kContentHigh.y - 2.0;
  const double slot = (right - left) / 9.0;
  const auto x_at = [&](double band) { return left + (band + 0.5) * slot; };
  const auto y_at = [&](double db) { return foot + (db - 90.0) / 20.0 * (head - foot); };
  CHECK(share_of(image, x_at(3.5), y_at(105.0), woofer_stroke().colour, 0.6) > 0.95);
  CHECK(share_of(image, x_at(3.5), y_at(102.0), woofer_stroke().colour, 0.6) == 0.0);
  // The points of all layouts at 95 dB, the bare skin's on top.
  CHECK(share_of(image, x_at(4.0), y_at(95.0), kBlack, 0.4) > 0.9);
  CHECK(share_of(image, x_at(4.0), y_at(97.0), kBlack, 0.4) == 0.0);
  // The table: first row 5 mm under its heading, which stands 9.2 mm under the chart.
  const auto row = [&](double layout) { return foot - 3.8 - 5.4 - 5.0 * (layout + 1.0); };
  CHECK(share_of(image, x_at(4.0) - 7.0, row(0.0), grey(0.86), 1.0) > 0.95);
  CHECK(share_of(image, x_at(3.0) - 7.0, row(0.0), kWhite, 1.0) > 0.95);
  CHECK(share_of(image, x_at(4.0) - 7.0, row(1.0), kWhite, 1.0) > 0.95);  // 0 as printed
}

// Source: derived. A woofer at 15 dB and skins at 5 dB on an axis from 0 to 20 dB; the key of five
// lines takes three rows of 6.4 mm. The band's ground is grey.
TEST_CASE("skin level: woofer and skin lie at their levels, the band is shaded",
          "[picture][derived]") {
  const RgbaImage image = drawn("skin_level", [](json& j) {
    set_all(j["woofer"]["level_dB"], 15.0);
    for (json& layout : j["layouts"]) set_all(layout["skin_level_dB"], 5.0);
    j["layouts"][0]["skin_level_dB"][0] = 0.0;
    j["layouts"][0]["skin_level_dB"][1] = 20.0;
  });
  const double left = kContentLow.x + 20.0, right = kContentHigh.x - 2.0;
  const double foot = kContentLow.y + 15.0 + 3.0 * 6.4, head = kContentHigh.y - 6.0;
  const auto y_at = [&](double db) { return foot + db / 20.0 * (head - foot); };
  const double middle = x_of(110.0, 30.0, 400.0, left, right);
  const double beyond = x_of(290.0, 30.0, 400.0, left, right);
  CHECK(share_of(image, middle, y_at(15.0), woofer_stroke().colour, 0.6) > 0.95);
  CHECK(share_of(image, middle, y_at(5.0), kBlack, 0.15) > 0.5);
  CHECK(share_of(image, middle, y_at(9.0), grey(0.925), 0.8) > 0.95);
  CHECK(share_of(image, beyond, y_at(9.0), kWhite, 0.8) > 0.95);
}

// Source: derived. Travel of 2 mm, one point at 4 mm, Xmax of 5 mm on an axis from 0 to 6 mm;
// forces of 1 and 100 N, whose mean by logarithms is 10 N.
TEST_CASE("woofer: travel, Xmax and forces lie at their values", "[picture][derived]") {
  const Change change = [](json& j) {
    set_all(j["woofer"]["travel_curve_mm"], 2.0);
    set_all(j["woofer"]["frame_force_N"], 1.0);
    set_all(j["woofer"]["skin_force_N"], 100.0);
    j["woofer"]["skin_force_N"][0] = 10.0;
  };
  const RgbaImage image = drawn("woofer", change);
  const double left = kContentLow.x + 20.0, right = kContentHigh.x - 2.0;
  const double foot = 111.0, head = kContentHigh.y - 7.0;
  const auto y_at = [&](double mm) { return foot + mm / 6.0 * (head - foot); };
  const double middle = x_of(110.0, 30.0, 400.0, left, right);
  CHECK(share_of(image, middle, y_at(2.0), kBlack, 0.3) > 0.95);
  CHECK(share_of(image, x_of(60.0, 30.0, 400.0, left, right), y_at(4.0), kBlack, 0.7) > 0.95);
  double xmax = 0.0;
  for (double x = middle; x < middle + 10.0; x += 0.5) {
    xmax = std::max(xmax, share_of(image, x, y_at(5.0), grey(0.45), 0.3));
  }
  CHECK(xmax > 0.9);
  const double force_foot = kContentLow.y + 12.5, force_head = 98.0;
  CHECK(share_of(image, middle, force_head, from_lch(46.0, 55.0, 275.0), 0.35) > 0.3);
  CHECK(share_of(image, middle, 0.5 * (force_foot + force_head), grey(0.925), 1.0) > 0.6);
  CHECK(share_of(image, middle, 0.5 * (force_foot + force_head), kBlack, 1.0) == 0.0);
  // Without Xmax and without shut-in air there is no such line.
  const RgbaImage less = drawn("woofer", [&](json& j) {
    change(j);
    j["woofer"]["xmax_mm"] = nullptr;
    set_all(j["woofer"]["skin_force_N"], 0.0);
  });
  double dash = 0.0;
  for (double y = foot + 1.0; y < head - 1.0; y += 0.3) {
    for (double x = 60.0; x < 70.0; x += 1.0) {
      dash = std::max(dash, share_of(less, x, y, grey(0.45), 0.3));
    }
  }
  CHECK(dash < 0.5);
  CHECK(share_of(less, 150.0, 70.0, from_lch(46.0, 55.0, 275.0), 60.0) == 0.0);
}

// Source: derived. Spans from 80 to 120 Hz and from 160 to 180 Hz on a strip from 0.97 of 40 to
// 1.03 of 250 Hz; 2 points of 4 layouts make rows of 11 mm.
TEST_CASE("rattles: spans stand where they are, in the shade of their excess",
          "[picture][derived]") {
  const RgbaImage image = drawn("rattles", [](json& j) {
    j["layouts"][1]["rattles"][0]["rattles"] = json::array();
    j["layouts"][2]["rattles"][1]["rattles"][0]["over_dB"] = 4.0;
  });
  const double left = kContentLow.x + 66.0, right = 206.0;
  const auto x_at = [&](double f) { return x_of(f, 38.8, 257.5, left, right); };
  const auto y_at = [&](double point, double layout) {
    return kContentHigh.y - 17.0 - 0.8 - (44.0 + 1.6) * point - 11.0 * (layout + 0.5);
  };
  const Colour faint = from_lch(88.0, 25.0, 85.0), middle = from_lch(74.0, 48.0, 68.0);
  const Colour dark = from_lch(30.0, 45.0, 32.0);
  CHECK(share_of(image, x_at(85.0), y_at(0.0, 0.0), dark, 0.8) > 0.95);
  CHECK(share_of(image, x_at(115.0), y_at(1.0, 3.0), dark, 0.8) > 0.95);
  CHECK(share_of(image, x_at(163.0), y_at(0.0, 0.0), faint, 0.6) > 0.95);
  CHECK(share_of(image, x_at(140.0), y_at(0.0, 0.0), kWhite, 0.8) > 0.95);
  CHECK(share_of(image, x_at(85.0), y_at(0.0, 1.0), dark, 3.0) == 0.0);
  CHECK(share_of(image, x_at(85.0), y_at(1.0, 2.0), middle, 0.8) > 0.95);
}

TEST_CASE("rattles: six points of six layouts fit one page, a seventh opens another", "[picture]") {
  const auto with_points = [](int count) {
    return [count](json& j) {
      sample::add_woofer(j);
      for (int k = 0; k < 2; ++k) {
        json layout = j["layouts"][1];
        layout["name"] = "layout " + std::to_string(k);
        j["curves"]["level_db"]["layout " + std::to_string(k)] = j["curves"]["level_db"]["full"];
        j["layouts"].push_back(layout);
      }
      for (json& layout : j["layouts"]) {
        layout["rattles"] = json::array();
        for (int p = 0; p < count; ++p) {
          layout["rattles"].push_back(sample::rattle_json("point " + std::to_string(p)));
        }
      }
    };
  };
  const std::set<std::string> six = drawn_names(with_points(6));
  CHECK(six.count("rattles") == 1);
  CHECK(six.count("rattles_2") == 0);
  const std::set<std::string> seven = drawn_names(with_points(7));
  CHECK(seven.count("rattles_2") == 1);
  CHECK(seven.count("rattles_3") == 0);
}

// Source: derived. Half way between the rows a line lies half way between its two modes. Modes in
// the door at 30, 55 and 65 Hz, all like the one at 50 Hz, and one at 80 Hz like none.
TEST_CASE("door modes: lines join like modes, by what moves most", "[picture][derived]") {
  const RgbaImage image = drawn("door_modes", [](json& j) {
    json& bare = j["layouts"][0];
    bare["modes"] = json::array({bare["modes"][0]});
    bare["modes"][0]["freq_hz"] = 50.0;
    json modes = json::array();
    for (std::size_t k = 0; k < 4; ++k) modes.push_back(bare["door_modes"][k]);
    const double freq[4] = {30.0, 55.0, 65.0, 80.0};
    for (std::size_t k = 0; k < 4; ++k) modes[k]["freq_hz"] = freq[k];
    bare["door_modes"] = modes;
  });
  const double left = kContentLow.x + 34.0, right = kContentHigh.x - 2.0;
  const auto x_at = [&](double f) { return x_of(f, 0.96 * 30.0, 1.04 * 80.0, left, right); };
  const double middle = 0.5 * (98.0 + 18.0 + kContentHigh.y - 17.0);
  const auto best_about = [&](double f, const Colour& colour) {
    const double x = 0.5 * (x_at(f) + x_at(50.0));
    double best = 0.0;
    for (double d = -2.0; d <= 2.0; d += 0.25) {
      const double slope = (x_at(50.0) - x_at(f)) / (kContentHigh.y - 17.0 - 116.0 - 10.0);
      best = std::max(best, share_of(image, x + d * slope, middle + d, colour, 0.2));
    }
    return best;
  };
  CHECK(best_about(30.0, from_lch(42.0, 50.0, 265.0)) > 0.5);  // air
  CHECK(best_about(55.0, from_lch(55.0, 65.0, 50.0)) > 0.5);   // cone
  CHECK(best_about(65.0, kBlack) > 0.3);                       // skin
  CHECK(ink_about(image, 0.5 * (x_at(80.0) + x_at(50.0)), middle, 2.0) == 0.0);
  CHECK(ink_about(image, x_at(80.0), 98.0 + 18.0 + 2.5, 0.3) > 0.5);  // its own mark
}

TEST_CASE("maps: a woofer has a mark of its own, and none without a place", "[picture]") {
  const auto cone_at = [](const json& place) {
    return [place](json& j) { j["drive"]["at_mm"] = place; };
  };
  for (const char* name : {"working_partial", "benefit_map"}) {
    CAPTURE(name);
    const RgbaImage at = drawn(name, cone_at({150.0, 330.0}));
    const RgbaImage force = drawn(name, [](json& j) {
      j["drive"] = {{"kind", "force"}, {"text", "1 N"}, {"at_mm", {150.0, 330.0}}};
    });
    const RgbaImage none = drawn(name, cone_at(nullptr));
    // Only the marks, their words and the key differ: the rings cover more than the force's dot.
    const auto changed = [&](const RgbaImage& image) {
      double count = 0.0;
      for (int j = int(40.0 * kPxPerMm); j < int(180.0 * kPxPerMm); ++j) {
        for (int i = int(30.0 * kPxPerMm); i < int(220.0 * kPxPerMm); ++i) {
          const std::size_t k = 4 * (std::size_t(j) * std::size_t(image.width) + std::size_t(i));
          if (std::abs(image.bytes[k] - none.bytes[k]) > 20) count += 1.0;
        }
      }
      return count / (kPxPerMm * kPxPerMm);
    };
    CHECK(changed(force) > 8.0);
    CHECK(changed(at) > changed(force) + 10.0);
    // The key beside the map.
    const auto key_ink = [&](const RgbaImage& image) {
      return ink_about(image,
                       std::string(name) == "working_partial" ? 235.2 : 233.2,
                       std::string(name) == "working_partial" ? 48.8 : 85.3,
                       3.4);
    };
    CHECK(key_ink(at) > 0.2);
    CHECK(key_ink(none) == 0.0);
    CHECK(key_ink(force) == 0.0);
  }
}

TEST_CASE("working map: a tap's is of energy, any other drive's of power", "[picture]") {
  CHECK(working_quantity("working_full_W_per_m2", "m") ==
        "Power turned into heat in the sheet, mW/m²");
  CHECK(working_quantity("working_full_J_per_m2", "µ") ==
        "Energy turned into heat in the sheet, µJ/m²");
  const RgbaImage power = drawn("working_partial");
  const sample::TemporaryFolder folder("tap");
  // The same field under a tap's name.
  json results = sample::write_sample(folder.path(), {12, 8});
  sample::add_woofer(results);
  results["layouts"][1]["working_map_field"] = "working_partial_J_per_m2";
  sample::write_json(folder.path(), results);
  sample::rename_in_mesh(folder.path(), "working_partial_W_per_m2", "working_partial_J_per_m2");
  const auto run = sample::run_draw_program(
      folder.path(), "'" + folder.path().string() + "' --only working_partial");
  CAPTURE(run.err);
  REQUIRE(run.status == 0);
  const RgbaImage energy = sample::read_png(folder.path() / "pictures" / "working_partial.png");
  double heading = 0.0, elsewhere = 0.0;
  for (int j = 0; j < power.height; ++j) {
    for (int i = 0; i < power.width; ++i) {
      const std::size_t k = 4 * (std::size_t(j) * std::size_t(power.width) + std::size_t(i));
      if (power.bytes[k] == energy.bytes[k]) continue;
      const double x = i / kPxPerMm, y = j / kPxPerMm;
      const bool in_heading = x > 231.0 && y > 168.0 && y < 180.0;
      (in_heading ? heading : elsewhere) += 1.0;
    }
  }
  CHECK(heading > 100.0);
  CHECK(elsewhere == 0.0);
}

TEST_CASE("a long drive takes a second line at the foot instead of being cut", "[picture]") {
  const auto with_text = [](const std::string& text) {
    return drawn("response", [&](json& j) { j["drive"]["text"] = text; });
  };
  const RgbaImage brief = with_text("woofer at 10 V rms");
  const RgbaImage full = with_text(
      "two woofers at 14.1 V rms (50 W into 2 ohm), high-pass 50 Hz 12 dB/octave, low-pass 120 Hz "
      "24 dB/octave");
  // Under the place of a single line, within the first and within the last words of the second.
  for (const double x : {30.0, 150.0}) {
    CAPTURE(x);
    CHECK(ink_about(full, x, 6.9, 0.7) > 0.04);
    CHECK(ink_about(brief, x, 6.9, 0.7) == 0.0);
  }
}

}  // namespace calmplate::picture
