// SPDX-License-Identifier: GPL-3.0-or-later
#include "sheet/shelf.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <set>
#include <string>
#include <utility>
#include <vector>

#include "base/units.hpp"
#include "sheet/coated_bar.hpp"
#include "sheet/fractional_zener.hpp"

using namespace calmplate;

namespace {

const std::vector<std::string> kNames = {"butyl 1.5 mm",
                                         "butyl 2 mm",
                                         "butyl 3 mm",
                                         "bitumen 2 mm",
                                         "sprayed 2 mm",
                                         "foil-faced foam",
                                         "heavy layer"};

/// The one parameter of that key, in its own unit; a check fails if there is none.
double value_of(const sheet::ShelfEntry& entry, const std::string& key) {
  for (const sheet::ShelfParameter& p : entry.parameters)
    if (p.key == key) return std::stod(p.value_text);
  FAIL(entry.sheet.name << " has no " << key);
  return 0.0;
}

/// Temperature at which a coated 0.8 mm steel bar loses most at 200 Hz, degrees C.
double best_celsius(const sheet::Sheet& s) {
  double best = 0.0, most = 0.0;
  for (double c = -40.0; c <= 90.0; c += 0.5) {
    const double loss =
        sheet::coated_bar(s, sheet::Material(), 0.8e-3, 200.0, base::from_celsius(c)).loss_factor;
    if (loss > most) {
      most = loss;
      best = c;
    }
  }
  return best;
}

double loss_at(const sheet::Sheet& s, double celsius) {
  return sheet::coated_bar(s, sheet::Material(), 0.8e-3, 200.0, base::from_celsius(celsius))
      .loss_factor;
}

}  // namespace

TEST_CASE("the shelf holds its sheets in the same order, each found by name", "[sheet]") {
  REQUIRE(sheet::shelf().size() == kNames.size());
  for (std::size_t i = 0; i < kNames.size(); ++i) {
    CHECK(sheet::shelf()[i].sheet.name == kNames[i]);
    CHECK(sheet::on_shelf(kNames[i]) == &sheet::shelf()[i]);
  }
  CHECK(sheet::on_shelf("butyl") == nullptr);
  CHECK(sheet::on_shelf("") == nullptr);
}

TEST_CASE("every number on the shelf says where it comes from", "[sheet]") {
  for (const sheet::ShelfEntry& entry : sheet::shelf()) {
    CAPTURE(entry.sheet.name);
    CHECK(entry.what.size() > 20);
    CHECK(entry.parameters.size() >= 5);
    std::set<std::string> keys;
    for (const sheet::ShelfParameter& p : entry.parameters) {
      CAPTURE(p.key, p.source);
      CHECK(keys.insert(p.key).second);
      CHECK(std::isfinite(std::stod(p.value_text)));
      const auto begins = [&](const std::string& with) { return p.source.rfind(with, 0) == 0; };
      CHECK((p.source == "common practice, no source" || p.source == "invented, put your own" ||
             (begins("from memory: ") && p.source.size() > 20) ||
             (begins("chosen: ") && p.source.size() > 12)));
    }
    for (const char* key : {"price_per_sheet", "stock_width", "stock_length"})
      CHECK(keys.count(key) == 1);
  }
}

TEST_CASE("what the shelf prints is what the sheet holds", "[sheet]") {
  for (const sheet::ShelfEntry& entry : sheet::shelf()) {
    const sheet::Sheet& s = entry.sheet;
    CAPTURE(s.name);
    CHECK(value_of(entry, "price_per_sheet") == s.price_per_sheet);
    CHECK(1e-3 * value_of(entry, "stock_width") == Approx(s.stock_width_m));
    CHECK(1e-3 * value_of(entry, "stock_length") == Approx(s.stock_length_m));
    CHECK(s.price_per_sheet > 0.0);
    CHECK(s.stock_width_m > 0.0);
    if (s.kind == sheet::Kind::mass) {
      CHECK(value_of(entry, "mass") == Approx(s.mass_per_area()).epsilon(1e-12));
      CHECK(s.core_modulus == nullptr);
      continue;
    }
    const bool foil = s.kind == sheet::Kind::constrained;
    CHECK(1e-3 * value_of(entry, foil ? "core_thickness" : "thickness") ==
          Approx(s.core_thickness_m));
    CHECK(value_of(entry, foil ? "core_density" : "density") == s.core_density);
    if (foil) {
      CHECK(1e-3 * value_of(entry, "foil_thickness") == Approx(s.foil_thickness_m));
      CHECK(1e9 * value_of(entry, "foil_young") == Approx(s.foil.young_pa));
      CHECK(value_of(entry, "foil_poisson") == s.foil.poisson);
      CHECK(value_of(entry, "foil_density") == s.foil.density);
    } else {
      CHECK(value_of(entry, "poisson") == s.core_poisson);
    }
    const auto* zener = dynamic_cast<const sheet::FractionalZener*>(s.core_modulus.get());
    REQUIRE(zener != nullptr);
    const sheet::FractionalZenerParameters& p = zener->parameters();
    CHECK(1e6 * value_of(entry, "low_modulus") == Approx(p.low_pa).epsilon(1e-8));
    CHECK(1e6 * value_of(entry, "high_modulus") == Approx(p.high_pa).epsilon(1e-8));
    CHECK(value_of(entry, "relaxation_time") == Approx(p.time_s).epsilon(1e-8));
    CHECK(value_of(entry, "exponent") == Approx(p.exponent));
    CHECK(value_of(entry, "wlf_reference") ==
          Approx(base::to_celsius(p.shift.reference_k)).margin(1e-9));
    CHECK(value_of(entry, "wlf_c1") == Approx(p.shift.c1));
    CHECK(value_of(entry, "wlf_c2") == Approx(p.shift.c2_k));
  }
}

// Source: memory for the ranges (orders of magnitude of each kind of sheet); derived for the values
// in them, which are choices.
TEST_CASE("a shelf sheet is as stiff and as lossy as it says at 200 Hz and 20 degrees C",
          "[sheet][memory][derived]") {
  struct Said {
    const char* name;
    double modulus_pa, loss;
  };
  for (const Said& said : {Said{"butyl 1.5 mm", 2e6, 0.938},
                           Said{"butyl 2 mm", 2e6, 0.938},
                           Said{"butyl 3 mm", 2e6, 0.938},
                           Said{"bitumen 2 mm", 0.8e9, 0.35},
                           Said{"sprayed 2 mm", 1.5e9, 0.30}}) {
    CAPTURE(said.name);
    const std::complex<double> g =
        sheet::on_shelf(said.name)->sheet.core_modulus->modulus(200.0, 293.15);
    CHECK(g.real() == Approx(said.modulus_pa).epsilon(0.005));
    CHECK(g.imag() / g.real() == Approx(said.loss).epsilon(0.005));
  }
}

TEST_CASE("a shelf sheet works best at the temperature it says", "[sheet][memory][derived]") {
  const auto best = [](const std::string& name) {
    return best_celsius(sheet::on_shelf(name)->sheet);
  };
  for (const std::string name : {"butyl 1.5 mm", "butyl 2 mm", "butyl 3 mm"}) {
    CHECK(best(name) >= 0.0);
    CHECK(best(name) <= 30.0);
  }
  CHECK(best("bitumen 2 mm") == Approx(24.0).margin(1.0));
  CHECK(best("sprayed 2 mm") == Approx(29.0).margin(1.0));
  // Bitumen is soft in the sun: half is gone by 50 degrees C, two thirds by 60.
  const sheet::Sheet& bitumen = sheet::on_shelf("bitumen 2 mm")->sheet;
  CHECK(loss_at(bitumen, 40.0) < 0.8 * loss_at(bitumen, 24.0));
  CHECK(loss_at(bitumen, 50.0) < 0.55 * loss_at(bitumen, 24.0));
  CHECK(loss_at(bitumen, 60.0) < 0.36 * loss_at(bitumen, 24.0));
  CHECK(loss_at(sheet::on_shelf("heavy layer")->sheet, 20.0) == 0.0);
}

// Source: derived, by hand: 1.5 mm x 1700 + 0.1 mm x 2700, and so on.
TEST_CASE("a shelf sheet weighs what its layers weigh", "[sheet][derived]") {
  const std::vector<double> kg_m2 = {2.82, 3.67, 5.37, 3.4, 2.4, 0.5, 4.0};
  for (std::size_t i = 0; i < kNames.size(); ++i)
    CHECK(sheet::on_shelf(kNames[i])->sheet.mass_per_area() == Approx(kg_m2[i]).epsilon(1e-12));
}
