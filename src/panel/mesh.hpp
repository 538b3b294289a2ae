// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <Eigen/Core>

namespace calmplate::panel {

using Nodes = Eigen::Matrix<double, Eigen::Dynamic, 3, Eigen::RowMajor>;
using Triangles = Eigen::Matrix<int, Eigen::Dynamic, 3, Eigen::RowMajor>;
using FlatPoints = Eigen::Matrix<double, Eigen::Dynamic, 2, Eigen::RowMajor>;

/// A triangle mesh as read, or as it is analysed. Knows no material and no file.
struct Mesh {
  Nodes nodes;  ///< [n_node x 3] m
  Triangles
      triangles;  ///< [n_tri x 3] node numbers from 0, anticlockwise seen from outside the car
};

/// Area of every triangle. @return [n_tri] m2
Eigen::VectorXd triangle_areas(const Mesh& mesh);

/// Unit normals at the nodes, weighted by the angle of each triangle at the node. [n_node x 3]
/// Source: [derived] the angle-weighted mean does not depend on how a facet is cut into triangles.
Nodes node_normals(const Mesh& mesh);

}  // namespace calmplate::panel
