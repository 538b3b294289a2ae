// SPDX-License-Identifier: GPL-3.0-or-later
#include "drive/woofer_response.hpp"

#include <cmath>
#include <complex>
#include <stdexcept>

#include "base/units.hpp"
#include "drive/filters.hpp"

namespace calmplate::drive {
namespace {

using Complex = std::complex<double>;
using base::kAirDensity;
using base::kAirSound;
using base::kTwoPi;

constexpr Complex kI{0.0, 1.0};
constexpr int kStepsPerOctave = 96;

bool above_0(double value) { return std::isfinite(value) && value > 0.0; }

/// Volume velocity into the box's air and out of its leak for each pascal, m3/(s Pa).
struct BoxAdmittance {
  Complex spring, leak;
};

BoxAdmittance admittance(const Box& box, double omega) {
  BoxAdmittance y;
  const double air_pa = kAirDensity * kAirSound * kAirSound;
  y.spring = kI * omega * box.volume_m3 / (air_pa * Complex(1.0, box.loss_factor));
  if (box.leak_area_m2 > 0.0)
    y.leak = box.leak_area_m2 / (kI * omega * kAirDensity * box.leak_length_m);
  return y;
}

void check_box(const std::optional<Box>& box) {
  if (!box) return;
  if (!above_0(box->volume_m3) || !(box->loss_factor >= 0.0) || !std::isfinite(box->loss_factor) ||
      !(box->leak_area_m2 >= 0.0) || !std::isfinite(box->leak_area_m2) ||
      (box->leak_area_m2 > 0.0 && !above_0(box->leak_length_m)))
    throw std::invalid_argument("woofer_response: box out of range");
}

/// Motion at one frequency.
struct Motion {
  Complex velocity, pressure, leak, impedance;
  double box_loss = 0.0;
};

Motion motion(const Woofer& w, const std::optional<Box>& box, Complex voltage, double omega) {
  const Complex suspension = w.rms_ns_m + kI * (omega * w.mms_kg - 1.0 / (omega * w.cms_m_n));
  const Complex still = suspension + w.bl_tm * w.bl_tm / w.re_ohm;
  const Complex push = w.bl_tm * voltage / w.re_ohm;
  Motion m;
  if (!box) {
    m.velocity = push / still;
    m.impedance = w.re_ohm + w.bl_tm * w.bl_tm / suspension;
    return m;
  }
  // Multiplied through by the admittance, which vanishes where leak and spring resonate.
  const BoxAdmittance air = admittance(*box, omega);
  const Complex y = air.spring + air.leak;
  const double area2 = w.sd_m2 * w.sd_m2;
  m.velocity = push * y / (still * y + area2);
  m.pressure = push * w.sd_m2 / (still * y + area2);
  m.leak = air.leak * m.pressure;
  m.impedance = w.re_ohm + w.bl_tm * w.bl_tm * y / (suspension * y + area2);
  m.box_loss = air.spring.real() * std::norm(m.pressure);
  return m;
}

/// Pressure (rms) at 1 m of a small source in a large wall, Pa.
double at_one_metre(double omega, Complex volume_m3_s) {
  return kAirDensity * omega * std::abs(volume_m3_s) / kTwoPi;
}

/// Only its shape over frequency is asked for: 1 V.
class LevelCurve {
 public:
  LevelCurve(const Woofer& woofer, const FilterInput& filter, const std::optional<Box>& box)
      : woofer_(woofer), filter_(filter), box_(box) {}

  double operator()(double freq_hz) const {
    const double omega = kTwoPi * freq_hz;
    const Motion m = motion(woofer_, box_, filter_response(filter_, freq_hz), omega);
    return 2.0 * base::to_db(at_one_metre(omega, woofer_.sd_m2 * m.velocity) / kPressureReference);
  }

  /// The frequency of the peak between two others. Golden section.
  double peak(double low_hz, double high_hz) const {
    constexpr double kShare = 0.61803398874989485;  // (sqrt(5) - 1)/2
    double left = high_hz - kShare * (high_hz - low_hz), left_db = (*this)(left);
    double right = low_hz + kShare * (high_hz - low_hz), right_db = (*this)(right);
    while (high_hz - low_hz > 1e-8 * high_hz) {
      if (left_db < right_db) {
        low_hz = left;
        left = right;
        left_db = right_db;
        right = low_hz + kShare * (high_hz - low_hz);
        right_db = (*this)(right);
      } else {
        high_hz = right;
        right = left;
        right_db = left_db;
        left = high_hz - kShare * (high_hz - low_hz);
        left_db = (*this)(left);
      }
    }
    return 0.5 * (low_hz + high_hz);
  }

  /// Where the level passes `limit_db` between a frequency below it and one at or above it.
  double crossing(double below_hz, double above_hz, double limit_db) const {
    while (std::abs(above_hz - below_hz) > 1e-10 * above_hz) {
      const double middle = 0.5 * (below_hz + above_hz);
      ((*this)(middle) >= limit_db ? above_hz : below_hz) = middle;
    }
    return above_hz;
  }

 private:
  const Woofer& woofer_;
  const FilterInput& filter_;
  const std::optional<Box>& box_;
};

void resize(WooferResponse& r, Eigen::Index n) {
  for (Eigen::VectorXcd* v : {&r.voltage_v,
                              &r.impedance_ohm,
                              &r.velocity_m_s,
                              &r.displacement_m,
                              &r.volume_m3_s,
                              &r.pressure_pa,
                              &r.leak_volume_m3_s,
                              &r.frame_force_n})
    v->resize(n);
  for (Eigen::VectorXd* v : {&r.power_in_w,
                             &r.coil_loss_w,
                             &r.suspension_loss_w,
                             &r.box_loss_w,
                             &r.level_db,
                             &r.radiated_w})
    v->resize(n);
}

}  // namespace

double thin_leak_length(double area_m2) {
  if (!above_0(area_m2)) throw std::invalid_argument("thin_leak_length: area_m2 must be above 0");
  return 2.0 * 8.0 / (3.0 * base::kPi) * std::sqrt(area_m2 / base::kPi);
}

std::optional<Box> make_box(const CavityInput& cavity, double skin_area_m2) {
  if (const auto fault = fault_of(cavity))
    throw std::invalid_argument("make_box: " + fault->key + " " + fault->problem);
  if (!above_0(skin_area_m2))
    throw std::invalid_argument("make_box: skin_area_m2 must be finite and above 0");
  if (!cavity.wanted) return std::nullopt;
  Box box;
  const double depth_m = cavity.depth_bottom_m
                             ? 0.5 * (*cavity.depth_bottom_m + *cavity.depth_top_m)
                             : cavity.depth_m.value_or(0.0);
  box.volume_m3 = cavity.volume_m3 ? *cavity.volume_m3 : depth_m * skin_area_m2;
  box.loss_factor = cavity.lining_loss_factor;
  box.leak_area_m2 = cavity.leak_area_m2;
  if (box.leak_area_m2 > 0.0)
    box.leak_length_m =
        cavity.leak_length_m ? *cavity.leak_length_m : thin_leak_length(box.leak_area_m2);
  return box;
}

WooferResponse woofer_response(const Woofer& woofer,
                               double voltage_v,
                               const FilterInput& filter,
                               const std::optional<Box>& box,
                               const Eigen::VectorXd& freq_hz) {
  if (!(voltage_v >= 0.0) || !std::isfinite(voltage_v))
    throw std::invalid_argument("woofer_response: voltage_v must be finite and at or above 0");
  check_box(box);
  WooferResponse r;
  r.freq_hz = freq_hz;
  resize(r, freq_hz.size());
  for (Eigen::Index i = 0; i < freq_hz.size(); ++i) {
    if (!above_0(freq_hz[i]))
      throw std::invalid_argument("woofer_response: freq_hz must be finite and above 0");
    const double omega = kTwoPi * freq_hz[i];
    const Complex e = voltage_v * filter_response(filter, freq_hz[i]);
    const Motion m = motion(woofer, box, e, omega);
    const Complex current = (e - woofer.bl_tm * m.velocity) / woofer.re_ohm;
    r.voltage_v[i] = e;
    r.impedance_ohm[i] = m.impedance;
    r.velocity_m_s[i] = m.velocity;
    r.displacement_m[i] = m.velocity / (kI * omega);
    r.volume_m3_s[i] = woofer.sd_m2 * m.velocity;
    r.pressure_pa[i] = m.pressure;
    r.leak_volume_m3_s[i] = m.leak;
    r.frame_force_n[i] = -woofer.mms_kg * kI * omega * m.velocity;
    r.power_in_w[i] = (e * std::conj(current)).real();
    r.coil_loss_w[i] = woofer.re_ohm * std::norm(current);
    r.suspension_loss_w[i] = woofer.rms_ns_m * std::norm(m.velocity);
    r.box_loss_w[i] = m.box_loss;
    const double pressure = at_one_metre(omega, r.volume_m3_s[i]);
    r.level_db[i] = 2.0 * base::to_db(pressure / kPressureReference);
    r.radiated_w[i] = kTwoPi * pressure * pressure / (kAirDensity * kAirSound);
  }
  return r;
}

Travel largest_travel(const WooferResponse& response, const Woofer& woofer) {
  if (response.freq_hz.size() == 0)
    throw std::invalid_argument("largest_travel: the response has no frequency");
  Eigen::Index at = 0;
  Travel travel;
  travel.peak_m = std::sqrt(2.0) * response.displacement_m.cwiseAbs().maxCoeff(&at);
  travel.at_hz = response.freq_hz[at];
  if (woofer.xmax_m) travel.of_xmax = travel.peak_m / *woofer.xmax_m;
  return travel;
}

WooferBand woofer_band(const Woofer& woofer,
                       const FilterInput& filter,
                       const std::optional<Box>& box,
                       const BandSearch& search) {
  if (!above_0(search.low_hz) || !std::isfinite(search.high_hz) ||
      search.high_hz <= search.low_hz || !above_0(search.below_db))
    throw std::invalid_argument("woofer_band: the search is empty or not finite");
  check_box(box);
  const LevelCurve level(woofer, filter, box);
  const double octaves = std::log2(search.high_hz / search.low_hz);
  const int steps = static_cast<int>(std::ceil(octaves * kStepsPerOctave)) + 1;
  Eigen::VectorXd freq(steps + 1), db(steps + 1);
  for (int i = 0; i <= steps; ++i) {
    freq[i] = i == steps ? search.high_hz
                         : search.low_hz * std::exp2(octaves * i / static_cast<double>(steps));
    db[i] = level(freq[i]);
  }
  Eigen::Index top = 0;
  db.maxCoeff(&top);
  WooferBand band;
  band.peak_hz = freq[top];
  if (top > 0 && top < steps) band.peak_hz = level.peak(freq[top - 1], freq[top + 1]);
  const double limit = level(band.peak_hz) - search.below_db;
  Eigen::Index first = 0, last = steps;
  while (db[first] < limit) ++first;
  while (db[last] < limit) --last;
  band.open_low = first == 0;
  band.open_high = last == steps;
  band.low_hz = band.open_low ? freq[0] : level.crossing(freq[first - 1], freq[first], limit);
  band.high_hz = band.open_high ? freq[steps] : level.crossing(freq[last + 1], freq[last], limit);
  return band;
}

}  // namespace calmplate::drive
