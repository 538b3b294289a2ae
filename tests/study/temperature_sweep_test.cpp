// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <cstdio>

#include "base/units.hpp"
#include "response/band_response.hpp"
#include "study/demo_job.hpp"
#include "study/direct_mean_square.hpp"
#include "study/study.hpp"

using namespace calmplate;
using namespace calmplate::testing;

namespace {

const double kTried_k[] = {253.15, 293.15, 353.15};  // -20, 20 and 80 degrees C

/// The demo door with two of its layouts, swept from -20 to 80 degrees C in steps of 10.
JobOnPanel swept_door() {
  JobOnPanel door = demo_job("estate_front_door.toml", 0.020);
  door.job.sheet_comparison = {};
  door.job.layouts = {layout_named(door.job, "partial"), layout_named(door.job, "full")};
  door.job.temperature_k = 293.15;
  door.job.temperatures_k.clear();
  for (int c = -20; c <= 80; c += 10) door.job.temperatures_k.push_back(273.15 + c);
  return door;
}

std::size_t index_of(const std::vector<double>& temps_k, double temp_k) {
  for (std::size_t i = 0; i < temps_k.size(); ++i)
    if (std::abs(temps_k[i] - temp_k) < 1e-9) return i;
  FAIL("the sweep misses " << temp_k << " K");
  return 0;
}

}  // namespace

// Source: [derived] two routes: the sweep, which takes every temperature from one reduced model a
// layout, and a study of its own at each temperature, with its own modes and static answers. With
// all that the demo has: its woofer, the air around the skin and in the door.
TEST_CASE("a sweep over temperature agrees with a study at each temperature", "[study][derived]") {
  JobOnPanel door = swept_door();
  const job::Job asked = job::read_job(door.job.file);
  door.job.air = asked.air;
  door.job.cavity = asked.cavity;
  door.job.drive = asked.drive;
  job::settle_band(door.job, door.panel.area_m2);
  study::StudyOptions options;
  options.with_map = false;
  const study::Results sweep = study::run_study(door.job, door.panel, options, {});
  REQUIRE(sweep.layouts.size() == 3);
  for (const double temp_k : kTried_k) {
    job::Job alone = door.job;
    alone.temperature_k = temp_k;
    alone.temperatures_k.clear();
    const study::Results fresh = study::run_study(alone, door.panel, options, {});
    const std::size_t k = index_of(door.job.temperatures_k, temp_k);
    for (std::size_t i = 0; i < sweep.layouts.size(); ++i) {
      REQUIRE(sweep.layouts[i].temperatures.size() == door.job.temperatures_k.size());
      CHECK(fresh.layouts[i].temperatures.empty());
      const double swept_db = sweep.layouts[i].temperatures[k].band_level_db;
      const double fresh_db = fresh.layouts[i].band_level_db;
      std::printf("demo door, %-8s %4.0f C: swept %.3f dB, alone %.3f dB, differ by %.3f dB\n",
                  sweep.layouts[i].name.c_str(),
                  base::to_celsius(temp_k),
                  swept_db,
                  fresh_db,
                  swept_db - fresh_db);
      CAPTURE(sweep.layouts[i].name, temp_k);
      CHECK(std::abs(swept_db - fresh_db) < 0.2);
    }
  }
  // What the sweep is for: the sheet works differently in frost and sun, the bare skin does not.
  for (const study::LayoutResult& layout : sweep.layouts) {
    double low = layout.temperatures.front().band_level_db, high = low;
    for (const study::TemperatureResult& t : layout.temperatures) {
      low = std::min(low, t.band_level_db);
      high = std::max(high, t.band_level_db);
    }
    CAPTURE(layout.name);
    if (layout.pieces.empty())
      CHECK(high - low < 1e-6);
    else
      CHECK(high - low > 2.0);
  }
}

// Source: [derived] the full complex system with the moduli of each frequency and temperature,
// solved directly, against the one reduced model of the sweep.
TEST_CASE("the swept model agrees with the full equations in frost and sun", "[study][derived]") {
  const JobOnPanel door = swept_door();
  const shell::Skin skin = study::skin_of(door.job, door.panel);
  const std::vector<shell::LaidPiece> pieces =
      study::pieces_of(door.job, door.panel, door.job.layouts.front());
  const shell::PanelModel model = shell::build_model(skin, study::attachments_of(door.job), pieces);
  const reduced::Ports ports = study::ports_of(door.job, skin);
  reduced::ReducedModel at =
      reduced::reduce_full(skin, model, ports, study::reduction_of(door.job, false, 1), {}).model;
  const drive::BandInput& band = door.job.band;
  constexpr int kFrequencies = 16;
  for (const double temp_k : kTried_k) {
    at.temp_k = temp_k;
    const response::BandResponse response(
        at, door.job.drive, 1.3 * band.high_hz, 0.65 * band.low_hz);
    double exact = 0.0, found = 0.0, worst = 0.0;
    for (int i = 0; i < kFrequencies; ++i) {
      const double f = band.low_hz * std::pow(band.high_hz / band.low_hz, (i + 0.5) / kFrequencies);
      const double direct = direct_mean_square(skin, model, ports.load, temp_k, f);
      const double reduced = response.mean_square_velocity(f);
      exact += direct;
      found += reduced;
      worst = std::max(worst, std::abs(base::to_db(reduced / direct)));
    }
    std::printf(
        "demo door, partial, %4.0f C: swept model against direct solves %.3f dB summed, "
        "%.3f dB worst\n",
        base::to_celsius(temp_k),
        base::to_db(found / exact),
        worst);
    CAPTURE(temp_k);
    CHECK(std::abs(base::to_db(found / exact)) < 0.2);
    CHECK(worst < 0.5);
  }
}
