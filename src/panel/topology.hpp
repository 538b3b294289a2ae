// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <vector>

#include "panel/mesh.hpp"

namespace calmplate::panel {

/// One side of a triangle: from its corner `side` to the next corner.
struct TriangleSide {
  int low = 0;   ///< smaller node number
  int high = 0;  ///< larger node number
  int triangle = 0;
  int side = 0;  ///< 0 to 2
};

/// Things from 0 grouped by a key: those of key k stand from list[first[k]] up to
/// list[first[k + 1]], ascending.
struct Groups {
  std::vector<int> first;  ///< [n_key + 1]
  std::vector<int> list;
};

/// @param key  [n] of each thing, 0 to n_key - 1
Groups grouped(const std::vector<int>& key, int n_key);

/// Every corner of every triangle, 3 t + k, grouped by its node. @param n_node  above every number
Groups corners_by_node(const Triangles& triangles, Eigen::Index n_node);

/// Every side of every triangle, ordered by (low, high, triangle, side): sides of one edge lie
/// together. [3 n_tri]
std::vector<TriangleSide> sorted_sides(const Triangles& triangles);

/// Triangle across each side, -1 where there is none. Edges have at most two triangles.
/// @return [n_tri x 3]
/// @throws std::invalid_argument if an edge has three or more triangles
Triangles neighbours(const Triangles& triangles);

/// Closed boundary loops with the triangles on their left, so the outer rim of a sheet that is seen
/// from outside runs anticlockwise and its holes clockwise. The first node is not repeated; each
/// loop begins with its lowest node number, and the loops are ordered by it.
/// @throws std::invalid_argument if the triangles are not consistently oriented or a boundary node
///         belongs to two loops
std::vector<std::vector<int>> boundary_loops(const Triangles& triangles);

/// Smallest angle of all triangles, degrees; 180 for no triangle.
double worst_angle_degrees(const Mesh& mesh);

/// Mean length of the edges, each counted once, m.
double mean_edge_length(const Mesh& mesh);

}  // namespace calmplate::panel
