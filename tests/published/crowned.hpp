// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include "published/bench.hpp"
#include "published/closed_forms.hpp"
#include "support/test_meshes.hpp"

namespace calmplate::published {

/// Panel of 0.8 mm steel with shear-diaphragm edges. Straight in one direction: a true cylinder
/// whose arc length is the side; one radius: a true sphere over the plan a x b; else z = -(x^2/Rx +
/// y^2/Ry) / 2 over the plan, whose curvature falls by less than 2 % towards the rim for 8 and 3 m.
inline Bench crowned_panel(double a, double b, const Crown& crown, int nx, int ny) {
  const auto place = [=](double u, double v) -> Eigen::Vector3d {
    const double x = (u - 0.5) * a, y = (v - 0.5) * b;
    if (crown.x == 0.0 && crown.y == 0.0) return {x, y, 0.0};
    if (crown.x == 0.0)
      return {x, std::sin(y * crown.y) / crown.y, (std::cos(y * crown.y) - 1.0) / crown.y};
    if (crown.y == 0.0)
      return {std::sin(x * crown.x) / crown.x, y, (std::cos(x * crown.x) - 1.0) / crown.x};
    return {x, y, -0.5 * (x * x * crown.x + y * y * crown.y)};
  };
  const bool sphere = crown.x != 0.0 && crown.x == crown.y;
  return make_bench(
      sphere ? testing::sphere_panel(a, b, 1.0 / crown.x, nx, ny) : testing::grid(nx, ny, place),
      steel(0.8e-3),
      all_round(shell::Hold::simply_supported));
}

}  // namespace calmplate::published
