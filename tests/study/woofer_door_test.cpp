// SPDX-License-Identifier: GPL-3.0-or-later
#include "study/woofer_door.hpp"

#include <Eigen/SVD>
#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <complex>
#include <cstdio>
#include <iterator>

#include "base/units.hpp"
#include "drive/spectrum.hpp"
#include "drive/woofer.hpp"
#include "reduced/complex_modes.hpp"
#include "response/band_response.hpp"
#include "study/door.hpp"

using namespace calmplate;
using namespace calmplate::testing;
using Complex = std::complex<double>;

namespace {

/// rms coordinates for the job's own voltage: a solve of the reduced model, without poles.
Eigen::VectorXcd solved(const CoupledStudy& s, const job::Job& job, double freq_hz) {
  return std::sqrt(drive::strength(job.drive, freq_hz)) * s.door.model.solve(freq_hz);
}

double quadratic(const Eigen::MatrixXd& a, const Eigen::VectorXcd& x) {
  const Eigen::VectorXd re = x.real(), im = x.imag();
  return re.dot(a * re) + im.dot(a * im);
}

/// Frequencies in even ratios from low to high, each in the middle of its step.
std::vector<double> ratios(double low_hz, double high_hz, double step) {
  const int n = static_cast<int>(std::ceil(std::log(high_hz / low_hz) / step));
  std::vector<double> out;
  for (int i = 0; i < n; ++i) out.push_back(low_hz * std::pow(high_hz / low_hz, (i + 0.5) / n));
  return out;
}

}  // namespace

// Source: [derived] a level is a property of the door, not of the shapes it is computed with.
TEST_CASE("levels with the woofer do not depend on how many shapes and air modes are kept",
          "[study][derived]") {
  const JobOnPanel p = woofer_door();
  for (const job::Layout* layout : {static_cast<const job::Layout*>(nullptr), &p.job.layouts[0]}) {
    const CoupledStudy few(p, layout), many(p, layout, 2.0);
    REQUIRE(10 * many.door.model.size() > 13 * few.door.model.size());
    REQUIRE(2 * many.door.air.n_air > 3 * few.door.air.n_air);
    const drive::BandInput& band = p.job.band;
    const response::BandResponse a = few.response(p.job), b = many.response(p.job);
    const double off =
        a.band_level_db(band.low_hz, band.high_hz) - b.band_level_db(band.low_hz, band.high_hz);
    double worst = 0.0;
    for (const response::ThirdOctave& t : response::third_octaves(band.low_hz, band.high_hz))
      worst = std::max(
          worst,
          std::abs(a.band_level_db(t.low_hz, t.high_hz) - b.band_level_db(t.low_hz, t.high_hz)));
    std::printf("woofer door, %s: %ld against %ld coordinates: band %.3f dB, worst third %.3f dB\n",
                layout != nullptr ? layout->name.c_str() : "bare",
                static_cast<long>(few.door.model.size()),
                static_cast<long>(many.door.model.size()),
                off,
                worst);
    CHECK(std::abs(off) < 0.1);
    CHECK(worst < 0.3);
  }
}

// Source: [derived] what the amplifier gives is what coil, suspension, skin, sheet, lining and leak
// turn into heat and what skin and cone send out as sound. The electrical side is written with the
// coil's own current.
TEST_CASE("power balances in the demo door with its woofer", "[study][derived]") {
  const JobOnPanel p = woofer_door();
  const CoupledStudy s(p, &p.job.layouts[0]);
  const response::BandResponse response = s.response(p.job);
  const drive::Woofer woofer = drive::make_woofer(*p.job.woofer);
  for (const double f : {42.0, 58.0, 71.0, 83.0, 100.0, 127.0, 163.0, 201.0, 246.0}) {
    const double w = base::kTwoPi * f;
    const Eigen::VectorXcd q = response.coordinates(f);
    const double volts = std::sqrt(drive::strength(p.job.drive, f)) * woofer.re_ohm / woofer.bl_tm;
    const Complex v = Complex(0.0, w) * q(s.door.cone);
    const Complex current = (volts - woofer.bl_tm * v) / woofer.re_ohm;
    const double in = volts * current.real();
    const double coil = woofer.re_ohm * std::norm(current);
    const double suspension = woofer.rms_ns_m * std::norm(v);
    double skin = 0.0, sheet = 0.0, lining = 0.0, leak = 0.0, damped = 0.0;
    for (const reduced::ReducedTerm& t : s.door.model.terms) {
      if (t.name == "coil and suspension") continue;
      const double heat = w * t.coefficient(f, p.job.temperature_k).imag() * quadratic(t.matrix, q);
      if (t.name == "radiation" || t.name == "cone's radiation") {
        damped += heat;  // what the model takes off the motion for sound
        continue;
      }
      (t.modulus                     ? sheet
       : t.name == "air in the door" ? lining
       : t.name == "leaks"           ? leak
                                     : skin) += heat;
    }
    const double sound = s.door.radiator->power(f, Complex(0.0, w) * q.head(s.door.n_skin)) +
                         base::kAirDensity * w * w * std::pow(woofer.sd_m2, 2) * std::norm(v) /
                             (base::kTwoPi * base::kAirSound);
    const double out = coil + suspension + skin + sheet + lining + leak + sound;
    CAPTURE(f, in, coil, suspension, skin, sheet, lining, leak, sound);
    CHECK_THAT(out, Catch::WithinRel(in, 0.005));
    // The coil's heat alone does not make the balance: what is left must be right as well.
    CHECK_THAT(out - coil, Catch::WithinRel(in - coil, 0.02));
    CHECK_THAT(damped, Catch::WithinRel(sound, 1e-3));
    for (const double part : {coil, suspension, skin, sheet, lining, leak, sound})
      CHECK(part > 0.0);
  }
}

// Source: [derived] the working map is heat by area; its sum over the sheet is the mean heat of the
// sheet's terms over the band.
TEST_CASE("the working map with the woofer holds all heat of the sheet", "[study][derived]") {
  JobOnPanel p = woofer_door();
  const study::Results results = study::run_study(p.job, p.panel, {}, {});
  const study::LayoutResult& layout = results.layouts[1];
  const Eigen::VectorXd area = panel::triangle_areas(p.panel.mesh);
  const double mapped = (layout.working.array() * layout.cover.array() * area.array()).sum();
  const CoupledStudy s(p, &p.job.layouts[0]);
  const drive::BandInput& band = p.job.band;
  double sum = 0.0, width = 0.0;
  constexpr double kStep = 0.004;
  for (const double f : ratios(band.low_hz, band.high_hz, kStep)) {
    const Eigen::VectorXcd q = solved(s, p.job, f);
    for (const reduced::ReducedTerm& t : s.door.model.terms)
      if (t.modulus)
        sum += f * base::kTwoPi * f * t.coefficient(f, p.job.temperature_k).imag() *
               quadratic(t.matrix, q);
    width += f;
  }
  CHECK_THAT(mapped, Catch::WithinRel(sum / width, 0.01));
}

// Source: [derived] model (b) set up for a place's piece and coupled anew, against the map, which
// takes all places from one bench. (temperature_sweep_test.cpp sweeps the same door.)
TEST_CASE("the benefit map with the woofer agrees with model (b) at each place",
          "[study][derived]") {
  JobOnPanel p = woofer_door();
  p.job.layouts.clear();
  p.job.benefit_map.wanted = true;
  p.job.benefit_map.spacing_m = 0.15;
  const study::Results results = study::run_study(p.job, p.panel, {}, {});
  REQUIRE(results.map);
  REQUIRE(results.map->places.size() > 8);
  const CoupledStudy bare(p, nullptr);
  const double before = bare.response(p.job).band_level_db(p.job.band.low_hz, p.job.band.high_hz);
  for (const std::size_t at : {static_cast<std::size_t>(results.map->best), std::size_t{2}}) {
    const placement::Place& place = results.map->places[at];
    panel::Region region;
    region.outline =
        panel::rectangle(place.centre, Eigen::Vector2d::Constant(p.job.benefit_map.piece_m), 0.0);
    for (const job::KeepOut& k : p.job.keep_outs) region.holes.push_back(k.outline);
    shell::LaidPiece piece;
    piece.covered = panel::cover(p.panel, region);
    piece.plies = {&p.job.sheet_named(p.job.benefit_map.sheet)};
    const reduced::ReducedModel laid = reduced::reduce_by_pieces(
        bare.skin, bare.red, {piece}, study::reduction_of(p.job, true, 1).reference_hz);
    const response::BandResponse response(
        study::couple_door(p.job, bare.skin, bare.air, bare.red, laid).model,
        p.job.drive,
        1.3 * p.job.band.high_hz,
        0.65 * p.job.band.low_hz);
    const double benefit = before - response.band_level_db(p.job.band.low_hz, p.job.band.high_hz);
    std::printf(
        "woofer door, place %zu: map %.3f dB, model (b) %.3f dB\n", at, place.benefit_db, benefit);
    CHECK_THAT(place.benefit_db, Catch::WithinAbs(benefit, 0.2));
  }
  CHECK(results.map->places[static_cast<std::size_t>(results.map->best)].benefit_db > 0.4);
}

// Source: [derived] peak acceleration is sqrt(2) w^2 |w| of the point; pink noise has the same
// power in every ratio of frequencies, so its mean square is the mean over ln f.
TEST_CASE("rattles are what the point's own motion says", "[study][derived]") {
  JobOnPanel p = woofer_door();
  p.job.band.step_hz = 4.0;  // coarse curves: the figures must not depend on them
  const study::Results results = study::run_study(p.job, p.panel, {}, {});
  for (std::size_t i = 0; i < 2; ++i) {
    const CoupledStudy s(p, i == 0 ? nullptr : &p.job.layouts[0]);
    REQUIRE(results.layouts[i].rattles.size() == 2);
    for (std::size_t k = 0; k < 2; ++k) {
      const study::RattleResult& r = results.layouts[i].rattles[k];
      CHECK(r.name == p.job.listen_at[k].name);
      CHECK(r.limit_m_s2 == Approx(k == 0 ? 0.4 / 0.008 : 30.0));
      const Eigen::RowVectorXcd row =
          s.door.model.listen.row(static_cast<Eigen::Index>(k)).cast<Complex>();
      const auto peak = [&](double f) {
        return std::sqrt(2.0) * std::pow(base::kTwoPi * f, 2) *
               std::abs((row * solved(s, p.job, f)).value());
      };
      double most = 0.0, squares = 0.0;
      int wrong = 0, n = 0;
      const std::vector<double> grid = ratios(p.job.band.low_hz, p.job.band.high_hz, 0.003);
      for (const double f : grid) {
        const double a = peak(f);
        most = std::max(most, a);
        squares += 0.5 * a * a;
        const bool inside = std::any_of(r.spans.begin(), r.spans.end(), [&](const auto& span) {
          return f >= span.low_hz && f <= span.high_hz;
        });
        // Close to the limit the model's narrow parts may decide otherwise.
        if (std::abs(a / r.limit_m_s2 - 1.0) < 0.03) continue;
        ++n;
        if (inside != (a > r.limit_m_s2)) ++wrong;
      }
      CAPTURE(i, r.name, r.sweep_hz, most);
      CHECK(n > 400);
      CHECK(wrong == 0);
      CHECK_THAT(r.sweep_m_s2, Catch::WithinRel(peak(r.sweep_hz), 0.02));
      CHECK(r.sweep_m_s2 > 0.98 * most);
      CHECK_THAT(r.pink_m_s2,
                 Catch::WithinRel(
                     study::kCrest * std::sqrt(squares / static_cast<double>(grid.size())), 0.02));
      for (const study::RattleSpan& span : r.spans) {
        CHECK_THAT(span.over_db,
                   Catch::WithinAbs(2.0 * base::to_db(peak(span.worst_hz) / r.limit_m_s2), 0.2));
        CHECK(span.over_db > 0.0);
      }
    }
  }
  // The bare door rattles, or the test says nothing.
  CHECK(results.layouts[0].rattles[0].spans.size() > 2);
}

// Source: [derived] means over each third of the radiator's own power and of a small source's,
// taken at many frequencies of the reduced model itself.
TEST_CASE("sound by one-third octaves is the mean power over a sweep", "[study][derived]") {
  const JobOnPanel p = woofer_door();
  const study::Results results = study::run_study(p.job, p.panel, {}, {});
  const CoupledStudy s(p, nullptr);
  const drive::Woofer woofer = drive::make_woofer(*p.job.woofer);
  const Eigen::Vector3d ear = s.door.radiator->in_front(1.0);
  const auto db = [](double value, double reference) { return base::to_db(value / reference); };
  int compared = 0;
  for (const study::SoundBand& band : results.layouts[0].sound) {
    if (compared >= 5) break;
    double skin_w = 0.0, cone_w = 0.0, skin_pa2 = 0.0, cone_pa2 = 0.0, width = 0.0;
    for (const double f : ratios(band.band.low_hz, band.band.high_hz, 0.0015)) {
      const double w = base::kTwoPi * f;
      const Eigen::VectorXcd v = Complex(0.0, w) * solved(s, p.job, f);
      const double flow2 = std::pow(woofer.sd_m2, 2) * std::norm(v(s.door.cone));
      const Eigen::VectorXcd skin = v.head(s.door.n_skin);
      skin_w += f * s.door.radiator->power(f, skin);
      cone_w += f * base::kAirDensity * w * w * flow2 / (base::kTwoPi * base::kAirSound);
      skin_pa2 += f * std::norm((s.door.radiator->pressure_row(f, ear) * skin).value());
      cone_pa2 += f * std::pow(base::kAirDensity * w / base::kTwoPi, 2) * flow2;
      width += f;
    }
    CAPTURE(band.band.nominal_hz);
    CHECK_THAT(band.skin_power_db, Catch::WithinAbs(db(skin_w / width, 1e-12), 0.05));
    CHECK_THAT(band.woofer_power_db, Catch::WithinAbs(db(cone_w / width, 1e-12), 0.05));
    CHECK_THAT(band.skin_level_db, Catch::WithinAbs(db(skin_pa2 / width, 4e-10), 0.05));
    CHECK_THAT(band.woofer_level_db, Catch::WithinAbs(db(cone_pa2 / width, 4e-10), 0.05));
    ++compared;
  }
  CHECK(compared == 5);
}

// Source: [derived] the curves of the woofer against a solve of the reduced model; the even
// pressure by the volume that cone, skin and leak take from the air.
TEST_CASE("the woofer's curves are those of its cone in the bare door", "[study][derived]") {
  const JobOnPanel p = woofer_door();
  const study::Results results = study::run_study(p.job, p.panel, {}, {});
  REQUIRE(results.woofer);
  const study::WooferResult& w = *results.woofer;
  CHECK(w.voltage_v == Approx(10.0));  // 25 W into 4 ohm
  CHECK(w.nominal_power_w == Approx(25.0));
  CHECK_FALSE(w.band_is_own);
  CHECK(w.travel_m == w.travel_curve_m.maxCoeff());
  const CoupledStudy s(p, nullptr);
  for (Eigen::Index i = 20; i < results.freq_hz.size(); i += 61) {
    const double f = results.freq_hz(i), omega = base::kTwoPi * f;
    const Eigen::VectorXcd q = solved(s, p.job, f);
    const double x = std::abs(q(s.door.cone));
    CAPTURE(f);
    CHECK_THAT(w.travel_curve_m(i), Catch::WithinRel(std::sqrt(2.0) * x, 0.01));
    CHECK_THAT(w.frame_force_n(i), Catch::WithinRel(omega * omega * 0.015 * x, 0.01));
    const double pa = base::kAirDensity * omega * omega * 0.0133 * x / base::kTwoPi;
    CHECK_THAT(w.level_db(i), Catch::WithinAbs(2.0 * base::to_db(pa / 20e-6), 0.1));
    // Outward skin motion gives the air room, cone and leak take it.
    const Eigen::VectorXd moved = s.red.normal.transpose() * s.skin.node_area;
    const Complex taken = 0.0133 * q(s.door.cone) + 0.0060 * q(s.door.cone + 1) -
                          (moved.cast<Complex>().transpose() * q.head(s.door.n_skin)).value();
    const double even = base::kAirDensity * std::pow(base::kAirSound, 2) / 0.058 * std::abs(taken);
    CHECK_THAT(w.skin_force_n(i), Catch::WithinRel(even * p.panel.area_m2, 0.02));
  }
}

// Source: [derived] at a damped mode's complex frequency the equations are singular.
TEST_CASE("modes of skin, air and cone solve the coupled equations", "[study][derived]") {
  const JobOnPanel p = woofer_door();
  const study::Results results = study::run_study(p.job, p.panel, {}, {});
  const CoupledStudy s(p, nullptr);
  const std::vector<study::DoorModeResult>& modes = results.layouts[0].door_modes;
  REQUIRE(modes.size() > results.layouts[0].modes.size());  // air and cone have some of their own
  double cone = 0.0;
  for (std::size_t j = 0; j < modes.size(); j += 4) {
    const study::DoorModeResult& m = modes[j];
    const double w = base::kTwoPi * m.freq_hz;
    const Eigen::MatrixXcd d =
        s.door.model.stiffness(m.freq_hz) - w * w * Complex(1.0, m.loss_factor) * s.door.model.mass;
    const Eigen::VectorXd scale = d.diagonal().cwiseAbs().cwiseSqrt().cwiseInverse();
    const Eigen::VectorXd singular =
        Eigen::JacobiSVD<Eigen::MatrixXcd>(scale.asDiagonal() * d * scale.asDiagonal())
            .singularValues();
    CAPTURE(m.freq_hz, m.loss_factor);
    CHECK(singular(singular.size() - 1) < 1e-5 * singular(singular.size() - 2));
  }
  for (const study::DoorModeResult& m : modes) {
    CHECK(m.like <= static_cast<int>(results.layouts[0].modes.size()));
    CHECK(std::min({m.skin_share, m.cone_share, m.air_share}) >= 0.0);
    cone = std::max(cone, m.cone_share);
  }
  CHECK(cone > 0.3);  // one of them is the cone's own
}
