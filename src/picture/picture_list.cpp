// SPDX-License-Identifier: GPL-3.0-or-later
#include "picture/picture_list.hpp"

#include <algorithm>

#include "base/file_name.hpp"
#include "picture/door_pictures.hpp"
#include "picture/page.hpp"
#include "picture/sheet_pictures.hpp"

namespace calmplate::picture {
namespace {

/// Adds a picture under its name, or with a number behind it if the name is taken.
void add(std::vector<Picture>& list,
         const std::string& name,
         std::function<RgbaImage(RenderWindow&)> draw) {
  const auto taken = [&](const std::string& wanted) {
    return std::any_of(
        list.begin(), list.end(), [&](const Picture& p) { return p.name == wanted; });
  };
  std::string free = name;
  for (int k = 2; taken(free); ++k) free = name + "_" + std::to_string(k);
  list.push_back({free, std::move(draw)});
}

/// The woofer, its sound against the skin's, and what rattles.
void add_door_pictures(std::vector<Picture>& list, const Results& results) {
  if (has_sound(results)) {
    add(list, "skin_and_woofer", [&](RenderWindow& w) { return draw_skin_and_woofer(w, results); });
  }
  if (has_skin_level(results)) {
    add(list, "skin_level", [&](RenderWindow& w) { return draw_skin_level(w, results); });
  }
  if (results.woofer) {
    add(list, "woofer", [&](RenderWindow& w) { return draw_woofer(w, results); });
  }
  for (std::size_t page = 0; page < rattle_pages(results); ++page) {
    add(list, "rattles", [&, page](RenderWindow& w) { return draw_rattles(w, results, page); });
  }
}

}  // namespace

std::vector<Picture> pictures_of(const Results& results, const ResultFields& fields) {
  std::vector<Picture> list;
  if (results.benefit) {
    add(list, "benefit_map", [&](RenderWindow& w) { return draw_benefit(w, results, fields); });
  }
  add(list, "response", [&](RenderWindow& w) { return draw_response(w, results); });
  const auto treated = treated_layouts(results);
  const bool have_bands = std::any_of(
      treated.begin(), treated.end(), [](const Layout* l) { return !l->third_octaves.empty(); });
  if (have_bands) {
    add(list, "reduction_third_octaves", [&](RenderWindow& w) {
      return draw_third_octaves(w, results);
    });
  }
  add_door_pictures(list, results);
  if (results.coverage) {
    add(list, "coverage", [&](RenderWindow& w) { return draw_coverage(w, results); });
  }
  if (results.comparison) {
    add(list, "temperature", [&](RenderWindow& w) {
      return draw_sheets_over_temperature(w, results);
    });
  }
  if (!layouts_over_temperature(results).empty()) {
    add(list, "layouts_temperature", [&](RenderWindow& w) {
      return draw_layouts_over_temperature(w, results);
    });
  }
  for (const Layout& layout : results.layouts) {
    const std::string name = "layout_" + base::as_file_name(layout.name);
    add(list, name, [&](RenderWindow& w) { return draw_layout(w, results, layout); });
    if (layout.pieces.size() <= kRowsBesideDrawing) continue;
    add(list, name + "_pieces", [&](RenderWindow& w) {
      return draw_piece_list(w, results, layout);
    });
  }
  for (const Layout& layout : results.layouts) {
    if (layout.working_field.empty()) continue;
    add(list, "working_" + base::as_file_name(layout.name), [&](RenderWindow& w) {
      return draw_working(w, results, fields, layout);
    });
  }
  for (const Layout& layout : results.layouts) {
    if (drawable_modes(fields, layout) == 0) continue;
    add(list, "modes_" + base::as_file_name(layout.name), [&](RenderWindow& w) {
      return draw_modes(w, results, fields, layout);
    });
  }
  for (const Layout& layout : results.layouts) {
    if (!has_velocity(fields, layout)) continue;
    add(list, "velocity_" + base::as_file_name(layout.name), [&](RenderWindow& w) {
      return draw_velocity(w, results, fields, layout);
    });
  }
  if (!results.layouts.front().door_modes.empty()) {
    add(list, "door_modes", [&](RenderWindow& w) { return draw_door_modes(w, results); });
  }
  add(list, "panel_3d", [&](RenderWindow& w) { return draw_skin(w, results, fields); });
  return list;
}

std::vector<Picture> pictures_of(const SheetFile& sheet) {
  std::vector<Picture> list;
  if (!sheet.curves.empty()) {
    add(list, "modulus", [&](RenderWindow& w) { return draw_modulus(w, sheet); });
  }
  if (sheet.reduced) {
    add(list, "nomogram", [&](RenderWindow& w) { return draw_nomogram(w, sheet); });
  }
  if (sheet.bars && !sheet.curves.empty()) {
    add(list, "coated_bar", [&](RenderWindow& w) { return draw_coated_bars(w, sheet); });
  }
  return list;
}

std::vector<Picture> pictures_of(const CheckFile& check) {
  std::vector<Picture> list;
  add(list, "rim", [&](RenderWindow& w) { return draw_rim_parts(w, check); });
  return list;
}

}  // namespace calmplate::picture
