// SPDX-License-Identifier: GPL-3.0-or-later
#include "study/sound.hpp"

#include <algorithm>
#include <cmath>

#include "base/units.hpp"
#include "drive/spectrum.hpp"
#include "drive/woofer_response.hpp"

namespace calmplate::study {
namespace {

constexpr double kPowerReference = 1e-12;  // W

double pressure_db(double mean_square_pa2) {
  return base::to_db(mean_square_pa2 / (drive::kPressureReference * drive::kPressureReference));
}

/// Pressure of a small source in a large wall at 1 m, Pa per m/s of the cone: w rho Sd / 2 pi.
double cone_pressure(double freq_hz, double area_m2) {
  return freq_hz * base::kAirDensity * area_m2;
}

Eigen::VectorXd cone_row(const coupling::CoupledDoor& door) {
  Eigen::VectorXd row = Eigen::VectorXd::Zero(door.model.size());
  row(door.cone) = 1.0;
  return row;
}

/// The skin's pressure at 1 m as a Hermitian form: |p|^2 = v^H S v.
Eigen::MatrixXcd skin_pressure(const coupling::CoupledDoor& door, double freq_hz) {
  const Eigen::RowVectorXcd row =
      door.radiator->pressure_row(freq_hz, door.radiator->in_front(1.0));
  Eigen::MatrixXcd out = Eigen::MatrixXcd::Zero(door.model.size(), door.model.size());
  out.topLeftCorner(door.n_skin, door.n_skin) = row.adjoint() * row;
  return out;
}

void woofer_curves(const Common& c,
                   const coupling::CoupledDoor& door,
                   const response::BandResponse& response,
                   WooferResult& out) {
  const drive::Woofer woofer = drive::make_woofer(*c.job->woofer);
  out.voltage_v = c.job->drive.voltage_v;
  out.nominal_ohm = woofer.nominal_ohm.value_or(woofer.re_ohm);
  out.nominal_power_w = out.voltage_v * out.voltage_v / out.nominal_ohm;
  out.band_is_own = !c.job->band_given;
  out.xmax_m = woofer.xmax_m.value_or(0.0);
  const Eigen::Index n = c.freq_hz.size();
  out.travel_curve_m.resize(n);
  out.level_db.resize(n);
  out.frame_force_n.resize(n);
  out.skin_force_n.resize(n);
  const double area = c.panel->area_m2;
  for (Eigen::Index i = 0; i < n; ++i) {
    const double f = c.freq_hz(i), w = base::kTwoPi * f;
    const Eigen::VectorXcd q = response.coordinates(f);
    const std::complex<double> x = q(door.cone);
    out.travel_curve_m(i) = std::sqrt(2.0) * std::abs(x);
    out.level_db(i) = pressure_db(std::norm(cone_pressure(f, door.cone_area_m2) * w * x));
    out.frame_force_n(i) = w * w * woofer.mms_kg * std::abs(x);
    if (c.door.slab) {
      const std::complex<double> even = door.air.strain.row(0).cast<std::complex<double>>() * q;
      // The even mode's pressure is the same at every node.
      out.skin_force_n(i) = area * std::abs(even * c.door.modes.pressure(0, 0));
    } else {
      out.skin_force_n(i) = 0.0;
    }
  }
  Eigen::Index at = 0;
  out.travel_m = out.travel_curve_m.maxCoeff(&at);
  out.travel_hz = c.freq_hz(at);
}

/// Peak acceleration of one point in a slow sine sweep.
class PointSweep {
 public:
  /// @param row  [r] of the model's read-outs
  PointSweep(const response::BandResponse& response, Eigen::RowVectorXd row)
      : response_(response), row_(row.cast<std::complex<double>>()) {}

  double operator()(double freq_hz) const {  ///< m/s2
    const double w = base::kTwoPi * freq_hz;
    return std::sqrt(2.0) * w * w * std::abs((row_ * response_.coordinates(freq_hz)).value());
  }

  /// The frequency of the peak between two others; of the dip for sign -1. Golden section.
  double peak(double low_hz, double high_hz, double sign) const {
    constexpr double kShare = 0.61803398874989485;  // (sqrt(5) - 1)/2
    while (high_hz - low_hz > kSweepTo * high_hz) {
      const double left = high_hz - kShare * (high_hz - low_hz);
      const double right = low_hz + kShare * (high_hz - low_hz);
      if (sign * (*this)(left) < sign * (*this)(right))
        low_hz = left;
      else
        high_hz = right;
    }
    return 0.5 * (low_hz + high_hz);
  }

  /// Where the limit is passed between a frequency below the limit and one above it.
  double crossing(double calm_hz, double loud_hz, double limit) const {
    while (std::abs(loud_hz - calm_hz) > kSweepTo * loud_hz) {
      const double middle = 0.5 * (calm_hz + loud_hz);
      ((*this)(middle) > limit ? loud_hz : calm_hz) = middle;
    }
    return loud_hz;
  }

 private:
  static constexpr double kSweepTo = 1e-5;  ///< of itself a frequency is found to
  const response::BandResponse& response_;
  Eigen::RowVectorXcd row_;
};

/// From low to high in steps of half a per cent, and the damped modes' frequencies, ascending.
std::vector<double> sweep_frequencies(const response::BandResponse& response,
                                      double low_hz,
                                      double high_hz) {
  std::vector<double> out = {low_hz, high_hz};
  const auto add = [&](double f) {
    if (f > low_hz && f < high_hz) out.push_back(f);
  };
  for (double f = low_hz; f < high_hz; f *= 1.005) add(f);
  for (const std::complex<double> lambda : response.poles().lambda)
    if (lambda.real() > 0.0) add(std::sqrt(lambda.real()) / base::kTwoPi);
  std::sort(out.begin(), out.end());
  out.erase(std::unique(out.begin(), out.end()), out.end());
  return out;
}

/// Largest acceleration and the spans above the limit. Peaks and the spans' ends are searched for
/// between the frequencies.
void sweep_point(const PointSweep& sweep, std::vector<double> f, RattleResult& r) {
  std::vector<double> a;
  for (const double freq_hz : f) a.push_back(sweep(freq_hz));
  const std::size_t last = f.size() - 1;
  for (std::size_t i = 0; i <= last; ++i) {
    const std::size_t before = i > 0 ? i - 1 : 0, after = std::min(i + 1, last);
    const bool peak = a[i] >= a[before] && a[i] >= a[after];
    if (!peak && !(a[i] <= a[before] && a[i] <= a[after])) continue;
    const double sign = peak ? 1.0 : -1.0;
    const double best = sweep.peak(f[before], f[after], sign), at_best = sweep(best);
    if (sign * at_best > sign * a[i]) {
      a[i] = at_best;
      f[i] = best;
    }
  }
  for (std::size_t i = 0; i <= last; ++i) {
    if (a[i] > r.sweep_m_s2) {
      r.sweep_m_s2 = a[i];
      r.sweep_hz = f[i];
    }
    const bool over = a[i] > r.limit_m_s2, was_over = i > 0 && a[i - 1] > r.limit_m_s2;
    if (was_over && !over) r.spans.back().high_hz = sweep.crossing(f[i], f[i - 1], r.limit_m_s2);
    if (!over) continue;
    if (!was_over) {
      const double from = i > 0 ? sweep.crossing(f[i - 1], f[i], r.limit_m_s2) : f[i];
      r.spans.push_back({from, f[i], f[i], 0.0});
    }
    RattleSpan& span = r.spans.back();
    span.high_hz = f[i];
    const double db = 2.0 * base::to_db(a[i] / r.limit_m_s2);
    if (db > span.over_db) {
      span.over_db = db;
      span.worst_hz = f[i];
    }
  }
}

}  // namespace

std::vector<DoorModeResult> door_modes(const Common& c,
                                       const reduced::FullReduction& red,
                                       const coupling::CoupledDoor& door,
                                       const reduced::ComplexModes& modes,
                                       const reduced::ComplexModes& in_air) {
  std::vector<DoorModeResult> out;
  const Eigen::MatrixXd m = red.model.mass;
  for (Eigen::Index j = 0; j < modes.freq_hz.size(); ++j) {
    if (modes.freq_hz(j) > c.job->band.high_hz) break;
    DoorModeResult mode;
    mode.freq_hz = modes.freq_hz(j);
    mode.loss_factor = modes.loss_factor(j);
    const Eigen::VectorXcd x = modes.shape.col(j);
    const auto energy = [&](Eigen::Index from, Eigen::Index count) {
      const Eigen::VectorXcd part = x.segment(from, count);
      return (part.adjoint() * (door.model.mass.block(from, from, count, count) * part))
          .value()
          .real();
    };
    const Eigen::Index rest = door.n_skin + (door.cone >= 0 ? 1 : 0);
    const double skin = energy(0, door.n_skin);
    const double cone = door.cone >= 0 ? energy(door.cone, 1) : 0.0;
    const double air = energy(rest, door.model.size() - rest);
    const double all = skin + cone + air;
    mode.skin_share = skin / all;
    mode.cone_share = cone / all;
    mode.air_share = air / all;
    // Nearest shape: the largest share of the skin's motion that a mode in free air has.
    const Eigen::VectorXcd s = x.head(door.n_skin);
    const double own = (s.adjoint() * (m * s)).value().real();
    double best = 0.25;  // below it no single mode is meant
    for (Eigen::Index k = 0; k < in_air.freq_hz.size(); ++k) {
      const Eigen::VectorXcd y = in_air.shape.col(k);
      const double other = (y.adjoint() * (m * y)).value().real();
      const double alike = std::norm((y.adjoint() * (m * s)).value()) / (own * other);
      if (alike > best) {
        best = alike;
        mode.like = static_cast<int>(k) + 1;
      }
    }
    out.push_back(mode);
  }
  return out;
}

void sound_results(const Common& c,
                   const coupling::CoupledDoor& door,
                   const response::BandResponse& response,
                   WooferResult* woofer,
                   LayoutResult& out) {
  const drive::BandInput& band = c.job->band;
  const auto square = [](double f, double at) { return (f / at) * (f / at); };
  const Eigen::MatrixXd cone = cone_row(door) * cone_row(door).transpose();
  for (const response::ThirdOctave& t : response::third_octaves(band.low_hz, band.high_hz)) {
    const double width = t.high_hz - t.low_hz;
    const auto mean = [&](const auto& surface) {
      const auto form = [&](double f) {
        return Eigen::MatrixXcd(surface(f).template cast<std::complex<double>>());
      };
      return response.integral(t.low_hz, t.high_hz, form, square) / width;
    };
    SoundBand s;
    s.band = t;
    s.skin_power_db =
        base::to_db(mean([&](double f) { return door.skin_power(f); }) / kPowerReference);
    s.woofer_power_db =
        base::to_db(mean([&](double f) { return door.cone_power(f); }) / kPowerReference);
    s.skin_level_db = pressure_db(mean([&](double f) { return skin_pressure(door, f); }));
    s.woofer_level_db = pressure_db(mean([&](double f) {
      return Eigen::MatrixXd(std::pow(cone_pressure(f, door.cone_area_m2), 2) * cone);
    }));
    out.sound.push_back(s);
  }
  const Eigen::Vector3d ear = door.radiator->in_front(1.0);
  out.skin_level_db.resize(c.freq_hz.size());
  for (Eigen::Index i = 0; i < c.freq_hz.size(); ++i) {
    const double f = c.freq_hz(i);
    const Eigen::VectorXcd v =
        std::complex<double>(0.0, base::kTwoPi * f) * response.coordinates(f).head(door.n_skin);
    out.skin_level_db(i) =
        pressure_db(std::norm((door.radiator->pressure_row(f, ear) * v).value()));
  }
  if (woofer != nullptr) woofer_curves(c, door, response, *woofer);
}

std::vector<RattleResult> rattle_results(const job::Job& job,
                                         const response::BandResponse& response,
                                         double crest) {
  std::vector<RattleResult> out;
  if (job.drive.kind == drive::Kind::tap) return out;
  const double low = job.band.low_hz, high = job.band.high_hz;
  for (std::size_t i = 0; i < job.listen_at.size(); ++i) {
    if (!(job.listen_at[i].limit_m_s2 > 0.0)) continue;
    RattleResult r;
    r.name = job.listen_at[i].name;
    r.limit_m_s2 = job.listen_at[i].limit_m_s2;
    const Eigen::RowVectorXd row = response.model().listen.row(static_cast<Eigen::Index>(i));
    sweep_point(PointSweep(response, row), sweep_frequencies(response, low, high), r);
    // Pink noise of the drive's rms over the band: power 1 / (f ln(high / low)) for each hertz.
    const Eigen::MatrixXcd at_point = (row.transpose() * row).cast<std::complex<double>>();
    const double square = response.integral(
        low,
        high,
        [&](double) { return at_point; },
        [&](double f, double) {
          return std::pow(base::kTwoPi * f, 2) / (f * std::log(high / low));
        });
    r.pink_m_s2 = crest * std::sqrt(square);
    out.push_back(r);
  }
  return out;
}

}  // namespace calmplate::study
