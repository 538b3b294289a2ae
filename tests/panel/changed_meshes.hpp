// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <Eigen/Geometry>
#include <functional>
#include <random>
#include <vector>

#include "support/test_meshes.hpp"

/// Ways to spoil a mesh for the tests of this folder.
namespace calmplate::testing {

/// The triangles whose centroid is wanted; all nodes stay.
inline panel::Mesh only(const panel::Mesh& mesh,
                        const std::function<bool(const Eigen::Vector3d&)>& wanted) {
  std::vector<Eigen::RowVector3i> kept;
  for (Eigen::Index t = 0; t < mesh.triangles.rows(); ++t) {
    Eigen::Vector3d centroid = Eigen::Vector3d::Zero();
    for (int k = 0; k < 3; ++k) centroid += mesh.nodes.row(mesh.triangles(t, k)).transpose() / 3.0;
    if (wanted(centroid)) kept.push_back(mesh.triangles.row(t));
  }
  panel::Mesh out{mesh.nodes, panel::Triangles(static_cast<Eigen::Index>(kept.size()), 3)};
  for (std::size_t t = 0; t < kept.size(); ++t)
    out.triangles.row(static_cast<Eigen::Index>(t)) = kept[t];
  return out;
}

/// Round holes cut from a mesh, about where (x, y) is within `radius` of the middle.
inline panel::Mesh with_hole(const panel::Mesh& mesh, double x, double y, double radius) {
  return only(mesh,
              [=](const Eigen::Vector3d& p) { return std::hypot(p.x() - x, p.y() - y) > radius; });
}

/// Normal noise on every coordinate, standard deviations in m, always the same for one seed.
inline panel::Mesh with_noise(panel::Mesh mesh, double in_plane, double across, unsigned seed) {
  std::mt19937 generator(seed);
  // The sum of twelve even numbers, less 6: near enough to normal, and the same in every library.
  const auto draw = [&] {
    double sum = -6.0;
    for (int i = 0; i < 12; ++i) sum += static_cast<double>(generator()) / 4294967296.0;
    return sum;
  };
  for (Eigen::Index i = 0; i < mesh.nodes.rows(); ++i) {
    mesh.nodes(i, 0) += in_plane * draw();
    mesh.nodes(i, 1) += in_plane * draw();
    mesh.nodes(i, 2) += across * draw();
  }
  return mesh;
}

/// Both meshes in one, their nodes apart.
inline panel::Mesh together(const panel::Mesh& a, const panel::Mesh& b) {
  panel::Mesh out;
  out.nodes.resize(a.nodes.rows() + b.nodes.rows(), 3);
  out.nodes << a.nodes, b.nodes;
  out.triangles.resize(a.triangles.rows() + b.triangles.rows(), 3);
  out.triangles << a.triangles, (b.triangles.array() + static_cast<int>(a.nodes.rows())).matrix();
  return out;
}

/// Every triangle with three nodes of its own, as some files hold them.
inline panel::Mesh as_soup(const panel::Mesh& mesh) {
  panel::Mesh out{panel::Nodes(3 * mesh.triangles.rows(), 3),
                  panel::Triangles(mesh.triangles.rows(), 3)};
  for (Eigen::Index t = 0; t < mesh.triangles.rows(); ++t)
    for (int k = 0; k < 3; ++k) {
      out.nodes.row(3 * t + k) = mesh.nodes.row(mesh.triangles(t, k));
      out.triangles(t, k) = static_cast<int>(3 * t + k);
    }
  return out;
}

inline panel::Mesh moved(panel::Mesh mesh, const Eigen::Vector3d& by) {
  mesh.nodes.rowwise() += by.transpose();
  return mesh;
}

inline panel::Mesh turned(panel::Mesh mesh, const Eigen::Matrix3d& rotation) {
  mesh.nodes = (mesh.nodes * rotation.transpose()).eval();
  return mesh;
}

}  // namespace calmplate::testing
