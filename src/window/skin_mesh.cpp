// SPDX-License-Identifier: GPL-3.0-or-later
#include "window/skin_mesh.hpp"

#include <vtkCellArray.h>
#include <vtkFloatArray.h>
#include <vtkGenericCell.h>
#include <vtkPointData.h>
#include <vtkPoints.h>

#include <Eigen/Dense>

#include "panel/mesh.hpp"

namespace calmplate::window {
namespace {

void set_points(vtkPolyData* data, const panel::Nodes& nodes) {
  vtkNew<vtkPoints> points;
  points->SetDataTypeToFloat();
  points->SetNumberOfPoints(nodes.rows());
  for (Eigen::Index i = 0; i < nodes.rows(); ++i)
    points->SetPoint(i, nodes(i, 0), nodes(i, 1), nodes(i, 2));
  data->SetPoints(points);
}

void set_normals(vtkPolyData* data, const panel::Nodes& normals) {
  vtkNew<vtkFloatArray> array;
  array->SetNumberOfComponents(3);
  array->SetNumberOfTuples(normals.rows());
  for (Eigen::Index i = 0; i < normals.rows(); ++i)
    array->SetTuple3(i, normals(i, 0), normals(i, 1), normals(i, 2));
  data->GetPointData()->SetNormals(array);
}

/// Barycentric weights of a point in the plane of a triangle of the mesh.
Eigen::Vector3d weights_at(const panel::Mesh& mesh, int triangle, const Eigen::Vector3d& at) {
  const Eigen::Vector3d a = mesh.nodes.row(mesh.triangles(triangle, 0)).transpose();
  const Eigen::Vector3d ab = mesh.nodes.row(mesh.triangles(triangle, 1)).transpose() - a;
  const Eigen::Vector3d ac = mesh.nodes.row(mesh.triangles(triangle, 2)).transpose() - a;
  const Eigen::Vector3d normal = ab.cross(ac);
  const double twice = normal.squaredNorm();
  const double b = (at - a).cross(ac).dot(normal) / twice;
  const double c = ab.cross(at - a).dot(normal) / twice;
  return {1.0 - b - c, b, c};
}

}  // namespace

SkinMesh::SkinMesh(const panel::Panel& panel, double margin_m) : panel_(panel) {
  const Eigen::Vector2d margin(margin_m, margin_m);
  low_ = panel.flat.low() - margin;
  size_ = panel.flat.size() + 2.0 * margin;
  fit_mean_plane();
  set_points(data_, panel.mesh.nodes);
  set_normals(data_, panel.normals);
  vtkNew<vtkFloatArray> texture;
  texture->SetNumberOfComponents(2);
  texture->SetNumberOfTuples(panel.mesh.nodes.rows());
  for (Eigen::Index i = 0; i < panel.mesh.nodes.rows(); ++i) {
    const Eigen::Vector2d flat = panel.flat.points().row(i).transpose();
    texture->SetTuple2(
        i, (flat.x() - low_.x()) / size_.x(), (low_.y() + size_.y() - flat.y()) / size_.y());
  }
  data_->GetPointData()->SetTCoords(texture);
  vtkNew<vtkCellArray> cells;
  for (Eigen::Index t = 0; t < panel.mesh.triangles.rows(); ++t) {
    const vtkIdType corners[3] = {
        panel.mesh.triangles(t, 0), panel.mesh.triangles(t, 1), panel.mesh.triangles(t, 2)};
    cells->InsertNextCell(3, corners);
  }
  data_->SetPolys(cells);
  set_points(rest_, panel.mesh.nodes);
  rest_->SetPolys(cells);
  locator_->SetDataSet(rest_);
  locator_->BuildLocator();
}

void SkinMesh::fit_mean_plane() {
  const panel::Nodes& nodes = panel_.mesh.nodes;
  const panel::FlatPoints& flat = panel_.flat.points();
  const Eigen::RowVector3d mean = nodes.colwise().mean();
  const Eigen::RowVector2d flat_mean = flat.colwise().mean();
  const Eigen::MatrixXd around = nodes.rowwise() - mean;
  const Eigen::MatrixXd flat_around = flat.rowwise() - flat_mean;
  const Eigen::Matrix2d square = flat_around.transpose() * flat_around;
  slope_ = (square.inverse() * (flat_around.transpose() * around)).transpose();
  middle_ = mean.transpose();
  flat_middle_ = flat_mean.transpose();
  along_ = slope_.col(0).normalized();
  up_ = (slope_.col(1) - along_ * along_.dot(slope_.col(1))).normalized();
}

std::optional<Eigen::Vector2d> SkinMesh::meet(const Eigen::Vector3d& from,
                                              const Eigen::Vector3d& towards) const {
  double t = 0.0, at[3], within[3];
  int part = 0;
  vtkIdType cell = -1;
  vtkNew<vtkGenericCell> scratch;
  if (locator_->IntersectWithLine(
          from.data(), towards.data(), 1e-9, t, at, within, part, cell, scratch) == 0)
    return std::nullopt;
  const panel::SkinPoint point{
      static_cast<int>(cell),
      weights_at(panel_.mesh, static_cast<int>(cell), Eigen::Vector3d(at[0], at[1], at[2]))};
  return panel_.flat.to_flat(point);
}

Eigen::Vector2d SkinMesh::meet_anyway(const Eigen::Vector3d& from,
                                      const Eigen::Vector3d& towards) const {
  if (const auto hit = meet(from, towards)) return *hit;
  const Eigen::Vector3d sight = towards - from;
  const double across = sight.dot(outward());
  // A line of sight along the plane meets it nowhere: the foot of its start will do.
  const double t =
      std::abs(across) < 1e-9 * sight.norm() ? 0.0 : (middle_ - from).dot(outward()) / across;
  const Eigen::Vector3d in_plane = from + t * sight - middle_;
  const Eigen::Matrix2d square = slope_.transpose() * slope_;
  return flat_middle_ + square.inverse() * (slope_.transpose() * in_plane);
}

Eigen::Vector3d SkinMesh::to_space(const Eigen::Vector2d& flat) const {
  if (const auto point = panel_.flat.to_skin(flat)) return panel_.flat.to_space(*point);
  return middle_ + slope_ * (flat - flat_middle_);
}

void SkinMesh::displace(const Eigen::VectorXd& by_m) {
  if (by_m.size() == 0) {
    set_points(data_, panel_.mesh.nodes);
    set_normals(data_, panel_.normals);
    return;
  }
  panel::Mesh moved = panel_.mesh;
  moved.nodes += by_m.asDiagonal() * panel_.normals;
  set_points(data_, moved.nodes);
  set_normals(data_, panel::node_normals(moved));
}

}  // namespace calmplate::window
