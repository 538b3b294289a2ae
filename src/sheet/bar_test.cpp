// SPDX-License-Identifier: GPL-3.0-or-later
#include "sheet/bar_test.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <memory>
#include <stdexcept>

#include "base/units.hpp"
#include "sheet/coated_bar.hpp"
#include "sheet/sandwich_cantilever.hpp"

namespace calmplate::sheet {
namespace {

using Complex = std::complex<double>;

constexpr double kNaN = std::numeric_limits<double>::quiet_NaN();
constexpr double kRatioError = 0.01, kLossError = 0.05;

/// Bar and coating as the formulas have them, per unit width; for a sandwich the bar is one face.
struct Section {
  double bar_mass, mass;       // kg/m2, bare and coated
  double bare_ei;              // E H^3 / 12 of one bar, N m
  double faces_ei, keq, y, d;  // of a core in shear

  explicit Section(const BarTest& t) {
    const double h1 = t.bar_thickness_m, h2 = t.layer_thickness_m;
    const bool twin = t.kind == BarKind::sandwich;
    const double h3 = twin ? h1 : t.kind == BarKind::constrained_one_side ? t.foil_thickness_m : 0;
    const double e1 = t.bar.young_pa, e3 = twin ? e1 : t.foil.young_pa;
    bar_mass = t.bar.density * h1;
    mass = bar_mass + (t.kind == BarKind::free_both_sides ? 2.0 : 1.0) * t.layer_density * h2 +
           (twin ? t.bar.density : t.foil.density) * h3;
    bare_ei = e1 * h1 * h1 * h1 / 12.0;
    faces_ei = bare_ei + e3 * h3 * h3 * h3 / 12.0;
    d = h2 + 0.5 * (h1 + h3);
    keq = h3 > 0.0 ? 1.0 / (1.0 / (e1 * h1) + 1.0 / (e3 * h3)) : 0.0;
    y = d * d * keq / faces_ei;
  }

  /// EI* of the coated bar over that of the bare one.
  Complex stiffening(double freq_ratio, double loss) const {
    return freq_ratio * freq_ratio * mass / bar_mass * Complex(1.0, loss);
  }
};

void check(const BarTest& t, const BarTestRow& row) {
  const auto above_zero = [](double x) { return x > 0.0 && std::isfinite(x); };
  const auto require = [](bool right, const char* what) {
    if (!right) throw std::invalid_argument(std::string("bar test: ") + what);
  };
  require(above_zero(t.bar.young_pa) && above_zero(t.bar.density), "bar material");
  require(above_zero(t.bar_thickness_m), "bar_thickness_m");
  require(t.free_length_m >= 0.0 && std::isfinite(t.free_length_m), "free_length_m");
  require(above_zero(t.layer_thickness_m), "layer_thickness_m");
  require(t.layer_density >= 0.0 && std::isfinite(t.layer_density), "layer_density");
  if (t.kind == BarKind::constrained_one_side)
    require(above_zero(t.foil_thickness_m) && above_zero(t.foil.young_pa), "foil");
  require(above_zero(row.freq_hz) && above_zero(row.temp_k), "row's frequency or temperature");
  require(above_zero(row.loss_factor), "row's loss factor must be above 0");
  require(row.freq_ratio >= 0.0 && std::isfinite(row.freq_ratio), "row's frequency ratio");
  require(row.mode >= 0, "row's mode");
}

bool mode_known(const BarTest& t, const BarTestRow& row) {
  return t.ends == BarEnds::cantilever && t.free_length_m > 0.0 && row.mode > 0;
}

SandwichCantilever exact_beam(const BarTest& t, const Section& s, int mode) {
  return SandwichCantilever(s.y, mode, t.foil_held);
}

/// g of the cantilever per Pa of shear modulus.
double shear_per_pa(const BarTest& t, const Section& s) {
  return t.free_length_m * t.free_length_m / (t.layer_thickness_m * s.keq);
}

BarAnswer cantilever_answer(const BarTest& t, const BarTestRow& row, Complex modulus) {
  const Section s(t);
  const Complex w = exact_beam(t, s, row.mode).frequency(shear_per_pa(t, s) * modulus) *
                    (s.faces_ei / s.bare_ei / std::pow(cantilever_wavenumber(row.mode), 4.0));
  // w is EI* over that of the bare bar as stiffening() has it.
  return {std::sqrt(w.real() * s.bar_mass / s.mass), w.imag() / w.real()};
}

/// The coated bar as a sheet on a bar; a sandwich is a foil as thick as the bar.
Sheet as_sheet(const BarTest& t, Complex modulus) {
  Sheet sheet;
  sheet.kind = t.shear() ? Kind::constrained : Kind::free_layer;
  sheet.core_thickness_m = t.layer_thickness_m;
  sheet.core_density = t.layer_density;
  sheet.core_poisson = t.layer_poisson;
  sheet.core_modulus =
      std::make_shared<const ConstantModulus>(modulus.real(), modulus.imag() / modulus.real());
  if (t.kind == BarKind::sandwich) {
    sheet.foil = t.bar;
    sheet.foil_thickness_m = t.bar_thickness_m;
  } else if (t.kind == BarKind::constrained_one_side) {
    sheet.foil = t.foil;
    sheet.foil_thickness_m = t.foil_thickness_m;
  }
  return sheet;
}

/// e = E1* / E of one free layer from e^2 T^4 + e (4T + 6T^2 + 4T^3 - a T) + 1 - a = 0.
Complex free_layer_ratio(double thickness, Complex a) {
  const double t = thickness, b = 4.0 + 6.0 * t + 4.0 * t * t;
  return ((a - b) + std::sqrt((a - b) * (a - b) - 4.0 * t * t * (1.0 - a))) / (2.0 * t * t * t);
}

Complex both_sides_ratio(double thickness, Complex a) {
  const double t = thickness;
  return (a - 1.0) / (8.0 * t * t * t + 12.0 * t * t + 6.0 * t);
}

/// Wavenumber squared of the bare bar at the frequency fc / ratio, 1/m2.
double bare_wavenumber2(const Section& s, double freq_hz, double freq_ratio) {
  return base::kTwoPi * freq_hz / freq_ratio * std::sqrt(s.bar_mass / s.bare_ei);
}

/// z' / Y with z' = EI*/faces_ei - 1: 0 where the core does nothing, 1 where it is rigid.
Complex shear_share(const Section& s, Complex stiffening) {
  return (stiffening * s.bare_ei / s.faces_ei - 1.0) / s.y;
}

Complex long_bar_shear(const BarTest& t, const BarTestRow& row, double ratio) {
  const Section s(t);
  const Complex share = shear_share(s, s.stiffening(ratio, row.loss_factor));
  return bare_wavenumber2(s, row.freq_hz, ratio) * share / (1.0 - share) * t.layer_thickness_m *
         s.keq;
}

/// Solves bar_answer = readings by complex secant steps, for what the closed form leaves out: the
/// core's own stretching. @return NaN if it does not settle
Complex refined(const BarTest& t, const BarTestRow& row, double ratio, Complex start) {
  const Section s(t);
  const Complex wanted = s.stiffening(ratio, row.loss_factor);
  const auto miss = [&](Complex modulus) {
    const BarAnswer a = bar_answer(t, row, modulus);
    return s.stiffening(a.freq_ratio, a.loss_factor) - wanted;
  };
  const auto possible = [](Complex m) { return m.real() > 0.0 && m.imag() >= 0.0; };
  if (!possible(start)) return {kNaN, kNaN};
  Complex m0 = start * Complex(1.001, 0.0), m1 = start, f0 = miss(m0), f1 = miss(m1);
  for (int step = 0; step < 50; ++step) {
    if (std::abs(f1) <= 1e-11 * std::abs(wanted)) return m1;
    Complex change = -f1 * (m1 - m0) / (f1 - f0);
    while (!possible(m1 + change) && std::abs(change) > 1e-12 * std::abs(m1)) change *= 0.5;
    m0 = m1;
    f0 = f1;
    m1 += change;
    if (!possible(m1) || m1 == m0) break;
    f1 = miss(m1);
  }
  return {kNaN, kNaN};
}

/// Modulus from readings whose ratio is known; NaN or an impossible value if there is none.
Complex exact_inverse(const BarTest& t, const BarTestRow& row, double ratio) {
  const Section s(t);
  const Complex a = s.stiffening(ratio, row.loss_factor);
  const double thickness = t.layer_thickness_m / t.bar_thickness_m;
  if (t.kind == BarKind::free_one_side) return t.bar.young_pa * free_layer_ratio(thickness, a);
  if (t.kind == BarKind::free_both_sides) return t.bar.young_pa * both_sides_ratio(thickness, a);
  const Complex start = long_bar_shear(t, row, ratio);
  if (!mode_known(t, row)) return refined(t, row, ratio, start);
  const SandwichCantilever beam = exact_beam(t, s, row.mode);
  const Complex w = a * (s.bare_ei / s.faces_ei * std::pow(cantilever_wavenumber(row.mode), 4.0));
  // The sine wave's answer may be far off, or impossible, where the ends matter most.
  Complex near = beam.long_bar_shear(w);
  if (!(near.real() > 0.0)) near = Complex(std::abs(near), std::abs(near));
  return beam.shear(w, near) / shear_per_pa(t, s);
}

bool is_material(Complex modulus) {
  return std::isfinite(modulus.real()) && std::isfinite(modulus.imag()) && modulus.real() > 0.0 &&
         modulus.imag() > 0.0;
}

struct Change {
  double modulus = 0.0, loss = 0.0;
};

Change change_by(const BarTest& t, BarTestRow row, double ratio, Complex answer) {
  const Complex other = exact_inverse(t, row, ratio);
  if (!is_material(other))
    return {std::numeric_limits<double>::infinity(), std::numeric_limits<double>::infinity()};
  return {std::abs(other.real() / answer.real() - 1.0),
          std::abs(other.imag() / other.real() * answer.real() / answer.imag() - 1.0)};
}

void add_sensitivity(const BarTest& t, const BarTestRow& row, Complex answer, RowResult& out) {
  for (const double sign : {-1.0, 1.0}) {
    const Change by_ratio = change_by(t, row, out.freq_ratio * (1.0 + sign * kRatioError), answer);
    BarTestRow other = row;
    other.loss_factor *= 1.0 + sign * kLossError;
    const Change by_loss = change_by(t, other, out.freq_ratio, answer);
    out.modulus_by_ratio = std::max(out.modulus_by_ratio, by_ratio.modulus);
    out.loss_by_ratio = std::max(out.loss_by_ratio, by_ratio.loss);
    out.modulus_by_loss = std::max(out.modulus_by_loss, by_loss.modulus);
    out.loss_by_loss = std::max(out.loss_by_loss, by_loss.loss);
  }
}

/// Flags that depend on the readings alone.
void add_limits(const BarTest& t, const BarTestRow& row, RowResult& out) {
  constexpr double kLeastStiffening = 1.01, kLeastShare = 0.02, kMostShare = 0.9;
  const auto flag = [&](bool raised, RowFlag which) {
    if (raised) out.flags.push_back(which);
  };
  const Section s(t);
  const bool cantilever = t.ends == BarEnds::cantilever;
  flag(cantilever && row.mode == 1, RowFlag::first_mode);
  flag(cantilever && t.shear() && !mode_known(t, row), RowFlag::taken_as_long);
  flag(row.freq_hz < 50.0 || row.freq_hz > 5000.0, RowFlag::outside_scope);
  if (out.freq_ratio <= 0.0) return;
  const Complex a = s.stiffening(out.freq_ratio, row.loss_factor);
  flag(!t.shear() && a.real() < kLeastStiffening, RowFlag::layer_too_weak);
  if (!t.shear()) return;
  const Complex share = shear_share(s, a);
  flag(share.real() < kLeastShare, RowFlag::core_too_soft);
  flag(std::abs(1.0 - share) < 1.0 - kMostShare, RowFlag::core_too_stiff);
}

bool small_loss_fails(const RowResult& out) {
  const double loss = out.standard.imag() / out.standard.real();
  return !(std::abs(out.standard.real() / out.modulus_pa - 1.0) < 0.01) ||
         !(std::abs(loss / out.loss_factor - 1.0) < 0.01);
}

}  // namespace

bool RowResult::has(RowFlag flag) const {
  return std::find(flags.begin(), flags.end(), flag) != flags.end();
}

double bare_cantilever_hz(const BarTest& test, int mode) {
  if (!(test.free_length_m > 0.0))
    throw std::invalid_argument("bare_cantilever_hz: free_length_m must be above 0");
  const double l = cantilever_wavenumber(mode) / test.free_length_m;
  return l * l / base::kTwoPi * test.bar_thickness_m *
         std::sqrt(test.bar.young_pa / (12.0 * test.bar.density));
}

BarAnswer bar_answer(const BarTest& test, const BarTestRow& row, Complex modulus) {
  check(test, row);
  if (!(modulus.real() > 0.0) || !(modulus.imag() >= 0.0))
    throw std::invalid_argument("bar_answer: modulus must not give energy");
  if (test.shear() && mode_known(test, row)) return cantilever_answer(test, row, modulus);
  Material bar = test.bar;
  bar.loss_factor = 0.0;
  const CoatedBar coated = coated_bar(as_sheet(test, modulus),
                                      bar,
                                      test.bar_thickness_m,
                                      row.freq_hz,
                                      row.temp_k,
                                      test.kind == BarKind::free_both_sides);
  return {coated.freq_ratio, coated.loss_factor};
}

Complex standard_inverse(const BarTest& test, const BarTestRow& row, double freq_ratio) {
  check(test, row);
  if (!(freq_ratio > 0.0)) throw std::invalid_argument("standard_inverse: freq_ratio");
  if (test.shear()) return long_bar_shear(test, row, freq_ratio);
  const double t = test.layer_thickness_m / test.bar_thickness_m, e = test.bar.young_pa;
  const double a = Section(test).stiffening(freq_ratio, 0.0).real(), loss = row.loss_factor;
  if (test.kind == BarKind::free_both_sides) {
    const double q = 8.0 * t * t * t + 12.0 * t * t + 6.0 * t, e1 = e * (a - 1.0) / q;
    return e1 * Complex(1.0, loss * (1.0 + e / (e1 * q)));
  }
  const double b = 4.0 + 6.0 * t + 4.0 * t * t, root = (a - b) * (a - b) - 4.0 * t * t * (1.0 - a);
  const double e1 = e / (2.0 * t * t * t) * ((a - b) + std::sqrt(root)), m = e1 / e;
  const double mt = m * t, m2t4 = mt * mt * t * t;
  return e1 *
         Complex(1.0,
                 loss * (1.0 + mt) * (1.0 + 4.0 * mt + 6.0 * mt * t + 4.0 * mt * t * t + m2t4) /
                     (mt * (3.0 + 6.0 * t + 4.0 * t * t + 2.0 * mt * t * t + m2t4)));
}

RowResult invert_row(const BarTest& test, const BarTestRow& row) {
  constexpr double kBareOff = 0.03, kFarChange = 0.2, kLargeLoss = 0.3;
  check(test, row);
  RowResult out;
  out.modulus_pa = out.loss_factor = kNaN;
  out.standard = {kNaN, kNaN};
  out.freq_ratio = row.freq_ratio;
  if (mode_known(test, row)) {
    const double own_hz = bare_cantilever_hz(test, row.mode);
    if (row.freq_ratio <= 0.0) {
      out.freq_ratio = row.freq_hz / own_hz;
      out.flags.push_back(RowFlag::ratio_computed);
    } else if (std::abs(row.freq_hz / row.freq_ratio / own_hz - 1.0) > kBareOff) {
      out.flags.push_back(RowFlag::bare_frequency_off);
    }
  }
  if (out.freq_ratio <= 0.0) out.flags.push_back(RowFlag::no_ratio);
  add_limits(test, row, out);
  if (out.freq_ratio <= 0.0) return out;

  out.standard = standard_inverse(test, row, out.freq_ratio);
  const Complex answer = exact_inverse(test, row, out.freq_ratio);
  out.determined = is_material(answer);
  if (!out.determined) {
    out.flags.push_back(RowFlag::no_material);
    return out;
  }
  out.modulus_pa = answer.real();
  out.loss_factor = answer.imag() / answer.real();
  add_sensitivity(test, row, answer, out);
  if (row.loss_factor > kLargeLoss ||
      (test.kind == BarKind::free_one_side && small_loss_fails(out)))
    out.flags.push_back(RowFlag::large_loss);
  if (std::max({out.modulus_by_ratio, out.modulus_by_loss, out.loss_by_ratio, out.loss_by_loss}) >
      kFarChange)
    out.flags.push_back(RowFlag::sensitive);
  return out;
}

}  // namespace calmplate::sheet
