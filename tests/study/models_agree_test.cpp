// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <cstdio>

#include "base/units.hpp"
#include "reduced/complex_modes.hpp"
#include "response/band_response.hpp"
#include "response/third_octaves.hpp"
#include "study/demo_job.hpp"
#include "study/direct_mean_square.hpp"
#include "study/study.hpp"

namespace {

using namespace calmplate;

struct Case {
  const char* job;
  const char* layout;
  double element_m;
  int n_freq;
};

/// Levels of the three models at the same frequencies, and damped modes of the reduced ones.
void compare(const Case& c) {
  const auto [job, panel] = testing::demo_job(c.job, c.element_m);
  const shell::Skin skin = study::skin_of(job, panel);
  const shell::Attachments attachments = study::attachments_of(job);
  const reduced::Ports ports = study::ports_of(job, skin);
  const std::vector<shell::LaidPiece> pieces =
      study::pieces_of(job, panel, testing::layout_named(job, c.layout));
  const shell::PanelModel model = shell::build_model(skin, attachments, pieces);
  const reduced::FullReduction a =
      reduced::reduce_full(skin, model, ports, study::reduction_of(job, false, 1), {});
  const reduced::FullReduction bare =
      reduced::reduce_full(skin,
                           shell::build_model(skin, attachments, {}),
                           ports,
                           study::reduction_of(job, true, 1),
                           {});
  const reduced::ReducedModel b =
      reduced::reduce_by_pieces(skin, bare, pieces, study::reduction_of(job, true, 1).reference_hz);
  const response::BandResponse ra(a.model, job.drive, job.band.high_hz);
  const response::BandResponse rb(b, job.drive, job.band.high_hz);

  // Direct against (a) and (b), frequency by frequency and summed over the same frequencies.
  double sum_d = 0.0, sum_a = 0.0, sum_b = 0.0, worst_a = 0.0;
  for (int i = 0; i < c.n_freq; ++i) {
    const double f =
        job.band.low_hz * std::pow(job.band.high_hz / job.band.low_hz, (i + 0.5) / c.n_freq);
    const double d = testing::direct_mean_square(skin, model, ports.load, job.temperature_k, f);
    sum_d += d;
    sum_a += ra.mean_square_velocity(f);
    sum_b += rb.mean_square_velocity(f);
    worst_a = std::max(worst_a, std::abs(base::to_db(ra.mean_square_velocity(f) / d)));
  }
  // (a) against (b): band and one-third octaves in closed form, loss factors.
  double worst_third = 0.0;
  for (const response::ThirdOctave& t : response::third_octaves(job.band.low_hz, job.band.high_hz))
    worst_third = std::max(
        worst_third,
        std::abs(ra.band_level_db(t.low_hz, t.high_hz) - rb.band_level_db(t.low_hz, t.high_hz)));
  const double band = std::abs(ra.band_level_db(job.band.low_hz, job.band.high_hz) -
                               rb.band_level_db(job.band.low_hz, job.band.high_hz));
  const reduced::ComplexModes ma = reduced::complex_modes(a.model, job.band.high_hz);
  const reduced::ComplexModes mb = reduced::complex_modes(b, job.band.high_hz);
  double worst_loss = 0.0;
  for (Eigen::Index i = 0; i < std::min(ma.freq_hz.size(), mb.freq_hz.size()); ++i)
    worst_loss = std::max(worst_loss, std::abs(mb.loss_factor(i) / ma.loss_factor(i) - 1.0));
  std::printf(
      "%s, %s, %ld nodes: (a)-direct %.3f dB summed, %.3f dB worst; (b)-direct %.3f dB "
      "summed; (a)-(b) band %.3f dB, worst third %.3f dB, loss %.2f %% over %ld modes\n",
      c.job,
      c.layout,
      static_cast<long>(panel.mesh.nodes.rows()),
      base::to_db(sum_a / sum_d),
      worst_a,
      base::to_db(sum_b / sum_d),
      band,
      worst_third,
      100.0 * worst_loss,
      static_cast<long>(ma.freq_hz.size()));
  CHECK(std::abs(base::to_db(sum_a / sum_d)) < 0.2);
  CHECK(worst_a < 0.5);
  CHECK(std::abs(base::to_db(sum_b / sum_d)) < 0.2);
  CHECK(band < 0.2);
  CHECK(worst_third < 0.5);
  CHECK(ma.freq_hz.size() == mb.freq_hz.size());
  CHECK(worst_loss < 0.02);
}

}  // namespace

// Source: [derived] three routes to the same answer: the full complex system solved directly, its
// reduction (a), and the bare panel's basis with condensed pieces (b). Elements are coarse here
// only to keep the direct solves short; the models share them.
TEST_CASE("direct solve and both reduced models agree on the flat plate", "[study][derived]") {
  compare({"flat_test_plate.toml", "quarter", 0.0, 16});
  compare({"flat_test_plate.toml", "bitumen", 0.0, 16});
}

TEST_CASE("direct solve and both reduced models agree on the demo door", "[study][derived]") {
  compare({"estate_front_door.toml", "partial", 0.02, 16});
  compare({"estate_front_door.toml", "full", 0.02, 16});
}
