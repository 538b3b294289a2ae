// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <Eigen/Core>
#include <Eigen/SparseCore>

#include "cavity/slab_input.hpp"
#include "panel/panel.hpp"

namespace calmplate::cavity {

/// The air behind a skin as a slab on the skin's own triangles: pressure p at the nodes, the same
/// across the depth d, linear in a triangle. With u the normal displacement into the air,
///
///   (H - w^2 Q) p = -w^2 A u
///   H = int d / rho grad N . grad N dA,  Q = int d / (rho c^2) N N dA,  A = int N N dA
///
/// Holds while d is well under half a wavelength: up to c / 2 d.
struct Slab {
  const panel::Panel* panel = nullptr;  ///< must outlive this object
  panel::Triangles triangles;           ///< the skin's, then those that bridge its small holes
  Eigen::Index n_bridge = 0;            ///< nodes in the middle of bridged holes; they come last
  Eigen::VectorXd depth_m;              ///< [n], n = n_node of the skin + n_bridge
  double volume_m3 = 0.0;
  double density = 0.0;
  double sound_m_s = 0.0;
  double loss_factor = 0.0;
  Eigen::SparseMatrix<double> H;      ///< [n x n] m4/kg
  Eigen::SparseMatrix<double> Q;      ///< [n x n] m3/Pa
  Eigen::SparseMatrix<double> A;      ///< [n x n_node] m2
  Eigen::SparseMatrix<double> cross;  ///< [n_node x n_node] kg, int rho d / 3 N N dA: inertia of
                                      ///< the flow across the depth, at rest at the inner wall
  /// rho c^2 / V, Pa/m3
  double stiffness_per_volume2() const { return density * sound_m_s * sound_m_s / volume_m3; }
};

/// @throws std::invalid_argument if a number is not finite or below 0, density or speed of sound is
///         0, or there is neither a volume nor a depth
/// Source: [derived] docs/theory.md "The air in the door".
Slab make_slab(const panel::Panel& panel, const SlabInput& input);

/// Volume that an opening of the wall takes from the air as it moves by 1 m into it, at the nodes:
/// spread evenly over a disc of the opening's area on the flat map, as far as the skin reaches.
/// @return [n] m2, at or above 0, sum area_m2
/// @throws std::invalid_argument if the area is not finite and above 0 or the place is not finite
Eigen::VectorXd opening(const Slab& slab, const Eigen::Vector2d& at, double area_m2);

}  // namespace calmplate::cavity
