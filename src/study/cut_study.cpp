// SPDX-License-Identifier: GPL-3.0-or-later
#include "study/cut_study.hpp"

#include <algorithm>
#include <utility>

namespace calmplate::study {
namespace {

std::vector<cutting::Stock> stocks_of(const job::Job& job) {
  std::vector<cutting::Stock> stocks;
  for (std::size_t i = 0; i < job.sheets.size(); ++i) {
    const sheet::Sheet& sheet = job.sheets[i];
    cutting::Stock stock;
    stock.sheet = sheet.name;
    stock.form = job.sheet_inputs[i].stock.form;
    stock.direction = job.sheet_inputs[i].stock.direction;
    stock.length_m = sheet.stock_length_m;
    stock.width_m = sheet.stock_width_m;
    stock.price = sheet.price_per_sheet;
    stock.mass_per_area = sheet.mass_per_area();
    stock.where = job.sheet_inputs[i].where;
    for (const cutting::OffcutInput& offcut : job.cutting.offcuts)
      if (offcut.sheet == sheet.name)
        stock.offcuts_m.insert(stock.offcuts_m.end(),
                               static_cast<std::size_t>(offcut.count),
                               {offcut.size_m.y(), offcut.size_m.x()});
    stocks.push_back(std::move(stock));
  }
  return stocks;
}

std::vector<cutting::Part> parts_in(const job::Job& job,
                                    const panel::Panel& panel,
                                    const job::Layout& layout,
                                    const std::vector<cutting::Stock>& stocks) {
  std::vector<cutting::Part> parts;
  for (std::size_t i = 0; i < layout.pieces.size(); ++i) {
    const job::Piece& piece = layout.pieces[i];
    const cutting::PieceToCut cut{layout.name,
                                  static_cast<int>(i) + 1,
                                  piece.sheets,
                                  piece.face == job::Face::outer,
                                  piece.region,
                                  piece.where};
    for (cutting::Part& part : cutting::parts_of(panel, cut, stocks, job.cutting.split))
      parts.push_back(std::move(part));
  }
  return parts;
}

/// "sheet 1", by part.
std::vector<std::string> sources_of(const cutting::CutPlan& plan) {
  std::vector<std::string> from(plan.parts.size());
  for (const cutting::SheetPlan& sheet : plan.sheets)
    for (const cutting::StockPlan& stock : sheet.stocks) {
      const std::string word = stock.kind == cutting::StockKind::offcut ? "offcut "
                               : stock.kind == cutting::StockKind::roll ? "roll "
                                                                        : "sheet ";
      for (const cutting::PlacedPart& placed : stock.parts)
        from[static_cast<std::size_t>(placed.part)] = word + std::to_string(stock.number);
    }
  return from;
}

}  // namespace

std::vector<job::Layout> layouts_to_cut(const job::Job& job,
                                        const std::vector<std::string>& names) {
  if (job.layouts.empty())
    throw base::InputError(
        {job.file.string(), 0, "layout"}, "is missing", "at least one [[layout]] to cut");
  std::vector<std::string> known;
  for (const job::Layout& layout : job.layouts) known.push_back(layout.name);
  for (const std::string& name : names) {
    if (std::find(known.begin(), known.end(), name) != known.end()) continue;
    const std::string near = base::nearest_word(name, known.data(), known.size());
    std::string list;
    for (const std::string& k : known) list += (list.empty() ? "\"" : ", \"") + k + "\"";
    throw base::InputError(
        {job.file.string(), 0, "layout"},
        "has no layout \"" + name + "\"" + (near.empty() ? "" : "; did you mean \"" + near + "\"?"),
        list);
  }
  std::vector<job::Layout> chosen;
  for (const job::Layout& layout : job.layouts)
    if (names.empty() || std::find(names.begin(), names.end(), layout.name) != names.end())
      chosen.push_back(layout);
  return chosen;
}

CutStudy cut_layouts(const job::Job& job,
                     const panel::Panel& panel,
                     const std::vector<job::Layout>& layouts,
                     const base::Progress& progress) {
  const std::vector<cutting::Stock> stocks = stocks_of(job);
  CutStudy study;
  std::vector<cutting::Part> all;
  double done = 0.0;
  for (const job::Layout& layout : layouts) {
    progress.step("cutting layout " + layout.name, done++ / static_cast<double>(layouts.size()));
    CutLayout cut;
    cut.name = layout.name;
    const std::vector<cutting::Part> parts = parts_in(job, panel, layout, stocks);
    cut.plan = cutting::make_plan(parts, stocks, job.cutting);
    const std::vector<std::string> from = sources_of(cut.plan);
    for (std::size_t i = 0; i < parts.size(); ++i) {
      progress.check();
      cut.parts.push_back({parts[i],
                           cutting::position_of(panel, parts[i]),
                           cutting::flatness_of(panel, parts[i]),
                           from[i]});
    }
    cut.minutes = cutting::laying_minutes(
        cut.plan.cut_count(), static_cast<int>(parts.size()), cut.plan.laid_m2());
    all.insert(all.end(), parts.begin(), parts.end());
    study.layouts.push_back(std::move(cut));
  }
  if (layouts.size() > 1) study.together = cutting::make_plan(all, stocks, job.cutting);
  for (const job::KeepOut& k : job.keep_outs) study.keep_out.push_back({k.name, k.outline});
  return study;
}

}  // namespace calmplate::study
