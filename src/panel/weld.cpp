// SPDX-License-Identifier: GPL-3.0-or-later
#include "panel/weld.hpp"

#include <array>
#include <cmath>
#include <cstdint>

namespace calmplate::panel {
namespace {

/// Side of a cell in tolerances: wide enough that nearly every node's ball meets its own cell only.
constexpr double kCell = 32.0;

/// Nodes in cells of space, in a table of their own: a scan has millions.
class Cells {
 public:
  explicit Cells(std::size_t n_node) : next_(n_node, -1) {
    std::size_t size = 16;
    while (size < n_node + n_node / 2) size *= 2;
    keys_.resize(size);
    heads_.assign(size, -1);
  }

  /// The node last added to the cell, -1 for none.
  int last_of(std::uint64_t key) const { return heads_[slot_of(key)]; }
  /// The node added to the same cell before this one, -1 for none.
  int before(int node) const { return next_[static_cast<std::size_t>(node)]; }
  void add(std::uint64_t key, int node) {
    const std::size_t slot = slot_of(key);
    keys_[slot] = key;
    next_[static_cast<std::size_t>(node)] = heads_[slot];
    heads_[slot] = node;
  }

 private:
  std::size_t slot_of(std::uint64_t key) const {
    std::size_t slot =
        static_cast<std::size_t>((key * 0x9E3779B97F4A7C15ULL) >> 17) & (heads_.size() - 1);
    while (heads_[slot] >= 0 && keys_[slot] != key) slot = (slot + 1) & (heads_.size() - 1);
    return slot;
  }
  std::vector<std::uint64_t> keys_;
  std::vector<int> heads_, next_;
};

std::uint64_t key_of(const std::array<std::int64_t, 3>& cell) {
  constexpr std::int64_t kShift = 2;  // a ball may reach into the cell before the first
  return static_cast<std::uint64_t>(cell[0] + kShift) |
         static_cast<std::uint64_t>(cell[1] + kShift) << 21 |
         static_cast<std::uint64_t>(cell[2] + kShift) << 42;
}

}  // namespace

std::vector<int> welded(const Nodes& nodes, double tolerance) {
  std::vector<int> stands_for(static_cast<std::size_t>(nodes.rows()));
  if (stands_for.empty()) return stands_for;
  Cells cells(stands_for.size());
  const Eigen::RowVector3d low = nodes.colwise().minCoeff();
  for (int i = 0; i < static_cast<int>(nodes.rows()); ++i) {
    const Eigen::RowVector3d at = (nodes.row(i) - low) / (kCell * tolerance);
    std::array<std::int64_t, 3> own, from, to;
    for (int a = 0; a < 3; ++a) {
      const auto k = static_cast<std::size_t>(a);
      own[k] = static_cast<std::int64_t>(std::floor(at[a]));
      from[k] = static_cast<std::int64_t>(std::floor(at[a] - 1.0 / kCell));
      to[k] = static_cast<std::int64_t>(std::floor(at[a] + 1.0 / kCell));
    }
    int found = -1;
    for (std::int64_t x = from[0]; x <= to[0]; ++x)
      for (std::int64_t y = from[1]; y <= to[1]; ++y)
        for (std::int64_t z = from[2]; z <= to[2]; ++z)
          for (int other = cells.last_of(key_of({x, y, z})); other >= 0;
               other = cells.before(other))
            if ((nodes.row(i) - nodes.row(other)).norm() <= tolerance &&
                (found < 0 || other < found))
              found = other;
    stands_for[static_cast<std::size_t>(i)] = found < 0 ? i : found;
    if (found < 0) cells.add(key_of(own), i);
  }
  return stands_for;
}

}  // namespace calmplate::panel
