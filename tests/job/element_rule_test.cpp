// SPDX-License-Identifier: GPL-3.0-or-later
#include "job/element_rule.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <limits>
#include <memory>

#include "base/units.hpp"
#include "job/good_job.hpp"
#include "job/read_sections.hpp"

namespace calmplate {
namespace {

constexpr double kNone = std::numeric_limits<double>::infinity();

sheet::Sheet butyl(double shear_pa) {
  sheet::Sheet out;
  out.name = "butyl";
  out.core_thickness_m = 2e-3;
  out.core_density = 1600.0;
  out.core_modulus = std::make_shared<sheet::ConstantModulus>(shear_pa, 0.0);
  out.foil_thickness_m = 0.1e-3;
  out.foil = {"aluminium", 70e9, 0.0, 2700.0, 0.0};
  return out;
}

const sheet::Material kSteel{"steel", 210e9, 0.3, 7850.0, 0.0};

}  // namespace

// Source: derived. In a wave of length L, D (2 pi / L)^4 = m (2 pi f)^2, worked out for 0.8 mm
// steel: D = 9.846 N m, m = 6.28 kg/m2.
TEST_CASE("the bending wave of a plate meets the plate's own equation", "[job][derived]") {
  for (const double f : {50.0, 250.0, 1000.0}) {
    const double wave = job::bending_wave_m(0.8e-3, kSteel, f);
    const double d = 210e9 * std::pow(0.8e-3, 3) / (12.0 * (1.0 - 0.09)), m = 7850.0 * 0.8e-3;
    CHECK(d * std::pow(base::kTwoPi / wave, 4) / (m * std::pow(base::kTwoPi * f, 2)) ==
          Approx(1.0).epsilon(1e-12));
  }
  CHECK(job::bending_wave_m(0.8e-3, kSteel, 250.0) == Approx(0.1774).epsilon(1e-3));
}

// Source: derived. A foil on a far stiffer skin: L^2 = t_c t_f E_f / G; on a skin as stiff as the
// foil half of that.
TEST_CASE("the shear lag follows from core, foil and skin", "[job][derived]") {
  const sheet::Material rigid{"rigid", 1e18, 0.0, 1.0, 0.0}, alike{"alike", 70e9, 0.0, 1.0, 0.0};
  CHECK(job::shear_lag_m(butyl(1e6), 1e-3, rigid, 100.0, 293.0) ==
        Approx(std::sqrt(2e-3 * 0.1e-3 * 70e9 / 1e6)).epsilon(1e-7));
  CHECK(job::shear_lag_m(butyl(1e6), 0.1e-3, alike, 100.0, 293.0) ==
        Approx(std::sqrt(0.5 * 2e-3 * 0.1e-3 * 70e9 / 1e6)).epsilon(1e-9));
  sheet::Sheet heavy;
  heavy.kind = sheet::Kind::mass;
  CHECK(job::shear_lag_m(heavy, 1e-3, kSteel, 100.0, 293.0) == kNone);
}

// Source: derived. 14 to a wave, 3 to a shear lag, 4 to 25 mm, rounded down to half a millimetre.
TEST_CASE("the element size takes the finer of wave and shear lag within its bounds",
          "[job][derived]") {
  CHECK(job::element_size_m(0.14, kNone) == Approx(0.010));
  CHECK(job::element_size_m(0.1774, kNone) == Approx(0.0125));
  CHECK(job::element_size_m(0.14, 0.0243) == Approx(0.008));
  CHECK(job::element_size_m(0.14, 0.1) == Approx(0.010));
  CHECK(job::element_size_m(5.0, kNone) == Approx(0.025));
  CHECK(job::element_size_m(0.01, kNone) == Approx(0.004));
  CHECK(job::element_size_m(0.14, 1e-4) == Approx(0.004));
}

// Source: derived, as above; the job's skin is 0.8 mm of 205 GPa, 0.29, 7800 kg/m3.
TEST_CASE("a drawn skin without a size gets one from the band, a given one stays",
          "[job][derived]") {
  const std::string text = testing::drawn_job(false);
  job::Job given = job::read_job_text(text, "door.toml");
  job::settle_elements(given);
  CHECK(given.drawn->element_m == Approx(0.015));
  job::Job open = job::read_job_text(testing::with(text, "element_mm = 15\n", ""), "door.toml");
  CHECK(open.panel_options.element_size_m == 0.0);
  open.band.high_hz = 200.0;
  job::settle_elements(open);
  const double wave = job::bending_wave_m(open.thickness_m, open.material, 200.0);
  CHECK(open.drawn->element_m == Approx(job::element_size_m(wave, kNone)));
  CHECK(open.drawn->element_m < wave / 14.0);
  CHECK(open.drawn->element_m > wave / 14.0 - 0.0005);
}

// Source: derived. A core of 1000 MPa has a shear lag of 3.7 mm: the edges of its piece want 4 mm.
TEST_CASE("edges of pieces with a stiff core get finer elements", "[job][derived]") {
  job::Job j = job::read_job_text(testing::drawn_job(false), "door.toml");
  job::settle_elements(j);
  const std::size_t before = j.drawn->finer.size();
  job::Job stiff = job::read_job_text(
      testing::with(testing::drawn_job(false), "core_shear_MPa = 0.35", "core_shear_MPa = 1000"),
      "door.toml");
  job::settle_elements(stiff);
  REQUIRE(stiff.drawn->finer.size() > before);
  CHECK(stiff.drawn->finer.front().size_m == Approx(0.004));
}

// Source: [practice] common practice, no source: one sentence with the figure that would do.
TEST_CASE("elements too coarse for the band bring one warning", "[job][practice]") {
  job::Job j = job::read_job_text(testing::drawn_job(false), "door.toml");
  j.warnings.clear();
  j.band.high_hz = 250.0;
  job::warn_if_coarse(j, 0.017);
  CHECK(j.warnings.empty());
  job::warn_if_coarse(j, 0.025);
  REQUIRE(j.warnings.size() == 1);
  CHECK(j.warnings[0] ==
        "Elements of 25 mm are coarse: at 250 Hz a bending wave of the skin is 176.3 mm long and "
        "wants elements of 17.6 mm or less (element_mm).");
}

}  // namespace calmplate
