// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <vector>

#include "response/band_response.hpp"
#include "response/third_octaves.hpp"
#include "study/demo_job.hpp"
#include "study/door.hpp"
#include "study/study.hpp"

namespace calmplate::testing {

/// The demo door with its woofer, cavity and layout "partial" on coarse elements.
inline JobOnPanel woofer_door() {
  JobOnPanel p = demo_job("estate_front_door.toml", 0.025);
  const job::Job asked = job::read_job(p.job.file);
  p.job.air = asked.air;
  p.job.cavity = asked.cavity;
  p.job.drive = asked.drive;
  p.job.layouts = {layout_named(asked, "partial")};
  p.job.sheet_comparison = {};
  p.job.temperatures_k.clear();
  p.job.benefit_map.wanted = false;
  job::settle_band(p.job, p.panel.area_m2);
  return p;
}

/// One layout of such a job as the study reduces and couples it, step by step.
struct CoupledStudy {
  shell::Skin skin;
  study::Door air;
  reduced::FullReduction red;
  coupling::CoupledDoor door;

  /// @param layout  null: the bare skin
  /// @param more    modes of skin and air are kept up to this many times the study's limit
  CoupledStudy(const JobOnPanel& p, const job::Layout* layout, double more = 1.0)
      : skin(study::skin_of(p.job, p.panel)), air(study::door_of(p.job, skin, {})) {
    if (more > 1.0) air.modes = cavity::cavity_modes(*air.slab, more * 1.5 * p.job.band.high_hz);
    reduced::Ports ports = study::ports_of(p.job, skin);
    ports.more = study::door_ports(air, skin);
    const std::vector<shell::LaidPiece> pieces = layout != nullptr
                                                     ? study::pieces_of(p.job, p.panel, *layout)
                                                     : std::vector<shell::LaidPiece>();
    reduced::ReductionOptions options = study::reduction_of(p.job, layout == nullptr, 1);
    options.top_hz *= more;
    options.enrich_hz *= more;
    red = reduced::reduce_full(
        skin, shell::build_model(skin, study::attachments_of(p.job), pieces), ports, options, {});
    door = study::couple_door(p.job, skin, air, red, red.model);
  }

  response::BandResponse response(const job::Job& job) const {
    return {door.model, job.drive, 1.3 * job.band.high_hz, 0.65 * job.band.low_hz};
  }
};

}  // namespace calmplate::testing
