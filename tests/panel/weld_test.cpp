// SPDX-License-Identifier: GPL-3.0-or-later
#include "panel/weld.hpp"

#include <catch2/catch.hpp>
#include <random>

using namespace calmplate;
using panel::Nodes;

namespace {

constexpr double kTolerance = 1e-6;

/// Points anywhere in a cube of 1 m, then each of them again, moved by `by` along a random way.
Nodes pairs(Eigen::Index count, double by) {
  std::mt19937 generator(11);
  const auto draw = [&] { return static_cast<double>(generator()) / 4294967296.0; };
  Nodes nodes(2 * count, 3);
  for (Eigen::Index i = 0; i < count; ++i) {
    nodes.row(i) << draw(), draw(), draw();
    const Eigen::RowVector3d way(draw() - 0.5, draw() - 0.5, draw() - 0.5);
    nodes.row(count + i) = nodes.row(i) + by * way.normalized();
  }
  return nodes;
}

}  // namespace

// Source: derived. Of 5000 pairs some hundreds lie on both sides of whatever cells are used.
TEST_CASE("nodes within the tolerance become one wherever they lie", "[panel][derived]") {
  const std::vector<int> near = panel::welded(pairs(5000, 0.95 * kTolerance), kTolerance);
  const std::vector<int> apart = panel::welded(pairs(5000, 1.05 * kTolerance), kTolerance);
  for (int i = 0; i < 10000; ++i) {
    CHECK(near[std::size_t(i)] == i % 5000);
    CHECK(apart[std::size_t(i)] == i);
  }
}

// Source: derived. A row of points 0.6 tolerances apart: the first stays, the second goes into it,
// the third is too far from the first and stays.
TEST_CASE("nodes are taken in order and join the first that stays", "[panel][derived]") {
  Nodes row = Nodes::Zero(6, 3);
  for (int i = 0; i < 6; ++i) row(i, 0) = 0.6 * kTolerance * i;
  CHECK(panel::welded(row, kTolerance) == std::vector<int>{0, 0, 2, 2, 4, 4});
  CHECK(panel::welded(Nodes(0, 3), kTolerance).empty());
}
