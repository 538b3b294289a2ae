// SPDX-License-Identifier: GPL-3.0-or-later
#include "sheet/shelf.hpp"

#include <algorithm>
#include <cstdio>
#include <memory>
#include <utility>

#include "base/units.hpp"
#include "sheet/fractional_zener.hpp"

namespace calmplate::sheet {
namespace {

const char* const kPractice = "common practice, no source";
const char* const kInvented = "invented, put your own";

/// Fills a sheet and, beside each number, writes down where it comes from.
class Entry {
 public:
  Entry(const std::string& name, Kind kind, const std::string& what) {
    entry_.sheet.name = name;
    entry_.sheet.kind = kind;
    entry_.what = what;
  }

  Sheet& sheet() { return entry_.sheet; }

  Entry& note(const std::string& key,
              double value,
              const std::string& unit,
              const std::string& source) {
    char text[32];
    std::snprintf(text, sizeof text, "%.9g", value);
    entry_.parameters.push_back({key, text, unit, source});
    return *this;
  }

  /// Price and size of one stock sheet.
  ShelfEntry sold(double price, double width_mm, double length_mm) {
    entry_.sheet.price_per_sheet = price;
    entry_.sheet.stock_width_m = base::from_mm(width_mm);
    entry_.sheet.stock_length_m = base::from_mm(length_mm);
    note("price_per_sheet", price, "the job's currency", kInvented);
    note("stock_width", width_mm, "mm", kInvented);
    note("stock_length", length_mm, "mm", kInvented);
    return std::move(entry_);
  }

 private:
  ShelfEntry entry_;
};

/// What a fractional Zener set comes from.
struct MaterialSources {
  std::string moduli, time, exponent, reference, shift;
};

void fractional(Entry& entry, const FractionalZenerParameters& p, const MaterialSources& from) {
  entry.sheet().core_modulus = std::make_shared<const FractionalZener>(p);
  entry.note("low_modulus", 1e-6 * p.low_pa, "MPa", from.moduli)
      .note("high_modulus", 1e-6 * p.high_pa, "MPa", from.moduli)
      .note("relaxation_time", p.time_s, "s", from.time)
      .note("exponent", p.exponent, "", from.exponent)
      .note("wlf_reference", base::to_celsius(p.shift.reference_k), "C", from.reference)
      .note("wlf_c1", p.shift.c1, "", from.shift)
      .note("wlf_c2", p.shift.c2_k, "K", from.shift);
}

FractionalZenerParameters zener(double low_pa,
                                double high_pa,
                                double time_s,
                                double exponent,
                                double reference_c,
                                double c1,
                                double c2_k) {
  FractionalZenerParameters p;
  p.low_pa = low_pa;
  p.high_pa = high_pa;
  p.time_s = time_s;
  p.exponent = exponent;
  p.shift.kind = TemperatureShift::Kind::wlf;
  p.shift.reference_k = base::from_celsius(reference_c);
  p.shift.c1 = c1;
  p.shift.c2_k = c2_k;
  return p;
}

ShelfEntry butyl(const std::string& name, double core_mm, double price) {
  Entry entry(name,
              Kind::constrained,
              "Butyl-based core under aluminium foil, laid on by hand and rolled down.");
  Sheet& s = entry.sheet();
  s.core_thickness_m = base::from_mm(core_mm);
  s.core_density = 1700.0;
  s.foil_thickness_m = 0.1e-3;
  s.foil = {"aluminium", 70e9, 0.33, 2700.0, 0.0};
  entry.note("core_thickness", core_mm, "mm", kPractice)
      .note("core_density",
            s.core_density,
            "kg/m3",
            "from memory: filled butyl sheet weighs 1300 to 1900 kg/m3")
      .note("foil_thickness", 0.1, "mm", "from memory: foils are 0.05 to 0.2 mm")
      .note("foil_young", 70.0, "GPa", "from memory: handbook value of aluminium")
      .note("foil_poisson", 0.33, "", "from memory: handbook value of aluminium")
      .note("foil_density", 2700.0, "kg/m3", "from memory: handbook value of aluminium");
  fractional(entry,
             zener(1.0e5, 3.0e8, 6.38915e-8, 0.5, 20.0, 8.83032, 195.4),
             {"chosen: a rubber's and a glass's modulus so far apart that loss peaks at 0.95",
              "chosen: 2.0 MPa at 200 Hz and 20 C, middle of a remembered 0.5 to 5 MPa",
              "chosen: a broad peak, as filled butyl has",
              "chosen: where the rest is stated",
              "from memory: polyisobutylene, 8.61 and 200.4 K at 25 C (Ferry, Viscoelastic "
              "Properties of Polymers), carried over to 20 C"});
  return entry.sold(price, 500.0, 750.0);
}

ShelfEntry bitumen() {
  Entry entry("bitumen 2 mm",
              Kind::free_layer,
              "Filled bitumen sheet without foil; stiff in the cool, soft above 40 C.");
  Sheet& s = entry.sheet();
  s.core_thickness_m = 2e-3;
  s.core_density = 1700.0;
  s.core_poisson = 0.3;
  entry.note("thickness", 2.0, "mm", kPractice)
      .note("density", s.core_density, "kg/m3", "from memory: 1400 to 2000 kg/m3")
      .note("poisson", s.core_poisson, "", kPractice);
  fractional(
      entry,
      zener(2.0e6, 1.598e9, 7.958e-4, 0.43, 20.0, 8.86, 101.6),
      {"chosen: Young's modulus 0.8 GPa at 200 Hz and 20 C, within a remembered 0.3 to 2 GPa",
       "chosen: the loss modulus peaks at 200 Hz and 20 C",
       "chosen: loss factor 0.35 at 200 Hz and 20 C, within a remembered 0.2 to 0.4",
       "chosen: a coated 0.8 mm steel bar loses most near 24 C, remembered 10 to 30 C",
       "from memory: the universal constants about 50 K above the glass transition "
       "(Williams, Landel, Ferry, 1955); that they fit bitumen is a choice"});
  return entry.sold(6.0, 500.0, 500.0);
}

ShelfEntry sprayed() {
  Entry entry("sprayed 2 mm",
              Kind::free_layer,
              "Water-based damping coating, 2 mm when dry; price and size per square metre laid.");
  Sheet& s = entry.sheet();
  s.core_thickness_m = 2e-3;
  s.core_density = 1200.0;
  s.core_poisson = 0.3;
  entry.note("thickness", 2.0, "mm", kPractice)
      .note("density", s.core_density, "kg/m3", "from memory: 900 to 1500 kg/m3")
      .note("poisson", s.core_poisson, "", kPractice);
  fractional(
      entry,
      zener(1.5e7, 2.45e9, 7.958e-4, 0.47, 24.0, 8.86, 101.6),
      {"chosen: Young's modulus 1.5 GPa at 200 Hz and 20 C, within a remembered 0.5 to 3 GPa",
       "chosen: the loss modulus peaks at 200 Hz and 24 C",
       "chosen: loss factor 0.3 at 200 Hz and 20 C, middle of a remembered 0.2 to 0.4",
       "chosen: a coated 0.8 mm steel bar loses most near 29 C, remembered 20 to 35 C",
       "from memory: the universal constants about 50 K above the glass transition "
       "(Williams, Landel, Ferry, 1955); that they fit the binder is a choice"});
  return entry.sold(15.0, 1000.0, 1000.0);
}

ShelfEntry mass_only(const std::string& name,
                     const std::string& what,
                     double thickness_mm,
                     double mass_kg_m2,
                     double price,
                     double width_mm,
                     double length_mm) {
  Entry entry(name, Kind::mass, what);
  entry.sheet().core_thickness_m = base::from_mm(thickness_mm);
  entry.sheet().core_density = mass_kg_m2 / base::from_mm(thickness_mm);
  entry.note("thickness", thickness_mm, "mm", kPractice)
      .note("mass", mass_kg_m2, "kg/m2", kPractice);
  return entry.sold(price, width_mm, length_mm);
}

}  // namespace

const std::vector<ShelfEntry>& shelf() {
  static const std::vector<ShelfEntry> entries = {
      butyl("butyl 1.5 mm", 1.5, 6.0),
      butyl("butyl 2 mm", 2.0, 7.5),
      butyl("butyl 3 mm", 3.0, 10.0),
      bitumen(),
      sprayed(),
      mass_only("foil-faced foam",
                "Soft foam under foil, against heat and air noise: on the skin it only adds mass.",
                10.0,
                0.5,
                8.0,
                500.0,
                1000.0),
      mass_only("heavy layer",
                "Limp filled sheet: on the skin it only adds mass.",
                2.0,
                4.0,
                14.0,
                500.0,
                1000.0)};
  return entries;
}

const ShelfEntry* on_shelf(const std::string& name) {
  const std::vector<ShelfEntry>& all = shelf();
  const auto found = std::find_if(
      all.begin(), all.end(), [&](const ShelfEntry& e) { return e.sheet.name == name; });
  return found == all.end() ? nullptr : &*found;
}

}  // namespace calmplate::sheet
