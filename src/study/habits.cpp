// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <cmath>
#include <cstdio>

#include "base/parallel.hpp"
#include "base/units.hpp"
#include "study/place.hpp"

/// What the trade lays by habit, and benefit against coverage.
namespace calmplate::study {
namespace {

constexpr double kFullMargin_m = 0.020;
constexpr double kChequer_m = 0.150;
constexpr std::size_t kCurvePoints = 8;

job::Piece piece_of(const std::string& sheet, const job::Job& job, panel::Region region) {
  job::Piece piece;
  piece.sheets = {sheet};
  for (const job::KeepOut& k : job.keep_outs) region.holes.push_back(k.outline);
  piece.region = std::move(region);
  return piece;
}

/// Part of a rectangle that may be covered: clear of rim, holes and keep-outs.
double free_area(const panel::Panel& panel, const job::Piece& piece) {
  return panel::covered_area(panel, panel::cover(panel, piece.region));
}

job::Layout full_cover(const job::Job& job, const std::string& sheet) {
  panel::Region region;
  region.rim_margin_m = kFullMargin_m;
  region.hole_margin_m = 0.75 * kFullMargin_m;
  return {"full cover", {piece_of(sheet, job, region)}, std::nullopt, {}};
}

}  // namespace

job::Layout centre_block(const job::Job& job,
                         const panel::Panel& panel,
                         const std::string& sheet,
                         double share) {
  const Eigen::Vector2d map = panel.flat.size();
  job::Layout out{"centre block", {}, std::nullopt, {}};
  double low = 0.05, high = 1.0;
  for (int step = 0; step < 30; ++step) {
    const double scale = 0.5 * (low + high);
    panel::Region region;
    region.outline = panel::rectangle(panel.flat.middle(), scale * map, 0.0);
    region.rim_margin_m = kFullMargin_m;
    region.hole_margin_m = 0.75 * kFullMargin_m;
    out.pieces = {piece_of(sheet, job, region)};
    (free_area(panel, out.pieces.front()) < share * panel.area_m2 ? low : high) = scale;
  }
  return out;
}

job::Layout chequer(const job::Job& job,
                    const panel::Panel& panel,
                    const std::string& sheet,
                    double share) {
  const Eigen::Vector2d map = panel.flat.size();
  const int nx = static_cast<int>(std::ceil(map.x() / kChequer_m)) / 2 + 1;
  const int ny = static_cast<int>(std::ceil(map.y() / kChequer_m)) / 2 + 1;
  std::vector<std::pair<double, job::Piece>> squares;
  for (int j = -ny; j <= ny; ++j)
    for (int i = -nx; i <= nx; ++i) {
      if (((i + j) % 2) != 0) continue;
      const Eigen::Vector2d at = panel.flat.middle() + kChequer_m * Eigen::Vector2d(i, j);
      panel::Region region;
      region.outline = panel::rectangle(at, Eigen::Vector2d::Constant(kChequer_m), 0.0);
      region.rim_margin_m = 0.5 * kFullMargin_m;
      const job::Piece piece = piece_of(sheet, job, region);
      if (free_area(panel, piece) > 0.5 * kChequer_m * kChequer_m)
        squares.emplace_back((at - panel.flat.middle()).norm(), piece);
    }
  std::stable_sort(squares.begin(), squares.end(), [](const auto& a, const auto& b) {
    return a.first < b.first - 1e-9;
  });
  job::Layout out{"chequer", {}, std::nullopt, {}};
  double area = 0.0;
  for (const auto& [distance, piece] : squares) {
    const double own = free_area(panel, piece);
    if (area + own > share * panel.area_m2) continue;
    area += own;
    out.pieces.push_back(piece);
  }
  return out;
}

std::string full_layout(const job::Job& job, const std::string& sheet) {
  for (const job::Layout& l : job.layouts)
    if (l.pieces.size() == 1 && l.pieces.front().region.outline.rows() == 0 &&
        l.pieces.front().sheets == std::vector<std::string>{sheet})
      return l.name;
  return "";
}

job::Job with_habits(const job::Job& job,
                     const panel::Panel& panel,
                     const std::string& sheet,
                     const std::vector<double>& shares) {
  job::Job out = job;
  const auto add = [&](const job::Layout& layout) {
    const bool there = std::any_of(out.layouts.begin(), out.layouts.end(), [&](const auto& l) {
      return l.name == layout.name;
    });
    if (!there && (layout.place || !layout.pieces.empty())) out.layouts.push_back(layout);
  };
  if (full_layout(job, sheet).empty()) add(full_cover(job, sheet));
  add(centre_block(job, panel, sheet, 0.25));
  add(chequer(job, panel, sheet, shares.back()));
  for (const double share : shares) {
    char name[64];
    std::snprintf(name, sizeof name, "best placed %.0f %%", 100.0 * share);
    job::Layout layout{name, {}, job::PlaceInput{}, {job.file.string(), 0, "place"}};
    layout.place->sheets = {sheet};
    layout.place->share = share;
    const sheet::Sheet& s = job.sheet_named(sheet);
    if (!(s.stock_width_m > 0.0)) layout.place->sizes_m = {{0.25, 0.2}};
    add(layout);
  }
  return out;
}

CoverageCurve coverage_curve(const Common& common,
                             const job::Layout& placed,
                             const LayoutResult& bare,
                             const LayoutResult* full,
                             unsigned threads,
                             const base::Progress& progress) {
  const std::size_t n = placed.pieces.size();
  std::vector<job::Layout> layouts;
  for (std::size_t k = 1; k <= std::min(n, kCurvePoints); ++k) {
    // The first few pieces one by one, then in larger steps.
    const std::size_t count = n <= kCurvePoints ? k : (k * n + kCurvePoints - 1) / kCurvePoints;
    job::Layout part = placed;
    part.pieces.resize(count);
    layouts.push_back(part);
  }
  std::vector<LayoutResult> studied(layouts.size());
  base::parallel_for(layouts.size(), threads, [&](std::size_t i) {
    progress.step("coverage curve", static_cast<double>(i) / static_cast<double>(layouts.size()));
    studied[i] = study_layout(common, &layouts[i], 1, progress, nullptr, Detail::levels);
  });
  CoverageCurve out;
  out.layout = placed.name;
  out.points.push_back({});
  const auto add = [&](const LayoutResult& l) {
    out.points.push_back({static_cast<int>(l.pieces.size()),
                          l.share,
                          l.mass_kg,
                          l.cost,
                          bare.band_level_db - l.band_level_db});
  };
  for (const LayoutResult& l : studied) add(l);
  if (full != nullptr) add(*full);
  // The knee: where the curve stands highest over the straight line from nothing to its end.
  const CoveragePoint& end = out.points.back();
  double most = 0.0;
  for (std::size_t i = 0; i < out.points.size(); ++i) {
    const double over =
        out.points[i].reduction_db / end.reduction_db - out.points[i].share / end.share;
    if (over > most) {
      most = over;
      out.knee = static_cast<int>(i);
    }
  }
  const CoveragePoint& knee = out.points[static_cast<std::size_t>(out.knee)];
  char text[256];
  std::snprintf(
      text,
      sizeof text,
      "%.0f %% of the skin gives %.0f %% of the reduction of %s (%.1f of %.1f dB), %.1f kg "
      "lighter.",
      100.0 * knee.share,
      100.0 * knee.reduction_db / end.reduction_db,
      full != nullptr ? "full coverage" : "the largest layout",
      knee.reduction_db,
      end.reduction_db,
      end.mass_kg - knee.mass_kg);
  out.sentence = text;
  return out;
}

}  // namespace calmplate::study
