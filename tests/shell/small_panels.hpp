// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <Eigen/Dense>
#include <array>
#include <memory>
#include <string>
#include <vector>

#include "base/units.hpp"
#include "panel/cover.hpp"
#include "panel/panel.hpp"
#include "shell/panel_model.hpp"
#include "support/test_meshes.hpp"

/// Panels, sheets and motions that the tests of shell and reduced share.
namespace calmplate::testing {

inline sheet::Material steel() { return {"steel", 210e9, 0.3, 7850.0, 0.0}; }
inline sheet::Material aluminium() { return {"aluminium", 70e9, 0.3, 2700.0, 0.0}; }

inline panel::Panel panel_of(const panel::Mesh& mesh) {
  return panel::make_panel(mesh, {}, "test mesh");
}

inline shell::EdgeInput edge(const std::string& part, shell::Hold hold) {
  shell::EdgeInput e;
  e.part = part;
  e.hold = hold;
  return e;
}

inline shell::Skin skin_of(const panel::Panel& panel,
                           const std::vector<shell::EdgeInput>& edges,
                           double thickness_m = 0.8e-3,
                           double loss_factor = 0.0) {
  return shell::make_skin(panel, shell::plate_of(steel(), thickness_m), loss_factor, edges);
}

/// An invented soft sheet: 2 mm of core under 0.1 mm of aluminium.
inline sheet::Sheet constrained(double shear_pa, double loss_factor) {
  sheet::Sheet s;
  s.name = "soft sheet";
  s.core_thickness_m = 2e-3;
  s.core_density = 1700.0;
  s.core_modulus = std::make_shared<sheet::ConstantModulus>(shear_pa, loss_factor);
  s.foil_thickness_m = 0.1e-3;
  s.foil = aluminium();
  return s;
}

inline sheet::Sheet free_layer(double young_pa, double loss_factor, double poisson = 0.3) {
  sheet::Sheet s;
  s.name = "stiff paste";
  s.kind = sheet::Kind::free_layer;
  s.core_thickness_m = 2.5e-3;
  s.core_density = 1600.0;
  s.core_poisson = poisson;
  s.core_modulus = std::make_shared<sheet::ConstantModulus>(young_pa, loss_factor);
  return s;
}

inline sheet::Sheet mass_layer(double thickness_m, double density) {
  sheet::Sheet s;
  s.name = "heavy layer";
  s.kind = sheet::Kind::mass;
  s.core_thickness_m = thickness_m;
  s.core_density = density;
  return s;
}

inline std::vector<panel::CoveredTriangle> all_of(const panel::Panel& panel) {
  std::vector<panel::CoveredTriangle> covered;
  for (int t = 0; t < static_cast<int>(panel.mesh.triangles.rows()); ++t)
    covered.push_back({t, 1.0});
  return covered;
}

/// A rectangle on the flat map, sides along its axes.
inline std::vector<panel::CoveredTriangle> rectangle_on(const panel::Panel& panel,
                                                        const Eigen::Vector2d& centre,
                                                        const Eigen::Vector2d& size) {
  panel::Region region;
  region.outline = panel::rectangle(centre, size, 0.0);
  return panel::cover(panel, region);
}

/// Number of the node nearest to a place in space.
inline int node_at(const panel::Panel& panel, double x, double y, double z = 0.0) {
  Eigen::Index best = 0;
  (panel.mesh.nodes.rowwise() - Eigen::RowVector3d(x, y, z))
      .rowwise()
      .squaredNorm()
      .minCoeff(&best);
  return static_cast<int>(best);
}

/// A motion of space: displacement and rotation (half its curl) at a place.
struct Motion {
  Eigen::Vector3d displacement, rotation;
};

/// One of the six rigid motions, 0 to 2 along an axis, 3 to 5 about it. m and rad of size 1.
inline Motion rigid_motion(int k, const Eigen::Vector3d& at) {
  const Eigen::Vector3d e = Eigen::Vector3d::Unit(k % 3);
  if (k < 3) return {e, Eigen::Vector3d::Zero()};
  return {e.cross(at), e};
}

/// Six node values in the node's axes, displacement then rotation.
inline Eigen::Matrix<double, 6, 1> in_axes(const Motion& m, const Eigen::Matrix3d& axes) {
  Eigen::Matrix<double, 6, 1> out;
  out << axes.transpose() * m.displacement, axes.transpose() * m.rotation;
  return out;
}

/// A field as values of the skin's degrees of freedom; `motion` gives a Motion at a place.
template <typename Field>
Eigen::VectorXd skin_values(const shell::Skin& skin, int n_dof, const Field& motion) {
  Eigen::VectorXd x = Eigen::VectorXd::Zero(n_dof);
  for (Eigen::Index i = 0; i < skin.dof.rows(); ++i) {
    const Eigen::Vector3d at = skin.panel->mesh.nodes.row(i);
    const auto values = in_axes(motion(at), skin.axes[static_cast<std::size_t>(i)]);
    for (int k = 0; k < 6; ++k)
      if (skin.dof(i, k) != shell::kHeld) x(skin.dof(i, k)) = values(k);
  }
  return x;
}

/// The same field at the height of a foil, as values of the foil's own degrees of freedom.
template <typename Field>
void set_foil_values(const shell::Skin& skin,
                     const shell::FoilDofs& foil,
                     double height_m,
                     const Field& motion,
                     Eigen::VectorXd& x) {
  constexpr std::array<int, 3> kSame = {0, 1, 5};
  for (std::size_t i = 0; i < foil.slot.size(); ++i) {
    if (foil.slot[i] < 0) continue;
    const auto node = static_cast<Eigen::Index>(i);
    const Eigen::Vector3d at =
        (skin.panel->mesh.nodes.row(node) + height_m * skin.panel->normals.row(node)).transpose();
    const auto values = in_axes(motion(at), skin.axes[i]);
    for (std::size_t k = 0; k < 3; ++k) {
      const int d = foil.dof(foil.slot[i], static_cast<int>(k));
      if (d != shell::kHeld) x(d) = values(kSame[k]);
    }
  }
}

/// x^T A x against the sum of the sizes of its parts: how far below cancellation it lies.
template <typename Matrix>
double relative_energy(const Matrix& a, const Eigen::VectorXd& x) {
  const Eigen::VectorXd size = x.cwiseAbs();
  return std::abs(x.dot(a * x)) / size.dot(a.cwiseAbs() * size);
}

/// Numbers between -1 and 1, the same in every run.
class Dice {
 public:
  double operator()() {
    state_ = state_ * 6364136223846793005ULL + 1442695040888963407ULL;
    return static_cast<double>(state_ >> 11) / 4503599627370496.0 - 1.0;
  }
  Eigen::MatrixXd matrix(Eigen::Index rows, Eigen::Index columns) {
    Eigen::MatrixXd m(rows, columns);
    for (Eigen::Index j = 0; j < columns; ++j)
      for (Eigen::Index i = 0; i < rows; ++i) m(i, j) = (*this)();
    return m;
  }

 private:
  unsigned long long state_ = 20240229ULL;
};

}  // namespace calmplate::testing
