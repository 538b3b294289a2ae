// SPDX-License-Identifier: GPL-3.0-or-later
#include "job/key_unit.hpp"

#include <charconv>
#include <cmath>

#include "base/units.hpp"

namespace calmplate::job {
namespace {

struct Ending {
  const char* ending;
  const char* name;
  double factor;  ///< SI = (written + offset) * factor
  double offset;
};

// Where one ending is also the end of another, the longer one stands first.
// Rotation: N mm/rad per mm of rim is N/rad, which is N m/rad per m of rim.
const Ending kEndings[] = {
    {"_N_per_mm2", "N/mm2", 1e6, 0.0},
    {"_N_per_mm", "N/mm", 1e3, 0.0},
    {"_N_per_rad", "N/rad", 1.0, 0.0},
    {"_mm_per_N", "mm/N", 1e-3, 0.0},
    {"_mm", "mm", 1e-3, 0.0},
    {"_percent", "%", 0.01, 0.0},
    {"_mm2", "mm2", 1e-6, 0.0},
    {"_mm4", "mm4", 1e-12, 0.0},
    {"_cm2", "cm2", 1e-4, 0.0},
    {"_l", "l", 1e-3, 0.0},
    {"_GPa", "GPa", 1e9, 0.0},
    {"_MPa", "MPa", 1e6, 0.0},
    {"_Pa", "Pa", 1.0, 0.0},
    {"_kg_m3", "kg/m3", 1.0, 0.0},
    {"_kg_m2", "kg/m2", 1.0, 0.0},
    {"_m2", "m2", 1.0, 0.0},
    {"_kg_s", "kg/s", 1.0, 0.0},
    {"_kg", "kg", 1.0, 0.0},
    {"_g", "g", 1e-3, 0.0},
    {"_m", "m", 1.0, 0.0},
    {"_deg", "degrees", base::kPi / 180.0, 0.0},
    {"_Hz", "Hz", 1.0, 0.0},
    {"_N", "N", 1.0, 0.0},
    {"_Ns", "N s", 1.0, 0.0},
    {"_ms", "ms", 1e-3, 0.0},
    {"_m_s2", "m/s2", 1.0, 0.0},
    {"_s", "s", 1.0, 0.0},
    {"_kJ_mol", "kJ/mol", 1e3, 0.0},
    {"_K", "K", 1.0, 0.0},
    {"_C", "degrees C", 1.0, 273.15},
    {"_ohm", "ohm", 1.0, 0.0},
    {"_V", "V", 1.0, 0.0},
    {"_W", "W", 1.0, 0.0},
    {"_Tm", "T m", 1.0, 0.0},
};

struct Mistake {
  const char* ending;  ///< of the key
  const char* meant;   ///< unit in which the number may have been written
  double factor;       ///< number in the key's unit = (written + offset) * factor
  double offset;
  double far;  ///< how many times out of range the number must be to ask
};

const Mistake kMistakes[] = {
    {"_mm", "metres", 1e3, 0.0, 5.0},
    {"_mm", "inches", 25.4, 0.0, 5.0},
    {"_mm", "micrometres", 1e-3, 0.0, 5.0},
    {"_mm2", "m2", 1e6, 0.0, 1.0},
    {"_mm2", "cm2", 1e2, 0.0, 1.0},
    {"_mm4", "m4", 1e12, 0.0, 1.0},
    {"_mm4", "cm4", 1e4, 0.0, 1.0},
    {"_GPa", "Pa", 1e-9, 0.0, 1.0},
    {"_GPa", "MPa", 1e-3, 0.0, 1.0},
    {"_MPa", "Pa", 1e-6, 0.0, 1.0},
    {"_MPa", "GPa", 1e3, 0.0, 1.0},
    {"_kg_m3", "g/cm3", 1e3, 0.0, 1.0},
    {"_kg_m2", "g/m2", 1e-3, 0.0, 1.0},
    {"_kg", "grams", 1e-3, 0.0, 1.0},
    {"_Hz", "kHz", 1e3, 0.0, 1.0},
    {"_ms", "seconds", 1e3, 0.0, 1.0},
    {"_C", "kelvin", 1.0, -273.15, 1.0},
    // Figures of loudspeakers, in the units of other datasheets.
    {"_cm2", "mm2", 1e-2, 0.0, 1.0},
    {"_cm2", "m2", 1e4, 0.0, 1.0},
    {"_l", "m3", 1e3, 0.0, 1.0},
    {"_mm_per_N", "m/N", 1e3, 0.0, 1.0},
    {"_mm_per_N", "micrometres per newton", 1e-3, 0.0, 1.0},
    {"_g", "kg", 1e3, 0.0, 1.0},
    {"loss_factor", "percent", 1e-2, 0.0, 1.0},
};

std::string range_text(const Range& range) {
  return (range.or_zero ? "0, or " : "") + plain_number(range.low) + " to " +
         plain_number(range.high);
}

bool ends_in(const std::string& text, const std::string& ending) {
  return text.size() >= ending.size() &&
         text.compare(text.size() - ending.size(), ending.size(), ending) == 0;
}

}  // namespace

KeyUnit::KeyUnit(const std::string& key) {
  for (const Ending& e : kEndings)
    if (ends_in(key, e.ending)) {
      ending_ = e.ending;
      name_ = e.name;
      factor_ = e.factor;
      offset_ = e.offset;
      return;
    }
  if (ends_in(key, "loss_factor")) ending_ = "loss_factor";
}

std::string KeyUnit::with_unit(const std::string& number) const {
  return name_.empty() ? number : number + " " + name_;
}

std::string KeyUnit::allowed(const Range& range) const { return with_unit(range_text(range)); }

std::string KeyUnit::allowed_number(const Range& range) const {
  return "a number " + (name_.empty() ? "" : "in " + name_ + " ") + "from " + range_text(range);
}

std::string KeyUnit::mistaken_unit(double written, const Range& range) const {
  if (written == 0.0) return "";
  for (const Mistake& m : kMistakes) {
    if (ending_ != m.ending) continue;
    // A number just out of range is more likely meant as it stands.
    if (written * m.far > range.low && written < range.high * m.far) continue;
    const double meant = (written + m.offset) * m.factor;
    if (meant >= range.low && meant <= range.high)
      return std::string(" (is it in ") + m.meant + "?)";
  }
  return "";
}

std::string plain_number(double value) {
  char text[64];
  auto end = std::to_chars(text, text + sizeof text, value, std::chars_format::general, 10);
  double rounded = value;
  std::from_chars(text, end.ptr, rounded);
  if (std::abs(rounded) >= 1e-9 && std::abs(rounded) < 1e15)
    end = std::to_chars(text, text + sizeof text, rounded, std::chars_format::fixed);
  return std::string(text, end.ptr);
}

}  // namespace calmplate::job
