// SPDX-License-Identifier: GPL-3.0-or-later
#include "job/element_rule.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <string>

#include "base/units.hpp"
#include "job/key_unit.hpp"

namespace calmplate::job {
namespace {

constexpr double kPerLag = 3.0;
constexpr double kFinest = 4e-3, kCoarsest = 25e-3;  // m
constexpr double kStep = 0.5e-3;                     // m
constexpr double kSlack = 1.05;  // a mean edge is never quite what was asked for

double membrane(double young_pa, double poisson, double thickness_m) {
  return young_pa * thickness_m / (1.0 - poisson * poisson);
}

double top_wave_m(const Job& job) {
  return bending_wave_m(job.thickness_m, job.material, job.band.high_hz);
}

/// The shortest shear lag of a piece's sheets at the band's upper end.
double piece_lag_m(const Job& job, const Piece& piece) {
  double lag = std::numeric_limits<double>::infinity();
  for (const std::string& name : piece.sheets)
    lag = std::min(lag,
                   shear_lag_m(job.sheet_named(name),
                               job.thickness_m,
                               job.material,
                               job.band.high_hz,
                               job.temperature_k));
  return lag;
}

}  // namespace

double bending_wave_m(double thickness_m, const sheet::Material& material, double freq_hz) {
  const double rigidity =
      membrane(material.young_pa, material.poisson, thickness_m) * thickness_m * thickness_m / 12.0;
  return std::sqrt(base::kTwoPi / freq_hz) *
         std::pow(rigidity / (material.density * thickness_m), 0.25);
}

double shear_lag_m(const sheet::Sheet& sheet,
                   double thickness_m,
                   const sheet::Material& material,
                   double freq_hz,
                   double temp_k) {
  if (sheet.kind != sheet::Kind::constrained || !sheet.core_modulus)
    return std::numeric_limits<double>::infinity();
  const double shear_pa = std::abs(sheet.core_modulus->modulus(freq_hz, temp_k));
  const double foil = membrane(sheet.foil.young_pa, sheet.foil.poisson, sheet.foil_thickness_m);
  const double skin = membrane(material.young_pa, material.poisson, thickness_m);
  return std::sqrt(sheet.core_thickness_m / shear_pa / (1.0 / foil + 1.0 / skin));
}

double element_size_m(double wave_m, double shear_lag_m) {
  const double wanted = std::min(wave_m / kElementsPerWave, shear_lag_m / kPerLag);
  return kStep * std::floor(std::clamp(wanted, kFinest, kCoarsest) / kStep * (1.0 + 1e-9));
}

void settle_elements(Job& job) {
  if (!job.drawn) return;
  panel::DrawnInput& drawn = *job.drawn;
  drawn.element_m = job.panel_options.element_size_m;
  if (!(drawn.element_m > 0.0))
    drawn.element_m = element_size_m(top_wave_m(job), std::numeric_limits<double>::infinity());
  for (const Layout& layout : job.layouts)
    for (const Piece& piece : layout.pieces) {
      const double size_m =
          element_size_m(std::numeric_limits<double>::infinity(), piece_lag_m(job, piece));
      if (size_m >= drawn.element_m) continue;
      // A piece everywhere ends near the rim.
      const bool everywhere = piece.region.outline.rows() == 0;
      drawn.finer.push_back(
          {everywhere ? drawn.outline.corners : piece.region.outline, true, size_m});
    }
}

void warn_if_coarse(Job& job, double element_m) {
  const double wave_m = top_wave_m(job);
  if (element_m <= kSlack * wave_m / kFewestPerWave) return;
  const auto mm = [](double value_m) {
    return plain_number(std::round(10.0 * base::to_mm(value_m)) / 10.0) + " mm";
  };
  job.warnings.push_back("Elements of " + mm(element_m) + " are coarse: at " +
                         plain_number(job.band.high_hz) + " Hz a bending wave of the skin is " +
                         mm(wave_m) + " long and wants elements of " + mm(wave_m / kFewestPerWave) +
                         " or less (element_mm).");
}

}  // namespace calmplate::job
