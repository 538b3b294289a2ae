// SPDX-License-Identifier: GPL-3.0-or-later
#include "panel/raise.hpp"

#include <Eigen/Dense>
#include <Eigen/SparseCholesky>
#include <cmath>
#include <stdexcept>
#include <vector>

namespace calmplate::panel {
namespace {

using Eigen::Matrix2d;
using Eigen::Vector2d;
using Gradients = Eigen::Matrix<double, 2, 3>;  // of the three corners' shape functions

constexpr double kSteepest = 0.95;
constexpr int kRounds = 300;
constexpr double kTolerance = 1e-10;  // of the diagonal

struct Piece {
  Gradients gradient;
  Matrix2d target;  // S
  double area;
};

Piece piece_of(const FlatPoints& flat, const Eigen::RowVector3i& t, const Eigen::VectorXd& height) {
  const Vector2d a = flat.row(t[0]), u = flat.row(t[1]).transpose() - a;
  const Vector2d v = flat.row(t[2]).transpose() - a;
  const double double_area = u.x() * v.y() - u.y() * v.x();
  if (!(double_area > 0.0)) throw std::invalid_argument("bent_plan: a triangle is turned over");
  Piece out;
  out.area = 0.5 * double_area;
  out.gradient.col(1) = Vector2d(v.y(), -v.x()) / double_area;
  out.gradient.col(2) = Vector2d(-u.y(), u.x()) / double_area;
  out.gradient.col(0) = -out.gradient.col(1) - out.gradient.col(2);
  const Vector2d slope = out.gradient * Eigen::Vector3d(height[t[0]], height[t[1]], height[t[2]]);
  const double square = slope.squaredNorm();
  if (!(square < kSteepest * kSteepest))
    throw std::invalid_argument("bent_plan: the sheet is too steep");
  // (1 - sqrt(1 - s^2)) / s^2 without cancelling.
  out.target = Matrix2d::Identity() - slope * slope.transpose() / (1.0 + std::sqrt(1.0 - square));
  return out;
}

/// The turn that fits S best onto F.
Matrix2d turn_of(const Matrix2d& f, const Matrix2d& s) {
  const Matrix2d m = f * s;
  const double c = m(0, 0) + m(1, 1), d = m(1, 0) - m(0, 1);
  const double size = std::hypot(c, d);
  Matrix2d turn = Matrix2d::Identity();
  if (size > 0.0) turn << c / size, -d / size, d / size, c / size;
  return turn;
}

/// Sum of area grad_i grad_j with the first node held.
Eigen::SparseMatrix<double> stiffness(const std::vector<Piece>& pieces,
                                      const Triangles& triangles,
                                      Eigen::Index n) {
  std::vector<Eigen::Triplet<double>> entries;
  for (std::size_t p = 0; p < pieces.size(); ++p)
    for (int i = 0; i < 3; ++i)
      for (int j = 0; j < 3; ++j) {
        const int a = triangles(static_cast<Eigen::Index>(p), i);
        const int b = triangles(static_cast<Eigen::Index>(p), j);
        if (a == 0 || b == 0) continue;
        entries.emplace_back(
            a - 1,
            b - 1,
            pieces[p].area * pieces[p].gradient.col(i).dot(pieces[p].gradient.col(j)));
      }
  Eigen::SparseMatrix<double> matrix(n - 1, n - 1);
  matrix.setFromTriplets(entries.begin(), entries.end());
  return matrix;
}

}  // namespace

FlatPoints bent_plan(const FlatPoints& flat,
                     const Triangles& triangles,
                     const Eigen::VectorXd& height) {
  const Eigen::Index n = flat.rows();
  std::vector<Piece> pieces;
  for (Eigen::Index t = 0; t < triangles.rows(); ++t)
    pieces.push_back(piece_of(flat, triangles.row(t), height));
  const Eigen::SimplicialLDLT<Eigen::SparseMatrix<double>> solver(stiffness(pieces, triangles, n));
  if (solver.info() != Eigen::Success)
    throw std::invalid_argument("bent_plan: the triangles are not one sheet");
  const double tolerance =
      kTolerance * (flat.colwise().maxCoeff() - flat.colwise().minCoeff()).norm();

  Eigen::MatrixX2d place = flat.rowwise() - flat.row(0), right(n, 2), moved(n, 2);
  for (int round = 0; round < kRounds; ++round) {
    right.setZero();
    for (std::size_t p = 0; p < pieces.size(); ++p) {
      const Eigen::RowVector3i t = triangles.row(static_cast<Eigen::Index>(p));
      Matrix2d f = Matrix2d::Zero();
      for (int k = 0; k < 3; ++k)
        f += place.row(t[k]).transpose() * pieces[p].gradient.col(k).transpose();
      const Matrix2d wanted = pieces[p].area * turn_of(f, pieces[p].target) * pieces[p].target;
      for (int k = 0; k < 3; ++k) right.row(t[k]) += wanted * pieces[p].gradient.col(k);
    }
    moved.row(0).setZero();
    moved.bottomRows(n - 1) = solver.solve(right.bottomRows(n - 1));
    const double largest = (moved - place).cwiseAbs().maxCoeff();
    place = moved;
    if (largest < tolerance) break;
  }
  const Eigen::RowVector2d shift = flat.colwise().mean() - place.colwise().mean();
  return place.rowwise() + shift;
}

}  // namespace calmplate::panel
