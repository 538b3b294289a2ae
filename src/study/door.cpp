// SPDX-License-Identifier: GPL-3.0-or-later
#include "study/door.hpp"

#include <cmath>

#include "drive/woofer_response.hpp"
#include "reduced/air_mass.hpp"
#include "reduced/full_reduction.hpp"
#include "shell/attachments.hpp"

namespace calmplate::study {
namespace {

/// The air's modes are kept up to this many times the band, as the skin's are.
constexpr double kAirTopOverBand = 1.5;
/// Loss of a plain hole's plug: air that rubs and sheds eddies. Source: common practice, no source.
constexpr double kLeakLoss = 0.1;

Eigen::Vector2d middle_of(const panel::Panel& panel) { return panel.flat.middle(); }

void add_cavity(const job::Job& job,
                const panel::Panel& panel,
                const base::Progress& progress,
                Door& door) {
  const drive::CavityInput& in = job.cavity;
  cavity::SlabInput slab;
  slab.volume_m3 = in.volume_m3.value_or(0.0);
  slab.depth_bottom_m = in.depth_bottom_m.value_or(in.depth_m.value_or(0.0));
  slab.depth_top_m = in.depth_top_m.value_or(in.depth_m.value_or(0.0));
  slab.loss_factor = in.lining_loss_factor;
  door.slab = cavity::make_slab(panel, slab);
  door.modes = cavity::cavity_modes(*door.slab, kAirTopOverBand * job.band.high_hz, 1, progress);
  if (in.leak_area_m2 > 0.0) {
    cavity::LeakInput leak;
    leak.at = in.leak_centre.value_or(middle_of(panel));
    leak.area_m2 = in.leak_area_m2;
    leak.length_m = in.leak_length_m.value_or(drive::thin_leak_length(in.leak_area_m2));
    leak.loss_factor = kLeakLoss;
    door.leaks.push_back(leak);
  }
}

/// Mean outward displacement of the ring of screws, as the mean over points along it.
Eigen::VectorXd ring_row(const job::Job& job, const shell::Skin& skin) {
  const auto points = drive::ring_points(*job.woofer);
  Eigen::VectorXd row = Eigen::VectorXd::Zero(skin.n_dof);
  for (Eigen::Index i = 0; i < points.rows(); ++i)
    row += shell::normal_at(skin, skin.panel->flat.nearest(points.row(i)));
  return row / static_cast<double>(points.rows());
}

void add_woofer(const job::Job& job, const shell::Skin& skin, Door& door) {
  const drive::Woofer woofer = drive::make_woofer(*job.woofer);
  coupling::WooferPart part;
  part.part = drive::moving_part(woofer);
  part.cone.at = job.woofer->cone_centre.value_or(middle_of(*skin.panel));
  part.cone.area_m2 = woofer.sd_m2;
  part.on_skin = job.woofer->mounting == drive::Mounting::skin;
  part.frame_mass_kg = part.on_skin ? job.woofer->frame_mass_kg : 0.0;
  if (part.on_skin) door.ring = ring_row(job, skin);
  door.woofer = part;
}

}  // namespace

coupling::DoorAir Door::air() const {
  coupling::DoorAir out;
  out.slab = slab ? &*slab : nullptr;
  out.modes = &modes;
  out.leaks = leaks;
  out.woofer = woofer;
  out.radiation = woofer.has_value();
  return out;
}

Door door_of(const job::Job& job, const shell::Skin& skin, const base::Progress& progress) {
  Door door;
  if (job.cavity.wanted) add_cavity(job, *skin.panel, progress, door);
  if (job.drive.kind == drive::Kind::woofer) add_woofer(job, skin, door);
  return door;
}

Eigen::MatrixXd door_ports(const Door& door, const shell::Skin& skin) {
  const Eigen::Index n_air = door.slab ? door.modes.pressure.cols() : 0;
  const Eigen::Index n_ring = door.ring.size() > 0 ? 1 : 0;
  Eigen::MatrixXd ports = Eigen::MatrixXd::Zero(n_air + n_ring, skin.n_dof);
  if (door.slab) {
    const Eigen::MatrixXd force = door.slab->A.transpose() * door.modes.pressure;
    for (Eigen::Index i = 0; i < skin.dof.rows(); ++i)
      if (skin.dof(i, 2) != shell::kHeld)
        ports.col(skin.dof(i, 2)).head(n_air) = force.row(i).transpose();
  }
  if (n_ring > 0) ports.row(n_air) = door.ring.transpose();
  return ports;
}

coupling::CoupledDoor couple_door(const job::Job& job,
                                  const shell::Skin& skin,
                                  const Door& door,
                                  const reduced::FullReduction& reduction,
                                  const reduced::ReducedModel& model) {
  const Eigen::VectorXd ring = door.ring.size() > 0
                                   ? Eigen::VectorXd(reduction.more.bottomRows(1).transpose())
                                   : Eigen::VectorXd();
  if (!door.slab || job.air != job::Air::both_faces)
    return coupling::couple(
        skin, model, reduction.normal, ring, door.air(), 1.35 * job.band.high_hz);
  reduced::ReducedModel outside = model;
  outside.mass -= reduced::air_mass(skin, reduction.normal, 1);
  return coupling::couple(
      skin, outside, reduction.normal, ring, door.air(), 1.35 * job.band.high_hz);
}

}  // namespace calmplate::study
