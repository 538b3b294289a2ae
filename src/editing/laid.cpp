// SPDX-License-Identifier: GPL-3.0-or-later
#include "editing/laid.hpp"

#include <cmath>

#include "study/cut_study.hpp"

namespace calmplate::editing {

std::shared_ptr<const Laid> make_laid(const panel::Panel& panel,
                                      int id,
                                      const job::WrittenPiece& written,
                                      const job::Piece& piece) {
  auto out = std::make_shared<Laid>();
  out->id = id;
  out->written = written;
  out->piece = piece;
  out->covered = panel::cover(panel, piece.region);
  out->area_m2 = panel::covered_area(panel, out->covered);
  if (piece.region.outline.rows() > 0)
    out->outlines = {piece.region.outline};
  else
    out->outlines = panel::outlines(panel, piece.region);
  return out;
}

Figures figures_of(const job::Job& job, const panel::Panel& panel, const Layout& layout) {
  Figures out;
  out.pieces = static_cast<int>(layout.pieces.size());
  std::vector<StockCount> stock(job.sheets.size());
  for (const auto& laid : layout.pieces) {
    out.area_m2 += laid->area_m2;
    for (const std::string& name : laid->piece.sheets)
      for (std::size_t s = 0; s < job.sheets.size(); ++s)
        if (job.sheets[s].name == name) stock[s].area_m2 += laid->area_m2;
  }
  out.share = out.area_m2 / panel.area_m2;
  for (std::size_t s = 0; s < stock.size(); ++s) {
    const sheet::Sheet& sheet = job.sheets[s];
    StockCount& count = stock[s];
    if (!(count.area_m2 > 0.0)) continue;
    count.sheet = sheet.name;
    count.mass_kg = count.area_m2 * sheet.mass_per_area();
    const double one_m2 = sheet.stock_width_m * sheet.stock_length_m;
    if (one_m2 > 0.0) {
      count.sheets = count.area_m2 / one_m2;
      count.whole_sheets = static_cast<int>(std::ceil(count.sheets - 1e-9));
      count.cost = sheet.price_per_sheet * count.sheets;
    }
    out.mass_kg += count.mass_kg;
    out.cost += count.cost;
    out.stock.push_back(count);
  }
  return out;
}

StockPlan plan_of(const job::Job& job, const panel::Panel& panel, const Layout& layout) {
  StockPlan out;
  if (layout.pieces.empty()) return out;
  job::Layout whole;
  whole.name = layout.name;
  for (const auto& laid : layout.pieces) whole.pieces.push_back(laid->piece);
  const study::CutStudy study = study::cut_layouts(job, panel, {whole}, {});
  const cutting::CutPlan& plan = study.layouts.front().plan;
  out.cost = plan.cost;
  out.proven = true;
  for (const cutting::SheetPlan& sheet : plan.sheets) {
    out.bought += sheet.bought;
    out.proven = out.proven && sheet.proven;
  }
  return out;
}

}  // namespace calmplate::editing
