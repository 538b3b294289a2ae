// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <algorithm>
#include <cmath>
#include <functional>
#include <vector>

#include "base/units.hpp"
#include "panel/mesh.hpp"

/// Meshes with a known shape for tests. All run anticlockwise seen from +z; lengths in m.
namespace calmplate::testing {

/// A grid of nx by ny cells whose diagonals alternate; place(i / nx, j / ny) puts the nodes.
/// Node (i, j) has number j * (nx + 1) + i; 2 nx ny triangles.
inline panel::Mesh grid(int nx,
                        int ny,
                        const std::function<Eigen::Vector3d(double, double)>& place,
                        bool alternate = true) {
  panel::Mesh mesh;
  mesh.nodes.resize((nx + 1) * (ny + 1), 3);
  mesh.triangles.resize(2 * nx * ny, 3);
  for (int j = 0; j <= ny; ++j)
    for (int i = 0; i <= nx; ++i)
      mesh.nodes.row(j * (nx + 1) + i) = place(double(i) / nx, double(j) / ny).transpose();
  int t = 0;
  for (int j = 0; j < ny; ++j)
    for (int i = 0; i < nx; ++i) {
      const int p = j * (nx + 1) + i, q = p + 1, s = p + nx + 1, r = s + 1;
      if (alternate && (i + j) % 2 == 0) {
        mesh.triangles.row(t++) << p, q, r;
        mesh.triangles.row(t++) << p, r, s;
      } else {
        mesh.triangles.row(t++) << p, q, s;
        mesh.triangles.row(t++) << q, r, s;
      }
    }
  return mesh;
}

/// Rectangle [0, a] x [0, b] in z = 0.
inline panel::Mesh flat_plate(double a, double b, int nx, int ny) {
  return grid(nx, ny, [=](double u, double v) { return Eigen::Vector3d(a * u, b * v, 0.0); });
}

/// Part of a cylinder: straight along x from 0 to length, arc length `arc` across it (over y),
/// bulging to +z; the crown line lies in z = 0 at y = 0.
inline panel::Mesh cylinder_panel(double length, double arc, double radius, int nx, int ny) {
  return grid(nx, ny, [=](double u, double v) {
    const double angle = (v - 0.5) * arc / radius;
    return Eigen::Vector3d(length * u, radius * std::sin(angle), radius * (std::cos(angle) - 1.0));
  });
}

/// Part of a sphere over the plan [-a/2, a/2] x [-b/2, b/2], bulging to +z, top at the origin.
inline panel::Mesh sphere_panel(double a, double b, double radius, int nx, int ny) {
  return grid(nx, ny, [=](double u, double v) {
    const double x = (u - 0.5) * a, y = (v - 0.5) * b;
    return Eigen::Vector3d(x, y, std::sqrt(radius * radius - x * x - y * y) - radius);
  });
}

/// Rhombus of side a with the acute angle `angle_rad` at the origin, n by n cells in z = 0, each
/// cut along its shorter diagonal.
inline panel::Mesh skew_plate(double a, double angle_rad, int n) {
  return grid(
      n,
      n,
      [=](double u, double v) {
        return Eigen::Vector3d(a * (u + v * std::cos(angle_rad)), a * v * std::sin(angle_rad), 0.0);
      },
      false);
}

/// Rings about the origin in z = 0, ring k with radii[k] and counts[k] nodes, zipped together; a
/// count of 1 is the middle.
inline panel::Mesh rings(const std::vector<double>& radii, const std::vector<int>& counts) {
  std::vector<Eigen::Vector3d> nodes;
  std::vector<Eigen::Vector3i> triangles;
  std::vector<int> first;
  for (std::size_t k = 0; k < radii.size(); ++k) {
    first.push_back(static_cast<int>(nodes.size()));
    for (int i = 0; i < counts[k]; ++i) {
      const double angle = base::kTwoPi * i / counts[k];
      nodes.emplace_back(radii[k] * std::cos(angle), radii[k] * std::sin(angle), 0.0);
    }
  }
  for (std::size_t k = 0; k + 1 < radii.size(); ++k) {
    const int m = counts[k], n = counts[k + 1];
    const auto inner = [&](int i) { return first[k] + i % m; };
    const auto outer = [&](int j) { return first[k + 1] + j % n; };
    if (m == 1) {
      for (int j = 0; j < n; ++j) triangles.emplace_back(inner(0), outer(j), outer(j + 1));
      continue;
    }
    // The next triangle takes the ring whose next node lags behind: compare (j + 1/2)/n, (i +
    // 1/2)/m.
    for (int i = 0, j = 0; i < m || j < n;) {
      const bool step_outer = i == m || (j < n && (2 * j + 1) * m <= (2 * i + 1) * n);
      if (step_outer) {
        triangles.emplace_back(inner(i), outer(j), outer(j + 1));
        ++j;
      } else {
        triangles.emplace_back(inner(i), outer(j), inner(i + 1));
        ++i;
      }
    }
  }
  panel::Mesh mesh;
  mesh.nodes.resize(static_cast<Eigen::Index>(nodes.size()), 3);
  mesh.triangles.resize(static_cast<Eigen::Index>(triangles.size()), 3);
  for (std::size_t i = 0; i < nodes.size(); ++i)
    mesh.nodes.row(static_cast<Eigen::Index>(i)) = nodes[i].transpose();
  for (std::size_t t = 0; t < triangles.size(); ++t)
    mesh.triangles.row(static_cast<Eigen::Index>(t)) = triangles[t].transpose();
  return mesh;
}

/// Disc of n rings; ring k has 6 k nodes, the last lies on the circle. Node 0 is the middle,
/// 6 n^2 triangles.
inline panel::Mesh disc(double radius, int n) {
  std::vector<double> radii{0.0};
  std::vector<int> counts{1};
  for (int k = 1; k <= n; ++k) {
    radii.push_back(radius * k / n);
    counts.push_back(6 * k);
  }
  return rings(radii, counts);
}

/// Ring between two circles, n elements across; the nodes of each ring are about as far apart as
/// the rings.
inline panel::Mesh annulus(double inner, double outer, int n) {
  std::vector<double> radii;
  std::vector<int> counts;
  const double step = (outer - inner) / n;
  for (int k = 0; k <= n; ++k) {
    radii.push_back(inner + step * k);
    counts.push_back(
        std::max(8, static_cast<int>(std::lround(base::kTwoPi * radii.back() / step))));
  }
  return rings(radii, counts);
}

}  // namespace calmplate::testing
