// SPDX-License-Identifier: GPL-3.0-or-later
#include "shell/attachments.hpp"

#include <Eigen/Geometry>
#include <algorithm>
#include <array>
#include <cmath>

#include "base/input_error.hpp"
#include "base/units.hpp"
#include "shell/beam.hpp"
#include "shell/triangle_mass.hpp"

namespace calmplate::shell {
namespace {

using Matrix6x18d = Eigen::Matrix<double, 6, 18>;

/// Motion of a point fixed to the skin at a height: rows displacement and rotation in space axes,
/// columns the 18 dofs of the skin's triangle there. Out of the facet the displacement is the
/// cubic of the mass, the rest is linear: both take every uniform bending as it is, so that what is
/// bonded to the skin is not bent by the mesh.
Matrix6x18d motion_at(const Skin& skin, const panel::SkinPoint& at, double height_m) {
  const TriangleGeometry g = triangle_geometry(skin.facet(at.triangle, 0.0).corners);
  const Eigen::Matrix<double, 1, 9> cubic = deflection_at(g, at.weight);
  Matrix6x18d m = Matrix6x18d::Zero();
  Eigen::Matrix<double, 1, 18> beyond_linear = Eigen::Matrix<double, 1, 18>::Zero();
  for (int c = 0; c < 3; ++c) {
    const auto node = static_cast<std::size_t>(skin.panel->mesh.triangles(at.triangle, c));
    const Eigen::Matrix3d& axes = skin.axes[node];
    Eigen::Matrix3d lever;  // theta x (z n) = z (theta2 e1 - theta1 e2)
    lever << 0.0, height_m, 0.0, -height_m, 0.0, 0.0, 0.0, 0.0, 0.0;
    m.block<3, 3>(0, 6 * c) = at.weight(c) * axes;
    m.block<3, 3>(0, 6 * c + 3) = at.weight(c) * axes * lever;
    m.block<3, 3>(3, 6 * c + 3) = at.weight(c) * axes;
    beyond_linear.segment<3>(6 * c) =
        (cubic(3 * c) - at.weight(c)) * g.axes.col(2).transpose() * axes;
    beyond_linear.segment<3>(6 * c + 3) =
        cubic.segment<2>(3 * c + 1) * g.axes.leftCols<2>().transpose() * axes;
  }
  m.topRows<3>() += g.axes.col(2) * beyond_linear;
  return m;
}

Eigen::Vector3d normal_of(const Skin& skin, const panel::SkinPoint& at) {
  Eigen::Vector3d n = Eigen::Vector3d::Zero();
  for (int c = 0; c < 3; ++c)
    n += at.weight(c) *
         skin.panel->normals.row(skin.panel->mesh.triangles(at.triangle, c)).transpose();
  return n.normalized();
}

panel::SkinPoint require_on_panel(const Skin& skin,
                                  const Eigen::Vector2d& flat,
                                  const std::string& name) {
  const auto at = skin.panel->flat.to_skin(flat);
  if (at) return *at;
  throw base::InputError({"", 0, name},
                         "lies off the panel at (" +
                             std::to_string(std::lround(base::to_mm(flat.x()))) + ", " +
                             std::to_string(std::lround(base::to_mm(flat.y()))) + ") mm",
                         "a place on the skin");
}

/// A node of a beam: where it is on the skin and its distance along the beam.
struct BeamNode {
  double along_m = 0.0;
  int pads = 0;
  panel::SkinPoint at;
  Eigen::Vector3d position = Eigen::Vector3d::Zero();
  Eigen::Vector3d normal = Eigen::Vector3d::UnitZ();
};

/// Distances along the beam of its nodes and the pads on each: both ends, every pad, and evenly
/// spaced ones where no pad is near.
std::vector<BeamNode> node_places(const BeamInput& beam, double length, int parts) {
  std::vector<BeamNode> nodes;
  const auto add = [&](double along, int pads) {
    nodes.emplace_back();
    nodes.back().along_m = along;
    nodes.back().pads = pads;
  };
  for (int i = 0; i <= parts; ++i) {
    const double along = length * i / parts;
    const bool end = i == 0 || i == parts;
    const bool near = std::any_of(beam.pads_m.begin(), beam.pads_m.end(), [&](double pad) {
      return std::abs(pad - along) < 0.5 * length / parts;
    });
    if (end || !near) add(along, 0);
  }
  for (const double pad : beam.pads_m) add(std::clamp(pad, 0.0, length), 1);
  std::stable_sort(nodes.begin(), nodes.end(), [](const BeamNode& a, const BeamNode& b) {
    return a.along_m < b.along_m;
  });
  // What lies within a millionth of the beam is one node; the first of them keeps its place.
  std::vector<BeamNode> out;
  for (const BeamNode& n : nodes) {
    if (!out.empty() && n.along_m - out.back().along_m < 1e-6 * length)
      out.back().pads += n.pads;
    else
      out.push_back(n);
  }
  return out;
}

std::vector<BeamNode> beam_nodes(const Skin& skin, const BeamInput& beam) {
  const Eigen::Vector2d step = beam.to - beam.from;
  const double length = step.norm();
  if (!(length > 0.0))
    throw base::InputError({"", 0, beam.name}, "has no length", "two places apart");
  const double spacing = std::max(skin.panel->element_size_m, length / 500.0);
  const int parts = std::max(2, static_cast<int>(std::ceil(length / spacing)));
  std::vector<BeamNode> nodes = node_places(beam, length, parts);
  for (BeamNode& n : nodes) {
    n.at = require_on_panel(skin, beam.from + step * (n.along_m / length), beam.name);
    n.normal = normal_of(skin, n.at);
    n.position = skin.panel->flat.to_space(n.at) - beam.offset_m * n.normal;
  }
  return nodes;
}

void add_bonded_beam(const Skin& skin,
                     const BeamInput& beam,
                     const std::vector<BeamNode>& nodes,
                     const AttachmentMatrices& out) {
  for (std::size_t i = 0; i + 1 < nodes.size(); ++i) {
    const BeamElement e =
        beam_element(nodes[i].position, nodes[i + 1].position, nodes[i].normal, beam);
    Eigen::Matrix<double, 12, 36> move = Eigen::Matrix<double, 12, 36>::Zero();
    std::array<int, 36> dofs{};
    for (std::size_t end = 0; end < 2; ++end) {
      const BeamNode& n = nodes[i + end];
      move.block<6, 18>(6 * static_cast<int>(end), 18 * static_cast<int>(end)) =
          motion_at(skin, n.at, -beam.offset_m);
      const std::array<int, 18> at = skin.facet_dofs(n.at.triangle);
      std::copy(at.begin(), at.end(), dofs.begin() + static_cast<std::ptrdiff_t>(18 * end));
    }
    // Off the skin the axis sways sideways where the skin twists: its slope along the skin is the
    // skin's own rotation less the height times the twist.
    const double length = (nodes[i + 1].position - nodes[i].position).norm();
    const Eigen::Matrix<double, 1, 36> twist =
        e.axes.col(0).transpose() * (move.middleRows<3>(9) - move.middleRows<3>(3)) / length;
    for (const int row : {3, 9}) move.middleRows<3>(row) += beam.offset_m * e.axes.col(1) * twist;
    out.elastic->add(dofs.data(), move.transpose() * e.stiffness * move);
    out.mass->add(dofs.data(), move.transpose() * e.mass * move);
  }
}

/// The pads of a node: springs between a beam node and the skin, out of the skin and along it.
void add_pad(const Skin& skin,
             const BeamInput& beam,
             const BeamNode& node,
             const int* beam_dof,
             const AttachmentMatrices& out) {
  Eigen::Matrix<double, 3, 24> gap = Eigen::Matrix<double, 3, 24>::Zero();
  gap.leftCols<3>() = Eigen::Matrix3d::Identity();
  gap.rightCols<18>() = -motion_at(skin, node.at, 0.0).topRows<3>();
  const Eigen::Matrix3d out_of_skin = node.normal * node.normal.transpose();
  const Eigen::Matrix3d k =
      node.pads * (beam.pad_stiffness * out_of_skin +
                   beam.pad_shear_stiffness * (Eigen::Matrix3d::Identity() - out_of_skin));
  std::array<int, 24> dofs{};
  std::copy(beam_dof, beam_dof + 6, dofs.begin());
  const std::array<int, 18> at = skin.facet_dofs(node.at.triangle);
  std::copy(at.begin(), at.end(), dofs.begin() + 6);
  (*out.springs)[beam.pad_loss_factor].add(dofs.data(), gap.transpose() * k * gap);
}

void add_padded_beam(const Skin& skin,
                     const BeamInput& beam,
                     const std::vector<BeamNode>& nodes,
                     int& next_dof,
                     const AttachmentMatrices& out) {
  std::vector<std::array<int, 6>> dof(nodes.size());
  for (std::size_t i = 0; i < nodes.size(); ++i) {
    const bool end = i == 0 || i + 1 == nodes.size();
    for (int& d : dof[i]) d = end && beam.ends_held ? kHeld : next_dof++;
  }
  for (std::size_t i = 0; i + 1 < nodes.size(); ++i) {
    const BeamElement e =
        beam_element(nodes[i].position, nodes[i + 1].position, nodes[i].normal, beam);
    std::array<int, 12> dofs{};
    std::copy(dof[i].begin(), dof[i].end(), dofs.begin());
    std::copy(dof[i + 1].begin(), dof[i + 1].end(), dofs.begin() + 6);
    out.elastic->add(dofs.data(), e.stiffness);
    out.mass->add(dofs.data(), e.mass);
  }
  for (std::size_t i = 0; i < nodes.size(); ++i)
    if (nodes[i].pads > 0) add_pad(skin, beam, nodes[i], dof[i].data(), out);
}

}  // namespace

void add_rim_springs(const Skin& skin, std::map<double, Assembler>& springs) {
  for (const NodeSpring& s : skin.springs) {
    std::array<int, 6> dofs{};
    for (int k = 0; k < 6; ++k) dofs[static_cast<std::size_t>(k)] = skin.dof(s.node, k);
    springs[s.loss_factor].add(dofs.data(), s.stiffness);
  }
}

void add_attachments(const Skin& skin,
                     const Attachments& attachments,
                     int& next_dof,
                     const AttachmentMatrices& out) {
  for (const BeamInput& beam : attachments.beams) {
    const std::vector<BeamNode> nodes = beam_nodes(skin, beam);
    if (beam.pads_m.empty())
      add_bonded_beam(skin, beam, nodes, out);
    else
      add_padded_beam(skin, beam, nodes, next_dof, out);
  }
  for (const SpringInput& spring : attachments.springs) {
    const panel::SkinPoint at = require_on_panel(skin, spring.at, spring.name);
    const Matrix6x18d m = motion_at(skin, at, 0.0);
    const Eigen::RowVectorXd w = normal_of(skin, at).transpose() * m.topRows<3>();
    (*out.springs)[spring.loss_factor].add(skin.facet_dofs(at.triangle).data(),
                                           spring.normal_stiffness * w.transpose() * w);
  }
  for (const MassInput& mass : attachments.masses) {
    const panel::SkinPoint at = require_on_panel(skin, mass.at, mass.name);
    const Eigen::Matrix<double, 3, 18> u = motion_at(skin, at, 0.0).topRows<3>();
    out.mass->add(skin.facet_dofs(at.triangle).data(), mass.mass_kg * u.transpose() * u);
  }
}

}  // namespace calmplate::shell
