// SPDX-License-Identifier: GPL-3.0-or-later
#include "drive/woofer_response.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <limits>
#include <stdexcept>
#include <string>
#include <vector>

#include "base/units.hpp"
#include "drive/woofers.hpp"

using namespace calmplate;
using drive::Box;
using drive::FilterInput;
using drive::FilterSlope;
using drive::FilterType;

namespace {

const Eigen::VectorXd kFrequencies = (Eigen::VectorXd(6) << 15, 40, 65, 73.3, 120, 300).finished();

drive::Woofer woofer() { return drive::make_woofer(testing::woofer_165()); }

Box leaky() {
  Box box;
  box.volume_m3 = 0.06;
  box.loss_factor = 0.2;
  box.leak_area_m2 = 0.01;
  box.leak_length_m = 0.05;
  return box;
}

FilterInput band_filter() {
  FilterInput f;
  f.high_pass = FilterSlope{50.0, 2, FilterType::butterworth};
  f.low_pass = FilterSlope{150.0, 4, FilterType::linkwitz_riley};
  return f;
}

std::string fault(const drive::CavityInput& cavity) {
  const auto f = drive::fault_of(cavity);
  return f ? f->key + ": " + f->problem + "; allowed: " + f->allowed : "no fault";
}

double level_at(const std::optional<Box>& box, const FilterInput& filter, double freq_hz) {
  return drive::woofer_response(woofer(), 1.0, filter, box, Eigen::VectorXd::Constant(1, freq_hz))
      .level_db[0];
}

}  // namespace

// Source: derived. Put back into the equations it solves: force on the cone, and the air of box and
// leak; relations between the columns.
TEST_CASE("the motion satisfies the equations of cone, coil and box", "[drive][derived]") {
  const drive::Woofer w = woofer();
  const drive::MovingPart part = drive::moving_part(w);
  const double air = base::kAirDensity * base::kAirSound * base::kAirSound;
  for (const bool shut : {false, true}) {
    const auto r = drive::woofer_response(
        w, 8.0, band_filter(), shut ? std::optional<Box>(leaky()) : std::nullopt, kFrequencies);
    for (Eigen::Index i = 0; i < kFrequencies.size(); ++i) {
      CAPTURE(shut, kFrequencies[i]);
      const std::complex<double> iw(0.0, base::kTwoPi * kFrequencies[i]);
      const std::complex<double> x = r.displacement_m[i], p = r.pressure_pa[i];
      const std::complex<double> push = part.drive_n_per_volt * r.voltage_v[i];
      const std::complex<double> left =
          (iw * iw * part.mass_kg + iw * part.resistance_ns_m + part.stiffness_n_m) * x +
          part.sd_m2 * p;
      CHECK(std::abs(left - push) < 1e-12 * std::abs(push));
      CHECK(std::abs(r.velocity_m_s[i] - iw * x) < 1e-14);
      CHECK(std::abs(r.frame_force_n[i] + part.mass_kg * iw * iw * x) < 1e-12);
      CHECK(std::abs(r.volume_m3_s[i] - part.sd_m2 * iw * x) < 1e-15);
      // Volume into the box: what its spring takes and what leaves by the leak.
      const std::complex<double> spring =
          iw * leaky().volume_m3 * p / (air * std::complex<double>(1.0, leaky().loss_factor));
      if (shut) {
        CHECK(std::abs(r.volume_m3_s[i] - spring - r.leak_volume_m3_s[i]) <
              1e-12 * std::abs(spring));
        // Newton's second law for the plug of air in the leak.
        CHECK(std::abs(iw * base::kAirDensity * 0.05 * r.leak_volume_m3_s[i] - 0.01 * p) <
              1e-12 * std::abs(p));
      } else {
        CHECK(p == 0.0);
      }
      CHECK(
          std::abs(r.impedance_ohm[i] * (r.voltage_v[i] - w.bl_tm * r.velocity_m_s[i]) / w.re_ohm -
                   r.voltage_v[i]) < 1e-12);
    }
  }
}

// Source: derived. What goes in at the terminals is what coil, suspension and lining turn to heat.
TEST_CASE("electrical power in is the heat in coil, suspension and lining", "[drive][derived]") {
  for (const int which : {0, 1, 2}) {
    std::optional<Box> box;
    if (which > 0) box = leaky();
    if (which == 2) box->loss_factor = 0.0;
    const auto r = drive::woofer_response(woofer(), 8.0, band_filter(), box, kFrequencies);
    for (Eigen::Index i = 0; i < kFrequencies.size(); ++i) {
      CAPTURE(which, kFrequencies[i]);
      CHECK(r.coil_loss_w[i] + r.suspension_loss_w[i] + r.box_loss_w[i] ==
            Approx(r.power_in_w[i]).epsilon(1e-12));
      CHECK(r.power_in_w[i] ==
            Approx((std::norm(r.voltage_v[i]) / r.impedance_ohm[i]).real()).epsilon(1e-12));
      CHECK(r.suspension_loss_w[i] > 0.0);
      CHECK((which == 1 ? r.box_loss_w[i] > 0.0 : r.box_loss_w[i] == 0.0));
    }
  }
}

// Source: derived. Linear: 20 dB for ten times the voltage; the filter stands before all else.
TEST_CASE("motion goes with the voltage and the filter", "[drive][derived]") {
  const auto one = drive::woofer_response(woofer(), 1.0, {}, leaky(), kFrequencies);
  const auto ten = drive::woofer_response(woofer(), 10.0, band_filter(), leaky(), kFrequencies);
  for (Eigen::Index i = 0; i < kFrequencies.size(); ++i) {
    CHECK(std::abs(ten.velocity_m_s[i] - one.velocity_m_s[i] * ten.voltage_v[i]) < 1e-14);
    CHECK(ten.level_db[i] - one.level_db[i] ==
          Approx(20.0 * std::log10(std::abs(ten.voltage_v[i]))).margin(1e-10));
  }
  const auto still = drive::woofer_response(woofer(), 0.0, {}, leaky(), kFrequencies);
  CHECK(still.velocity_m_s.norm() == 0.0);
  CHECK(still.level_db[0] == -std::numeric_limits<double>::infinity());
}

// Source: derived. Half space at 1 m: power = p^2 2 pi / (rho c).
TEST_CASE("level and radiated power tell of the same sound", "[drive][derived]") {
  const auto r = drive::woofer_response(woofer(), 8.0, {}, std::nullopt, kFrequencies);
  for (Eigen::Index i = 0; i < kFrequencies.size(); ++i) {
    const double p = drive::kPressureReference * std::pow(10.0, r.level_db[i] / 20.0);
    CHECK(r.radiated_w[i] ==
          Approx(p * p * base::kTwoPi / (base::kAirDensity * base::kAirSound)).epsilon(1e-12));
  }
}

// Source: derived. A sine of rms 1 has the peak sqrt(2); far below resonance the travel is
// Bl e Cms / Re.
TEST_CASE("the largest travel is a peak, held against Xmax", "[drive][derived]") {
  drive::Woofer w = woofer();
  const Eigen::VectorXd f = (Eigen::VectorXd(3) << 60.0, 0.05, 200.0).finished();
  const auto r = drive::woofer_response(w, 8.0, {}, std::nullopt, f);
  const drive::Travel travel = drive::largest_travel(r, w);
  const double still = w.bl_tm * 8.0 * w.cms_m_n / w.re_ohm;
  CHECK(travel.at_hz == 0.05);
  CHECK(travel.peak_m == Approx(std::sqrt(2.0) * still).epsilon(1e-5));
  CHECK(travel.of_xmax.value() == Approx(travel.peak_m / 0.005).epsilon(1e-14));
  w.xmax_m.reset();
  CHECK_FALSE(drive::largest_travel(r, w).of_xmax);
  const auto none = drive::woofer_response(w, 8.0, {}, std::nullopt, Eigen::VectorXd());
  CHECK_THROWS_AS(drive::largest_travel(none, w), std::invalid_argument);
}

// Source: derived. At its lower end a woofer of Qts 1/sqrt(2) is a Butterworth high-pass:
// r^4/(1 + r^4) = a tenth of what it is at the upper end of the search, which is its peak.
TEST_CASE("the band of a flat woofer starts where its own slope is 10 dB down",
          "[drive][derived]") {
  drive::WooferInput input = testing::woofer_165();
  input.qts = std::sqrt(0.5);
  input.qes.reset();
  const drive::WooferBand band = drive::woofer_band(drive::make_woofer(input), {}, std::nullopt);
  const double top = std::pow(500.0 / 65.0, 4), tenth = 0.1 * top / (1.0 + top);
  CHECK(band.low_hz == Approx(65.0 * std::pow(tenth / (1.0 - tenth), 0.25)).epsilon(1e-8));
  CHECK_FALSE(band.open_low);
  CHECK(band.open_high);
  CHECK(band.high_hz == 500.0);
  CHECK(band.peak_hz == 500.0);
}

// Source: derived. From the definition: 10 dB down at both ends, less outside, whatever lies
// between: a tight leak makes a notch at 141 Hz that does not cut the band.
TEST_CASE("a band ends 10 dB under the peak and leaps over a notch", "[drive][derived]") {
  Box notched;
  notched.volume_m3 = 0.06;
  notched.leak_area_m2 = 0.02;
  notched.leak_length_m = 0.05;  // Helmholtz resonance 141 Hz
  FilterInput filter;
  filter.low_pass = FilterSlope{200.0, 4, FilterType::butterworth};
  for (const auto& box :
       {std::optional<Box>(), std::optional<Box>(leaky()), std::optional<Box>(notched)}) {
    const drive::WooferBand band = drive::woofer_band(woofer(), filter, box);
    CAPTURE(band.low_hz, band.high_hz, band.peak_hz);
    const double limit = level_at(box, filter, band.peak_hz) - 10.0;
    CHECK(level_at(box, filter, band.low_hz) == Approx(limit).margin(1e-6));
    CHECK(level_at(box, filter, band.high_hz) == Approx(limit).margin(1e-6));
    CHECK_FALSE((band.open_low || band.open_high));
    for (double f = 10.0; f < band.low_hz; f *= 1.03) CHECK(level_at(box, filter, f) < limit);
    for (double f = 500.0; f > band.high_hz; f /= 1.03) CHECK(level_at(box, filter, f) < limit);
    double most = -200.0;
    for (double f = band.low_hz; f < band.high_hz; f *= 1.001)
      most = std::max(most, level_at(box, filter, f));
    CHECK(most == Approx(limit + 10.0).margin(1e-3));
  }
  // Notch below the peak, at 141 Hz, and above it, at 223 Hz.
  Box above = notched;
  above.leak_area_m2 = 0.03;
  above.leak_length_m = 0.03;
  FilterInput low = filter;
  low.low_pass = FilterSlope{120.0, 2, FilterType::butterworth};
  for (const bool below : {true, false}) {
    const Box& box = below ? notched : above;
    const FilterInput& f = below ? filter : low;
    const drive::WooferBand band = drive::woofer_band(woofer(), f, box);
    const double notch_hz = base::kAirSound / base::kTwoPi *
                            std::sqrt(box.leak_area_m2 / (box.volume_m3 * box.leak_length_m));
    CAPTURE(below, band.low_hz, notch_hz, band.peak_hz, band.high_hz);
    CHECK((band.peak_hz > notch_hz) == below);
    CHECK(band.low_hz < notch_hz);
    CHECK(band.high_hz > notch_hz);
    CHECK(level_at(box, f, notch_hz * 1.00001) < level_at(box, f, band.peak_hz) - 40.0);
  }
}

// Source: derived. 8/(3 pi) of the radius on either side: the mass 8 rho r^3/3 a face of a rigid
// disc, over rho pi r^2.
TEST_CASE("a cavity becomes a box by volume or by depth, with a leak as thin as sheet",
          "[drive][derived]") {
  drive::CavityInput cavity;
  CHECK_FALSE(drive::make_box(cavity, 0.6));
  cavity.wanted = true;
  cavity.depth_m = 0.1;
  cavity.lining_loss_factor = 0.3;
  const Box tight = drive::make_box(cavity, 0.6).value();
  CHECK(tight.volume_m3 == Approx(0.06).epsilon(1e-14));
  CHECK(tight.loss_factor == 0.3);
  CHECK(tight.leak_area_m2 == 0.0);
  cavity.depth_m.reset();
  cavity.volume_m3 = 0.04;
  const double r = 0.03;
  cavity.leak_area_m2 = base::kPi * r * r;
  const Box thin = drive::make_box(cavity, 0.6).value();
  CHECK(thin.volume_m3 == 0.04);
  CHECK(thin.leak_length_m == Approx(16.0 * r / (3.0 * base::kPi)).epsilon(1e-14));
  cavity.leak_length_m = 0.2;
  CHECK(drive::make_box(cavity, 0.6)->leak_length_m == 0.2);
  for (const double bad : {0.0, -1.0, std::numeric_limits<double>::quiet_NaN()}) {
    CHECK_THROWS_AS(drive::make_box(cavity, bad), std::invalid_argument);
    CHECK_THROWS_AS(drive::thin_leak_length(bad), std::invalid_argument);
  }
}

// Source: practice: common practice, no source.
TEST_CASE("cavities that cannot be are refused", "[drive][practice]") {
  drive::CavityInput cavity;
  CHECK(fault(cavity) == "no fault");
  cavity.wanted = true;
  CHECK(fault(cavity) ==
        "volume_l: is missing; allowed: volume_l, depth_mm, or depth_bottom_mm with depth_top_mm");
  CHECK_THROWS_AS(drive::make_box(cavity, 0.6), std::invalid_argument);
  cavity.volume_m3 = 0.0;
  CHECK(fault(cavity) == "volume_l: is 0 l; allowed: above 0");
  cavity.volume_m3 = 0.06;
  CHECK(fault(cavity) == "no fault");
  cavity.depth_m = 0.1;
  CHECK(fault(cavity) == "depth_mm: stands beside volume_l; allowed: one of volume_l, depth_mm");
  cavity.depth_m = -0.1;
  CHECK(fault(cavity) == "depth_mm: is -100 mm; allowed: above 0");
  cavity.depth_m.reset();
  cavity.leak_length_m = 0.01;
  CHECK(fault(cavity) ==
        "leak_length_mm: is there, but no leak_area_cm2; allowed: leak_area_cm2 above 0 too");
  cavity.leak_area_m2 = -0.01;
  CHECK(fault(cavity) == "leak_area_cm2: is -100 cm2; allowed: at or above 0");
  cavity.leak_area_m2 = 0.01;
  CHECK(fault(cavity) == "no fault");
  cavity.leak_length_m = 0.0;
  CHECK(fault(cavity) == "leak_length_mm: is 0 mm; allowed: above 0");
  cavity.leak_length_m = 0.01;
  cavity.lining_loss_factor = -0.5;
  CHECK(fault(cavity) == "lining_loss_factor: is -0.5; allowed: at or above 0");
}

TEST_CASE("a response asked for out of range is refused", "[drive]") {
  const double nan = std::numeric_limits<double>::quiet_NaN();
  const Eigen::VectorXd good = Eigen::VectorXd::Constant(1, 50.0);
  const auto ask = [&](double voltage, const std::optional<Box>& box, double freq_hz) {
    drive::woofer_response(
        woofer(), voltage, {}, box, freq_hz == 50.0 ? good : Eigen::VectorXd::Constant(1, freq_hz));
  };
  CHECK_NOTHROW(ask(1.0, leaky(), 50.0));
  for (const double bad : {0.0, -1.0, nan})
    CHECK_THROWS_AS(ask(1.0, leaky(), bad), std::invalid_argument);
  for (const double bad : {-1.0, nan})
    CHECK_THROWS_AS(ask(bad, leaky(), 50.0), std::invalid_argument);
  for (const int which : {0, 1, 2, 3})
    for (const double bad : {-1.0, nan}) {
      Box box = leaky();
      (which == 0   ? box.volume_m3
       : which == 1 ? box.loss_factor
       : which == 2 ? box.leak_area_m2
                    : box.leak_length_m) = bad;
      CHECK_THROWS_AS(ask(1.0, box, 50.0), std::invalid_argument);
      CHECK_THROWS_AS(drive::woofer_band(woofer(), {}, box), std::invalid_argument);
    }
  for (const drive::BandSearch& search : {drive::BandSearch{50.0, 50.0, 10.0},
                                          drive::BandSearch{0.0, 50.0, 10.0},
                                          drive::BandSearch{10.0, nan, 10.0},
                                          drive::BandSearch{10.0, 50.0, 0.0}})
    CHECK_THROWS_AS(drive::woofer_band(woofer(), {}, std::nullopt, search), std::invalid_argument);
}
