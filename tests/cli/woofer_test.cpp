// SPDX-License-Identifier: GPL-3.0-or-later
// A woofer in the small plate's door, as check and run show it.
#include <catch2/catch.hpp>
#include <cmath>
#include <nlohmann/json.hpp>

#include "cli/program.hpp"
#include "cli/small_job.hpp"

namespace calmplate::cli {
namespace {

std::string one_line(const std::string& text) {
  std::string out;
  for (const char c : text)
    if (c == '\n' || c == ' ') {
      if (!out.empty() && out.back() != ' ') out += ' ';
    } else {
      out += c;
    }
  return out;
}

}  // namespace

// Source: [derived] 1/Qts = 1/Qms + 1/Qes, Cms = 1/(ws^2 Mms), Bl^2 = ws Mms Re/Qes, Rms = ws
// Mms/Qms, Vas = rho c^2 Sd^2 Cms; fc = fs sqrt(1 + Vas/V) and Qtc = Qts fc/fs; sqrt(25 x 4) V.
TEST_CASE("check prints the woofer's whole set, its box and its band", "[cli][derived]") {
  const Folder folder;
  write_small_job(folder);
  folder.write("job.toml", woofer_job());
  const Outcome check = run_program(folder, {"check", "job.toml"});
  CAPTURE(check.out, check.err);
  CHECK(check.status == 0);
  const std::string text = one_line(check.out);
  for (const char* part :
       {"fs 65.0 Hz",
        "Qts 0.545",
        "Bl 5.62 T m",
        "Cms 0.400 mm/N",
        "Rms 1.36 kg/s",
        "Vas 10.0 l",
        "At 10.0 V rms, 25 W into 4.0 ohm, high-pass 50 Hz 12 dB/octave, low-pass "
        "200 Hz 24 dB/octave.",
        "the air of 58 l would put its resonance at 70.4 Hz, Qtc 0.59.",
        "the job gives its band itself.",
        "It shakes the skin through the air behind it."})
    CHECK_THAT(text, Catch::Contains(part));

  const auto json = nlohmann::json::parse(run_program(folder, {"check", "job.toml", "--json"}).out);
  const auto& woofer = json.at("woofer");
  CHECK(woofer.at("Qts").get<double>() == Approx(0.544922).epsilon(1e-5));
  CHECK(woofer.at("Bl_Tm").get<double>() == Approx(5.62304).epsilon(1e-5));
  CHECK(woofer.at("Vas_l").get<double>() == Approx(10.0264).epsilon(1e-4));
  CHECK(woofer.at("shut_box").at("resonance_hz").get<double>() == Approx(70.395).epsilon(1e-4));
  CHECK(woofer.at("voltage_V") == 10.0);
  CHECK(woofer.at("drives_skin") == true);
  CHECK(json.at("drive").at("kind") == "woofer");
  CHECK(json.at("band").at("low_hz") == 30.0);

  // Without a band the woofer's own stands in both places.
  folder.write("job.toml", changed(woofer_job(), "low_Hz = 30\nhigh_Hz = 120\n", ""));
  const auto own = nlohmann::json::parse(run_program(folder, {"check", "job.toml", "--json"}).out);
  const auto& band = own.at("woofer").at("own_band");
  CHECK(own.at("band").at("low_hz").get<double>() == std::floor(band.at("low_hz").get<double>()));
  CHECK(own.at("band").at("high_hz").get<double>() == std::ceil(band.at("high_hz").get<double>()));
  CHECK_THAT(one_line(run_program(folder, {"check", "job.toml"}).out),
             Catch::Contains("; that is the job's band."));

  // Something else shakes the skin.
  folder.write("job.toml", changed(woofer_job(), "[woofer]", std::string(kDrive) + "\n[woofer]"));
  CHECK_THAT(one_line(run_program(folder, {"check", "job.toml"}).out),
             Catch::Contains("so the woofer does not shake the skin here."));
}

// Source: [practice] common practice, no source: absolute figures stand with the power they are
// for.
TEST_CASE("a run with a woofer says how loud the skin is and what rattles", "[cli][practice]") {
  const Folder folder;
  write_small_job(folder);
  folder.write("job.toml", woofer_job());
  const Outcome run = run_program(folder, {"run", "job.toml", "-o", "out", "--no-pictures"});
  CAPTURE(run.out, run.err);
  REQUIRE(run.status == 0);
  const std::string text = one_line(run.out);
  for (const char* part : {"Woofer at 10.0 V rms, 25 W into 4.0 ohm.",
                           "skin under woofer, dB at Hz",
                           "The bare skin sings ",
                           "no cabin, nothing of the car around the door",
                           "In the sweep \"clip\" rattles: bare "})
    CHECK_THAT(text, Catch::Contains(part));
  const auto results = nlohmann::json::parse(folder.read("out/results.json"));
  CHECK(results.at("woofer").at("nominal_power_W") == Approx(25.0));
  CHECK(results.at("woofer").at("travel_curve_mm").size() ==
        results.at("curves").at("freq_hz").size());
  for (const auto& layout : results.at("layouts")) {
    CHECK(layout.at("sound").size() == layout.at("third_octaves").size());
    CHECK_FALSE(layout.at("door_modes").empty());
    const auto& rattle = layout.at("rattles").at(0);
    CHECK(rattle.at("limit_m_s2").get<double>() == Approx(50.0));
    CHECK(rattle.at("sweep_margin_dB").get<double>() ==
          Approx(20.0 * std::log10(50.0 / rattle.at("sweep_peak_m_s2").get<double>())));
  }
}

}  // namespace calmplate::cli
