// SPDX-License-Identifier: GPL-3.0-or-later
#include "study/layout_study.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "base/units.hpp"
#include "reduced/complex_modes.hpp"
#include "response/band_response.hpp"
#include "response/velocity_map.hpp"
#include "response/working_map.hpp"
#include "study/sound.hpp"
#include "study/tap_sound.hpp"

namespace calmplate::study {
namespace {

constexpr Eigen::Index kDrawnModes = 6;

std::vector<PieceResult> piece_results(const Common& c,
                                       const job::Layout& layout,
                                       const std::vector<shell::LaidPiece>& laid) {
  std::vector<PieceResult> out;
  for (std::size_t i = 0; i < laid.size(); ++i) {
    const job::Piece& piece = layout.pieces[i];
    PieceResult r;
    r.number = static_cast<int>(i) + 1;
    r.sheets = piece.sheets;
    r.outer_face = piece.face == job::Face::outer;
    r.outlines = panel::outlines(*c.panel, piece.region);
    r.area_m2 = panel::covered_area(*c.panel, laid[i].covered);
    for (const std::string& name : piece.sheets)
      r.mass_kg += r.area_m2 * c.job->sheet_named(name).mass_per_area();
    out.push_back(r);
  }
  return out;
}

void sum_pieces(const Common& c, LayoutResult& out) {
  for (const PieceResult& p : out.pieces) {
    out.area_m2 += p.area_m2;
    out.mass_kg += p.mass_kg;
    for (const std::string& name : p.sheets) {
      const sheet::Sheet& s = c.job->sheet_named(name);
      const double stock = s.stock_width_m * s.stock_length_m;
      if (stock > 0.0) out.cost += s.price_per_sheet * p.area_m2 / stock;
    }
  }
  out.share = out.area_m2 / c.panel->area_m2;
}

reduced::ComplexModes mode_results(const Common& c,
                                   const reduced::FullReduction& red,
                                   LayoutResult& out) {
  const reduced::ComplexModes modes = reduced::complex_modes(red.model, c.job->band.high_hz);
  const Eigen::Index n = modes.freq_hz.size();
  const Eigen::MatrixXd real = modes.shape.real();
  const Eigen::VectorXd bending =
      shell::bending_share(c.skin, red.basis.topRows(c.skin.n_dof) * real);
  for (Eigen::Index j = 0; j < n; ++j) {
    ModeResult m;
    m.freq_hz = modes.freq_hz(j);
    m.loss_factor = modes.loss_factor(j);
    m.loss_factor_energy = modes.loss_factor_energy(j);
    m.bending_share = bending(j);
    m.ring_time_s = m.loss_factor > 0.0 && m.freq_hz > 0.0
                        ? reduced::ring_time(m.freq_hz, m.loss_factor)
                        : std::numeric_limits<double>::infinity();
    out.modes.push_back(m);
  }
  const Eigen::Index shown = std::min(n, kDrawnModes);
  out.mode_shapes.resize(red.normal.rows(), shown);
  for (Eigen::Index j = 0; j < shown; ++j)
    out.mode_shapes.col(j) = reduced::real_picture(red.normal * modes.shape.col(j));
  return modes;
}

/// @param modes  of the coupled model, or of the skin alone
std::optional<LoudestMode> loudest_mode(const Common& c,
                                        const reduced::FullReduction& red,
                                        const response::BandResponse& response,
                                        const std::vector<double>& freq_hz) {
  std::optional<LoudestMode> out;
  for (const double f : freq_hz) {
    if (f < c.job->band.low_hz || f > c.job->band.high_hz) continue;
    const double level = response.level_db(f);
    if (out && level <= out->level_db) continue;
    const Eigen::VectorXcd w = red.normal * response.coordinates(f).head(red.normal.cols());
    Eigen::Index node = 0;
    w.cwiseAbs2().maxCoeff(&node);
    out = LoudestMode{f, level, c.panel->flat.points().row(node).transpose()};
  }
  return out;
}

/// The sweep, all from one reduced model: only the moduli change.
std::vector<TemperatureResult> over_temperature(const job::Job& job,
                                                const reduced::ReducedModel& model,
                                                const base::Progress& progress) {
  constexpr int kPartsPerOctave = 6;
  std::vector<TemperatureResult> out;
  const bool same = model.pieces.empty() &&
                    std::none_of(model.terms.begin(), model.terms.end(), [](const auto& t) {
                      return t.modulus != nullptr;
                    });
  reduced::ReducedModel at = model;
  for (const double temp_k : job.temperatures_k) {
    progress.check();
    if (same && !out.empty()) {
      // Nothing on a bare skin feels the temperature.
      out.push_back({temp_k, out.front().band_level_db});
      continue;
    }
    at.temp_k = temp_k;
    const response::BandResponse response(
        at, job.drive, job.band.high_hz, job.band.low_hz, kPartsPerOctave);
    out.push_back({temp_k, response.band_level_db(job.band.low_hz, job.band.high_hz)});
  }
  return out;
}

/// Band level at each named point: the same integral with the point as the surface.
void listen_results(const Common& c, const response::BandResponse& response, LayoutResult& out) {
  for (std::size_t i = 0; i < c.job->listen_at.size(); ++i)
    out.listen.push_back(
        {c.job->listen_at[i].name,
         response.band_level_db(c.job->band.low_hz,
                                c.job->band.high_hz,
                                response.model().listen.row(static_cast<Eigen::Index>(i)))});
}

}  // namespace

LayoutResult study_layout(const Common& c,
                          const job::Layout* layout,
                          unsigned threads,
                          const base::Progress& progress,
                          reduced::FullReduction* reduction,
                          Detail detail,
                          WooferResult* woofer) {
  LayoutResult out;
  out.name = layout != nullptr ? layout->name : "bare";
  std::vector<shell::LaidPiece> pieces;
  if (layout != nullptr) {
    pieces = pieces_of(*c.job, *c.panel, *layout);
    out.pieces = piece_results(c, *layout, pieces);
  }
  sum_pieces(c, out);
  out.cover = Eigen::VectorXd::Zero(c.panel->mesh.triangles.rows());
  for (const shell::LaidPiece& p : pieces)
    for (const panel::CoveredTriangle& t : p.covered)
      out.cover(t.triangle) = std::min(1.0, out.cover(t.triangle) + t.fraction);

  const shell::PanelModel model = shell::build_model(c.skin, attachments_of(*c.job), pieces);
  reduced::FullReduction red = reduced::reduce_full(
      c.skin, model, c.ports, reduction_of(*c.job, layout == nullptr, threads), progress);
  out.full_size = model.n_dof;
  out.basis_size = static_cast<int>(red.model.size());
  out.modes_complete = red.modes.complete;
  out.worst_residual = red.modes.residual.size() > 0 ? red.modes.residual.maxCoeff() : 0.0;

  const drive::BandInput& band = c.job->band;
  const coupling::CoupledDoor door = couple_door(*c.job, c.skin, c.door, red, red.model);
  const response::BandResponse response(door.model,
                                        c.job->drive,
                                        band.high_hz * 1.3,
                                        0.65 * band.low_hz,
                                        detail == Detail::all ? 12 : 6);
  out.band_level_db = response.band_level_db(band.low_hz, band.high_hz);
  for (const response::ThirdOctave& t : response::third_octaves(band.low_hz, band.high_hz))
    out.third_octaves.push_back({t, response.band_level_db(t.low_hz, t.high_hz)});
  if (detail == Detail::modes) mode_results(c, red, out);
  if (detail == Detail::all) {
    out.curve_db.resize(c.freq_hz.size());
    for (Eigen::Index i = 0; i < c.freq_hz.size(); ++i)
      out.curve_db(i) = response.level_db(c.freq_hz(i));
    progress.check();
    const reduced::ComplexModes modes = mode_results(c, red, out);
    const TapInput tap = tap_of(c);
    const reduced::ComplexModes heard = reduced::complex_modes(door.model, tap.up_to_hz);
    if (c.door.coupled()) out.door_modes = door_modes(c, red, door, heard, modes);
    if (c.door.woofer) sound_results(c, door, response, woofer, out);
    std::vector<double> at;
    for (const DoorModeResult& m : out.door_modes) at.push_back(m.freq_hz);
    for (const ModeResult& m : out.modes)
      if (out.door_modes.empty()) at.push_back(m.freq_hz);
    out.loudest = loudest_mode(c, red, response, at);
    out.rattles = rattle_results(*c.job, response, kCrest);
    out.velocity_db = response::velocity_map_db(response, red.normal, c.job->drive, band);
    out.tap = tap_tones(c, red, door, heard, tap);
  }
  listen_results(c, response, out);
  out.temperatures = over_temperature(*c.job, door.model, progress);
  progress.check();
  if (!pieces.empty() && detail == Detail::all)
    out.working = response::working_map(c.skin, model, pieces, red, response, band);
  if (reduction != nullptr) *reduction = std::move(red);
  return out;
}

}  // namespace calmplate::study
