// SPDX-License-Identifier: GPL-3.0-or-later
#include "job/key_unit.hpp"

#include <catch2/catch.hpp>
#include <string>

namespace calmplate {
namespace {

using job::KeyUnit;

struct Case {
  const char* key;
  const char* unit;
  double written;
  double si;
};

}  // namespace

// Source: [derived] decimal prefixes; N mm/rad per mm = N/rad = N m/rad per m; 0 degrees C is
// 273.15 K by definition of the Celsius scale.
TEST_CASE("the ending of a key decides its unit and its SI value", "[job][derived]") {
  const Case cases[] = {
      {"thickness_mm", "mm", 0.8, 0.8e-3},
      {"area_mm2", "mm2", 200.0, 200e-6},
      {"crown_radius_up_m", "m", 3.0, 3.0},
      {"torsion_mm4", "mm4", 41000.0, 41000e-12},
      {"young_GPa", "GPa", 210.0, 210e9},
      {"core_shear_MPa", "MPa", 0.35, 0.35e6},
      {"pressure_Pa", "Pa", 2.0, 2.0},
      {"density_kg_m3", "kg/m3", 7850.0, 7850.0},
      {"mass_kg_m2", "kg/m2", 3.5, 3.5},
      {"mass_kg", "kg", 0.25, 0.25},
      {"normal_N_per_mm", "N/mm", 0.5, 500.0},
      {"normal_N_per_mm2", "N/mm2", 3.0, 3e6},
      {"rotation_N_per_rad", "N/rad", 250.0, 250.0},
      {"force_N", "N", 1.5, 1.5},
      {"impulse_Ns", "N s", 0.03, 0.03},
      {"contact_ms", "ms", 5.0, 5e-3},
      {"low_Hz", "Hz", 40.0, 40.0},
      {"angle_deg", "degrees", 180.0, 3.14159265358979},
      {"temperature_C", "degrees C", -10.0, 263.15},
      {"Sd_cm2", "cm2", 133.0, 133e-4},
      {"Vas_l", "l", 10.0, 10e-3},
      {"Mms_g", "g", 15.0, 15e-3},
      {"Rms_kg_s", "kg/s", 1.36, 1.36},
      {"Cms_mm_per_N", "mm/N", 0.4, 0.4e-3},
      {"Bl_Tm", "T m", 5.6, 5.6},
      {"Re_ohm", "ohm", 3.2, 3.2},
      {"voltage_V", "V", 8.0, 8.0},
      {"power_W", "W", 20.0, 20.0},
      {"loss_factor", "", 0.2, 0.2},
      {"poisson", "", 0.3, 0.3},
      {"price_per_sheet", "", 5.0, 5.0},
  };
  for (const Case& c : cases) {
    CAPTURE(c.key);
    const KeyUnit unit(c.key);
    CHECK(unit.name() == c.unit);
    CHECK_THAT(unit.to_si(c.written), Catch::WithinRel(c.si, 1e-14));
  }
}

// Source: [derived] each number is in range once it is read in the other unit.
TEST_CASE("a number in another common unit is recognised", "[job][derived]") {
  CHECK(KeyUnit("thickness_mm").mistaken_unit(0.0008, {0.2, 5.0}) == " (is it in metres?)");
  CHECK(KeyUnit("thickness_mm").mistaken_unit(0.03, {0.2, 5.0}) == " (is it in inches?)");
  CHECK(KeyUnit("thickness_mm").mistaken_unit(800.0, {0.2, 5.0}) == " (is it in micrometres?)");
  CHECK(KeyUnit("young_GPa").mistaken_unit(210e9, {0.1, 1000.0}) == " (is it in Pa?)");
  CHECK(KeyUnit("young_GPa").mistaken_unit(210e3, {0.1, 1000.0}) == " (is it in MPa?)");
  CHECK(KeyUnit("density_kg_m3").mistaken_unit(7.85, {100.0, 25000.0}) == " (is it in g/cm3?)");
  CHECK(KeyUnit("mass_kg").mistaken_unit(250.0, {1e-4, 50.0}) == " (is it in grams?)");
  CHECK(KeyUnit("temperature_C").mistaken_unit(293.0, {-60.0, 150.0}) == " (is it in kelvin?)");
  CHECK(KeyUnit("Sd_cm2").mistaken_unit(0.0133, {5.0, 3000.0}) == " (is it in m2?)");
  CHECK(KeyUnit("Sd_cm2").mistaken_unit(13300.0, {5.0, 3000.0}) == " (is it in mm2?)");
  CHECK(KeyUnit("Vas_l").mistaken_unit(0.010, {0.05, 2000.0}) == " (is it in m3?)");
  CHECK(KeyUnit("Mms_g").mistaken_unit(0.015, {0.5, 1000.0}) == " (is it in kg?)");
  CHECK(KeyUnit("Cms_mm_per_N").mistaken_unit(4e-4, {0.001, 50.0}) == " (is it in m/N?)");
  CHECK(KeyUnit("Cms_mm_per_N").mistaken_unit(400.0, {0.001, 50.0}) ==
        " (is it in micrometres per newton?)");
  CHECK(KeyUnit("loss_factor").mistaken_unit(20.0, {0.0, 0.5}) == " (is it in percent?)");
  CHECK(KeyUnit("thickness_mm").mistaken_unit(-1.0, {0.2, 5.0}).empty());
  CHECK(KeyUnit("thickness_mm").mistaken_unit(0.0, {0.2, 5.0}).empty());
  CHECK(KeyUnit("force_N").mistaken_unit(1e9, {0.0, 1.0}).empty());
}

// Source: [practice] common practice, no source: figures as a person writes them.
TEST_CASE("numbers are printed as a person writes them", "[job][practice]") {
  CHECK(job::plain_number(0.0008) == "0.0008");
  CHECK(job::plain_number(1e-6) == "0.000001");
  CHECK(job::plain_number(1e9) == "1000000000");
  CHECK(job::plain_number(0.1 + 0.2) == "0.3");
  CHECK(job::plain_number(-12.5) == "-12.5");
  CHECK(job::plain_number(0.0) == "0");
  CHECK(job::plain_number(1e300) == "1e+300");
}

}  // namespace calmplate
