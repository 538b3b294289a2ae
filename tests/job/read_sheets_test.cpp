// SPDX-License-Identifier: GPL-3.0-or-later
#include <catch2/catch.hpp>
#include <string>
#include <vector>

#include "job/good_job.hpp"
#include "job/job.hpp"
#include "job/read_sections.hpp"
#include "sheet/fractional_zener.hpp"
#include "sheet/shelf.hpp"
#include "sheet/table_modulus.hpp"

namespace calmplate {
namespace {

using Words = std::vector<std::string>;

job::Job read(const std::string& text) { return job::read_job_text(text, "doors/van.toml"); }

const char* const kWithoutSheets =
    "[job]\ntitle = 't'\n[panel]\nmesh = 'a.vtp'\nthickness_mm = 0.8\nfree = true\n"
    "[drive]\nkind = 'pressure'\n";

}  // namespace

// Source: [derived] every value below is the written one times its unit.
TEST_CASE("moduli over frequency and temperature come out in SI", "[job][derived]") {
  const job::Job j = read(testing::good_job());
  REQUIRE(j.sheets.size() >= 7);
  REQUIRE(j.sheet_inputs.size() == j.sheets.size());
  const auto* wlf = dynamic_cast<const sheet::FractionalZener*>(
      j.sheet_named("changing core").core_modulus.get());
  REQUIRE(wlf != nullptr);
  CHECK_THAT(wlf->parameters().low_pa, Catch::WithinRel(0.1e6, 1e-14));
  CHECK_THAT(wlf->parameters().high_pa, Catch::WithinRel(300e6, 1e-14));
  CHECK(wlf->parameters().time_s == 6.4e-8);
  CHECK(wlf->parameters().exponent == 0.5);
  CHECK(wlf->parameters().shift.kind == sheet::TemperatureShift::Kind::wlf);
  CHECK_THAT(wlf->parameters().shift.reference_k, Catch::WithinRel(298.15, 1e-14));
  CHECK(wlf->parameters().shift.c1 == 8.6);
  CHECK(wlf->parameters().shift.c2_k == 200.0);

  const sheet::Sheet& pad = j.sheet_named("changing pad");
  CHECK(pad.kind == sheet::Kind::free_layer);
  const auto* arrhenius = dynamic_cast<const sheet::FractionalZener*>(pad.core_modulus.get());
  REQUIRE(arrhenius != nullptr);
  CHECK_THAT(arrhenius->parameters().high_pa, Catch::WithinRel(1600e6, 1e-14));
  CHECK(arrhenius->parameters().shift.kind == sheet::TemperatureShift::Kind::arrhenius);
  CHECK(arrhenius->parameters().shift.reference_k == 293.15);  // the default
  CHECK(arrhenius->parameters().shift.activation_j_mol == 120e3);

  const auto* table =
      dynamic_cast<const sheet::TableModulus*>(j.sheet_named("measured core").core_modulus.get());
  REQUIRE(table != nullptr);
  REQUIRE(table->rows().size() == 6);
  CHECK(table->rows()[1].freq_hz == 200.0);
  CHECK(table->rows()[1].temp_k == 273.15);
  CHECK_THAT(table->rows()[1].modulus_pa, Catch::WithinRel(3e6, 1e-14));
  CHECK(table->rows()[1].loss_factor == 0.9);
  CHECK_THAT(table->rows()[5].temp_k, Catch::WithinRel(313.15, 1e-14));
  CHECK(j.sheet_inputs[6].hold_outside);
  CHECK(j.sheet_inputs[6].modulus_where.line == 252);
  CHECK_FALSE(j.sheet_inputs[4].hold_outside);

  const std::string shift = "shift = \"wlf\"\nreference_C = 25\nwlf_c1 = 8.6\nwlf_c2_K = 200\n";
  const job::Job still = read(testing::with(testing::good_job(), shift, ""));
  CHECK(
      dynamic_cast<const sheet::FractionalZener&>(*still.sheet_named("changing core").core_modulus)
          .parameters()
          .shift.kind == sheet::TemperatureShift::Kind::none);
}

// Source: [derived] the shelf's own entry; what the job says beside it overrules it.
TEST_CASE("a sheet of the shelf is the shelf's, with the job's price", "[job][derived]") {
  const job::Job j = read(testing::good_job());
  const sheet::Sheet& laid = j.sheet_named("shelf butyl");
  const sheet::Sheet* shelved = nullptr;
  for (const sheet::ShelfEntry& entry : sheet::shelf())
    if (entry.sheet.name == "butyl 2 mm") shelved = &entry.sheet;
  REQUIRE(shelved != nullptr);
  CHECK(j.sheet_inputs[3].shelf == "butyl 2 mm");
  CHECK(j.sheet_inputs[0].shelf.empty());
  CHECK(laid.kind == shelved->kind);
  CHECK(laid.core_thickness_m == shelved->core_thickness_m);
  CHECK(laid.mass_per_area() == shelved->mass_per_area());
  CHECK(laid.core_modulus->modulus(120.0, 280.0) == shelved->core_modulus->modulus(120.0, 280.0));
  CHECK(laid.price_per_sheet == 8.25);
  CHECK(laid.price_per_sheet != shelved->price_per_sheet);
  CHECK_THAT(laid.stock_width_m, Catch::WithinRel(shelved->stock_width_m, 1e-14));
  const job::Job plain = read(testing::with(testing::good_job(), "price_per_sheet = 8.25\n", ""));
  CHECK(plain.sheet_named("shelf butyl").price_per_sheet == shelved->price_per_sheet);
}

// Source: [derived] as above.
TEST_CASE("stacks, temperatures and the comparison come out in SI", "[job][derived]") {
  const std::string good = testing::good_job();
  const job::Job j = read(good);
  CHECK(j.layouts[0].pieces[0].sheets == Words{"butyl"});
  CHECK(j.layouts[2].pieces[0].sheets == Words{"hard pad", "butyl", "changing core"});
  REQUIRE(j.temperatures_k.size() == 3);
  CHECK_THAT(j.temperatures_k[0], Catch::WithinRel(253.15, 1e-14));
  CHECK_THAT(j.temperatures_k[2], Catch::WithinRel(318.65, 1e-14));
  CHECK(j.sheet_comparison.layout == "partial");
  CHECK(j.sheet_comparison.sheets == Words{"butyl", "changing pad", "measured core"});
  const std::string chosen = "sheets = [\"butyl\", \"changing pad\", \"measured core\"]\n";
  CHECK(read(testing::with(good, chosen, "")).sheet_comparison.sheets.size() == j.sheets.size());
  CHECK(read(kWithoutSheets).temperatures_k.empty());
  CHECK(read(kWithoutSheets).sheet_comparison.layout.empty());
}

// Source: [derived] the table of the job ends at 0 and 40 degrees C, the sweep at -20 and 45.5.
TEST_CASE("what a job asks of a sheet beyond its data is told", "[job][derived]") {
  const std::string good = testing::good_job();
  const std::string still =
      " is given the same modulus at all temperatures, which no sheet has: its figures hold near "
      "the temperature of its data alone.";
  const std::string warm =
      "Sheet \"measured core\" was measured at 0 to 40 degrees C only; at -20 to 45.5 degrees C "
      "the "
      "nearest value is held, a guess.";
  CHECK(read(good).warnings ==
        Words{"Sheet \"butyl\"" + still, "Sheet \"hard pad\"" + still, warm});
  const job::Job narrow = read(testing::with(good, "[20, 200, 500, 20,", "[50, 200, 500, 20,"));
  REQUIRE(narrow.warnings.size() == 4);
  CHECK(
      narrow.warnings[2] ==
      "Sheet \"measured core\" was measured at 50 to 500 Hz only; over the band from 30 to 300 Hz "
      "the nearest value is held, a guess.");
  CHECK(narrow.warnings[3] == warm);
  // Without a sweep the job's own temperature counts, and one modulus is in order.
  const job::Job one =
      read(testing::with(testing::with(good, "temperatures_C = [-20, 10, 45.5]\n", ""),
                         "temperature_C = [10, 30]\n",
                         ""));
  CHECK(
      one.warnings ==
      Words{"Sheet \"measured core\" was measured at 0 to 40 degrees C only; at -10 degrees C the "
            "nearest value is held, a guess."});
  CHECK(read(kWithoutSheets).warnings.empty());
}

}  // namespace calmplate
