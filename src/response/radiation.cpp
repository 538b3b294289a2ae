// SPDX-License-Identifier: GPL-3.0-or-later
#include "response/radiation.hpp"

#include <Eigen/Eigenvalues>
#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "base/parallel.hpp"
#include "base/units.hpp"

namespace calmplate::response {
namespace {

/// Points and weights of Gauss on [-1, 1]: eigenvalues of Legendre's three-term recurrence.
/// Source: [memory] Golub and Welsch 1969; held by the sums in tests/response/radiation_test.cpp.
struct Gauss {
  Eigen::VectorXd at, weight;
};

Gauss gauss(Eigen::Index n) {
  Eigen::VectorXd side(n - 1);
  for (Eigen::Index i = 0; i + 1 < n; ++i) {
    const double k = static_cast<double>(i) + 1.0;
    side(i) = k / std::sqrt(4.0 * k * k - 1.0);
  }
  Eigen::SelfAdjointEigenSolver<Eigen::MatrixXd> eig;
  eig.computeFromTridiagonal(Eigen::VectorXd::Zero(n), side);
  return {eig.eigenvalues(), 2.0 * eig.eigenvectors().row(0).cwiseAbs2().transpose()};
}

/// Directions over half a sphere with weights that sum to 1: the mean over them is that over the
/// whole sphere for even functions of the direction with harmonics up to `degree`.
struct Directions {
  panel::Nodes unit;
  Eigen::VectorXd weight;
};

Directions half_sphere(int degree) {
  const Eigen::Index rings = 2 * ((degree + 4) / 4), around = degree + 1;
  const Gauss g = gauss(rings);
  Directions d;
  d.unit.resize(rings / 2 * around, 3);
  d.weight.resize(d.unit.rows());
  Eigen::Index row = 0;
  for (Eigen::Index i = rings / 2; i < rings; ++i)
    for (Eigen::Index j = 0; j < around; ++j, ++row) {
      const double angle = base::kTwoPi * static_cast<double>(j) / static_cast<double>(around);
      const double z = g.at(i), across = std::sqrt(1.0 - z * z);
      d.unit.row(row) << across * std::cos(angle), across * std::sin(angle), z;
      d.weight(row) = g.weight(i) / static_cast<double>(around);
    }
  return d;
}

/// Highest spherical harmonic of exp(i z cos) that counts at rounding: beyond it the spherical
/// Bessel function of z has died away.
int harmonics(double z) {
  constexpr double kDigits = 14.0;
  return static_cast<int>(std::ceil(z + 1.8 * std::pow(kDigits, 2.0 / 3.0) * std::cbrt(z + 1.0)));
}

/// Knots needed to interpolate sin(z x) / (z x) over 0 <= x <= 1 by even Chebyshev polynomials:
/// the coefficients fall as the Bessel function J_2n(z) < (e z / 4n)^2n.
int knots(double z) {
  constexpr double kSmall = 1e-14;
  int n = 4;
  while (std::pow(std::exp(1.0) * z / (4.0 * n), 2 * n) > kSmall) ++n;
  return n;
}

Eigen::Vector3d mean_normal(const shell::Skin& skin) {
  return (skin.panel->normals.transpose() * skin.node_area).normalized();
}

double wave_number(double freq_hz) { return base::kTwoPi * freq_hz / base::kAirSound; }

}  // namespace

Eigen::Vector3d in_front(const shell::Skin& skin, double distance_m) {
  const Eigen::Vector3d middle =
      skin.panel->mesh.nodes.transpose() * skin.node_area / skin.node_area.sum();
  return middle + distance_m * mean_normal(skin);
}

Eigen::RowVectorXcd pressure_row(const panel::Nodes& place,
                                 const Eigen::MatrixXd& volume,
                                 double freq_hz,
                                 const Eigen::Vector3d& at) {
  if (!(freq_hz > 0.0) || !std::isfinite(freq_hz))
    throw std::invalid_argument("pressure_row: the frequency must be above 0 and finite");
  const Eigen::VectorXd away = (place.rowwise() - at.transpose()).rowwise().norm();
  if (!(away.minCoeff() > 0.0))
    throw std::invalid_argument("pressure_row: the place lies on the skin");
  const Eigen::ArrayXd phase = wave_number(freq_hz) * away.array();
  const Eigen::VectorXd re = phase.cos() / away.array(), im = -phase.sin() / away.array();
  Eigen::RowVectorXcd out(volume.cols());
  out.real() = re.transpose() * volume;
  out.imag() = im.transpose() * volume;
  return std::complex<double>(0.0, freq_hz * base::kAirDensity) * out;
}

Radiator::Radiator(const shell::Skin& skin,
                   const Eigen::MatrixXd& normal,
                   double top_hz,
                   unsigned threads)
    : top_hz_(top_hz) {
  if (normal.rows() != skin.node_area.size())
    throw std::invalid_argument("Radiator: a shape has a row for every node of the skin");
  if (!(top_hz > 0.0) || !std::isfinite(top_hz))
    throw std::invalid_argument("Radiator: the highest frequency must be above 0 and finite");
  const panel::Nodes& nodes = skin.panel->mesh.nodes;
  area_m2_ = skin.node_area.sum();
  middle_ = response::in_front(skin, 0.0);
  outward_ = mean_normal(skin);
  place_ = nodes.rowwise() - middle_.transpose();
  reach_m_ = (nodes.colwise().maxCoeff() - nodes.colwise().minCoeff()).norm();
  volume_ = skin.node_area.asDiagonal() * normal;
  surface_ = normal.transpose() * volume_;

  const double top = wave_number(top_hz);
  const int n = knots(top * reach_m_);
  for (int j = 0; j < n; ++j) {
    const double angle = (j + 0.5) * base::kPi / n;
    knot_.push_back(0.5 * (1.0 + std::cos(angle)));
    knot_weight_.push_back((j % 2 == 0 ? 1.0 : -1.0) * std::sin(angle));
  }
  kernel_.resize(knot_.size());
  base::parallel_for(knot_.size(), threads, [&](std::size_t j) {
    kernel_[j] = kernel(top * std::sqrt(knot_[j]));
  });
}

Eigen::MatrixXd Radiator::kernel(double k) const {
  // sin(k r)/(k r) is the mean over all directions e of exp(i k e . (x - x')), so the double sum
  // over the nodes is the mean of |sum_i U_i exp(i k e . x_i)|^2.
  const Directions d = half_sphere(harmonics(k * reach_m_));
  const Eigen::Index n_dir = d.weight.size(), r = volume_.cols();
  Eigen::MatrixXd even = Eigen::MatrixXd::Zero(n_dir, r), odd = even;
  constexpr Eigen::Index kBlock = 512;  // nodes at once: keeps the phases small in memory
  for (Eigen::Index from = 0; from < place_.rows(); from += kBlock) {
    const Eigen::Index count = std::min(kBlock, place_.rows() - from);
    const Eigen::MatrixXd phase = k * d.unit * place_.middleRows(from, count).transpose();
    const Eigen::MatrixXd cosine = phase.array().cos(), sine = phase.array().sin();
    even.noalias() += cosine * volume_.middleRows(from, count);
    odd.noalias() += sine * volume_.middleRows(from, count);
  }
  const Eigen::VectorXd root = d.weight.cwiseSqrt();
  even = root.asDiagonal() * even;
  odd = root.asDiagonal() * odd;
  const Eigen::MatrixXd sum = even.transpose() * even + odd.transpose() * odd;
  return 0.5 * (sum + sum.transpose());
}

Eigen::MatrixXd Radiator::power_matrix(double freq_hz) const {
  if (!(freq_hz > 0.0 && freq_hz <= top_hz_))
    throw std::out_of_range("Radiator: the frequency must be above 0 and at most top_hz");
  const double at = (freq_hz / top_hz_) * (freq_hz / top_hz_);
  const double omega = base::kTwoPi * freq_hz;
  const double scale = omega * omega * base::kAirDensity / (base::kTwoPi * base::kAirSound);
  Eigen::MatrixXd sum = Eigen::MatrixXd::Zero(volume_.cols(), volume_.cols());
  double total = 0.0;
  for (std::size_t j = 0; j < knot_.size(); ++j) {
    const double away = at - knot_[j];
    if (std::abs(away) < 1e-15) return scale * kernel_[j];
    sum += knot_weight_[j] / away * kernel_[j];
    total += knot_weight_[j] / away;
  }
  return scale / total * sum;
}

double Radiator::power(double freq_hz, const Eigen::VectorXcd& velocity) const {
  const Eigen::MatrixXd p = power_matrix(freq_hz);
  const Eigen::VectorXd re = velocity.real(), im = velocity.imag();
  return std::max(0.0, re.dot(p * re) + im.dot(p * im));
}

double Radiator::efficiency(double freq_hz, const Eigen::VectorXcd& velocity) const {
  const double w = power(freq_hz, velocity);
  const Eigen::VectorXd re = velocity.real(), im = velocity.imag();
  const double moving = re.dot(surface_ * re) + im.dot(surface_ * im);
  return moving > 0.0 ? w / (base::kAirDensity * base::kAirSound * moving) : 0.0;
}

Eigen::RowVectorXcd Radiator::pressure_row(double freq_hz, const Eigen::Vector3d& at) const {
  return response::pressure_row(place_, volume_, freq_hz, at - middle_);
}

Eigen::Vector3d Radiator::in_front(double distance_m) const {
  return middle_ + distance_m * outward_;
}

}  // namespace calmplate::response
