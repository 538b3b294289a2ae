// SPDX-License-Identifier: GPL-3.0-or-later
#include "job/check_pieces.hpp"

#include <cmath>
#include <cstddef>
#include <cstdio>
#include <string>
#include <vector>

#include "job/table_reader.hpp"

namespace calmplate::job {
namespace {

constexpr double kShareOnPanel = 0.999;      ///< the rest is the tape measure's error
constexpr double kLargestOverlap_m2 = 1e-6;  ///< likewise

using panel::Polygon;

/// A region as polygons whose signed sum is 1 inside it and 0 outside: anticlockwise ones count
/// +1, clockwise ones (holes) -1.
std::vector<Polygon> signed_polygons(const panel::Panel& panel, const panel::Region& region) {
  if (region.outline.rows() == 0) return panel::outlines(panel, region);
  Polygon outline = region.outline;
  if (panel::polygon_area(outline) < 0.0) outline = region.outline.colwise().reverse();
  return {outline};
}

/// Source: [derived] the area two regions share is the integral of the product of their indicator
/// functions, each of which is a signed sum over polygons.
double shared_area(const std::vector<Polygon>& a, const std::vector<Polygon>& b) {
  double area = 0.0;
  for (const Polygon& p : a)
    for (const Polygon& q : b) {
      const bool same_sense = (panel::polygon_area(p) > 0.0) == (panel::polygon_area(q) > 0.0);
      area += (same_sense ? 1.0 : -1.0) * panel::overlap_area(p, q);
    }
  return area;
}

/// Two digits, but never so many zeros that nothing is left.
std::string figure(double value) {
  char text[32];
  std::snprintf(text, sizeof text, value < 10.0 ? "%.2g" : "%.0f", value);
  return text;
}

std::string square_mm(double area_m2) { return figure(area_m2 * 1e6) + " mm2"; }

void check_on_panel(const Piece& piece, const panel::Panel& panel) {
  if (piece.region.outline.rows() == 0) {
    if (panel::covered_area(panel, panel::cover(panel, piece.region)) <= kLargestOverlap_m2)
      throw base::InputError(piece.where,
                             "covers nothing: its margins and the keep-outs leave no skin",
                             "smaller margins");
    return;
  }
  const double share = panel::share_on_panel(panel, piece.region.outline);
  if (share < kShareOnPanel)
    throw base::InputError(piece.where,
                           share <= 0.0 ? "lies off the panel"
                                        : "hangs over the panel's edge or a hole by " +
                                              figure(100.0 * (1.0 - share)) + " % of its area",
                           "at most 0.1 %; the flat map runs from " + map_extent(panel));
}

void check_keep_outs(const Piece& piece, const Job& job) {
  if (piece.region.outline.rows() == 0) return;  // it leaves them out by itself
  for (const KeepOut& keep_out : job.keep_outs) {
    const double area_m2 = panel::overlap_area(piece.region.outline, keep_out.outline);
    if (area_m2 > kLargestOverlap_m2)
      throw base::InputError(piece.where,
                             "enters the keep-out " + in_quotes(keep_out.name) + " (" +
                                 keep_out.where.key + ") by " + square_mm(area_m2),
                             "at most 1 mm2");
  }
}

std::string line_text(const base::Where& where) {
  return where.line > 0 ? " on line " + std::to_string(where.line) : "";
}

void check_layout(const Job& job, const Layout& layout, const panel::Panel& panel) {
  std::vector<std::vector<Polygon>> laid;
  for (std::size_t i = 0; i < layout.pieces.size(); ++i) {
    const Piece& piece = layout.pieces[i];
    check_on_panel(piece, panel);
    check_keep_outs(piece, job);
    if (layout.pieces.size() == 1) return;
    laid.push_back(signed_polygons(panel, piece.region));
    for (std::size_t j = 0; j < i; ++j) {
      const Piece& other = layout.pieces[j];
      if (other.face != piece.face) continue;
      const double area_m2 = shared_area(laid[i], laid[j]);
      if (area_m2 > kLargestOverlap_m2)
        throw base::InputError(piece.where,
                               "overlaps " + other.where.key + line_text(other.where) +
                                   " on the same face by " + square_mm(area_m2),
                               "at most 1 mm2");
    }
  }
}

}  // namespace

base::Where where_in(const base::Where& entry, const std::string& key) {
  return {entry.file, entry.line, entry.key + "." + key};
}

std::string map_extent(const panel::Panel& panel) {
  const Eigen::Vector2d low_mm = panel.flat.low() * 1e3;
  const Eigen::Vector2d high_mm = low_mm + panel.flat.size() * 1e3;
  char text[96];
  std::snprintf(text,
                sizeof text,
                "[%ld, %ld] to [%ld, %ld] mm",
                std::lround(low_mm.x()),
                std::lround(low_mm.y()),
                std::lround(high_mm.x()),
                std::lround(high_mm.y()));
  return text;
}

void check_pieces(const Job& job, const panel::Panel& panel) {
  for (const Layout& layout : job.layouts) check_layout(job, layout, panel);
}

}  // namespace calmplate::job
