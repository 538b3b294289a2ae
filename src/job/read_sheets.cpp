// SPDX-License-Identifier: GPL-3.0-or-later
#include <memory>
#include <string>

#include "job/read_sections.hpp"

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

void read_constrained(TableReader& reader, const Materials& materials, sheet::Sheet& sheet) {
  sheet.core_thickness_m = reader.number("core_thickness_mm", kCoreThickness);
  sheet.core_density = reader.number("core_density_kg_m3", kLayerDensity);
  const double shear_pa = reader.number("core_shear_MPa", kCoreShear);
  const double loss = reader.number("core_loss_factor", kLoss);
  sheet.core_modulus = std::make_shared<const sheet::ConstantModulus>(shear_pa, loss);
  sheet.foil_thickness_m = reader.number("foil_thickness_mm", kFoilThickness);
  sheet.foil = material_named(reader, "foil_material", "aluminium", materials);
}

void read_free_layer(TableReader& reader, sheet::Sheet& sheet) {
  sheet.core_thickness_m = reader.number("thickness_mm", kCoreThickness);
  sheet.core_density = reader.number("density_kg_m3", kLayerDensity);
  const double young_pa = reader.number("young_MPa", kLayerYoung);
  const double loss = reader.number("loss_factor", kLoss);
  sheet.core_modulus = std::make_shared<const sheet::ConstantModulus>(young_pa, loss);
  sheet.core_poisson = reader.number_or("poisson", kLayerPoisson, 0.3);
}

void read_mass_layer(TableReader& reader, sheet::Sheet& sheet) {
  sheet.core_thickness_m = kMassLayerThickness_m;
  sheet.core_density = reader.number("mass_kg_m2", kMassPerArea) / kMassLayerThickness_m;
}

sheet::Sheet read_sheet(TableReader& reader, Names& names, const Materials& materials) {
  sheet::Sheet sheet;
  sheet.name = names.read(reader);
  sheet.kind = reader.choice<sheet::Kind>("kind",
                                          {{"constrained", sheet::Kind::constrained},
                                           {"free-layer", sheet::Kind::free_layer},
                                           {"mass", sheet::Kind::mass}});
  if (sheet.kind == sheet::Kind::constrained) read_constrained(reader, materials, sheet);
  if (sheet.kind == sheet::Kind::free_layer) read_free_layer(reader, sheet);
  if (sheet.kind == sheet::Kind::mass) read_mass_layer(reader, sheet);

  sheet.price_per_sheet = reader.number_or("price_per_sheet", kPrice, 0.0);
  sheet.stock_width_m = reader.number_or("stock_width_mm", kStock, 0.0);
  sheet.stock_length_m = reader.number_or("stock_length_mm", kStock, 0.0);
  if (reader.has("stock_width_mm") != reader.has("stock_length_mm"))
    reader.fail_missing(reader.has("stock_width_mm") ? "stock_length_mm" : "stock_width_mm",
                        "both stock_width_mm and stock_length_mm, or neither");
  reader.finish("kind = \"" + reader.text("kind") + "\"");
  return sheet;
}

}  // namespace

void read_sheets(TableReader& file, const Materials& materials, Job& job) {
  Names names;
  for (TableReader& reader : file.sections("sheet", keys::kSheet))
    job.sheets.push_back(read_sheet(reader, names, materials));
}

}  // namespace calmplate::job
