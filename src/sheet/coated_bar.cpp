// SPDX-License-Identifier: GPL-3.0-or-later
#include "sheet/coated_bar.hpp"

#include <cmath>
#include <complex>
#include <functional>
#include <stdexcept>
#include <string>

#include "base/units.hpp"

namespace calmplate::sheet {
namespace {

using Complex = std::complex<double>;

Complex lossy(const Material& m) { return m.young_pa * Complex(1.0, m.loss_factor); }

/// Bar (1), core (2) and foil (3) in bending; EI per unit width, N m.
struct Constrained {
  double h1, h2, h3;
  Complex e1, e2, e3, g2;
  bool both_sides;

  Complex rigidity(double p2) const {  // p2: wavenumber squared, 1/m2
    const double h31 = 0.5 * (h1 + h3) + h2, h21 = 0.5 * (h1 + h2);
    const Complex k1 = e1 * h1, k2 = e2 * h2, k3 = e3 * h3;
    const Complex g = g2 / (k3 * h2 * p2);
    // The neutral plane lies this far above the bar's middle.
    const Complex plane = both_sides ? Complex(0.0, 0.0)
                                     : (k2 * (h21 - 0.5 * h31) + g * (k2 * h21 + k3 * h31)) /
                                           (k1 + 0.5 * k2 + g * (k1 + k2 + k3));
    const Complex h31d = h31 - plane, h21d = h21 - plane;
    const Complex layer = (k2 * h2 * h2 + k3 * h3 * h3) / 12.0 - k2 * h2 / 12.0 * h31d / (1.0 + g) +
                          k2 * h21d * h21d + k3 * h31d * h31d -
                          (0.5 * k2 * h21d + k3 * h31d) * h31d / (1.0 + g);
    return k1 * h1 * h1 / 12.0 + k1 * plane * plane + (both_sides ? 2.0 : 1.0) * layer;
  }
};

Complex free_layer_rigidity(Complex e1, double h1, Complex e2, double h2, bool both_sides) {
  const Complex e = e2 / e1;
  const double h = h2 / h1;
  const Complex factor =
      both_sides ? 1.0 + e * h * (8.0 * h * h + 12.0 * h + 6.0)
                 : 1.0 + e * h * h * h + 3.0 * e * h * (1.0 + h) * (1.0 + h) / (1.0 + e * h);
  return e1 * h1 * h1 * h1 / 12.0 * factor;
}

void check(const Sheet& sheet, const Material& bar, double bar_thickness_m, double freq_hz) {
  const auto above_zero = [](double x) { return x > 0.0 && std::isfinite(x); };
  const auto require = [](bool right, const char* what) {
    if (!right) throw std::invalid_argument(std::string("coated_bar: ") + what);
  };
  require(above_zero(bar_thickness_m), "bar_thickness_m must be finite and above 0");
  require(above_zero(freq_hz), "freq_hz must be finite and above 0");
  require(above_zero(bar.young_pa) && above_zero(bar.density) && bar.loss_factor >= 0.0,
          "the bar's modulus and density must be above 0, its loss factor at or above 0");
  require(sheet.mass_per_area() >= 0.0 && std::isfinite(sheet.mass_per_area()),
          "the sheet's mass must be finite and at or above 0");
  if (sheet.kind == Kind::mass) return;
  require(sheet.core_modulus != nullptr, "the sheet needs a modulus");
  require(above_zero(sheet.core_thickness_m), "the sheet's layer needs a thickness");
  if (sheet.kind == Kind::constrained)
    require(above_zero(sheet.foil_thickness_m) && above_zero(sheet.foil.young_pa),
            "the foil needs a thickness and a modulus");
}

/// Rigidity over the wavenumber squared.
std::function<Complex(double)> section(const Sheet& sheet,
                                       const Material& bar,
                                       double bar_thickness_m,
                                       double freq_hz,
                                       double temp_k,
                                       bool both_sides) {
  const Complex e1 = lossy(bar);
  if (sheet.kind == Kind::mass) {
    const Complex bare = e1 * bar_thickness_m * bar_thickness_m * bar_thickness_m / 12.0;
    return [bare](double) { return bare; };
  }
  const Complex modulus = sheet.core_modulus->modulus(freq_hz, temp_k);
  if (sheet.kind == Kind::free_layer) {
    const Complex rigidity =
        free_layer_rigidity(e1, bar_thickness_m, modulus, sheet.core_thickness_m, both_sides);
    return [rigidity](double) { return rigidity; };
  }
  const Constrained c{bar_thickness_m,
                      sheet.core_thickness_m,
                      sheet.foil_thickness_m,
                      e1,
                      3.0 * modulus,
                      lossy(sheet.foil),
                      modulus,
                      both_sides};
  return [c](double p2) { return c.rigidity(p2); };
}

}  // namespace

CoatedBar coated_bar(const Sheet& sheet,
                     const Material& bar,
                     double bar_thickness_m,
                     double freq_hz,
                     double temp_k,
                     bool both_sides) {
  check(sheet, bar, bar_thickness_m, freq_hz);
  const auto rigidity = section(sheet, bar, bar_thickness_m, freq_hz, temp_k, both_sides);
  const double omega = base::kTwoPi * freq_hz;
  const double bare_mass = bar.density * bar_thickness_m;
  const double mass = bare_mass + (both_sides ? 2.0 : 1.0) * sheet.mass_per_area();
  const double bare = bar.young_pa * bar_thickness_m * bar_thickness_m * bar_thickness_m / 12.0;
  // p^2 = w sqrt(m / Re EI(p^2)). EI falls with p^2 by less than its power of -1, so the steps
  // shrink by half or more.
  double p2 = omega * std::sqrt(mass / bare);
  Complex ei = rigidity(p2);
  for (int i = 0; i < 200; ++i) {
    const double next = omega * std::sqrt(mass / ei.real());
    const bool settled = std::abs(next - p2) <= 1e-13 * p2;
    p2 = next;
    ei = rigidity(p2);
    if (settled) break;
  }
  if (!(ei.real() > 0.0) || !std::isfinite(p2))
    throw std::invalid_argument("coated_bar: no wave runs on this section");
  return {freq_hz, std::sqrt(ei.real() / bare * bare_mass / mass), ei.imag() / ei.real()};
}

}  // namespace calmplate::sheet
