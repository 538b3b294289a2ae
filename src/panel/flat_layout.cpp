// SPDX-License-Identifier: GPL-3.0-or-later
#include "panel/flat_layout.hpp"

#include <CGAL/Polygon_mesh_processing/measure.h>
#include <CGAL/Surface_mesh.h>
#include <CGAL/Surface_mesh_parameterization/LSCM_parameterizer_3.h>
#include <CGAL/Surface_mesh_parameterization/parameterize.h>

#include <Eigen/Geometry>
#include <Eigen/SparseCholesky>
#include <algorithm>
#include <cmath>
#include <complex>
#include <cstdio>
#include <stdexcept>
#include <string>
#include <utility>
#include <vector>

#include "panel/cgal_mesh.hpp"
#include "panel/topology.hpp"

namespace calmplate::panel {
namespace {

using Complex = std::complex<double>;
constexpr double kPlaneTolerance = 1e-7;
constexpr int kRounds = 400;
constexpr Eigen::Index kManyNodes = 20000;

double diagonal(const Mesh& mesh) {
  return (mesh.nodes.colwise().maxCoeff() - mesh.nodes.colwise().minCoeff()).norm();
}

/// Twice the vector area of the sheet; its direction is the mean normal.
Eigen::Vector3d area_vector(const Mesh& mesh) {
  Eigen::Vector3d sum = Eigen::Vector3d::Zero();
  for (Eigen::Index t = 0; t < mesh.triangles.rows(); ++t) {
    const Eigen::Vector3d a = mesh.nodes.row(mesh.triangles(t, 0)).transpose();
    const Eigen::Vector3d b = mesh.nodes.row(mesh.triangles(t, 1)).transpose();
    const Eigen::Vector3d c = mesh.nodes.row(mesh.triangles(t, 2)).transpose();
    sum += (b - a).cross(c - a);
  }
  return sum;
}

double flat_double_area(const FlatPoints& points, const Triangles& triangles, Eigen::Index t) {
  const Eigen::Vector2d a = points.row(triangles(t, 0)).transpose();
  const Eigen::Vector2d u = points.row(triangles(t, 1)).transpose() - a;
  const Eigen::Vector2d v = points.row(triangles(t, 2)).transpose() - a;
  return u.x() * v.y() - u.y() * v.x();
}

bool all_anticlockwise(const FlatPoints& points, const Triangles& triangles) {
  for (Eigen::Index t = 0; t < triangles.rows(); ++t)
    if (!(flat_double_area(points, triangles, t) > 0.0)) return false;
  return true;
}

/// The three corners of every triangle, turned into the plane without change of shape, and the
/// cotangents of its angles.
struct RestTriangles {
  Eigen::Matrix<Complex, Eigen::Dynamic, 3> corner;  // [n_tri x 3] m
  Eigen::Matrix<double, Eigen::Dynamic, 3> cotangent;
};

RestTriangles rest_triangles(const Mesh& mesh) {
  const Eigen::Index n = mesh.triangles.rows();
  RestTriangles rest{Eigen::Matrix<Complex, Eigen::Dynamic, 3>(n, 3),
                     Eigen::Matrix<double, Eigen::Dynamic, 3>(n, 3)};
  for (Eigen::Index t = 0; t < n; ++t) {
    Eigen::Vector3d p[3];
    for (int k = 0; k < 3; ++k) p[k] = mesh.nodes.row(mesh.triangles(t, k)).transpose();
    const Eigen::Vector3d u = p[1] - p[0], v = p[2] - p[0];
    const double base = u.norm(), double_area = u.cross(v).norm();
    if (!(double_area > 0.0))
      throw std::invalid_argument("lay_flat: triangle " + std::to_string(t) + " has no area");
    rest.corner(t, 0) = 0.0;
    rest.corner(t, 1) = base;
    rest.corner(t, 2) = Complex(u.dot(v) / base, double_area / base);
    for (int k = 0; k < 3; ++k)
      rest.cotangent(t, k) = (p[(k + 1) % 3] - p[k]).dot(p[(k + 2) % 3] - p[k]) / double_area;
  }
  return rest;
}

/// Conformal start: right up to scale for a sheet that can be unrolled.
Eigen::VectorXcd conformal(const Mesh& mesh) {
  namespace parameterization = CGAL::Surface_mesh_parameterization;
  SurfaceMesh surface = to_surface(mesh);
  const auto border = CGAL::Polygon_mesh_processing::longest_border(surface).first;
  if (border == SurfaceMesh::null_halfedge())
    throw std::invalid_argument("lay_flat: the sheet has no rim");
  auto uv = surface.add_property_map<SurfaceMesh::Vertex_index, Kernel::Point_2>("v:uv").first;
  const auto outcome = parameterization::parameterize(
      surface, parameterization::LSCM_parameterizer_3<SurfaceMesh>(), border, uv);
  if (outcome != parameterization::OK)
    throw std::invalid_argument("lay_flat: the sheet cannot be laid out conformally");
  Eigen::VectorXcd place(mesh.nodes.rows());
  for (const auto v : surface.vertices())
    place[static_cast<Eigen::Index>(v.idx())] = Complex(uv[v].x(), uv[v].y());
  return place;
}

Eigen::VectorXcd to_complex(const FlatPoints& points) {
  Eigen::VectorXcd place(points.rows());
  place.real() = points.col(0);
  place.imag() = points.col(1);
  return place;
}

/// Turn of every triangle (a number of modulus 1) that fits it best onto its place.
Eigen::VectorXcd turns(const Mesh& mesh, const RestTriangles& rest, const Eigen::VectorXcd& place) {
  Eigen::VectorXcd turn(mesh.triangles.rows());
  for (Eigen::Index t = 0; t < turn.size(); ++t) {
    Complex sum = 0.0;
    for (int k = 0; k < 3; ++k) {
      const int i = (k + 1) % 3, j = (k + 2) % 3;
      sum += rest.cotangent(t, k) * (place[mesh.triangles(t, i)] - place[mesh.triangles(t, j)]) *
             std::conj(rest.corner(t, i) - rest.corner(t, j));
    }
    const double size = std::abs(sum);
    turn[t] = size > 0.0 ? sum / size : Complex(1.0, 0.0);
  }
  return turn;
}

/// Cotangent matrix with the first node held at the origin.
Eigen::SparseMatrix<double> cotangent_matrix(const Mesh& mesh, const RestTriangles& rest) {
  std::vector<Eigen::Triplet<double>> entries;
  const auto add = [&](int i, int j, double w) {
    if (i > 0) entries.emplace_back(i - 1, i - 1, w);
    if (i > 0 && j > 0) entries.emplace_back(i - 1, j - 1, -w);
  };
  for (Eigen::Index t = 0; t < mesh.triangles.rows(); ++t)
    for (int k = 0; k < 3; ++k) {
      const int i = mesh.triangles(t, (k + 1) % 3), j = mesh.triangles(t, (k + 2) % 3);
      add(i, j, rest.cotangent(t, k));
      add(j, i, rest.cotangent(t, k));
    }
  Eigen::SparseMatrix<double> matrix(mesh.nodes.rows() - 1, mesh.nodes.rows() - 1);
  matrix.setFromTriplets(entries.begin(), entries.end());
  return matrix;
}

FlatPoints as_rigid_as_possible(const Mesh& mesh, const FlatPoints& shadow, double move_tolerance) {
  const RestTriangles rest = rest_triangles(mesh);
  const bool from_shadow =
      mesh.nodes.rows() > kManyNodes && all_anticlockwise(shadow, mesh.triangles);
  Eigen::VectorXcd place = from_shadow ? to_complex(shadow) : conformal(mesh);
  const Eigen::SimplicialLDLT<Eigen::SparseMatrix<double>> solver(cotangent_matrix(mesh, rest));
  if (solver.info() != Eigen::Success)
    throw std::invalid_argument("lay_flat: the sheet is not connected");
  const double tolerance = move_tolerance * diagonal(mesh);
  const Eigen::Index n = mesh.nodes.rows();
  Eigen::MatrixX2d right(n, 2), moved(n, 2);
  for (int round = 0; round < kRounds; ++round) {
    const Eigen::VectorXcd turn = turns(mesh, rest, place);
    right.setZero();
    for (Eigen::Index t = 0; t < mesh.triangles.rows(); ++t)
      for (int k = 0; k < 3; ++k) {
        const int i = (k + 1) % 3, j = (k + 2) % 3;
        const Complex pull =
            rest.cotangent(t, k) * turn[t] * (rest.corner(t, i) - rest.corner(t, j));
        right.row(mesh.triangles(t, i)) += Eigen::RowVector2d(pull.real(), pull.imag());
        right.row(mesh.triangles(t, j)) -= Eigen::RowVector2d(pull.real(), pull.imag());
      }
    moved.row(0).setZero();
    moved.bottomRows(n - 1) = solver.solve(right.bottomRows(n - 1));
    double largest = 0.0;
    for (Eigen::Index i = 0; i < n; ++i) {
      const Complex now(moved(i, 0), moved(i, 1));
      largest = std::max(largest, std::abs(now - place[i]));
      place[i] = now;
    }
    if (largest < tolerance) break;
  }
  FlatPoints points(n, 2);
  points.col(0) = place.real();
  points.col(1) = place.imag();
  double flat = 0.0;
  for (Eigen::Index t = 0; t < mesh.triangles.rows(); ++t)
    flat += 0.5 * flat_double_area(points, mesh.triangles, t);
  if (flat > 0.0) points *= std::sqrt(triangle_areas(mesh).sum() / flat);
  return points;
}

/// A rim edge on the map, from its left to its right end.
struct Segment {
  Eigen::Vector2d left, right;
  int node = 0;
};

bool cross_each_other(const Segment& a, const Segment& b) {
  const auto side =
      [](const Eigen::Vector2d& p, const Eigen::Vector2d& q, const Eigen::Vector2d& r) {
        return (q.x() - p.x()) * (r.y() - p.y()) - (q.y() - p.y()) * (r.x() - p.x());
      };
  return side(a.left, a.right, b.left) * side(a.left, a.right, b.right) < 0.0 &&
         side(b.left, b.right, a.left) * side(b.left, b.right, a.right) < 0.0;
}

/// A node at which the map's rim crosses itself, or -1.
int rim_crossing(const Mesh& mesh, const FlatPoints& points) {
  std::vector<Segment> segments;
  const Triangles across = neighbours(mesh.triangles);
  for (Eigen::Index t = 0; t < across.rows(); ++t)
    for (int k = 0; k < 3; ++k)
      if (across(t, k) < 0) {
        const int i = mesh.triangles(t, k);
        Segment s{
            points.row(i).transpose(), points.row(mesh.triangles(t, (k + 1) % 3)).transpose(), i};
        if (s.left.x() > s.right.x()) std::swap(s.left, s.right);
        segments.push_back(s);
      }
  std::stable_sort(segments.begin(), segments.end(), [](const Segment& a, const Segment& b) {
    return a.left.x() < b.left.x();
  });
  for (std::size_t i = 0; i < segments.size(); ++i)
    for (std::size_t j = i + 1;
         j < segments.size() && segments[j].left.x() <= segments[i].right.x();
         ++j)
      if (cross_each_other(segments[i], segments[j])) return segments[i].node;
  return -1;
}

[[noreturn]] void fail_fold(const Mesh& mesh, int node) {
  const Eigen::RowVector3d at = 1e3 * mesh.nodes.row(node);
  char text[160];
  std::snprintf(text,
                sizeof text,
                "cannot be laid flat: it folds over itself near (%.1f, %.1f, %.1f) mm",
                at.x(),
                at.y(),
                at.z());
  throw std::invalid_argument(text);
}

/// Where the map carries a direction, summed over the area of the sheet: sum of area J along.
Eigen::Vector2d carried(const Mesh& mesh, const FlatPoints& points, const Eigen::Vector3d& along) {
  Eigen::Vector2d sum = Eigen::Vector2d::Zero();
  for (Eigen::Index t = 0; t < mesh.triangles.rows(); ++t) {
    Eigen::Vector3d p[3];
    for (int k = 0; k < 3; ++k) p[k] = mesh.nodes.row(mesh.triangles(t, k)).transpose();
    const Eigen::Vector3d normal = (p[1] - p[0]).cross(p[2] - p[0]);
    const double double_area = normal.norm();
    if (!(double_area > 0.0)) continue;
    for (int k = 0; k < 3; ++k) {
      // Gradient of the corner's shape function, times twice the area.
      const Eigen::Vector3d gradient =
          (normal / double_area).cross(p[(k + 2) % 3] - p[(k + 1) % 3]);
      sum += 0.5 * gradient.dot(along) * points.row(mesh.triangles(t, k)).transpose();
    }
  }
  return sum;
}

}  // namespace

FlatPoints lay_flat(const Mesh& mesh, const Eigen::Vector3d& along, double tolerance) {
  if (mesh.triangles.rows() == 0) throw std::invalid_argument("lay_flat: no triangle");
  const Eigen::Vector3d facing = area_vector(mesh);
  if (!(facing.norm() > 2e-6 * triangle_areas(mesh).sum()))
    throw std::invalid_argument("cannot be laid flat: it is closed round itself");
  const Eigen::Vector3d normal = facing.normalized();
  const Eigen::Vector3d direction = along.normalized();
  const Eigen::Vector3d in_plane = direction - direction.dot(normal) * normal;
  if (!(in_plane.norm() > 1e-3))
    throw std::invalid_argument("lay_flat: `along` is normal to the sheet");
  const Eigen::Vector3d x = in_plane.normalized(), y = normal.cross(x);
  const Eigen::VectorXd height = mesh.nodes * normal;
  FlatPoints points(mesh.nodes.rows(), 2);
  points.col(0) = mesh.nodes * x;
  points.col(1) = mesh.nodes * y;
  if (height.maxCoeff() - height.minCoeff() <= kPlaneTolerance * diagonal(mesh) &&
      all_anticlockwise(points, mesh.triangles))
    return points;

  points = as_rigid_as_possible(mesh, points, tolerance);
  for (Eigen::Index t = 0; t < mesh.triangles.rows(); ++t)
    if (!(flat_double_area(points, mesh.triangles, t) > 0.0)) fail_fold(mesh, mesh.triangles(t, 0));
  const int crossing = rim_crossing(mesh, points);
  if (crossing >= 0) fail_fold(mesh, crossing);
  const Eigen::Vector2d ahead = carried(mesh, points, x).normalized();
  Eigen::Matrix2d turn;
  turn << ahead.x(), ahead.y(), -ahead.y(), ahead.x();
  return points * turn.transpose();
}

}  // namespace calmplate::panel
