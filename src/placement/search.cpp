// SPDX-License-Identifier: GPL-3.0-or-later
#include "placement/search.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <optional>
#include <stdexcept>
#include <utility>

#include "base/parallel.hpp"
#include "placement/reshape.hpp"
#include "placement/spot_shelf.hpp"
#include "placement/spots.hpp"

namespace calmplate::placement {
namespace {

constexpr std::size_t kSolvedOf = 10;     ///< so many of the screened are solved in full
constexpr double kWorthwhile_db = 0.005;  ///< less than this is no gain
constexpr std::size_t kSidesOf = 6;  ///< so many moved sides are combined, outwards and inwards
constexpr int kRounds = 4;           ///< of lifting every piece once

using Layout = std::vector<int>;  ///< numbers of spots, in the order of laying

/// Places in a list, by what stands there, the smallest first; equal ones in their order.
std::vector<std::size_t> ascending(const std::vector<double>& values) {
  std::vector<std::size_t> order(values.size());
  for (std::size_t i = 0; i < order.size(); ++i) order[i] = i;
  std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
    return values[a] < values[b];
  });
  return order;
}

class Search {
 public:
  Search(const panel::Panel& panel,
         const std::vector<const TrialBench*>& benches,
         const std::vector<std::vector<PowerAt>>& powers,
         const SearchRequest& request,
         const base::Progress& progress)
      : panel_(panel),
        benches_(benches),
        request_(request),
        progress_(progress),
        spots_(benches, request, all_spots(panel, request)),
        n_grid_(spots_.size()) {
    for (std::size_t b = 0; b < benches.size(); ++b)
      judges_.emplace_back(*benches[b], request.wishes, powers[b]);
  }

  SearchResult run() {
    best_.spots = n_grid_;
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
      levels.push_back(judges_[b].level_db(
          judges_[b].integrals(benches_[b]->poles(spots_.on_bench(layout, b)))));
    return combined(levels);
  }

  std::vector<double> solve_all(const std::vector<Layout>& layouts) {
    std::vector<int> all;
    for (const Layout& l : layouts) all.insert(all.end(), l.begin(), l.end());
    spots_.make(all, progress_);
    std::vector<double> out(layouts.size());
    base::parallel_for(layouts.size(), request_.threads, [&](std::size_t i) {
      progress_.check();
      out[i] = solve(layouts[i]);
    });
    best_.solved += static_cast<int>(layouts.size());
    return out;
  }

  /// Largest share of a limit that a layout uses; by area where nothing is limited.
  double share(const Layout& layout) const {
    const LimitUse use = spots_.used(layout);
    const double most = use.share_of(request_.limits);
    return most > 0.0 ? most : use.area_m2 / panel_.area_m2;
  }

  bool within(const Layout& layout) const { return spots_.used(layout).within(request_.limits); }

  bool has_room(const Layout& layout, int spot) const {
    return std::none_of(layout.begin(), layout.end(), [&](int other) {
      return in_the_way(spots_[spot], spots_[other], request_.gap_m);
    });
  }

  bool fits(const Layout& layout, int spot) const {
    if (!has_room(layout, spot)) return false;
    Layout with = layout;
    with.push_back(spot);
    return within(with);
  }

  std::vector<int> free_spots(const Layout& layout) const {
    std::vector<int> out;
    for (int s = 0; s < n_grid_; ++s)
      if (fits(layout, s)) out.push_back(s);
    return out;
  }

  /// Spots by their first-order gain for what they use of the limits, best first.
  std::vector<int> ranked(const Layout& layout, std::vector<int> spots) {
    spots_.make(layout, progress_);
    spots_.make(spots, progress_);
    std::vector<reduced::PoleExpansion> poles;
    std::vector<std::vector<reduced::BandIntegral>> integrals;
    std::vector<double> levels;
    for (std::size_t b = 0; b < benches_.size(); ++b) {
      poles.push_back(benches_[b]->poles(spots_.on_bench(layout, b)));
      integrals.push_back(judges_[b].integrals(poles[b]));
      levels.push_back(judges_[b].level_db(integrals[b]));
    }
    const double now = combined(levels), share_now = layout.empty() ? 0.0 : share(layout);
    std::vector<double> cost(spots.size());
    base::parallel_for(spots.size(), request_.threads, [&](std::size_t i) {
      progress_.check();
      const auto& own = spots_.pieces(spots[i]);
      std::vector<double> moved;
      for (std::size_t b = 0; b < benches_.size(); ++b)
        moved.push_back(
            judges_[b].level_db(integrals[b], benches_[b]->moved_poles(poles[b], own[b])));
      Layout with = layout;
      with.push_back(spots[i]);
      cost[i] = (combined(moved) - now) / std::max(share(with) - share_now, 1e-12);
    });
    best_.screened += static_cast<int>(spots.size());
    std::vector<int> out;
    for (const std::size_t i : ascending(cost)) out.push_back(spots[i]);
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
      order.resize(std::min(order.size(), kSolvedOf));
      std::vector<Layout> with;
      for (const int s : order) {
        with.push_back(layout);
        with.back().push_back(s);
      }
      for (std::size_t i = 0; i < layout.size(); ++i)
        for (const int s : stretches(layout, i, request_.spacing_m)) {
          with.push_back(layout);
          with.back()[i] = s;
          if (!within(with.back())) with.pop_back();
        }
      if (with.empty()) return;
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

  Layout without(const Layout& layout, std::size_t i) const {
    Layout out = layout;
    out.erase(out.begin() + static_cast<std::ptrdiff_t>(i));
    return out;
  }

  /// What piece i of a layout becomes with one side moved, where nothing is in the way.
  std::vector<int> stretches(const Layout& layout, std::size_t i, double step_m) {
    std::vector<int> out;
    if (request_.sheets[spots_[layout[i]].sheet].free_up_to_m.x() <= 0.0) return out;
    auto& known = stretches_[{layout[i], step_m > 0.0}];
    if (!known) {
      known.emplace();
      const Spot spot = spots_[layout[i]];
      for (Spot& made : stretched(panel_, request_, spot, step_m))
        known->push_back(spots_.add(std::move(made)));
    }
    const Layout others = without(layout, i);
    for (const int s : *known)
      if (has_room(others, s)) out.push_back(s);
    return out;
  }

  /// Layouts with one side of a piece moved, the calmest first, whatever the limits say.
  std::vector<std::pair<std::size_t, int>> moved_sides(const Layout& layout, double step_m) {
    std::vector<std::pair<std::size_t, int>> moves;
    std::vector<Layout> with;
    for (std::size_t i = 0; i < layout.size(); ++i)
      for (const int s : stretches(layout, i, step_m)) {
        moves.push_back({i, s});
        with.push_back(layout);
        with.back()[i] = s;
      }
    const std::vector<double> level = solve_all(with);
    std::vector<std::pair<std::size_t, int>> out;
    for (const std::size_t i : ascending(level))
      if (out.size() < kSidesOf) out.push_back(moves[i]);
    return out;
  }

  /// Layouts of the same pieces with two of them joined, or one side moved out and another in.
  std::vector<Layout> reshaped(const Layout& layout) {
    std::vector<Layout> out;
    for (std::size_t i = 0; i < layout.size(); ++i)
      for (std::size_t k = i + 1; k < layout.size(); ++k) {
        auto made = joined(panel_, request_, spots_[layout[i]], spots_[layout[k]]);
        if (!made) continue;
        Layout with = without(without(layout, k), i);
        const int number = spots_.add(std::move(*made));
        if (!fits(with, number)) continue;
        with.push_back(number);
        out.push_back(with);
      }
    const auto out_moves = moved_sides(layout, request_.spacing_m);
    const auto in_moves = moved_sides(layout, -request_.spacing_m);
    for (const auto& [i, larger] : out_moves)
      for (const auto& [k, smaller] : in_moves) {
        if (i == k) continue;
        Layout with = layout;
        with[i] = larger;
        with[k] = smaller;
        if (within(with)) out.push_back(with);
      }
    return out;
  }

  /// Half a grid step aside, each way and both: new spots, kept for later.
  std::vector<int> aside(int spot, const Layout& others) {
    std::vector<int> out;
    const Spot from = spots_[spot];
    const double half = 0.5 * request_.spacing_m;
    for (const double dx : {-half, 0.0, half})
      for (const double dy : {-half, 0.0, half}) {
        if (dx == 0.0 && dy == 0.0) continue;
        const Eigen::Vector2d centre = from.centre + Eigen::Vector2d(dx, dy);
        auto made = spot_at(panel_, request_, from.sheet, from.size, from.angle_rad, centre);
        if (!made) continue;
        const int number = spots_.add(std::move(*made));
        if (fits(others, number)) out.push_back(number);
      }
    return out;
  }

  void improve(Layout& layout) {
    double now = solve_all({layout}).front();
    for (int round = 0; round < kRounds; ++round) {
      const double before = now;
      for (std::size_t i = 0; i < layout.size(); ++i) {
        const Layout others = without(layout, i);
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
      if (std::any_of(request_.sheets.begin(), request_.sheets.end(), [](const SearchSheet& s) {
            return s.free_up_to_m.x() > 0.0;
          })) {
        const std::vector<Layout> with = reshaped(layout);
        const std::vector<double> level = solve_all(with);
        const auto best = std::min_element(level.begin(), level.end()) - level.begin();
        if (!level.empty() && level[static_cast<std::size_t>(best)] < now - kWorthwhile_db) {
          now = level[static_cast<std::size_t>(best)];
          layout = with[static_cast<std::size_t>(best)];
          keep(layout, now);
        }
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
           spots_.used(laid).area_m2,
           best_.stopped ? 0.0 : empty_db_ - level[static_cast<std::size_t>(at)]});
    }
    for (const int s : laid) best_.pieces.push_back(spots_[s]);
  }

  const panel::Panel& panel_;
  const std::vector<const TrialBench*>& benches_;
  const SearchRequest& request_;
  const base::Progress& progress_;
  SpotShelf spots_;  ///< the grid's first, then those made on the way
  int n_grid_ = 0;
  std::vector<Judge> judges_;
  std::map<std::pair<int, bool>, std::optional<std::vector<int>>> stretches_;  ///< spot, outwards
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
