// SPDX-License-Identifier: GPL-3.0-or-later
#include <cmath>
#include <optional>
#include <string>

#include "drive/woofer_input.hpp"
#include "job/read_sections.hpp"

/// The woofer, its amplifier, its filters and the air behind it.
namespace calmplate::job {
namespace {

constexpr Range kResonance{10.0, 500.0};   // Hz
constexpr Range kQ{0.05, 100.0};           // no unit
constexpr Range kOhm{0.5, 200.0};          // ohm
constexpr Range kConeArea{5.0, 3000.0};    // cm2
constexpr Range kMovingMass{0.5, 1000.0};  // g
constexpr Range kCompliance{0.001, 50.0};  // mm/N
constexpr Range kVas{0.05, 2000.0};        // l
constexpr Range kBl{0.2, 100.0};           // T m
constexpr Range kMechanical{0.01, 500.0};  // kg/s
constexpr Range kTravel{0.1, 100.0};       // mm
constexpr Range kRing{30.0, 600.0};        // mm
constexpr Range kFrame{0.05, 30.0};        // kg
constexpr Range kVoltage{0.001, 500.0};    // V
constexpr Range kPower{0.001, 10000.0};    // W
constexpr Range kCorner{1.0, 20000.0};     // Hz
constexpr Range kOrder{1.0, 8.0};          // no unit
constexpr Range kVolume{1.0, 2000.0};      // l
constexpr Range kDepth{5.0, 1000.0};       // mm
constexpr Range kLeakArea{0.0, 5000.0};    // cm2
constexpr Range kLeakLength{0.1, 1000.0};  // mm

std::optional<double> number_or_none(TableReader& reader, const std::string& key, Range allowed) {
  const double value = reader.number_or(key, allowed, 0.0);
  return reader.has(key) ? std::optional<double>(value) : std::nullopt;
}

int whole_number_or(TableReader& reader, const std::string& key, Range allowed, int fallback) {
  const double value = reader.number_or(key, allowed, fallback);
  if (value != std::floor(value))
    reader.fail(
        key,
        "is " + plain_number(value),
        "a whole number from " + plain_number(allowed.low) + " to " + plain_number(allowed.high));
  return static_cast<int>(value);
}

void refuse(const TableReader& reader, const std::optional<drive::Fault>& fault) {
  if (fault) reader.fail(fault->key, fault->problem, fault->allowed);
}

void read_mounting(TableReader& reader, drive::WooferInput& woofer) {
  woofer.mounting = reader.choice_or<drive::Mounting>(
      "mounting",
      {{"inner panel", drive::Mounting::inner_panel}, {"skin", drive::Mounting::skin}},
      drive::Mounting::inner_panel);
  woofer.cone_centre = reader.point_or_none("cone_centre_mm", kPosition);
  if (woofer.mounting == drive::Mounting::skin) {
    woofer.ring_centre = reader.point("ring_centre_mm", kPosition);
    woofer.ring_diameter_m = reader.number("ring_diameter_mm", kRing);
    woofer.frame_mass_kg = reader.number("frame_mass_kg", kFrame);
    if (!woofer.cone_centre) woofer.cone_centre = woofer.ring_centre;
  }
}

drive::WooferInput read_set(TableReader& reader) {
  drive::WooferInput woofer;
  woofer.fs_hz = reader.number("fs_Hz", kResonance);
  woofer.qms = number_or_none(reader, "Qms", kQ);
  woofer.qes = number_or_none(reader, "Qes", kQ);
  woofer.qts = number_or_none(reader, "Qts", kQ);
  woofer.re_ohm = reader.number("Re_ohm", kOhm);
  woofer.sd_m2 = reader.number("Sd_cm2", kConeArea);
  woofer.mms_kg = number_or_none(reader, "Mms_g", kMovingMass);
  woofer.cms_m_n = number_or_none(reader, "Cms_mm_per_N", kCompliance);
  woofer.vas_m3 = number_or_none(reader, "Vas_l", kVas);
  woofer.bl_tm = number_or_none(reader, "Bl_Tm", kBl);
  woofer.rms_ns_m = number_or_none(reader, "Rms_kg_s", kMechanical);
  woofer.xmax_m = number_or_none(reader, "Xmax_mm", kTravel);
  woofer.nominal_ohm = number_or_none(reader, "nominal_ohm", kOhm);
  woofer.count = whole_number_or(reader, "count", {1.0, 2.0}, 1);
  read_mounting(reader, woofer);
  reader.finish("mounting = \"inner panel\"");
  refuse(reader, fault_of(woofer));
  return woofer;
}

drive::AmplifierInput read_amplifier(TableReader& reader) {
  drive::AmplifierInput amplifier;
  amplifier.voltage_v = number_or_none(reader, "voltage_V", kVoltage);
  amplifier.power_w = number_or_none(reader, "power_W", kPower);
  reader.finish();
  refuse(reader, fault_of(amplifier));
  return amplifier;
}

/// @param name  "high_pass" or "low_pass"
std::optional<drive::FilterSlope> read_slope(TableReader& reader, const std::string& name) {
  const std::string corner = name + "_Hz", order = name + "_order", type = name + "_type";
  const std::optional<double> freq_hz = number_or_none(reader, corner, kCorner);
  drive::FilterSlope slope;
  slope.order = whole_number_or(reader, order, kOrder, slope.order);
  slope.type =
      reader.choice_or<drive::FilterType>(type,
                                          {{"butterworth", drive::FilterType::butterworth},
                                           {"linkwitz-riley", drive::FilterType::linkwitz_riley}},
                                          slope.type);
  if (freq_hz) {
    slope.freq_hz = *freq_hz;
    return slope;
  }
  if (reader.has(order) || reader.has(type))
    reader.fail_missing(corner, corner + " with " + (reader.has(order) ? order : type));
  return std::nullopt;
}

void read_filter(TableReader& reader, drive::FilterInput& filter) {
  filter.high_pass = read_slope(reader, "high_pass");
  filter.low_pass = read_slope(reader, "low_pass");
  reader.finish();
  refuse(reader, fault_of(filter));
}

}  // namespace

void read_woofer(TableReader& file, Job& job) {
  auto woofer = file.section("woofer", keys::kWoofer);
  auto amplifier = file.section("amplifier", keys::kAmplifier);
  auto filter = file.section("filter", keys::kFilter);
  if (!woofer) {
    for (const char* other : {"amplifier", "filter"})
      if (file.has(other))
        file.fail(other, "is there, but no [woofer]", "[woofer] too, or neither");
    return;
  }
  if (!file.has("cavity"))
    file.fail_missing("cavity",
                      "one section [cavity], as there is a [woofer]: its back plays into it");
  job.woofer = read_set(*woofer);
  job.woofer_where = woofer->where();
  if (!amplifier) file.fail_missing("amplifier", "one section [amplifier], as there is a [woofer]");
  job.amplifier = read_amplifier(*amplifier);
  if (filter) read_filter(*filter, job.filter);
}

void read_cavity(TableReader& file, Job& job) {
  auto reader = file.section("cavity", keys::kCavity);
  if (!reader) return;
  drive::CavityInput& cavity = job.cavity;
  cavity.wanted = reader->flag_or("wanted", true);
  cavity.volume_m3 = number_or_none(*reader, "volume_l", kVolume);
  cavity.depth_m = number_or_none(*reader, "depth_mm", kDepth);
  cavity.depth_bottom_m = number_or_none(*reader, "depth_bottom_mm", kDepth);
  cavity.depth_top_m = number_or_none(*reader, "depth_top_mm", kDepth);
  cavity.leak_centre = reader->point_or_none("leak_centre_mm", kPosition);
  cavity.leak_area_m2 = reader->number_or("leak_area_cm2", kLeakArea, 0.0);
  cavity.leak_length_m = number_or_none(*reader, "leak_length_mm", kLeakLength);
  cavity.lining_loss_factor = reader->number_or("lining_loss_factor", kLoss, 0.0);
  reader->finish();
  refuse(*reader, fault_of(cavity));
  job.cavity_where = reader->where();
}

}  // namespace calmplate::job
