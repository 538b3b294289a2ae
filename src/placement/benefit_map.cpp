// SPDX-License-Identifier: GPL-3.0-or-later
#include "placement/benefit_map.hpp"

#include <algorithm>
#include <array>
#include <atomic>
#include <cmath>
#include <limits>
#include <map>
#include <stdexcept>
#include <utility>

#include "base/parallel.hpp"
#include "base/units.hpp"

namespace calmplate::placement {
namespace {

/// A place of the grid that is worth a trial.
struct Candidate {
  std::pair<int, int> cell;
  Eigen::Vector2d centre;
  std::vector<panel::CoveredTriangle> covered;
  double area_m2 = 0.0;
};

double taken_area(const panel::Panel& panel,
                  const MapRequest& request,
                  const std::vector<panel::CoveredTriangle>& covered) {
  // Shares of one triangle by two regions may lie apart; their sum above 1 is what surely overlaps,
  // and a whole triangle in both certainly does.
  double overlap = 0.0;
  const Eigen::VectorXd area = panel::triangle_areas(panel.mesh);
  for (const panel::Region& region : request.taken) {
    std::map<int, double> share;
    for (const panel::CoveredTriangle& c : panel::cover(panel, region))
      share[c.triangle] = c.fraction;
    for (const panel::CoveredTriangle& c : covered) {
      const auto found = share.find(c.triangle);
      if (found != share.end())
        overlap += area(c.triangle) * std::max(0.0, c.fraction + found->second - 1.0);
    }
  }
  return overlap;
}

std::vector<Candidate> candidates(const panel::Panel& panel, const MapRequest& request) {
  const Eigen::Vector2d size = panel.flat.size();
  const double whole = request.piece_m * request.piece_m;
  std::vector<Candidate> out;
  const int nx = std::max(1, static_cast<int>(std::floor(size.x() / request.spacing_m)));
  const int ny = std::max(1, static_cast<int>(std::floor(size.y() / request.spacing_m)));
  // The grid is centred on the map.
  const Eigen::Vector2d start =
      panel.flat.middle() - 0.5 * request.spacing_m * Eigen::Vector2d(nx, ny);
  for (int j = 0; j <= ny; ++j)
    for (int i = 0; i <= nx; ++i) {
      Candidate c;
      c.cell = {i, j};
      c.centre = start + request.spacing_m * Eigen::Vector2d(i, j);
      panel::Region region;
      region.outline = panel::rectangle(c.centre, Eigen::Vector2d::Constant(request.piece_m), 0.0);
      region.holes = request.keep_out;
      c.covered = panel::cover(panel, region);
      c.area_m2 = panel::covered_area(panel, c.covered);
      if (c.area_m2 < 0.5 * whole * (1.0 - 1e-9)) continue;
      if (!request.taken.empty() && taken_area(panel, request, c.covered) > 0.01 * whole) continue;
      out.push_back(std::move(c));
    }
  return out;
}

/// Bilinear between the four places around a node; missing places give their weight to the others.
Eigen::VectorXd spread(const panel::Panel& panel,
                       const MapRequest& request,
                       const std::vector<Candidate>& list,
                       const std::vector<Place>& places) {
  std::map<std::pair<int, int>, double> value;
  for (std::size_t i = 0; i < list.size(); ++i) value[list[i].cell] = places[i].benefit_db;
  Eigen::VectorXd out =
      Eigen::VectorXd::Constant(panel.mesh.nodes.rows(), std::numeric_limits<double>::quiet_NaN());
  if (list.empty()) return out;
  const Eigen::Vector2d origin =
      list.front().centre -
      request.spacing_m * Eigen::Vector2d(list.front().cell.first, list.front().cell.second);
  for (Eigen::Index n = 0; n < out.size(); ++n) {
    const Eigen::Vector2d at =
        (panel.flat.points().row(n).transpose() - origin) / request.spacing_m;
    const int i = static_cast<int>(std::floor(at.x())), j = static_cast<int>(std::floor(at.y()));
    double sum = 0.0, weight = 0.0;
    for (const int di : {0, 1})
      for (const int dj : {0, 1}) {
        const auto found = value.find({i + di, j + dj});
        if (found == value.end()) continue;
        const double w =
            std::max(1e-6, (1.0 - std::abs(at.x() - i - di)) * (1.0 - std::abs(at.y() - j - dj)));
        sum += w * found->second;
        weight += w;
      }
    if (weight > 0.0) out(n) = sum / weight;
  }
  return out;
}

}  // namespace

BenefitMap benefit_map(const panel::Panel& panel,
                       const TrialBench& bench,
                       const MapRequest& request,
                       const base::Progress& progress) {
  if (request.sheet == nullptr || !(request.piece_m > 0.0) || !(request.spacing_m > 0.0))
    throw std::invalid_argument("benefit_map: a sheet, piece_m and spacing_m above 0 are needed");
  const std::vector<Candidate> list = candidates(panel, request);
  const double before = bench.band_mean_square();
  BenefitMap map;
  map.places.resize(list.size());
  std::atomic<std::size_t> done{0};
  base::parallel_for(list.size(), request.threads, [&](std::size_t i) {
    progress.step("benefit map", static_cast<double>(done++) / static_cast<double>(list.size()));
    shell::LaidPiece trial;
    trial.covered = list[i].covered;
    trial.plies = {request.sheet};
    trial.outer_face = request.outer_face;
    map.places[i] = {
        list[i].centre, list[i].area_m2, base::to_db(before / bench.band_mean_square(trial))};
  });
  for (std::size_t i = 0; i < map.places.size(); ++i)
    if (map.best < 0 ||
        map.places[i].benefit_db > map.places[static_cast<std::size_t>(map.best)].benefit_db)
      map.best = static_cast<int>(i);
  map.at_nodes = spread(panel, request, list, map.places);
  return map;
}

}  // namespace calmplate::placement
