// SPDX-License-Identifier: GPL-3.0-or-later
#include "response/band_response.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>
#include <stdexcept>
#include <utility>

#include "base/units.hpp"
#include "drive/spectrum.hpp"

namespace calmplate::response {
namespace {

double mean_square(const reduced::ReducedModel& model, const Eigen::VectorXcd& q, double freq_hz) {
  const double w = base::kTwoPi * freq_hz;
  return w * w * q.dot(model.surface * q).real();
}

double velocity_level_db(double mean_square) {
  return base::to_db(mean_square / (base::kVelocityReference * base::kVelocityReference));
}

/// Parts of a band over which a tap's spectrum may be taken as constant.
std::vector<double> drive_cuts(const drive::DriveInput& drive, double low_hz, double high_hz) {
  std::vector<double> cuts = {low_hz};
  if (drive.kind == drive::Kind::tap) {
    // The spectrum changes over 1/contact time; a hundredth of that is one step.
    const double step = std::min(0.01 / drive.contact_s, 0.05 * (high_hz - low_hz));
    const int parts = static_cast<int>(std::ceil((high_hz - low_hz) / step));
    for (int i = 1; i < parts; ++i) cuts.push_back(low_hz + (high_hz - low_hz) * i / parts);
  }
  if (drive.kind == drive::Kind::woofer) {
    // A slope of 48 dB an octave falls by 0.7 dB over one per cent.
    for (double f = low_hz * 1.01; f < high_hz * 0.999; f *= 1.01) cuts.push_back(f);
  }
  cuts.push_back(high_hz);
  return cuts;
}

}  // namespace

double weighted(const reduced::BandIntegral& integral,
                const drive::DriveInput& drive,
                double low_hz,
                double high_hz,
                const Brake& brake) {
  const std::vector<double> cuts = drive_cuts(drive, low_hz, high_hz);
  double sum = 0.0;
  for (std::size_t i = 0; i + 1 < cuts.size(); ++i) {
    const double f = 0.5 * (cuts[i] + cuts[i + 1]);
    double slice = drive::strength(drive, f) * integral.mean_square_velocity(cuts[i], cuts[i + 1]);
    if (brake.resistance_ns_m > 0.0) {
      const double change = base::kTwoPi * (f - brake.taken_at_hz) * brake.resistance_ns_m;
      slice /= std::norm(1.0 + std::complex<double>(0.0, change) * integral.at_load(f));
    }
    sum += slice;
  }
  return sum;
}

double band_mean(double integral, const drive::DriveInput& drive, double low_hz, double high_hz) {
  return drive.kind == drive::Kind::tap ? 2.0 * integral : integral / (high_hz - low_hz);
}

std::vector<Node> quadrature(const reduced::PoleExpansion& poles, double low_hz, double high_hz) {
  if (!(low_hz >= 0.0) || !(high_hz > low_hz))
    throw std::invalid_argument("quadrature: 0 <= low_hz < high_hz must hold");
  std::vector<double> cuts = {low_hz, high_hz};
  const auto add = [&](double f) {
    if (f > low_hz && f < high_hz) cuts.push_back(f);
  };
  for (Eigen::Index j = 0; j < poles.lambda.size(); ++j) {
    const double re = poles.lambda(j).real();
    if (!(re > 0.0)) continue;
    const double f = std::sqrt(re) / base::kTwoPi;
    const double half_width = 0.5 * f * std::clamp(poles.lambda(j).imag() / re, 1e-6, 1.0);
    add(f);
    for (const double reach : {1.0, 2.5, 6.0, 16.0, 40.0, 100.0}) {
      add(f - reach * half_width);
      add(f + reach * half_width);
    }
  }
  for (double f = low_hz; f < high_hz; f *= 1.05) add(f + 1e-12);
  std::sort(cuts.begin(), cuts.end());
  // Five Gauss-Legendre points a part. Source: [derived] roots of the Legendre polynomial P5.
  const double inner = std::sqrt(5.0 - 2.0 * std::sqrt(10.0 / 7.0)) / 3.0;
  const double outer = std::sqrt(5.0 + 2.0 * std::sqrt(10.0 / 7.0)) / 3.0;
  const double w_inner = (322.0 + 13.0 * std::sqrt(70.0)) / 900.0;
  const double w_outer = (322.0 - 13.0 * std::sqrt(70.0)) / 900.0;
  const std::array<std::pair<double, double>, 5> points = {{{-outer, w_outer},
                                                            {-inner, w_inner},
                                                            {0.0, 128.0 / 225.0},
                                                            {inner, w_inner},
                                                            {outer, w_outer}}};
  std::vector<Node> nodes;
  const double least = 1e-9 * (high_hz - low_hz);
  double start = cuts.front();
  for (const double end : cuts) {
    if (end - start < least) continue;
    for (const auto& [x, w] : points)
      nodes.push_back({0.5 * (start + end) + 0.5 * (end - start) * x, 0.5 * (end - start) * w});
    start = end;
  }
  return nodes;
}

BandResponse::BandResponse(reduced::ReducedModel model,
                           drive::DriveInput drive,
                           double top_hz,
                           double low_hz,
                           int parts_per_octave)
    : model_(std::move(model)), drive_(drive) {
  if (model_.constant()) {
    parts_.push_back({0.0, top_hz, reduced::expand(model_, 0.5 * top_hz, top_hz)});
  } else {
    const double low = low_hz > 0.0 ? low_hz : 0.01 * top_hz;
    parts_ = reduced::SubBands(model_, low, top_hz, parts_per_octave).parts();
  }
  for (const reduced::SubBands::Part& part : parts_)
    integrals_.emplace_back(part.poles, model_.surface);
}

double BandResponse::integrate(const std::vector<reduced::BandIntegral>& integrals,
                               double low_hz,
                               double high_hz) const {
  double sum = 0.0;
  for (std::size_t i = 0; i < parts_.size(); ++i) {
    const double low = i == 0 ? low_hz : std::max(low_hz, parts_[i].low_hz);
    const double high = i + 1 == parts_.size() ? high_hz : std::min(high_hz, parts_[i].high_hz);
    if (high > low) sum += weighted(integrals[i], drive_, low, high);
  }
  return band_mean(sum, drive_, low_hz, high_hz);
}

/// In each part the moduli are those of its middle, so a part errs one way below it and the other
/// way above it. Between two middles the errors of the two parts cancel to first order if each
/// counts by the distance to the other's middle.
BandResponse::Blend BandResponse::blend_at(double freq_hz) const {
  std::size_t after = 0;
  while (after < parts_.size() && middle_of(after) <= freq_hz) ++after;
  if (after == 0) return {0, 0, 0.0};
  if (after == parts_.size()) return {after - 1, after - 1, 0.0};
  const double below = middle_of(after - 1);
  return {after - 1, after, (freq_hz - below) / (middle_of(after) - below)};
}

double BandResponse::middle_of(std::size_t part) const {
  return std::sqrt(parts_[part].low_hz * parts_[part].high_hz);
}

Eigen::VectorXcd BandResponse::coordinates(double freq_hz) const {
  const Blend blend = blend_at(freq_hz);
  Eigen::VectorXcd q = (1.0 - blend.share) * parts_[blend.below].poles.response(freq_hz);
  if (blend.share > 0.0) q += blend.share * parts_[blend.above].poles.response(freq_hz);
  return std::sqrt(drive::strength(drive_, freq_hz)) * q;
}

double BandResponse::mean_square_velocity(double freq_hz) const {
  return mean_square(model_, coordinates(freq_hz), freq_hz);
}

double BandResponse::band_mean_square(double low_hz, double high_hz) const {
  return integrate(integrals_, low_hz, high_hz);
}

double BandResponse::band_level_db(double low_hz, double high_hz) const {
  return velocity_level_db(band_mean_square(low_hz, high_hz));
}

double BandResponse::band_level_db(double low_hz,
                                   double high_hz,
                                   const Eigen::VectorXd& row) const {
  const Eigen::MatrixXd at_point = row * row.transpose();
  std::vector<reduced::BandIntegral> integrals;
  for (const reduced::SubBands::Part& part : parts_) integrals.emplace_back(part.poles, at_point);
  return velocity_level_db(integrate(integrals, low_hz, high_hz));
}

double BandResponse::integral(double low_hz,
                              double high_hz,
                              const std::function<Eigen::MatrixXcd(double)>& surface,
                              const std::function<double(double, double)>& weight) const {
  std::vector<std::optional<reduced::BandIntegral>> velocity(parts_.size());
  std::vector<double> taken_at(parts_.size());
  const auto share_of = [&](std::size_t part, double from, double to) {
    if (!velocity[part]) {
      taken_at[part] = parts_.size() == 1 ? std::sqrt(low_hz * high_hz) : middle_of(part);
      velocity[part].emplace(parts_[part].poles, surface(taken_at[part]));
    }
    return weight(std::sqrt(from * to), taken_at[part]) *
           velocity[part]->mean_square_velocity(from, to);
  };
  double sum = 0.0;
  for (double from = low_hz; from < high_hz;) {
    const double to = from * 1.01 < high_hz * 0.999 ? from * 1.01 : high_hz;
    const double f = std::sqrt(from * to);
    const Blend blend = blend_at(f);
    double slice = (1.0 - blend.share) * share_of(blend.below, from, to);
    if (blend.share > 0.0) slice += blend.share * share_of(blend.above, from, to);
    sum += drive::strength(drive_, f) * slice;
    from = to;
  }
  return sum;
}

double BandResponse::level_db(double freq_hz) const {
  return velocity_level_db(mean_square_velocity(freq_hz));
}

}  // namespace calmplate::response
