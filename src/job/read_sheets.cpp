// SPDX-License-Identifier: GPL-3.0-or-later
#include <memory>
#include <string>

#include "base/units.hpp"
#include "job/read_sections.hpp"
#include "sheet/shelf.hpp"

namespace calmplate::job {
namespace {

constexpr Range kCoreThickness{0.05, 30.0};      // mm, soft core and free layer
constexpr Range kLayerDensity{50.0, 8000.0};     // kg/m3
constexpr Range kCoreShear{1e-3, 5000.0};        // MPa
constexpr Range kFoilThickness{0.01, 3.0};       // mm
constexpr Range kLayerYoung{0.1, 100000.0};      // MPa
constexpr Range kLayerPoisson{0.0, 0.49};        // no unit
constexpr Range kMassPerArea{0.01, 100.0};       // kg/m2
constexpr Range kPrice{0.0, 1e6};                // the job's currency
constexpr Range kStock{10.0, 100000.0};          // mm; a roll may be long
constexpr double kMassLayerThickness_m = 0.001;  // stands for any: only density times it counts

/// A constant modulus from two keys of the sheet, or what [sheet.modulus] says.
sheet::ModulusPtr sheet_modulus(TableReader& reader,
                                const std::string& storage_key,
                                Range storage,
                                const std::string& loss_key,
                                SheetInput& input) {
  if (!reader.has("modulus")) {
    const double storage_pa = reader.number(storage_key, storage);
    const double loss = reader.number(loss_key, kLoss);
    return std::make_shared<const sheet::ConstantModulus>(storage_pa, loss);
  }
  for (const std::string& key : {storage_key, loss_key})
    if (reader.has(key))
      reader.fail(key, "stands beside [sheet.modulus]", "one of the two ways to give the modulus");
  return read_modulus(reader, input);
}

void read_constrained(TableReader& reader,
                      const Materials& materials,
                      sheet::Sheet& sheet,
                      SheetInput& input) {
  sheet.core_thickness_m = reader.number("core_thickness_mm", kCoreThickness);
  sheet.core_density = reader.number("core_density_kg_m3", kLayerDensity);
  sheet.core_modulus =
      sheet_modulus(reader, "core_shear_MPa", kCoreShear, "core_loss_factor", input);
  sheet.foil_thickness_m = reader.number("foil_thickness_mm", kFoilThickness);
  sheet.foil = material_named(reader, "foil_material", "aluminium", materials);
}

void read_free_layer(TableReader& reader, sheet::Sheet& sheet, SheetInput& input) {
  sheet.core_thickness_m = reader.number("thickness_mm", kCoreThickness);
  sheet.core_density = reader.number("density_kg_m3", kLayerDensity);
  sheet.core_modulus = sheet_modulus(reader, "young_MPa", kLayerYoung, "loss_factor", input);
  sheet.core_poisson = reader.number_or("poisson", kLayerPoisson, 0.3);
}

void read_mass_layer(TableReader& reader, sheet::Sheet& sheet) {
  sheet.core_thickness_m = kMassLayerThickness_m;
  sheet.core_density = reader.number("mass_kg_m2", kMassPerArea) / kMassLayerThickness_m;
}

/// What the built-in shelf says of a sheet.
sheet::Sheet from_shelf(TableReader& reader, SheetInput& input) {
  std::vector<std::string> names;
  for (const sheet::ShelfEntry& entry : sheet::shelf()) names.push_back(entry.sheet.name);
  const std::size_t chosen = reader.word("shelf", names, "sheet of the shelf");
  input.shelf = names[chosen];
  return sheet::shelf()[chosen].sheet;
}

sheet::Sheet described_sheet(TableReader& reader, const Materials& materials, SheetInput& input) {
  sheet::Sheet sheet;
  sheet.kind = reader.choice<sheet::Kind>("kind",
                                          {{"constrained", sheet::Kind::constrained},
                                           {"free-layer", sheet::Kind::free_layer},
                                           {"mass", sheet::Kind::mass}});
  if (sheet.kind == sheet::Kind::constrained) read_constrained(reader, materials, sheet, input);
  if (sheet.kind == sheet::Kind::free_layer) read_free_layer(reader, sheet, input);
  if (sheet.kind == sheet::Kind::mass) read_mass_layer(reader, sheet);
  return sheet;
}

sheet::Sheet read_sheet(TableReader& reader,
                        Names& names,
                        const Materials& materials,
                        SheetInput& input) {
  const std::string name = names.read(reader);
  input.modulus_where = input.where = reader.where();
  sheet::Sheet sheet =
      reader.has("shelf") ? from_shelf(reader, input) : described_sheet(reader, materials, input);
  sheet.name = name;
  sheet.price_per_sheet = reader.number_or("price_per_sheet", kPrice, sheet.price_per_sheet);
  sheet.stock_width_m =
      reader.number_or("stock_width_mm", kStock, base::to_mm(sheet.stock_width_m));
  sheet.stock_length_m =
      reader.number_or("stock_length_mm", kStock, base::to_mm(sheet.stock_length_m));
  if (reader.has("stock_width_mm") != reader.has("stock_length_mm"))
    reader.fail_missing(reader.has("stock_width_mm") ? "stock_length_mm" : "stock_width_mm",
                        "both stock_width_mm and stock_length_mm, or neither");
  input.stock = read_stock(reader);
  const std::string way = input.shelf.empty() ? "kind" : "shelf";
  reader.finish(way + " = \"" + reader.text(way) + "\"");
  return sheet;
}

}  // namespace

void read_sheets(TableReader& file, const Materials& materials, Job& job) {
  Names names;
  for (TableReader& reader : file.sections("sheet", keys::kSheet)) {
    SheetInput input;
    job.sheets.push_back(read_sheet(reader, names, materials, input));
    job.sheet_inputs.push_back(input);
  }
}

}  // namespace calmplate::job
