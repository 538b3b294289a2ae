// SPDX-License-Identifier: GPL-3.0-or-later
#include <catch2/catch.hpp>
#include <cmath>
#include <string>

#include "drive/woofer_response.hpp"
#include "job/good_job.hpp"
#include "job/job.hpp"
#include "job/read_sections.hpp"

namespace calmplate {
namespace {

constexpr double kArea_m2 = 0.6;

/// The good job, shaken by its woofer, with other lines in [band].
job::Job with_band(const std::string& lines) {
  std::string text = testing::good_job();
  text = testing::with(
      text, "[drive]\nkind = \"tap\"\nat_mm = [250, 250]\nimpulse_Ns = 0.03\ncontact_ms = 5\n", "");
  text = testing::with(text, "low_Hz = 30\nhigh_Hz = 300\nstep_Hz = 1\n", lines);
  return job::read_job_text(text, "door.toml");
}

}  // namespace

// Source: [derived] the level at 1 m of the woofer in its box, which another function computes:
// within 10 dB of its peak at both ends, more than that a few hertz beyond them.
TEST_CASE("without a band the job has the woofer's own", "[job][derived]") {
  job::Job j = with_band("");
  job::settle_band(j, kArea_m2);
  CHECK(j.band.low_hz == std::floor(j.band.low_hz));
  CHECK(j.band.high_hz == std::ceil(j.band.high_hz));
  CHECK(j.band.step_hz == 0.5);
  Eigen::VectorXd f(4000);
  for (Eigen::Index i = 0; i < f.size(); ++i) f(i) = 10.0 + 0.1 * static_cast<double>(i);
  const Eigen::VectorXd level =
      drive::woofer_response(
          drive::make_woofer(*j.woofer), 8.0, j.filter, drive::make_box(j.cavity, kArea_m2), f)
          .level_db;
  const double limit = level.maxCoeff() - 10.0;
  double low = 1e9, high = 0.0;
  for (Eigen::Index i = 0; i < f.size(); ++i)
    if (level(i) >= limit) {
      low = std::min(low, f(i));
      high = std::max(high, f(i));
    }
  CHECK(j.band.low_hz == std::floor(low));
  CHECK(j.band.high_hz == std::ceil(high));
  CHECK(low > 30.0);
  CHECK(high < 500.0);
}

// Source: [derived] Bl from the four figures that fix it, sqrt(2 pi fs Mms Re / Qes); 20 W into 4
// ohm are sqrt(80) V.
TEST_CASE("the woofer's drive is ready after the band is settled, and a given band stays",
          "[job][derived]") {
  job::Job j = with_band("low_Hz = 45\nhigh_Hz = 180\n");
  job::settle_band(j, kArea_m2);
  CHECK(j.band.low_hz == 45.0);
  CHECK(j.band.high_hz == 180.0);
  CHECK(j.drive.voltage_v == 8.0);
  const double bl = std::sqrt(2.0 * 3.14159265358979 * 65.0 * 0.015 * 3.2 / 0.62);
  CHECK_THAT(j.drive.drive_n_per_volt, Catch::WithinRel(bl / 3.2, 1e-12));
  REQUIRE((j.drive.filter.high_pass && j.drive.filter.low_pass));
  CHECK(j.drive.filter.high_pass->freq_hz == 60.0);
  j.amplifier.voltage_v.reset();
  j.amplifier.power_w = 20.0;
  job::settle_band(j, kArea_m2);
  CHECK_THAT(j.drive.voltage_v, Catch::WithinRel(std::sqrt(80.0), 1e-12));

  // Something else shakes the skin: the band is the plain one.
  job::Job tap = with_band("");
  tap.drive.kind = drive::Kind::tap;
  job::settle_band(tap, kArea_m2);
  CHECK(tap.band.low_hz == 40.0);
  CHECK(tap.band.high_hz == 250.0);
}

// Source: [practice] common practice, no source: said once, when the band is known.
TEST_CASE("limits of measured sheets are looked at once, in the band that holds",
          "[job][practice]") {
  // The good job's table was measured up to 500 Hz and from 20 Hz, at 0 to 40 degrees C.
  const auto about_table = [](const job::Job& j) {
    std::size_t n = 0;
    for (const std::string& w : j.warnings) n += w.find("\"measured core\"") != std::string::npos;
    return n;
  };
  job::Job given = with_band("low_Hz = 45\nhigh_Hz = 180\n");
  const std::size_t read = given.warnings.size();
  CHECK(about_table(given) == 1);
  job::settle_band(given, kArea_m2);
  CHECK(given.warnings.size() == read);

  job::Job own = with_band("");
  CHECK(about_table(own) == 0);
  job::settle_band(own, kArea_m2);
  CHECK(about_table(own) == 1);
}

}  // namespace calmplate
