// SPDX-License-Identifier: GPL-3.0-or-later
#include "published/closed_forms.hpp"

#include <Eigen/Dense>
#include <cmath>

#include "base/units.hpp"

namespace calmplate::published {
namespace {

/// Value and first derivative of the four radial functions of order n at x, scaled alike.
struct Radial {
  Eigen::Vector4d w, dw;  ///< J, Y, I, K; derivative by x
};

Radial radial(int n, double x) {
  const double j = std::cyl_bessel_j(n, x), y = std::cyl_neumann(n, x);
  const double i = std::cyl_bessel_i(n, x), k = std::cyl_bessel_k(n, x);
  const double q = n / x;
  return {{j, y, i, k},
          {q * j - std::cyl_bessel_j(n + 1, x),
           q * y - std::cyl_neumann(n + 1, x),
           q * i + std::cyl_bessel_i(n + 1, x),
           q * k - std::cyl_bessel_k(n + 1, x)}};
}

}  // namespace

double bending_rigidity(const shell::Plate& p) {
  return p.young_pa * std::pow(p.thickness_m, 3) / 12.0 / (1.0 - p.poisson * p.poisson);
}

double plate_hz(double lambda, double length_m, const shell::Plate& p) {
  return lambda / (length_m * length_m) *
         std::sqrt(bending_rigidity(p) / (p.density * p.thickness_m)) / base::kTwoPi;
}

double three_displacement_hz(const shell::Plate& p, double kx, double ky, const Crown& crown) {
  const double nu = p.poisson, c = p.young_pa * p.thickness_m / (1.0 - nu * nu);
  const Eigen::Vector3d ex(-kx, 0.0, crown.x), ey(0.0, -ky, crown.y), g(ky, kx, 0.0);
  Eigen::Matrix3d k = c * (ex * ex.transpose() + ey * ey.transpose() +
                           nu * (ex * ey.transpose() + ey * ex.transpose())) +
                      0.5 * (1.0 - nu) * c * g * g.transpose();
  k(2, 2) += bending_rigidity(p) * std::pow(kx * kx + ky * ky, 2);
  const Eigen::SelfAdjointEigenSolver<Eigen::Matrix3d> eig(k);
  return std::sqrt(eig.eigenvalues()(0) / (p.density * p.thickness_m)) / base::kTwoPi;
}

std::complex<double> covered_omega2(
    const shell::Plate& base, const sheet::Sheet& s, double kx, double ky, const Crown& crown) {
  const double h1 = base.thickness_m, h2 = s.core_thickness_m, h3 = s.foil_thickness_m;
  const double k1 = base.young_pa * h1 / (1.0 - base.poisson * base.poisson);
  const double k3 = s.foil.young_pa * h3 / (1.0 - s.foil.poisson * s.foil.poisson);
  const double rigidity = (k1 * h1 * h1 + k3 * h3 * h3) / 12.0;
  const double d = h2 + 0.5 * (h1 + h3), keq = k1 * k3 / (k1 + k3), y = d * d * keq / rigidity;
  const std::complex<double> g = s.core_modulus->modulus(100.0, 293.15) / (h2 * keq);
  const double k2 = kx * kx + ky * ky;
  const double membrane = (base.young_pa * h1 + s.foil.young_pa * h3) *
                          std::pow((ky * ky * crown.x + kx * kx * crown.y) / k2, 2);
  return (rigidity * k2 * k2 * (1.0 + y * g / (g + k2)) + membrane) /
         (base.density * h1 + s.mass_per_area());
}

std::complex<double> free_layer_factor(std::complex<double> e, double h) {
  return 1.0 + e * h * h * h + 3.0 * e * h * (1.0 + h) * (1.0 + h) / (1.0 + e * h);
}

double frequency_hz(std::complex<double> omega2) { return std::sqrt(omega2.real()) / base::kTwoPi; }
double loss_factor(std::complex<double> omega2) { return omega2.imag() / omega2.real(); }

double strip_loss(double xi, double core_loss) {
  const std::complex<double> z = std::polar(0.5 * xi, 0.5 * std::atan(core_loss));
  return (1.0 - std::tanh(z) / z).imag();
}

double best_strip(double core_loss) {
  const double small = 1e-4;  // the slope changes sign at the top
  return roots(
             [&](double xi) {
               return strip_loss(xi + small, core_loss) - strip_loss(xi - small, core_loss);
             },
             1.0,
             0.5,
             1)
      .front();
}

std::vector<double> clamped_disc(int n, int count) {
  std::vector<double> lambda;
  const auto f = [n](double k) {
    const Radial r = radial(n, k);
    return (r.w(0) * r.dw(2) - r.w(2) * r.dw(0)) / r.w(2);
  };
  for (const double k : roots(f, 1.0 + n, 0.05, count)) lambda.push_back(k * k);
  return lambda;
}

std::vector<double> clamped_free_ring(int n, double b, double nu, int count) {
  const auto f = [n, b, nu](double k) {
    const Radial outer = radial(n, k), inner = radial(n, k * b);
    const double n2 = double(n) * n;
    Eigen::Matrix4d d;
    d.row(0) = outer.w.transpose();
    d.row(1) = outer.dw.transpose();
    for (int c = 0; c < 4; ++c) {
      const double sign = c < 2 ? -1.0 : 1.0;  // lap w = sign k^2 w
      const double w = inner.w(c), dw = k * inner.dw(c);
      const double bend = sign * k * k * w - dw / b + n2 / (b * b) * w;
      d(2, c) = bend + nu * (dw / b - n2 * w / (b * b));
      d(3, c) = sign * k * k * dw - (1.0 - nu) * n2 / (b * b) * (dw - w / b);
    }
    for (int c = 0; c < 4; ++c) d.col(c).normalize();
    return d.determinant();
  };
  std::vector<double> lambda;
  for (const double k : roots(f, 1.5 + 0.5 * n, 0.02, count)) lambda.push_back(k * k);
  return lambda;
}

}  // namespace calmplate::published
