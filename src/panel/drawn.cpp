// SPDX-License-Identifier: GPL-3.0-or-later
#include "panel/drawn.hpp"

#include <Eigen/QR>
#include <cmath>
#include <stdexcept>
#include <utility>
#include <vector>

#include "panel/drawn_shape.hpp"
#include "panel/plane_mesh.hpp"
#include "panel/raise.hpp"
#include "panel/relief.hpp"
#include "panel/size_field.hpp"

namespace calmplate::panel {
namespace {

constexpr double kNoHeight = 1e-9;  // m

PlaneMesh flat_mesh(const DrawnInput& input, const DrawnShape& shape) {
  const SizeField field(input, shape);
  std::vector<FlatPoints> loops{divided(shape.outline, field)};
  for (const DrawnCurve& hole : shape.holes) loops.push_back(divided(hole, field));
  try {
    return mesh_between(loops,
                        feature_rows(input, field),
                        field.coarsest(),
                        field.finest(),
                        [&field](const Eigen::Vector2d& at) { return field.at(at); });
  } catch (const std::invalid_argument& fault) {
    throw base::InputError(
        input.outline.where,
        std::string("cannot be meshed: ") + fault.what(),
        "a skin that is nowhere narrower than its elements, or smaller elements");
  }
}

/// Heights without the plane that fits them best over the area: nodes close together, as on a swage
/// line, count no more than their share of it.
Eigen::VectorXd without_plane(const FlatPoints& flat,
                              const Triangles& triangles,
                              const Eigen::VectorXd& height) {
  Eigen::VectorXd share = Eigen::VectorXd::Zero(flat.rows());
  for (Eigen::Index t = 0; t < triangles.rows(); ++t) {
    const Eigen::Vector2d a = flat.row(triangles(t, 0)), b = flat.row(triangles(t, 1)),
                          c = flat.row(triangles(t, 2));
    const Eigen::Vector2d ab = b - a, ac = c - a;
    for (int k = 0; k < 3; ++k)
      share(triangles(t, k)) += std::abs(ab.x() * ac.y() - ab.y() * ac.x()) / 6.0;
  }
  const Eigen::VectorXd weight = share.cwiseSqrt();
  Eigen::MatrixX3d plane(flat.rows(), 3);
  plane << Eigen::VectorXd::Ones(flat.rows()), flat;
  const Eigen::Vector3d fit =
      (weight.asDiagonal() * plane).colPivHouseholderQr().solve(weight.cwiseProduct(height));
  return height - plane * fit;
}

}  // namespace

DrawnSkin draw_skin(const DrawnInput& input) {
  const DrawnShape shape = drawn_shape(input);
  PlaneMesh plane = flat_mesh(input, shape);
  const Relief relief(input, shape.middle());
  const Eigen::Index n = plane.points.rows();
  Eigen::VectorXd smooth(n), pressed(n);
  for (Eigen::Index i = 0; i < n; ++i) {
    const Eigen::Vector2d at = plane.points.row(i).transpose();
    smooth[i] = relief.crown(at) + relief.swages(at);
    pressed[i] = relief.recesses(at);
  }
  smooth = without_plane(plane.points, plane.triangles, smooth);
  FlatPoints plan = plane.points;
  if (smooth.cwiseAbs().maxCoeff() > kNoHeight) {
    try {
      plan = bent_plan(plane.points, plane.triangles, smooth);
    } catch (const std::invalid_argument&) {
      throw base::InputError(input.outline.where,
                             "and the heights on it make a skin steeper than 70 degrees",
                             "a shallow skin: less crown, lower or wider swage lines");
    }
  } else {
    smooth.setZero();
  }
  DrawnSkin skin;
  skin.flat = std::move(plane.points);
  skin.mesh.triangles = std::move(plane.triangles);
  skin.mesh.nodes.resize(n, 3);
  skin.mesh.nodes.col(0) = plan.col(0);
  skin.mesh.nodes.col(1) = -(smooth + pressed);
  skin.mesh.nodes.col(2) = plan.col(1);
  return skin;
}

Panel make_drawn_panel(const DrawnInput& input, double corner_degrees, PanelReport* report) {
  DrawnSkin skin = draw_skin(input);
  FlatMap map(skin.mesh, skin.flat);
  return panel_on_map(std::move(skin.mesh), std::move(map), corner_degrees, report);
}

double drawn_area(const DrawnInput& input) { return drawn_shape(input).area_m2; }

}  // namespace calmplate::panel
