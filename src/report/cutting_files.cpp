// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <set>

#include "cutting/pen.hpp"
#include "cutting/plan_drawing.hpp"
#include "cutting/templates.hpp"
#include "report/cutting_words.hpp"
#include "report/text_table.hpp"

namespace calmplate::report {
namespace {

using Files = std::vector<std::pair<std::string, std::string>>;

constexpr double kDots = 150.0;         ///< an inch, of pictures
constexpr double kMostPixels = 6000.0;  ///< of a side of a picture

/// Letters and digits stay, all else becomes "_"; a number behind it if the name is taken.
std::string file_name(const std::string& words, std::set<std::string>& taken) {
  std::string name = words;
  const auto plain = [](char c) {
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '-';
  };
  std::replace_if(
      name.begin(), name.end(), [&](char c) { return !plain(c); }, '_');
  std::string free = name;
  for (int k = 2; !taken.insert(free).second; ++k) free = name + "_" + std::to_string(k);
  return free;
}

void add_plan(Files& files,
              const std::string& folder,
              const std::string& title,
              const job::Job& job,
              const cutting::CutPlan& plan) {
  std::string note = job.title;
  if (plan.priced && plan.cost > 0.0) note += ", " + fixed(plan.cost, 2) + " " + job.currency;
  const cutting::PageDrawing page = cutting::plan_page(plan, title, note);
  const double dots = std::min(kDots, kMostPixels * 25.4 / std::max(page.width_mm, page.height_mm));
  files.push_back({folder + "plan.svg", cutting::svg_bytes(page)});
  files.push_back({folder + "plan.pdf", cutting::pdf_bytes({page}, title)});
  files.push_back({folder + "plan.png", cutting::png_bytes(page, dots)});
}

void add_layout(Files& files,
                const std::string& folder,
                const job::Job& job,
                const panel::Panel& panel,
                const study::CutStudy& study,
                const study::CutLayout& layout,
                const cutting::Paper& paper) {
  const auto& parts = layout.parts;
  add_plan(files, folder, "Cutting plan, layout " + layout.name, job, layout.plan);
  files.push_back({folder + "templates_tiles.pdf",
                   cutting::pdf_bytes(cutting::template_tiles(parts, paper, job.title),
                                      "Templates, layout " + layout.name)});
  std::vector<cutting::PageDrawing> faces;
  for (const bool outer : {false, true})
    if (std::any_of(parts.begin(), parts.end(), [&](const cutting::LaidPart& p) {
          return p.part.outer_face == outer;
        })) {
      faces.push_back(cutting::long_page(panel, parts, study.keep_out, outer, job.title));
      files.push_back({folder + (outer ? "templates_long_outer.svg" : "templates_long_inner.svg"),
                       cutting::svg_bytes(faces.back())});
    }
  files.push_back({folder + "templates_long.pdf",
                   cutting::pdf_bytes(faces, "Whole face, layout " + layout.name)});
  for (const cutting::LaidPart& laid : parts)
    files.push_back({folder + "template_" + laid.part.label + ".svg",
                     cutting::svg_bytes(cutting::template_page(laid, job.title))});
  files.push_back(
      {folder + "laying_sheet.pdf",
       cutting::pdf_bytes(
           cutting::laying_pages(laying_words(job, layout), panel, parts, study.keep_out, paper),
           "Laying sheet, layout " + layout.name)});
}

}  // namespace

std::vector<std::pair<std::string, std::string>> cutting_files(const job::Job& job,
                                                               const panel::Panel& panel,
                                                               const study::CutStudy& study,
                                                               const cutting::Paper& paper) {
  Files files = {{"cutting.json", cutting_json(job, study, paper.name)},
                 {"cutting.txt", cutting_text(job, study)}};
  if (!study.together) {
    add_layout(files, "", job, panel, study, study.layouts.front(), paper);
    return files;
  }
  add_plan(files, "", "Cutting plan, all layouts together", job, *study.together);
  std::set<std::string> taken;
  for (const study::CutLayout& layout : study.layouts)
    add_layout(
        files, "layout_" + file_name(layout.name, taken) + "/", job, panel, study, layout, paper);
  return files;
}

}  // namespace calmplate::report
