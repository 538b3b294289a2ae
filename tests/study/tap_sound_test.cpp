// SPDX-License-Identifier: GPL-3.0-or-later
#include "study/tap_sound.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <complex>
#include <cstdio>

#include "base/units.hpp"
#include "drive/spectrum.hpp"
#include "reduced/complex_modes.hpp"
#include "response/radiation.hpp"
#include "study/woofer_door.hpp"

using namespace calmplate;
using namespace calmplate::testing;
using Complex = std::complex<double>;

namespace {

/// The Fourier transform of ringing tones at one frequency.
Complex transform(const std::vector<study::TapTone>& tones, double freq_hz) {
  const Complex iw(0.0, base::kTwoPi * freq_hz);
  Complex sum = 0.0;
  for (const study::TapTone& t : tones) {
    const Complex half = 0.5 * std::polar(t.amplitude_pa, t.phase_rad);
    const Complex pole(-t.decay_per_s, base::kTwoPi * t.freq_hz);
    sum += half / (iw - pole) + std::conj(half) / (iw - std::conj(pole));
  }
  return sum;
}

/// What a curve has at a frequency over the mean a step to each side.
template <typename Curve>
Complex bump(const Curve& curve, double freq_hz, double step_hz) {
  return curve(freq_hz) - 0.5 * (curve(freq_hz - step_hz) + curve(freq_hz + step_hz));
}

}  // namespace

// Source: [derived] the Fourier transform of the ringing tones has the peaks of the response to the
// knock, solved frequency by frequency. Below them lies what does not ring: modes further up and
// the pulse itself, smooth over frequency, hence the comparison of bumps.
TEST_CASE("the tones of a tap are what the door answers to a knock", "[study][derived]") {
  const JobOnPanel p = demo_job("estate_front_door.toml", 0.025);
  const study::Common common = study::common_of(p.job, p.panel, {});
  const study::TapInput tap = study::tap_of(common);
  CHECK(tap.up_to_hz == Approx(1.25 * p.job.band.high_hz));
  CHECK((tap.at - p.job.drive.at).norm() < 0.025);
  drive::DriveInput pulse;
  pulse.kind = drive::Kind::tap;
  pulse.impulse_ns = tap.impulse_ns;
  pulse.contact_s = tap.contact_s;
  const Eigen::VectorXd& area = common.skin.node_area;
  const panel::Nodes& nodes = p.panel.mesh.nodes;
  const Eigen::Vector3d middle = nodes.transpose() * area / area.sum();
  const Eigen::Vector3d ear = middle + (p.panel.normals.transpose() * area).normalized();
  for (const job::Layout* layout :
       {static_cast<const job::Layout*>(nullptr), &layout_named(p.job, "partial")}) {
    const CoupledStudy s(p, layout);
    const std::vector<study::TapTone> tones = study::tap_tones(
        common, s.red, s.door, reduced::complex_modes(s.door.model, tap.up_to_hz), tap);
    const Eigen::MatrixXd volume = area.asDiagonal() * s.red.normal;
    reduced::ReducedModel model = s.door.model;
    model.load = s.red.normal.row(tap.node).transpose();
    std::vector<study::TapTone> highest = tones;
    std::sort(highest.begin(), highest.end(), [](const auto& a, const auto& b) {
      return a.amplitude_pa / a.decay_per_s > b.amplitude_pa / b.decay_per_s;
    });
    REQUIRE(highest.size() > 10);
    double worst = 0.0;
    const auto exact = [&](double f) {
      return std::sqrt(drive::strength(pulse, f)) * Complex(0.0, base::kTwoPi * f) *
             std::polar(1.0, base::kTwoPi * f / base::kAirSound) *
             (response::pressure_row(nodes, volume, f, ear) * model.solve(f)).value();
    };
    for (std::size_t i = 0; i < 8; ++i) {
      const double f = highest[i].freq_hz, step = highest[i].decay_per_s / base::kPi;
      const Complex want = bump(exact, f, step);
      const double off =
          std::abs(bump([&](double g) { return transform(tones, g); }, f, step) / want - 1.0);
      std::printf("tap, %s: %.1f Hz, off by %.2f %%\n",
                  layout != nullptr ? layout->name.c_str() : "bare",
                  f,
                  100.0 * off);
      worst = std::max(worst, off);
    }
    // With sheet loss factors reach 0.4: peaks are wide, and the pulse differs over them.
    CHECK(worst < (layout == nullptr ? 0.02 : 0.08));
  }
}
