// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <memory>

#include "sheet/sheet.hpp"

namespace calmplate::published {

inline sheet::Sheet constrained(double core_m,
                                double shear_pa,
                                double core_loss,
                                double core_density,
                                double foil_m,
                                const sheet::Material& foil) {
  sheet::Sheet s;
  s.name = "constrained";
  s.kind = sheet::Kind::constrained;
  s.core_thickness_m = core_m;
  s.core_density = core_density;
  s.core_modulus = std::make_shared<sheet::ConstantModulus>(shear_pa, core_loss);
  s.foil_thickness_m = foil_m;
  s.foil = foil;
  return s;
}

inline sheet::Material material(double young_pa, double poisson, double density) {
  sheet::Material m;
  m.young_pa = young_pa;
  m.poisson = poisson;
  m.density = density;
  return m;
}

/// 2 mm of butyl (loss 1, 1700 kg/m3) under 0.1 mm of aluminium foil; generic numbers, no product.
inline sheet::Sheet foil_butyl(double shear_pa, double foil_poisson) {
  return constrained(2e-3, shear_pa, 1.0, 1700.0, 0.1e-3, material(70e9, foil_poisson, 2700.0));
}

}  // namespace calmplate::published
