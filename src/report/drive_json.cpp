// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/drive_json.hpp"

#include <cmath>
#include <cstdio>
#include <string>

#include "base/units.hpp"

namespace calmplate::report {
namespace {

using Json = nlohmann::ordered_json;

std::string text(double value, const char* form = "%.6g") {
  char digits[32];
  std::snprintf(digits, sizeof digits, form, value);
  return digits;
}

Json point_mm(const Eigen::Vector2d& p) { return {base::to_mm(p.x()), base::to_mm(p.y())}; }

std::string slope_text(const char* word, const std::optional<drive::FilterSlope>& slope) {
  if (!slope) return "";
  return std::string(", ") + word + " " + text(slope->freq_hz) + " Hz " +
         std::to_string(6 * slope->order) + " dB/octave";
}

/// "woofer at 14.1 V rms (50 W into 4 ohm), high-pass 40 Hz 12 dB/octave"
std::string woofer_text(const job::Job& job) {
  std::string out = job.woofer->count == 2 ? "two woofers at " : "woofer at ";
  out += text(job.drive.voltage_v, "%.3g") + " V rms";
  if (job.amplifier.power_w)
    out += " (" + text(*job.amplifier.power_w) + " W into " +
           text(job.woofer->nominal_ohm.value_or(job.woofer->re_ohm) / job.woofer->count) + " ohm)";
  return out + slope_text("high-pass", job.filter.high_pass) +
         slope_text("low-pass", job.filter.low_pass);
}

}  // namespace

Json drive_json(const job::Job& job) {
  const drive::DriveInput& d = job.drive;
  const std::string at = "(" + text(std::round(base::to_mm(d.at.x()))) + ", " +
                         text(std::round(base::to_mm(d.at.y()))) + ") mm";
  switch (d.kind) {
    case drive::Kind::force:
      return {{"kind", "force"},
              {"text", "force of " + text(d.force_n) + " N rms at " + at},
              {"at_mm", point_mm(d.at)},
              {"force_N", d.force_n}};
    case drive::Kind::pressure:
      return {{"kind", "pressure"},
              {"text", "pressure of " + text(d.pressure_pa) + " Pa rms all over the skin"},
              {"at_mm", nullptr},
              {"pressure_Pa", d.pressure_pa}};
    case drive::Kind::woofer:
      return {
          {"kind", "woofer"},
          {"text", woofer_text(job)},
          {"at_mm", job.woofer->cone_centre ? point_mm(*job.woofer->cone_centre) : Json(nullptr)},
          {"voltage_V", d.voltage_v}};
    case drive::Kind::tap:
      break;
  }
  return {{"kind", "tap"},
          {"text",
           "tap of " + text(d.impulse_ns) + " N s in " + text(1e3 * d.contact_s) + " ms at " + at},
          {"at_mm", point_mm(d.at)},
          {"impulse_Ns", d.impulse_ns},
          {"contact_ms", 1e3 * d.contact_s}};
}

}  // namespace calmplate::report
