// SPDX-License-Identifier: GPL-3.0-or-later
#include "sheet/sandwich_cantilever.hpp"

#include <Eigen/Dense>
#include <algorithm>
#include <array>
#include <cmath>
#include <functional>
#include <limits>
#include <stdexcept>
#include <vector>

#include "base/units.hpp"

namespace calmplate::sheet {
namespace {

using Complex = std::complex<double>;
using Function = std::function<Complex(Complex)>;

const Complex kNone(std::numeric_limits<double>::quiet_NaN(),
                    std::numeric_limits<double>::quiet_NaN());

bool finite(Complex z) { return std::isfinite(z.real()) && std::isfinite(z.imag()); }

/// Roots of q^3 + a q^2 + b q + c, all at once (Durand and Kerner), b about 1 in size.
std::array<Complex, 3> cubic_roots(Complex a, Complex b, Complex c) {
  const double size = 1.0 + std::max({std::abs(a), std::abs(b), std::abs(c)});
  std::array<Complex, 3> q;
  for (std::size_t i = 0; i < 3; ++i)
    q[i] = std::pow(size, 0.5) * std::pow(Complex(0.4, 0.9), static_cast<double>(i + 1));
  for (int step = 0; step < 500; ++step) {
    double moved = 0.0;
    for (std::size_t i = 0; i < 3; ++i) {
      const Complex others = (q[i] - q[(i + 1) % 3]) * (q[i] - q[(i + 2) % 3]);
      const Complex change = (((q[i] + a) * q[i] + b) * q[i] + c) / others;
      q[i] -= change;
      moved = std::max(moved, std::abs(change) / std::abs(q[i]));
    }
    if (moved < 1e-15) break;
  }
  return q;
}

/// One of the two solutions that belong to a root q = kappa^2: value and slope at both ends.
struct Wave {
  Complex at_clamp, slope_at_clamp, at_tip, slope_at_tip;
};

std::array<Wave, 2> waves(Complex q) {
  if (q.real() < 0.0) {
    // Even in beta, so that it does not matter which of its two roots is taken.
    const Complex beta = std::sqrt(-q), c = std::cos(beta), s = std::sin(beta);
    return {Wave{1.0, 0.0, c, -beta * s}, Wave{0.0, 1.0, s / beta, c}};
  }
  const Complex kappa = std::sqrt(q), small = std::exp(-kappa);
  return {Wave{small, kappa * small, 1.0, kappa}, Wave{1.0, -kappa, small, -kappa * small}};
}

/// Secant steps of at most half of z itself. @return NaN if they do not settle
Complex settle(const Function& f, Complex start) {
  Complex z0 = start * 1.001, z1 = start;
  Complex f0 = f(z0), f1 = f(z1);
  for (int step = 0; step < 60; ++step) {
    if (!finite(f1) || f1 == f0) return kNone;
    Complex change = -f1 * (z1 - z0) / (f1 - f0);
    const double limit = 0.5 * std::abs(z1);
    if (std::abs(change) > limit) change *= limit / std::abs(change);
    z0 = z1;
    f0 = f1;
    z1 += change;
    // Where the determinant is small all over, rounding keeps it from settling to the last digits.
    if (std::abs(change) <= (step < 20 ? 1e-12 : 1e-8) * std::abs(z1)) return z1;
    f1 = f(z1);
    if (f1 == Complex(0.0, 0.0)) return z1;
  }
  return kNone;
}

}  // namespace

double cantilever_wavenumber(int mode) {
  if (mode < 1) throw std::invalid_argument("cantilever_wavenumber: mode must be 1 or more");
  // cos l = -1/cosh l: within 0.02 of an odd multiple of pi/2, on alternating sides.
  double l = (mode - 0.5) * base::kPi;
  for (int i = 0; i < 50; ++i) {
    const double one_over_cosh = 1.0 / std::cosh(l);
    const double f = std::cos(l) + one_over_cosh;
    const double slope = -std::sin(l) - one_over_cosh * std::tanh(l);
    l -= f / slope;
  }
  return l;
}

SandwichCantilever::SandwichCantilever(double geometry, int mode, bool foil_held)
    : geometry_(geometry), wavenumber_(cantilever_wavenumber(mode)), foil_held_(foil_held) {
  if (!(geometry > 0.0) || !std::isfinite(geometry))
    throw std::invalid_argument("SandwichCantilever: geometry must be finite and above 0");
}

Complex SandwichCantilever::long_bar_frequency(Complex shear) const {
  const double l2 = wavenumber_ * wavenumber_;
  return l2 * l2 * (1.0 + geometry_ * shear / (shear + l2));
}

Complex SandwichCantilever::long_bar_shear(Complex frequency) const {
  const double l2 = wavenumber_ * wavenumber_;
  const Complex stiffened = frequency / (l2 * l2) - 1.0;
  return l2 * stiffened / (geometry_ - stiffened);
}

/// Zero where waves of the six roots meet all six end conditions. For a solution with w'' = q w the
/// slip is s = a w', a = g / (q - g), and w''' - Y g (s + w') = W w' / q.
Complex SandwichCantilever::determinant(Complex shear, Complex frequency) const {
  // Roots over l^2 are about 1 in size: q^3 - g (1 + Y) q^2 - W q + g W = 0.
  const double l2 = wavenumber_ * wavenumber_;
  const Complex g = shear / l2, w = frequency / (l2 * l2);
  const std::array<Complex, 3> roots = cubic_roots(-g * (1.0 + geometry_), -w, g * w);
  Eigen::Matrix<Complex, 6, 6> conditions;
  for (std::size_t i = 0; i < 3; ++i) {
    // a by q^2 (q - g) - g Y q^2 = W (q - g) where q - g would cancel.
    const Complex q = roots[i], apart = q - g;
    const Complex a =
        std::abs(apart) > 0.5 * std::abs(g) ? g / apart : (q * q - w) / (geometry_ * q * q);
    const std::array<Wave, 2> pair = waves(q * l2);
    for (std::size_t j = 0; j < 2; ++j) {
      const Wave& v = pair[j];
      const double l = wavenumber_;
      conditions.col(static_cast<Eigen::Index>(2 * i + j)) << v.at_clamp, v.slope_at_clamp / l,
          foil_held_ ? a * v.slope_at_clamp / l : a * q * v.at_clamp, q * v.at_tip,
          a * q * v.at_tip, v.slope_at_tip / l / q;
    }
  }
  // Where two roots meet, two pairs of columns do, which is no mode.
  const Complex gaps = (roots[0] - roots[1]) * (roots[1] - roots[2]) * (roots[2] - roots[0]);
  return conditions.partialPivLu().determinant() / (gaps * gaps);
}

Complex SandwichCantilever::frequency(Complex shear) const {
  if (!(shear.real() > 0.0) || !finite(shear)) return kNone;
  const Complex start = long_bar_frequency(shear);
  const Complex found = settle([&](Complex w) { return determinant(shear, w); }, start);
  // Nearer to its own long bar's than half-way to the next mode's, in ratio.
  const double next = std::pow(1.0 + base::kPi / wavenumber_, 4.0);
  return std::abs(std::log(found / start)) < 0.45 * std::log(next) ? found : kNone;
}

Complex SandwichCantilever::shear(Complex frequency, Complex near) const {
  if (!finite(frequency) || !finite(near) || near == Complex(0.0, 0.0)) return kNone;
  // Near is mostly near enough; a very lossy core or a free foil may need another start.
  std::vector<Complex> starts = {near};
  for (const double size : {1.0, 0.4, 2.5, 0.1, 10.0})
    for (const double angle : {0.3, 0.8, 1.1})
      starts.push_back(std::polar(size * std::abs(near), angle));
  for (const Complex start : starts) {
    const Complex found = settle([&](Complex g) { return determinant(g, frequency); }, start);
    if (!(found.real() > 0.0)) continue;
    const Complex back = this->frequency(found);
    if (std::abs(back - frequency) < 1e-6 * std::abs(frequency)) return found;
  }
  return kNone;
}

}  // namespace calmplate::sheet
