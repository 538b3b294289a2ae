// SPDX-License-Identifier: GPL-3.0-or-later
#include "drive/woofer.hpp"

#include <cmath>
#include <stdexcept>
#include <string>

#include "base/units.hpp"

namespace calmplate::drive {
namespace {

constexpr double kAirStiffness = base::kAirDensity * base::kAirSound * base::kAirSound;  // Pa

template <typename Input>
void refuse_fault(const std::string& caller, const Input& input) {
  if (const auto fault = fault_of(input))
    throw std::invalid_argument(caller + ": " + fault->key + " " + fault->problem);
}

/// The quality factor that is missing of Q1, Q2 and their parallel Qts.
double other_q(double qts, double q) { return 1.0 / (1.0 / qts - 1.0 / q); }

double moving_mass(const WooferInput& input, double qes) {
  const double ws = base::kTwoPi * input.fs_hz;
  if (input.mms_kg) return *input.mms_kg;
  if (input.cms_m_n) return 1.0 / (ws * ws * *input.cms_m_n);
  if (input.vas_m3) return kAirStiffness * input.sd_m2 * input.sd_m2 / (ws * ws * *input.vas_m3);
  if (input.bl_tm) return *input.bl_tm * *input.bl_tm * qes / (ws * input.re_ohm);
  throw std::invalid_argument("complete_set: none of Mms, Cms, Vas, Bl is given");
}

}  // namespace

double equivalent_volume(double cms_m_n, double sd_m2) {
  return kAirStiffness * sd_m2 * sd_m2 * cms_m_n;
}

Woofer complete_set(const WooferInput& input) {
  Woofer w;
  w.fs_hz = input.fs_hz;
  w.re_ohm = input.re_ohm;
  w.sd_m2 = input.sd_m2;
  if (input.qms && input.qes) {
    w.qms = *input.qms;
    w.qes = *input.qes;
  } else if (input.qts && input.qes) {
    w.qes = *input.qes;
    w.qms = other_q(*input.qts, w.qes);
  } else if (input.qts && input.qms) {
    w.qms = *input.qms;
    w.qes = other_q(*input.qts, w.qms);
  } else {
    throw std::invalid_argument("complete_set: fewer than two of Qms, Qes, Qts are given");
  }
  w.qts = 1.0 / (1.0 / w.qms + 1.0 / w.qes);
  w.mms_kg = moving_mass(input, w.qes);
  const double ws = base::kTwoPi * w.fs_hz;
  w.cms_m_n = 1.0 / (ws * ws * w.mms_kg);
  w.rms_ns_m = ws * w.mms_kg / w.qms;
  w.bl_tm = std::sqrt(ws * w.mms_kg * w.re_ohm / w.qes);
  w.vas_m3 = equivalent_volume(w.cms_m_n, w.sd_m2);
  w.xmax_m = input.xmax_m;
  w.nominal_ohm = input.nominal_ohm;
  return w;
}

Woofer make_woofer(const WooferInput& input) {
  refuse_fault("make_woofer", input);
  Woofer w = complete_set(input);
  w.count = input.count;
  const double n = w.count;
  w.re_ohm /= n;
  w.mms_kg *= n;
  w.cms_m_n /= n;
  w.rms_ns_m *= n;
  w.sd_m2 *= n;
  w.vas_m3 *= n;
  if (w.nominal_ohm) w.nominal_ohm = *w.nominal_ohm / n;
  return w;
}

MovingPart moving_part(const Woofer& w) {
  MovingPart part;
  part.mass_kg = w.mms_kg;
  part.stiffness_n_m = 1.0 / w.cms_m_n;
  part.resistance_ns_m = w.rms_ns_m + w.bl_tm * w.bl_tm / w.re_ohm;
  part.drive_n_per_volt = w.bl_tm / w.re_ohm;
  part.sd_m2 = w.sd_m2;
  return part;
}

double amplifier_voltage(const AmplifierInput& amplifier, const Woofer& woofer) {
  refuse_fault("amplifier_voltage", amplifier);
  if (amplifier.voltage_v) return *amplifier.voltage_v;
  return std::sqrt(*amplifier.power_w * woofer.nominal_ohm.value_or(woofer.re_ohm));
}

double reference_efficiency(const Woofer& w) {
  const double push = w.bl_tm * w.sd_m2 / w.mms_kg;
  return base::kAirDensity * push * push / (base::kTwoPi * base::kAirSound * w.re_ohm);
}

BoxResonance box_resonance(const Woofer& woofer, double volume_m3) {
  if (!(volume_m3 > 0.0) || !std::isfinite(volume_m3))
    throw std::invalid_argument("box_resonance: volume_m3 must be finite and above 0");
  const double rise = std::sqrt(1.0 + woofer.vas_m3 / volume_m3);
  return {woofer.fs_hz * rise, woofer.qts * rise};
}

}  // namespace calmplate::drive
