// SPDX-License-Identifier: GPL-3.0-or-later
#include "cavity/slab.hpp"

#include <Eigen/Geometry>
#include <array>
#include <cmath>
#include <stdexcept>
#include <vector>

#include "panel/cover.hpp"

namespace calmplate::cavity {
namespace {

using Triplets = std::vector<Eigen::Triplet<double>>;

/// The skin's mesh with its small holes closed, in space and on the map.
struct AirMesh {
  panel::Nodes nodes;
  panel::FlatPoints flat;
  panel::Triangles triangles;
};

void check(const SlabInput& c) {
  for (const double x : {c.volume_m3,
                         c.depth_bottom_m,
                         c.depth_top_m,
                         c.loss_factor,
                         c.density,
                         c.sound_m_s,
                         c.bridge_up_to_m})
    if (!(x >= 0.0) || !std::isfinite(x))
      throw std::invalid_argument("cavity: numbers must be finite and not below 0");
  if (c.density == 0.0 || c.sound_m_s == 0.0)
    throw std::invalid_argument("cavity: density and speed of sound must be above 0");
  if (c.volume_m3 == 0.0 && c.depth_bottom_m == 0.0 && c.depth_top_m == 0.0)
    throw std::invalid_argument("cavity: neither volume nor depth is given");
}

/// True if every triangle from the loop's sides to the middle turns the right way.
bool seen_from(const panel::FlatPoints& flat,
               const std::vector<int>& loop,
               const Eigen::RowVector2d& middle) {
  for (std::size_t i = 0; i + 1 < loop.size(); ++i) {
    const Eigen::RowVector2d a = flat.row(loop[i + 1]) - middle, b = flat.row(loop[i]) - middle;
    if (a.x() * b.y() - a.y() * b.x() <= 0.0) return false;
  }
  return true;
}

/// Adds a node in the middle of each small hole and joins it to the hole's rim.
AirMesh bridged(const panel::Panel& panel, double up_to_m) {
  AirMesh m{panel.mesh.nodes, panel.flat.points(), panel.mesh.triangles};
  for (const panel::RimPart& part : panel.rim) {
    if (!part.hole || part.nodes.size() < 4) continue;
    const auto sides = static_cast<Eigen::Index>(part.nodes.size()) - 1;
    Eigen::RowVector3d middle = Eigen::RowVector3d::Zero();
    Eigen::RowVector2d flat_middle = Eigen::RowVector2d::Zero();
    Eigen::RowVector2d low = m.flat.row(part.nodes[0]), high = low;
    for (Eigen::Index i = 0; i < sides; ++i) {
      const int node = part.nodes[static_cast<std::size_t>(i)];
      middle += m.nodes.row(node) / static_cast<double>(sides);
      flat_middle += m.flat.row(node) / static_cast<double>(sides);
      low = low.cwiseMin(m.flat.row(node));
      high = high.cwiseMax(m.flat.row(node));
    }
    if ((high - low).maxCoeff() > up_to_m || !seen_from(m.flat, part.nodes, flat_middle)) continue;
    const Eigen::Index node = m.nodes.rows(), first = m.triangles.rows();
    m.nodes.conservativeResize(node + 1, Eigen::NoChange);
    m.nodes.row(node) = middle;
    m.flat.conservativeResize(node + 1, Eigen::NoChange);
    m.flat.row(node) = flat_middle;
    m.triangles.conservativeResize(first + sides, Eigen::NoChange);
    for (Eigen::Index i = 0; i < sides; ++i)
      m.triangles.row(first + i) << part.nodes[static_cast<std::size_t>(i + 1)],
          part.nodes[static_cast<std::size_t>(i)], static_cast<int>(node);
  }
  return m;
}

Eigen::VectorXd triangle_areas(const AirMesh& m) {
  return panel::triangle_areas(panel::Mesh{m.nodes, m.triangles});
}

/// Depth at the nodes before any scaling to a volume. [n] m
Eigen::VectorXd depths(const panel::FlatPoints& flat, const SlabInput& c) {
  if (c.depth_bottom_m == 0.0 && c.depth_top_m == 0.0) return Eigen::VectorXd::Ones(flat.rows());
  const double low = flat.col(1).minCoeff(), high = flat.col(1).maxCoeff();
  return c.depth_bottom_m +
         (c.depth_top_m - c.depth_bottom_m) * (flat.col(1).array() - low) / (high - low);
}

/// int f N_i N_j dA over a triangle of unit area, f linear with values f at the corners:
/// from int l1^a l2^b l3^c dA = 2 A a! b! c! / (a + b + c + 2)!
Eigen::Matrix3d weighted_products(const Eigen::Vector3d& f) {
  Eigen::Matrix3d out;
  for (int i = 0; i < 3; ++i)
    for (int j = 0; j < 3; ++j) {
      if (i == j)
        out(i, j) = f(i) / 10.0 + (f.sum() - f(i)) / 30.0;
      else
        out(i, j) = (f(i) + f(j)) / 30.0 + (f.sum() - f(i) - f(j)) / 60.0;
    }
  return out;
}

void add(Triplets& to, const Eigen::Vector3i& node, const Eigen::Matrix3d& element) {
  for (int i = 0; i < 3; ++i)
    for (int j = 0; j < 3; ++j) to.emplace_back(node(i), node(j), element(i, j));
}

void assemble(const AirMesh& m, const Eigen::VectorXd& area, Slab& slab) {
  Triplets h, q, a, cross;
  const Eigen::Index n_skin_triangle = slab.panel->mesh.triangles.rows();
  for (Eigen::Index t = 0; t < m.triangles.rows(); ++t) {
    const Eigen::Vector3i node = m.triangles.row(t);
    Eigen::Matrix3d side;  // column i: the side opposite corner i
    Eigen::Vector3d depth;
    for (int i = 0; i < 3; ++i) {
      side.col(i) = m.nodes.row(node((i + 2) % 3)) - m.nodes.row(node((i + 1) % 3));
      depth(i) = slab.depth_m(node(i));
    }
    const Eigen::Matrix3d mass = area(t) * weighted_products(depth);
    add(h, node, side.transpose() * side * (depth.mean() / slab.density / (4.0 * area(t))));
    add(q, node, mass / (slab.density * slab.sound_m_s * slab.sound_m_s));
    if (t >= n_skin_triangle) continue;  // no skin over a hole
    add(a, node, area(t) * weighted_products(Eigen::Vector3d::Ones()));
    add(cross, node, slab.density / 3.0 * mass);
  }
  const Eigen::Index n = m.nodes.rows(), n_node = n - slab.n_bridge;
  slab.H.resize(n, n);
  slab.Q.resize(n, n);
  slab.A.resize(n, n_node);
  slab.cross.resize(n_node, n_node);
  slab.H.setFromTriplets(h.begin(), h.end());
  slab.Q.setFromTriplets(q.begin(), q.end());
  slab.A.setFromTriplets(a.begin(), a.end());
  slab.cross.setFromTriplets(cross.begin(), cross.end());
}

}  // namespace

Slab make_slab(const panel::Panel& panel, const SlabInput& input) {
  check(input);
  const AirMesh m = bridged(panel, input.bridge_up_to_m);
  Slab slab;
  slab.panel = &panel;
  slab.triangles = m.triangles;
  slab.n_bridge = m.nodes.rows() - panel.mesh.nodes.rows();
  slab.density = input.density;
  slab.sound_m_s = input.sound_m_s;
  slab.loss_factor = input.loss_factor;
  slab.depth_m = depths(m.flat, input);
  const Eigen::VectorXd area = triangle_areas(m);
  for (Eigen::Index t = 0; t < area.size(); ++t)
    for (int i = 0; i < 3; ++i) slab.volume_m3 += area(t) / 3.0 * slab.depth_m(m.triangles(t, i));
  if (input.volume_m3 > 0.0) {
    slab.depth_m *= input.volume_m3 / slab.volume_m3;
    slab.volume_m3 = input.volume_m3;
  }
  assemble(m, area, slab);
  return slab;
}

Eigen::VectorXd opening(const Slab& slab, const Eigen::Vector2d& at, double area_m2) {
  if (!(area_m2 > 0.0) || !std::isfinite(area_m2) || !at.allFinite())
    throw std::invalid_argument("opening: the area must be above 0, area and place finite");
  constexpr int kCorners = 24;
  const double radius = std::sqrt(area_m2 / base::kPi);
  panel::Region disc;
  disc.outline.resize(kCorners, 2);
  for (int i = 0; i < kCorners; ++i) {
    const double angle = base::kTwoPi * i / kCorners;
    disc.outline.row(i) << at.x() + radius * std::cos(angle), at.y() + radius * std::sin(angle);
  }
  const panel::Mesh& mesh = slab.panel->mesh;
  const Eigen::VectorXd area = panel::triangle_areas(mesh);
  Eigen::VectorXd out = Eigen::VectorXd::Zero(slab.depth_m.size());
  for (const panel::CoveredTriangle& c : panel::cover(*slab.panel, disc))
    for (int i = 0; i < 3; ++i)
      out(mesh.triangles(c.triangle, i)) += c.fraction * area(c.triangle) / 3.0;
  if (out.sum() == 0.0) {  // off the skin: where it comes nearest
    const panel::SkinPoint point = slab.panel->flat.nearest(at);
    for (int i = 0; i < 3; ++i) out(mesh.triangles(point.triangle, i)) += point.weight(i);
  }
  return out * (area_m2 / out.sum());
}

}  // namespace calmplate::cavity
