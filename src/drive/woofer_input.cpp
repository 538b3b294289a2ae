// SPDX-License-Identifier: GPL-3.0-or-later
#include "drive/woofer_input.hpp"

#include <cmath>
#include <cstddef>
#include <cstdio>
#include <utility>
#include <vector>

#include "base/units.hpp"
#include "drive/woofer.hpp"

namespace calmplate::drive {
namespace {

/// A key of the job file and its unit.
struct Key {
  const char* name;
  const char* unit;  ///< with the space before it
  double per_si;     ///< number in the unit = SI value times this
};

constexpr Key kFs{"fs_Hz", " Hz", 1.0};
constexpr Key kRe{"Re_ohm", " ohm", 1.0};
constexpr Key kSd{"Sd_cm2", " cm2", 1e4};
constexpr Key kQms{"Qms", "", 1.0};
constexpr Key kQes{"Qes", "", 1.0};
constexpr Key kQts{"Qts", "", 1.0};
constexpr Key kMms{"Mms_g", " g", 1e3};
constexpr Key kCms{"Cms_mm_per_N", " mm/N", 1e3};
constexpr Key kVas{"Vas_l", " l", 1e3};
constexpr Key kBl{"Bl_Tm", " T m", 1.0};
constexpr Key kRms{"Rms_kg_s", " kg/s", 1.0};
constexpr Key kXmax{"Xmax_mm", " mm", 1e3};
constexpr Key kNominal{"nominal_ohm", " ohm", 1.0};
constexpr Key kRing{"ring_diameter_mm", " mm", 1e3};
constexpr Key kFrame{"frame_mass_kg", " kg", 1.0};

std::string number(double value) {
  char text[32];
  std::snprintf(text, sizeof text, "%.4g", value);
  return text;
}

std::string shown(const Key& key, double si) { return number(si * key.per_si) + key.unit; }

bool above_0(double value) { return std::isfinite(value) && value > 0.0; }

std::optional<Fault> not_above_0(const Key& key, double si) {
  if (above_0(si)) return std::nullopt;
  return Fault{key.name, "is " + shown(key, si), "above 0"};
}

using Given = std::vector<std::pair<Key, std::optional<double>>>;

std::optional<Fault> first_not_above_0(const Given& given) {
  for (const auto& [key, value] : given)
    if (value)
      if (auto fault = not_above_0(key, *value)) return fault;
  return std::nullopt;
}

std::optional<Fault> fault_of_q(const WooferInput& w) {
  if (int(w.qms.has_value()) + int(w.qes.has_value()) + int(w.qts.has_value()) < 2)
    return Fault{w.qes ? "Qms" : "Qes", "is missing", "two of Qms, Qes, Qts"};
  if (!w.qts) return std::nullopt;
  for (const auto& [key, q] : Given{{kQms, w.qms}, {kQes, w.qes}})
    if (q && *w.qts >= *q)
      return Fault{"Qts",
                   "is " + number(*w.qts) + ", not below " + key.name + " of " + number(*q),
                   "below both Qms and Qes, as 1/Qts = 1/Qms + 1/Qes"};
  return std::nullopt;
}

using Keys = std::vector<std::string>;

/// "a, b and c"
std::string listed(const Keys& keys, const std::string& last) {
  std::string text;
  for (std::size_t i = 0; i < keys.size(); ++i)
    text += (i == 0 ? "" : i + 1 == keys.size() ? " " + last + " " : ", ") + keys[i];
  return text;
}

/// @param makers  keys that give the same quantity together
std::optional<Fault> contradiction(const Key& key,
                                   const std::optional<double>& given,
                                   double computed,
                                   const Keys& makers) {
  if (!given || std::abs(*given / computed - 1.0) <= kWooferTolerance) return std::nullopt;
  return Fault{key.name,
               "is " + shown(key, *given) + ", but " + listed(makers, "and") + " make it " +
                   shown(key, computed),
               number(computed * (1.0 - kWooferTolerance) * key.per_si) + " to " +
                   shown(key, computed * (1.0 + kWooferTolerance)) + ", or another " +
                   listed(makers, "or")};
}

/// What is given beyond need, each against what the rest makes it.
std::optional<Fault> first_contradiction(const WooferInput& input) {
  const Woofer w = complete_set(input);
  // The keys that fixed the moving mass speak for it.
  const Keys mass = input.mms_kg    ? Keys{"Mms_g"}
                    : input.cms_m_n ? Keys{"Cms_mm_per_N"}
                    : input.vas_m3  ? Keys{"Vas_l", "Sd_cm2"}
                                    : Keys{"Bl_Tm", "Re_ohm", "Qes"};
  const auto and_mass = [&mass](Keys keys) {
    keys.insert(keys.end(), mass.begin(), mass.end());
    return keys;
  };
  if (auto f = contradiction(kQts, input.qts, w.qts, {"Qms", "Qes"})) return f;
  if (auto f = contradiction(kCms, input.cms_m_n, w.cms_m_n, and_mass({"fs_Hz"}))) return f;
  const bool by_cms = input.cms_m_n.has_value();
  if (auto f =
          contradiction(kVas,
                        input.vas_m3,
                        by_cms ? equivalent_volume(*input.cms_m_n, input.sd_m2) : w.vas_m3,
                        by_cms ? Keys{"Cms_mm_per_N", "Sd_cm2"} : and_mass({"fs_Hz", "Sd_cm2"})))
    return f;
  if (auto f = contradiction(kBl, input.bl_tm, w.bl_tm, and_mass({"fs_Hz", "Re_ohm", "Qes"})))
    return f;
  return contradiction(kRms, input.rms_ns_m, w.rms_ns_m, and_mass({"fs_Hz", "Qms"}));
}

std::optional<Fault> fault_of_slope(const std::optional<FilterSlope>& slope,
                                    const std::string& name) {
  if (!slope) return std::nullopt;
  if (!above_0(slope->freq_hz))
    return Fault{name + "_Hz", "is " + number(slope->freq_hz) + " Hz", "above 0"};
  const int n = slope->order;
  const std::string is = "is " + std::to_string(n);
  if (n < 1 || n > 8) return Fault{name + "_order", is, "a whole number from 1 to 8"};
  if (slope->type == FilterType::linkwitz_riley && n != 1 && n != 2 && n != 4 && n != 8)
    return Fault{name + "_order",
                 is + ", which a Linkwitz-Riley filter does not have",
                 "1, 2, 4 or 8, or another " + name + "_type"};
  return std::nullopt;
}

}  // namespace

Eigen::Matrix<double, 24, 2> ring_points(const WooferInput& woofer) {
  Eigen::Matrix<double, 24, 2> points;
  for (int i = 0; i < points.rows(); ++i) {
    const double angle = base::kTwoPi * i / static_cast<double>(points.rows());
    points.row(i) << woofer.ring_centre.x() + 0.5 * woofer.ring_diameter_m * std::cos(angle),
        woofer.ring_centre.y() + 0.5 * woofer.ring_diameter_m * std::sin(angle);
  }
  return points;
}

std::optional<Fault> fault_of(const WooferInput& w) {
  Given given{{kFs, w.fs_hz},
              {kRe, w.re_ohm},
              {kSd, w.sd_m2},
              {kQms, w.qms},
              {kQes, w.qes},
              {kQts, w.qts},
              {kMms, w.mms_kg},
              {kCms, w.cms_m_n},
              {kVas, w.vas_m3},
              {kBl, w.bl_tm},
              {kRms, w.rms_ns_m},
              {kXmax, w.xmax_m},
              {kNominal, w.nominal_ohm}};
  if (w.mounting == Mounting::skin) {
    given.push_back({kRing, w.ring_diameter_m});
    given.push_back({kFrame, w.frame_mass_kg});
  }
  if (auto fault = first_not_above_0(given)) return fault;
  if (w.count != 1 && w.count != 2)
    return Fault{"count", "is " + std::to_string(w.count), "1 or 2"};
  if (w.count == 2 && w.mounting == Mounting::skin)
    return Fault{
        "count", "is 2, but mounting = \"skin\" has one ring", "1, or mounting = \"inner panel\""};
  if (auto fault = fault_of_q(w)) return fault;
  if (!w.mms_kg && !w.cms_m_n && !w.vas_m3 && !w.bl_tm)
    return Fault{"Mms_g", "is missing", "at least one of Mms_g, Cms_mm_per_N, Vas_l, Bl_Tm"};
  return first_contradiction(w);
}

std::optional<Fault> fault_of(const FilterInput& filter) {
  if (auto fault = fault_of_slope(filter.high_pass, "high_pass")) return fault;
  if (auto fault = fault_of_slope(filter.low_pass, "low_pass")) return fault;
  if (filter.high_pass && filter.low_pass && filter.high_pass->freq_hz >= filter.low_pass->freq_hz)
    return Fault{"high_pass_Hz",
                 "is " + number(filter.high_pass->freq_hz) + " Hz, not below low_pass_Hz of " +
                     number(filter.low_pass->freq_hz) + " Hz: the filters cross",
                 "below low_pass_Hz"};
  return std::nullopt;
}

std::optional<Fault> fault_of(const CavityInput& cavity) {
  if (auto fault = first_not_above_0({{{"volume_l", " l", 1e3}, cavity.volume_m3},
                                      {{"depth_mm", " mm", 1e3}, cavity.depth_m},
                                      {{"depth_bottom_mm", " mm", 1e3}, cavity.depth_bottom_m},
                                      {{"depth_top_mm", " mm", 1e3}, cavity.depth_top_m},
                                      {{"leak_length_mm", " mm", 1e3}, cavity.leak_length_m}}))
    return fault;
  for (const auto& [key, value] :
       {std::pair<Key, double>{{"leak_area_cm2", " cm2", 1e4}, cavity.leak_area_m2},
        std::pair<Key, double>{{"lining_loss_factor", "", 1.0}, cavity.lining_loss_factor}})
    if (!std::isfinite(value) || value < 0.0)
      return Fault{key.name, "is " + shown(key, value), "at or above 0"};
  if (cavity.volume_m3 && cavity.depth_m)
    return Fault{"depth_mm", "stands beside volume_l", "one of volume_l, depth_mm"};
  const bool wedge = cavity.depth_bottom_m.has_value();
  if (wedge != cavity.depth_top_m.has_value())
    return Fault{wedge ? "depth_top_mm" : "depth_bottom_mm",
                 "is missing",
                 "both depth_bottom_mm and depth_top_mm, or neither"};
  if (wedge && cavity.depth_m)
    return Fault{"depth_bottom_mm", "stands beside depth_mm", "depth_mm, or the two others"};
  if (cavity.wanted && !cavity.volume_m3 && !cavity.depth_m && !wedge)
    return Fault{
        "volume_l", "is missing", "volume_l, depth_mm, or depth_bottom_mm with depth_top_mm"};
  for (const auto& [key, given] : {std::pair("leak_length_mm", cavity.leak_length_m.has_value()),
                                   std::pair("leak_centre_mm", cavity.leak_centre.has_value())})
    if (given && cavity.leak_area_m2 == 0.0)
      return Fault{key, "is there, but no leak_area_cm2", "leak_area_cm2 above 0 too"};
  return std::nullopt;
}

std::optional<Fault> fault_of(const AmplifierInput& amplifier) {
  if (auto fault = first_not_above_0({{{"voltage_V", " V", 1.0}, amplifier.voltage_v},
                                      {{"power_W", " W", 1.0}, amplifier.power_w}}))
    return fault;
  const std::string one = "one of voltage_V, power_W";
  if (amplifier.voltage_v && amplifier.power_w)
    return Fault{"power_W", "stands beside voltage_V", one};
  if (!amplifier.voltage_v && !amplifier.power_w) return Fault{"voltage_V", "is missing", one};
  return std::nullopt;
}

}  // namespace calmplate::drive
