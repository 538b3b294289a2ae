// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <string>

#include "sheet/complex_modulus.hpp"

namespace calmplate::sheet {

/// An elastic, isotropic plate material.
struct Material {
  std::string name;
  double young_pa = 210e9;
  double poisson = 0.3;
  double density = 7850.0;   ///< kg/m3
  double loss_factor = 0.0;  ///< of the material itself, no unit
};

enum class Kind {
  constrained,  ///< soft core with a stiff foil over it: works by shear of the core
  free_layer,   ///< stiff lossy layer bonded on: works by its own stretching
  mass          ///< adds mass only
};

/// One damping sheet as it lies on the shelf. SI units; thickness of what does not exist is 0.
struct Sheet {
  std::string name;
  Kind kind = Kind::constrained;

  double core_thickness_m = 0.0;  ///< soft core, or the free layer itself, or the mass layer
  double core_density = 0.0;      ///< kg/m3
  double core_poisson = 0.3;      ///< free layer only
  ModulusPtr core_modulus;  ///< shear modulus (constrained) or Young's modulus (free layer), Pa

  double foil_thickness_m = 0.0;  ///< constrained only
  Material foil;                  ///< constrained only

  double price_per_sheet = 0.0;  ///< in the job's currency; 0: not given
  double stock_width_m = 0.0;    ///< size of one sheet; 0: not given
  double stock_length_m = 0.0;

  double mass_per_area() const {
    return core_density * core_thickness_m + foil.density * foil_thickness_m;
  }
};

}  // namespace calmplate::sheet
