// SPDX-License-Identifier: GPL-3.0-or-later
#include <string>
#include <utility>
#include <vector>

#include "job/read_sections.hpp"

namespace calmplate::job {
namespace {

constexpr Range kYoung{0.1, 1000.0};       // GPa
constexpr Range kPoisson{0.0, 0.49};       // above it the plate formulas lose their footing
constexpr Range kDensity{100.0, 25000.0};  // kg/m3

/// Source: [memory] usual handbook values of low-carbon steel and aluminium alloy sheet.
Materials built_in() {
  Materials materials;
  materials["steel"] = sheet::Material{"steel", 210e9, 0.30, 7850.0, 0.0};
  materials["aluminium"] = sheet::Material{"aluminium", 70e9, 0.33, 2700.0, 0.0};
  return materials;
}

}  // namespace

Materials read_materials(TableReader& file) {
  Materials materials = built_in();
  for (auto& [name, reader] : file.named_sections("material", keys::kMaterial)) {
    const auto known = materials.find(name);
    sheet::Material material;
    if (known != materials.end()) material = known->second;
    const bool all = known == materials.end();
    material.name = name;
    if (all || reader.has("young_GPa")) material.young_pa = reader.number("young_GPa", kYoung);
    if (all || reader.has("poisson")) material.poisson = reader.number("poisson", kPoisson);
    if (all || reader.has("density_kg_m3"))
      material.density = reader.number("density_kg_m3", kDensity);
    reader.finish();
    materials[name] = material;
  }
  return materials;
}

sheet::Material material_named(TableReader& reader,
                               const std::string& key,
                               const std::string& fallback,
                               const Materials& materials) {
  std::vector<std::string> names;
  for (const auto& entry : materials) names.push_back(entry.first);
  const std::string name =
      reader.has(key) ? names[reader.word(key, names, "material")] : reader.text_or(key, fallback);
  return materials.at(name);
}

}  // namespace calmplate::job
