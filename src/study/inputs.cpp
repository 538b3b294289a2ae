// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <cmath>
#include <utility>

#include "study/study.hpp"

namespace calmplate::study {
namespace {

/// Undamped modes are kept up to this many times the top of the band. Measured on the demo door:
/// docs/decisions.md.
constexpr double kTopOverBand = 1.35;
constexpr double kBareTopOverBand = 2.5;
constexpr double kEnrichOverBand = 1.2;

}  // namespace

shell::Skin skin_of(const job::Job& job, const panel::Panel& panel) {
  return shell::make_skin(
      panel, shell::plate_of(job.material, job.thickness_m), job.material.loss_factor, job.edges);
}

shell::Attachments attachments_of(const job::Job& job) {
  return {job.beams, job.springs, job.masses};
}

shell::LaidPiece laid_piece(const job::Job& job,
                            const job::Piece& piece,
                            std::vector<panel::CoveredTriangle> covered) {
  shell::LaidPiece laid;
  laid.covered = std::move(covered);
  for (const std::string& name : piece.sheets) laid.plies.push_back(&job.sheet_named(name));
  laid.outer_face = piece.face == job::Face::outer;
  laid.foil_held = piece.foil_held;
  return laid;
}

std::vector<shell::LaidPiece> pieces_of(const job::Job& job,
                                        const panel::Panel& panel,
                                        const job::Layout& layout) {
  std::vector<shell::LaidPiece> out;
  for (const job::Piece& piece : layout.pieces)
    out.push_back(laid_piece(job, piece, panel::cover(panel, piece.region)));
  return out;
}

placement::MapRequest map_request(const job::Job& job,
                                  const sheet::Sheet& sheet,
                                  unsigned threads) {
  placement::MapRequest out;
  out.sheet = &sheet;
  out.piece_m = job.benefit_map.piece_m;
  out.spacing_m = job.benefit_map.spacing_m;
  out.threads = threads;
  for (const job::KeepOut& k : job.keep_outs) out.keep_out.push_back(k.outline);
  return out;
}

CurveRange curve_range(const drive::BandInput& band) {
  return {std::max(band.step_hz, 0.7 * band.low_hz), 1.25 * band.high_hz};
}

reduced::Ports ports_of(const job::Job& job, const shell::Skin& skin) {
  reduced::Ports ports;
  // A woofer's force reaches the skin through the air and its ring; evenly spread pressure is the
  // part of it that no mode of the air holds.
  ports.load = job.drive.kind == drive::Kind::pressure || job.drive.kind == drive::Kind::woofer
                   ? shell::uniform_pressure(skin)
                   : shell::normal_at(skin, skin.panel->flat.nearest(job.drive.at));
  ports.listen.resize(static_cast<Eigen::Index>(job.listen_at.size()), skin.n_dof);
  for (std::size_t i = 0; i < job.listen_at.size(); ++i)
    ports.listen.row(static_cast<Eigen::Index>(i)) =
        shell::normal_at(skin, skin.panel->flat.nearest(job.listen_at[i].at)).transpose();
  return ports;
}

reduced::ReductionOptions reduction_of(const job::Job& job, bool bare, unsigned threads) {
  reduced::ReductionOptions o;
  o.top_hz = (bare ? kBareTopOverBand : kTopOverBand) * job.band.high_hz;
  o.enrich_hz = kEnrichOverBand * job.band.high_hz;
  o.reference_hz = std::sqrt(job.band.low_hz * job.band.high_hz);
  o.temp_k = job.temperature_k;
  o.also_temp_k = job.temperatures_k;
  o.air_faces = job.air == job::Air::none ? 0 : job.air == job::Air::one_face ? 1 : 2;
  o.threads = threads;
  return o;
}

}  // namespace calmplate::study
