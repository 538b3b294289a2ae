// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <filesystem>
#include <random>
#include <string>

#include "editing/document.hpp"
#include "editing/edit_text.hpp"
#include "job/element_rule.hpp"
#include "job/read_sections.hpp"
#include "panel/drawn.hpp"

namespace calmplate::testing {

/// Such a text as a checked job on its panel, with a document.
struct EditJob {
  std::string text;
  job::Job job;
  panel::Panel panel;
  editing::Document document;

  explicit EditJob(const std::string& written = edit_text(),
                   const std::filesystem::path& file = "door.toml")
      : text(written),
        job(settled(job::read_job_text(written, file))),
        panel(panel::make_drawn_panel(*job.drawn, job.panel_options.corner_degrees)),
        document(job, panel, written) {
    job::check_against_panel(job, panel);
  }
  EditJob(const EditJob&) = delete;

  static job::Job settled(job::Job job) {
    job::settle_band(job, panel::drawn_area(*job.drawn));
    job::settle_elements(job);
    return job;
  }
};

/// Everything a document holds, in words: two are alike if and only if these are.
inline std::string words_of(const std::vector<editing::Layout>& layouts) {
  std::string out;
  for (const editing::Layout& layout : layouts) {
    out += "layout " + std::to_string(layout.id) + " " + layout.name + "\n";
    for (const auto& piece : layout.pieces) {
      out += " piece " + std::to_string(piece->id);
      for (const auto& [key, value] : job::keys_of(piece->written)) out += " " + key + value;
      out += "\n";
    }
  }
  return out;
}

/// One command that a hand might give, anywhere; many are refused.
inline editing::Outcome random_command(editing::Document& d, std::mt19937& random) {
  const auto below = [&](int n) { return static_cast<int>(random() % static_cast<unsigned>(n)); };
  const auto place = [&] { return Eigen::Vector2d(1e-4 * below(6000), 1e-4 * below(4000)); };
  const std::vector<std::vector<std::string>> sheets = {
      {"butyl"}, {"bitumen"}, {"heavy"}, {"bitumen", "butyl"}, {"butyl", "bitumen"}};
  const std::size_t layout = static_cast<std::size_t>(below(static_cast<int>(d.layouts().size())));
  const auto& pieces = d.layout(layout).pieces;
  const int id = pieces.empty()
                     ? 0
                     : pieces[static_cast<std::size_t>(below(static_cast<int>(pieces.size())))]->id;
  switch (below(14)) {
    case 0:
    case 1:
    case 2: {
      const Eigen::Vector2d at = place();
      return d.lay(layout,
                   at,
                   at + Eigen::Vector2d(1e-4 * (40 + below(900)), 1e-4 * (40 + below(900))),
                   sheets[static_cast<std::size_t>(below(5))],
                   below(3) == 0 ? job::Face::outer : job::Face::inner);
    }
    case 3:
    case 4:
    case 5:
      return d.move(layout, id, {1e-4 * (below(400) - 200), 1e-4 * (below(400) - 200)});
    case 6:
      return d.turn(layout, id, 0.1 * (below(900) - 450));
    case 7: {
      const auto piece = d.piece(layout, id);
      if (!piece) return {"no piece", 0};
      return d.resize(layout,
                      id,
                      1e-3 * piece->written.centre_mm,
                      {1e-4 * (40 + below(1500)), 1e-4 * (40 + below(1500))});
    }
    case 8:
      return d.cut(layout, id, place(), place());
    case 9:
      return d.remove(layout, id);
    case 10:
      return d.change_sheets(layout, id, sheets[static_cast<std::size_t>(below(5))]);
    case 11:
      return d.change_face(layout, id, below(2) == 0 ? job::Face::outer : job::Face::inner);
    case 12:
      return below(2) == 0 ? d.duplicate_layout(layout, d.free_name("copy \"of\" one"))
                           : d.rename_layout(layout, d.free_name("new name"));
    default:
      return below(3) == 0 ? d.remove_layout(layout) : d.add_layout(d.free_name("added"));
  }
}

}  // namespace calmplate::testing
