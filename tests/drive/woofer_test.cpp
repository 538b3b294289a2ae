// SPDX-License-Identifier: GPL-3.0-or-later
#include "drive/woofer.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <limits>
#include <optional>
#include <stdexcept>
#include <string>

#include "base/units.hpp"
#include "drive/woofers.hpp"

using namespace calmplate;
using Catch::WithinRel;
using testing::woofer_165;

namespace {

/// "key: problem; allowed: ..." or that there is none.
template <typename Input>
std::string fault(const Input& input) {
  const auto f = drive::fault_of(input);
  return f ? f->key + ": " + f->problem + "; allowed: " + f->allowed : "no fault";
}

constexpr const char* kBelow = "; allowed: below both Qms and Qes, as 1/Qts = 1/Qms + 1/Qes";

}  // namespace

// Source: derived. The definitions solved for one another: whichever of the four sets the mass, the
// same woofer comes out.
TEST_CASE("the same woofer comes out whichever figure sets its mass", "[drive][derived]") {
  const drive::Woofer w = drive::complete_set(woofer_165());
  CHECK_THAT(w.cms_m_n * w.mms_kg * std::pow(base::kTwoPi * 65.0, 2), WithinRel(1.0, 1e-14));
  drive::WooferInput by_cms = woofer_165(), by_vas = by_cms, by_bl = by_cms;
  by_cms.mms_kg = by_vas.mms_kg = by_bl.mms_kg = std::nullopt;
  by_cms.cms_m_n = w.cms_m_n;
  by_vas.vas_m3 = w.vas_m3;
  by_bl.bl_tm = w.bl_tm;
  for (const drive::WooferInput& input : {by_cms, by_vas, by_bl}) {
    REQUIRE(fault(input) == "no fault");
    const drive::Woofer other = drive::make_woofer(input);
    CHECK_THAT(other.mms_kg, WithinRel(0.015, 1e-13));
    CHECK_THAT(other.cms_m_n, WithinRel(w.cms_m_n, 1e-13));
    CHECK_THAT(other.rms_ns_m, WithinRel(w.rms_ns_m, 1e-13));
    CHECK_THAT(other.bl_tm, WithinRel(w.bl_tm, 1e-13));
    CHECK_THAT(other.vas_m3, WithinRel(w.vas_m3, 1e-13));
  }
}

// Source: derived. 1/Qts = 1/Qms + 1/Qes, solved for each.
TEST_CASE("any two of the three Q give the third", "[drive][derived]") {
  drive::WooferInput by_qes = woofer_165(), by_qms = by_qes;
  by_qes.qts = by_qms.qts = 4.5 * 0.62 / (4.5 + 0.62);
  by_qes.qms = std::nullopt;
  by_qms.qes = std::nullopt;
  for (const drive::WooferInput& input : {by_qes, by_qms}) {
    const drive::Woofer w = drive::make_woofer(input);
    CHECK_THAT(w.qms, WithinRel(4.5, 1e-12));
    CHECK_THAT(w.qes, WithinRel(0.62, 1e-12));
    CHECK_THAT(w.qts, WithinRel(0.544921875, 1e-12));
  }
}

// Source: derived. Two on one voltage: twice the force, mass, spring and brake on twice the area,
// so the same motion; twice the current.
TEST_CASE("two woofers in parallel move as one does and push twice the air", "[drive][derived]") {
  drive::WooferInput pair = woofer_165();
  pair.count = 2;
  pair.nominal_ohm = 4.0;
  const drive::Woofer one = drive::make_woofer(woofer_165()), two = drive::make_woofer(pair);
  const drive::MovingPart a = drive::moving_part(one), b = drive::moving_part(two);
  CHECK_THAT(b.mass_kg, WithinRel(2.0 * a.mass_kg, 1e-14));
  CHECK_THAT(b.stiffness_n_m, WithinRel(2.0 * a.stiffness_n_m, 1e-14));
  CHECK_THAT(b.resistance_ns_m, WithinRel(2.0 * a.resistance_ns_m, 1e-14));
  CHECK_THAT(b.drive_n_per_volt, WithinRel(2.0 * a.drive_n_per_volt, 1e-14));
  CHECK_THAT(b.sd_m2, WithinRel(2.0 * a.sd_m2, 1e-14));
  CHECK_THAT(two.re_ohm, WithinRel(1.6, 1e-14));
  CHECK_THAT(two.nominal_ohm.value(), WithinRel(2.0, 1e-14));
  CHECK_THAT(two.vas_m3, WithinRel(2.0 * one.vas_m3, 1e-14));
  CHECK_THAT(drive::reference_efficiency(two),
             WithinRel(2.0 * drive::reference_efficiency(one), 1e-13));
  CHECK(two.xmax_m == one.xmax_m);
  CHECK(two.count == 2);
  // The set still agrees with itself.
  const double ws = base::kTwoPi * two.fs_hz;
  CHECK_THAT(ws * two.mms_kg * two.re_ohm / (two.bl_tm * two.bl_tm), WithinRel(two.qes, 1e-13));
  CHECK_THAT(ws * two.mms_kg / two.rms_ns_m, WithinRel(two.qms, 1e-13));
  CHECK_THAT(drive::equivalent_volume(two.cms_m_n, two.sd_m2), WithinRel(two.vas_m3, 1e-13));
}

// Source: derived. Total damping: ws M over the whole resistance is Qts.
TEST_CASE("the moving part has the brake of Qts", "[drive][derived]") {
  const drive::MovingPart part = drive::moving_part(drive::make_woofer(woofer_165()));
  CHECK_THAT(base::kTwoPi * 65.0 * part.mass_kg / part.resistance_ns_m,
             WithinRel(0.544921875, 1e-13));
}

// Source: derived. e^2 = P Z, for all woofers together.
TEST_CASE("power becomes voltage in the label's impedance or the coil's", "[drive][derived]") {
  drive::WooferInput input = woofer_165();
  drive::AmplifierInput amplifier;
  amplifier.power_w = 20.0;
  CHECK_THAT(drive::amplifier_voltage(amplifier, drive::make_woofer(input)), WithinRel(8.0, 1e-14));
  input.nominal_ohm = 4.0;
  CHECK_THAT(drive::amplifier_voltage(amplifier, drive::make_woofer(input)),
             WithinRel(std::sqrt(80.0), 1e-14));
  input.count = 2;
  CHECK_THAT(drive::amplifier_voltage(amplifier, drive::make_woofer(input)),
             WithinRel(std::sqrt(40.0), 1e-14));
  amplifier.power_w = std::nullopt;
  amplifier.voltage_v = 2.5;
  CHECK(drive::amplifier_voltage(amplifier, drive::make_woofer(input)) == 2.5);
}

// Source: practice: common practice, no source. One line that names both sides and both figures.
TEST_CASE("Q values that cannot be are refused", "[drive][practice]") {
  drive::WooferInput w = woofer_165();
  CHECK(fault(w) == "no fault");
  w.qts = 0.7;
  CHECK(fault(w) == std::string("Qts: is 0.7, not below Qes of 0.62") + kBelow);
  w.qts = 0.62;
  CHECK(fault(w) == std::string("Qts: is 0.62, not below Qes of 0.62") + kBelow);
  w.qes = std::nullopt;
  w.qts = 5.0;
  CHECK(fault(w) == std::string("Qts: is 5, not below Qms of 4.5") + kBelow);
  w.qts = std::nullopt;
  CHECK(fault(w) == "Qes: is missing; allowed: two of Qms, Qes, Qts");
  w.qes = 0.62;
  w.qms = std::nullopt;
  CHECK(fault(w) == "Qms: is missing; allowed: two of Qms, Qes, Qts");
}

// Source: derived. 1.05 and 0.95 times what the other figures make it pass, a little more does not.
TEST_CASE("figures beyond need must agree within five per cent", "[drive][derived]") {
  const drive::Woofer exact = drive::complete_set(woofer_165());
  for (const double off : {0.951, 1.049, 0.949, 1.051}) {
    CAPTURE(off);
    const bool good = std::abs(off - 1.0) < 0.05;
    drive::WooferInput cms = woofer_165(), vas = cms, bl = cms, rms = cms, qts = cms;
    cms.cms_m_n = off * exact.cms_m_n;
    vas.vas_m3 = off * exact.vas_m3;
    bl.bl_tm = off * exact.bl_tm;
    rms.rms_ns_m = off * exact.rms_ns_m;
    qts.qts = off * exact.qts;
    CHECK((fault(cms) == "no fault") == good);
    CHECK((fault(vas) == "no fault") == good);
    CHECK((fault(bl) == "no fault") == good);
    CHECK((fault(rms) == "no fault") == good);
    CHECK((fault(qts) == "no fault") == good);
  }
}

// Source: practice: as above.
TEST_CASE("a contradiction names the keys, both figures and what would agree",
          "[drive][practice]") {
  drive::WooferInput w = woofer_165();
  w.vas_m3 = 0.020;
  CHECK(fault(w) ==
        "Vas_l: is 20 l, but fs_Hz, Sd_cm2 and Mms_g make it 10.03 l; allowed: 9.525 to 10.53 l, "
        "or another fs_Hz, Sd_cm2 or Mms_g");
  w.cms_m_n = 4e-4;
  CHECK(fault(w) ==
        "Vas_l: is 20 l, but Cms_mm_per_N and Sd_cm2 make it 10.03 l; allowed: 9.533 to 10.54 l, "
        "or another Cms_mm_per_N or Sd_cm2");
  w.mms_kg = std::nullopt;
  CHECK(drive::fault_of(w)->key == "Vas_l");
  w.cms_m_n = std::nullopt;
  CHECK(fault(w) == "no fault");
  w.bl_tm = 5.6;
  CHECK(fault(w) ==
        "Bl_Tm: is 5.6 T m, but fs_Hz, Re_ohm, Qes, Vas_l and Sd_cm2 make it 3.981 T m; "
        "allowed: 3.782 to 4.18 T m, or another fs_Hz, Re_ohm, Qes, Vas_l or Sd_cm2");
  w.vas_m3 = std::nullopt;
  w.rms_ns_m = 1.0;
  CHECK(fault(w) ==
        "Rms_kg_s: is 1 kg/s, but fs_Hz, Qms, Bl_Tm, Re_ohm and Qes make it 1.35 kg/s; allowed: "
        "1.283 to 1.418 kg/s, or another fs_Hz, Qms, Bl_Tm, Re_ohm or Qes");
  w.bl_tm = std::nullopt;
  CHECK(fault(w) ==
        "Mms_g: is missing; allowed: at least one of Mms_g, Cms_mm_per_N, Vas_l, Bl_Tm");
}

// Source: practice: as above.
TEST_CASE("zero, negative and endless figures of a woofer are refused", "[drive][practice]") {
  const double nan = std::numeric_limits<double>::quiet_NaN();
  drive::WooferInput w = woofer_165();
  w.sd_m2 = 0.0;
  CHECK(fault(w) == "Sd_cm2: is 0 cm2; allowed: above 0");
  for (const double bad : {0.0, -1.0, nan, std::numeric_limits<double>::infinity()}) {
    CAPTURE(bad);
    const auto key_of = [](auto&& spoil) {
      drive::WooferInput input = woofer_165();
      spoil(input);
      const auto f = drive::fault_of(input);
      return f ? f->key : "no fault";
    };
    using I = drive::WooferInput&;
    CHECK(key_of([bad](I i) { i.fs_hz = bad; }) == "fs_Hz");
    CHECK(key_of([bad](I i) { i.re_ohm = bad; }) == "Re_ohm");
    CHECK(key_of([bad](I i) { i.sd_m2 = bad; }) == "Sd_cm2");
    CHECK(key_of([bad](I i) { i.qms = bad; }) == "Qms");
    CHECK(key_of([bad](I i) { i.qes = bad; }) == "Qes");
    CHECK(key_of([bad](I i) { i.qts = bad; }) == "Qts");
    CHECK(key_of([bad](I i) { i.mms_kg = bad; }) == "Mms_g");
    CHECK(key_of([bad](I i) { i.cms_m_n = bad; }) == "Cms_mm_per_N");
    CHECK(key_of([bad](I i) { i.vas_m3 = bad; }) == "Vas_l");
    CHECK(key_of([bad](I i) { i.bl_tm = bad; }) == "Bl_Tm");
    CHECK(key_of([bad](I i) { i.rms_ns_m = bad; }) == "Rms_kg_s");
    CHECK(key_of([bad](I i) { i.xmax_m = bad; }) == "Xmax_mm");
    CHECK(key_of([bad](I i) { i.nominal_ohm = bad; }) == "nominal_ohm");
    drive::AmplifierInput amplifier;
    amplifier.voltage_v = bad;
    CHECK(drive::fault_of(amplifier)->key == "voltage_V");
    CHECK_THROWS_AS(drive::box_resonance(drive::make_woofer(woofer_165()), bad),
                    std::invalid_argument);
  }
}

// Source: practice: as above.
TEST_CASE("count, mounting and amplifier are held to what makes sense", "[drive][practice]") {
  drive::WooferInput w = woofer_165();
  w.count = 3;
  CHECK(fault(w) == "count: is 3; allowed: 1 or 2");
  w.count = 2;
  CHECK(fault(w) == "no fault");
  w.mounting = drive::Mounting::skin;
  CHECK(fault(w) == "ring_diameter_mm: is 0 mm; allowed: above 0");
  w.ring_diameter_m = 0.155;
  CHECK(fault(w) == "frame_mass_kg: is 0 kg; allowed: above 0");
  w.frame_mass_kg = 1.2;
  CHECK(fault(w) ==
        "count: is 2, but mounting = \"skin\" has one ring; allowed: 1, or mounting = \"inner "
        "panel\"");
  CHECK_THROWS_AS(drive::make_woofer(w), std::invalid_argument);
  drive::AmplifierInput amplifier;
  CHECK(fault(amplifier) == "voltage_V: is missing; allowed: one of voltage_V, power_W");
  amplifier.voltage_v = 2.0;
  CHECK(fault(amplifier) == "no fault");
  amplifier.power_w = 2.0;
  CHECK(fault(amplifier) == "power_W: stands beside voltage_V; allowed: one of voltage_V, power_W");
  CHECK_THROWS_AS(drive::amplifier_voltage(amplifier, drive::make_woofer(woofer_165())),
                  std::invalid_argument);
  CHECK_THROWS_AS(drive::complete_set(drive::WooferInput()), std::invalid_argument);
}
