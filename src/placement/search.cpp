// SPDX-License-Identifier: GPL-3.0-or-later
#include "placement/search.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <memory>
#include <stdexcept>
#include <utility>

#include "base/parallel.hpp"
#include "placement/spots.hpp"

namespace calmplate::placement {
namespace {

constexpr std::size_t kSolvedOf = 10;     ///< so many of the screened are solved in full
constexpr double kWorthwhile_db = 0.005;  ///< less than this is no gain
constexpr int kRounds = 4;                ///< of lifting every piece once

using Layout = std::vector<int>;  ///< numbers of spots, in the order of laying

struct Used {
  double area_m2 = 0.0, mass_kg = 0.0, cost = 0.0, sheets = 0.0;
  int pieces = 0;
};

class Search {
 public:
  Search(const panel::Panel& panel,
         const std::vector<const TrialBench*>& benches,
         const std::vector<std::vector<PowerAt>>& powers,
         const SearchRequest& request,
         const base::Progress& progress)
      : panel_(panel), benches_(benches), request_(request), progress_(progress) {
    for (std::size_t b = 0; b < benches.size(); ++b)
      judges_.emplace_back(*benches[b], request.wishes, powers[b]);
    spots_ = all_spots(panel, request);
    n_grid_ = spots_.size();
    pieces_.resize(spots_.size());
  }

  SearchResult run() {
    best_.spots = static_cast<int>(n_grid_);
    empty_db_ = solve({});
    try {
      const std::vector<int> first = ranked({}, free_spots({}));
      const std::size_t starts = std::min<std::size_t>(
          static_cast<std::size_t>(std::max(request_.starts, 1)), first.size());
      for (std::size_t s = 0; s < starts; ++s) {
        Layout layout = {first[s]};
        grow(layout);
        improve(layout);
        // What lifting has made room for.
        grow(layout);
      }
    } catch (const base::Cancelled&) {
      best_.stopped = true;
    }
    finish();
    return best_;
  }

 private:
  /// The condensed piece of a spot on every bench, made when first asked for.
  const std::vector<reduced::CondensedPiece>& piece(int spot) {
    auto& slot = pieces_[static_cast<std::size_t>(spot)];
    if (!slot) slot = make_piece(spots_[static_cast<std::size_t>(spot)]);
    return *slot;
  }

  std::unique_ptr<std::vector<reduced::CondensedPiece>> make_piece(const Spot& spot) const {
    shell::LaidPiece laid;
    laid.covered = spot.covered;
    laid.plies = {request_.sheets[spot.sheet].sheet};
    laid.outer_face = request_.outer_face;
    auto out = std::make_unique<std::vector<reduced::CondensedPiece>>();
    for (const TrialBench* bench : benches_) out->push_back(bench->condense(laid));
    return out;
  }

  void make_pieces(const std::vector<int>& spots) {
    std::vector<int> missing;
    for (const int s : spots)
      if (!pieces_[static_cast<std::size_t>(s)]) missing.push_back(s);
    base::parallel_for(missing.size(), request_.threads, [&](std::size_t i) {
      progress_.check();
      const auto s = static_cast<std::size_t>(missing[i]);
      pieces_[s] = make_piece(spots_[s]);
    });
  }

  TrialBench::Pieces on_bench(const Layout& layout, std::size_t bench) {
    TrialBench::Pieces out;
    for (const int s : layout) out.push_back(&piece(s)[bench]);
    return out;
  }

  double combined(const std::vector<double>& levels) const {
    if (request_.worst_temperature) return *std::max_element(levels.begin(), levels.end());
    double sum = 0.0;
    for (const double l : levels) sum += l;
    return sum / static_cast<double>(levels.size());
  }

  /// Full evaluation. Pieces must have been made.
  double solve(const Layout& layout) {
    std::vector<double> levels;
    for (std::size_t b = 0; b < benches_.size(); ++b)
      levels.push_back(
          judges_[b].level_db(judges_[b].integrals(benches_[b]->poles(on_bench(layout, b)))));
    return combined(levels);
  }

  std::vector<double> solve_all(const std::vector<Layout>& layouts) {
    for (const Layout& l : layouts) make_pieces(l);
    std::vector<double> out(layouts.size());
    base::parallel_for(layouts.size(), request_.threads, [&](std::size_t i) {
      progress_.check();
      out[i] = solve(layouts[i]);
    });
    best_.solved += static_cast<int>(layouts.size());
    return out;
  }

  Used used(const Layout& layout) const {
    Used u;
    for (const int s : layout) {
      const Spot& spot = spots_[static_cast<std::size_t>(s)];
      const sheet::Sheet& sheet = *request_.sheets[spot.sheet].sheet;
      const double stock = sheet.stock_width_m * sheet.stock_length_m;
      u.area_m2 += spot.area_m2;
      u.mass_kg += spot.area_m2 * sheet.mass_per_area();
      u.cost += stock > 0.0 ? spot.area_m2 * sheet.price_per_sheet / stock : 0.0;
      u.sheets += stock > 0.0 ? spot.area_m2 / stock : 0.0;
      ++u.pieces;
    }
    return u;
  }

  /// Largest share of a limit that a layout uses; by area where nothing is limited.
  double share(const Layout& layout) const {
    const Used u = used(layout);
    const SearchLimits& l = request_.limits;
    const double most = std::max(
        {u.area_m2 / l.area_m2, u.mass_kg / l.mass_kg, u.cost / l.cost, u.sheets / l.sheets});
    return most > 0.0 ? most : u.area_m2 / panel_.area_m2;
  }

  bool within(const Layout& layout) const {
    constexpr double kRounding = 1.0 + 1e-9;
    const Used u = used(layout);
    const SearchLimits& l = request_.limits;
    return u.pieces <= l.pieces && u.area_m2 <= l.area_m2 * kRounding &&
           u.mass_kg <= l.mass_kg * kRounding && u.cost <= l.cost * kRounding &&
           u.sheets <= l.sheets * kRounding;
  }

  bool fits(const Layout& layout, int spot) const {
    const Spot& s = spots_[static_cast<std::size_t>(spot)];
    for (const int other : layout)
      if (in_the_way(s, spots_[static_cast<std::size_t>(other)], request_.gap_m)) return false;
    Layout with = layout;
    with.push_back(spot);
    return within(with);
  }

  std::vector<int> free_spots(const Layout& layout) const {
    std::vector<int> out;
    for (std::size_t s = 0; s < n_grid_; ++s)
      if (fits(layout, static_cast<int>(s))) out.push_back(static_cast<int>(s));
    return out;
  }

  /// Spots by their first-order gain for what they use of the limits, best first.
  std::vector<int> ranked(const Layout& layout, std::vector<int> spots) {
    make_pieces(layout);
    make_pieces(spots);
    std::vector<reduced::PoleExpansion> poles;
    std::vector<std::vector<reduced::BandIntegral>> integrals;
    std::vector<double> levels;
    for (std::size_t b = 0; b < benches_.size(); ++b) {
      poles.push_back(benches_[b]->poles(on_bench(layout, b)));
      integrals.push_back(judges_[b].integrals(poles[b]));
      levels.push_back(judges_[b].level_db(integrals[b]));
    }
    const double now = combined(levels), share_now = layout.empty() ? 0.0 : share(layout);
    std::vector<double> value(spots.size());
    base::parallel_for(spots.size(), request_.threads, [&](std::size_t i) {
      progress_.check();
      const auto& own = *pieces_[static_cast<std::size_t>(spots[i])];
      std::vector<double> moved;
      for (std::size_t b = 0; b < benches_.size(); ++b)
        moved.push_back(
            judges_[b].level_db(integrals[b], benches_[b]->moved_poles(poles[b], own[b])));
      Layout with = layout;
      with.push_back(spots[i]);
      value[i] = (now - combined(moved)) / std::max(share(with) - share_now, 1e-12);
    });
    best_.screened += static_cast<int>(spots.size());
    std::vector<std::size_t> order(spots.size());
    for (std::size_t i = 0; i < order.size(); ++i) order[i] = i;
    std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
      return value[a] > value[b];
    });
    std::vector<int> out;
    for (const std::size_t i : order) out.push_back(spots[i]);
    return out;
  }

  void keep(const Layout& layout, double level_db) {
    if (!has_best_ || level_db < best_db_ - 1e-9) {
      has_best_ = true;
      best_db_ = level_db;
      best_layout_ = layout;
    }
    if (progress_.report)
      progress_.step(
          "placing: " + std::to_string(best_layout_.size()) + " pieces, " +
              std::to_string(std::round(10.0 * (empty_db_ - best_db_)) / 10.0).substr(0, 4) + " dB",
          std::min(1.0, share(layout)));
  }

  void grow(Layout& layout) {
    double now = solve_all({layout}).front();
    keep(layout, now);
    for (;;) {
      std::vector<int> order = ranked(layout, free_spots(layout));
      if (order.empty()) return;
      order.resize(std::min(order.size(), kSolvedOf));
      std::vector<Layout> with;
      for (const int s : order) {
        with.push_back(layout);
        with.back().push_back(s);
      }
      const std::vector<double> level = solve_all(with);
      std::size_t best = 0;
      double most = -1.0;
      const double share_now = share(layout);
      for (std::size_t i = 0; i < with.size(); ++i) {
        const double gain = (now - level[i]) / std::max(share(with[i]) - share_now, 1e-12);
        if (gain > most) {
          most = gain;
          best = i;
        }
      }
      if (now - level[best] < kWorthwhile_db) return;
      layout = with[best];
      now = level[best];
      keep(layout, now);
    }
  }

  /// Half a grid step aside, each way and both: new spots, kept for later.
  std::vector<int> aside(int spot, const Layout& others) {
    std::vector<int> out;
    const Spot from = spots_[static_cast<std::size_t>(spot)];
    const double half = 0.5 * request_.spacing_m;
    for (const double dx : {-half, 0.0, half})
      for (const double dy : {-half, 0.0, half}) {
        if (dx == 0.0 && dy == 0.0) continue;
        const Eigen::Vector2d centre = from.centre + Eigen::Vector2d(dx, dy);
        auto made = spot_at(panel_, request_, from.sheet, from.size, from.angle_rad, centre);
        if (!made) continue;
        spots_.push_back(std::move(*made));
        pieces_.emplace_back();
        const int number = static_cast<int>(spots_.size()) - 1;
        if (fits(others, number)) out.push_back(number);
      }
    return out;
  }

  void improve(Layout& layout) {
    double now = solve_all({layout}).front();
    for (int round = 0; round < kRounds; ++round) {
      const double before = now;
      for (std::size_t i = 0; i < layout.size(); ++i) {
        Layout others = layout;
        others.erase(others.begin() + static_cast<std::ptrdiff_t>(i));
        std::vector<int> order = ranked(others, free_spots(others));
        order.resize(std::min(order.size(), kSolvedOf));
        for (const int s : aside(layout[i], others)) order.push_back(s);
        std::vector<Layout> with;
        for (const int s : order) {
          with.push_back(layout);
          with.back()[i] = s;
        }
        const std::vector<double> level = solve_all(with);
        for (std::size_t k = 0; k < with.size(); ++k)
          if (level[k] < now - kWorthwhile_db) {
            now = level[k];
            layout = with[k];
          }
        keep(layout, now);
      }
      if (before - now < 2.0 * kWorthwhile_db) return;
    }
  }

  /// The steps to the best layout: its pieces in the order in which each helps most.
  void finish() {
    best_.steps.push_back({});
    if (!has_best_) return;
    best_.gain_db = empty_db_ - best_db_;
    Layout left = best_layout_, laid;
    while (!left.empty()) {
      std::vector<Layout> with;
      for (const int s : left) {
        with.push_back(laid);
        with.back().push_back(s);
      }
      std::vector<double> level(with.size());
      if (best_.stopped) {
        for (std::size_t i = 0; i < with.size(); ++i) level[i] = static_cast<double>(i);
      } else {
        try {
          level = solve_all(with);
        } catch (const base::Cancelled&) {
          best_.stopped = true;
          continue;
        }
      }
      const auto at = std::min_element(level.begin(), level.end()) - level.begin();
      laid = with[static_cast<std::size_t>(at)];
      left.erase(left.begin() + at);
      best_.steps.push_back(
          {static_cast<int>(laid.size()),
           used(laid).area_m2,
           best_.stopped ? 0.0 : empty_db_ - level[static_cast<std::size_t>(at)]});
    }
    for (const int s : laid) best_.pieces.push_back(spots_[static_cast<std::size_t>(s)]);
  }

  const panel::Panel& panel_;
  const std::vector<const TrialBench*>& benches_;
  const SearchRequest& request_;
  const base::Progress& progress_;
  std::vector<Judge> judges_;
  std::vector<Spot> spots_;  ///< the grid's first, then those aside
  std::size_t n_grid_ = 0;
  std::vector<std::unique_ptr<std::vector<reduced::CondensedPiece>>> pieces_;
  double empty_db_ = 0.0, best_db_ = 0.0;
  bool has_best_ = false;
  Layout best_layout_;
  SearchResult best_;
};

}  // namespace

SearchResult search(const panel::Panel& panel,
                    const std::vector<const TrialBench*>& benches,
                    const std::vector<std::vector<PowerAt>>& powers,
                    const SearchRequest& request,
                    const base::Progress& progress) {
  if (request.sheets.empty() || benches.empty() || powers.size() != benches.size())
    throw std::invalid_argument("search: a sheet, a bench and its powers are needed");
  if (!(request.spacing_m > 0.0)) throw std::invalid_argument("search: spacing_m must be above 0");
  return Search(panel, benches, powers, request, progress).run();
}

}  // namespace calmplate::placement
