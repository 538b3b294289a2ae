// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <string>
#include <vector>

#include "sheet/sheet.hpp"

namespace calmplate::sheet {

/// One number of a shelf sheet and where it comes from.
struct ShelfParameter {
  std::string key;         ///< "core_thickness", "low_modulus", ...; unique in its entry
  std::string value_text;  ///< the value in `unit`, as printed
  std::string unit;        ///< "" if it has none
  std::string source;      ///< "common practice, no source", "from memory: ...", "chosen: ...",
                           ///< "derived: ...", or "invented, put your own"
};

/// One generic sheet: no product, every number a stated choice.
struct ShelfEntry {
  Sheet sheet;
  std::string what;  ///< one sentence
  std::vector<ShelfParameter> parameters;
};

/// The built-in generic sheets, always in the same order: three of butyl under foil, a bitumen and
/// a sprayed free layer, a foil-faced foam and a heavy layer that only add mass.
const std::vector<ShelfEntry>& shelf();

/// @return the entry of that name, or nullptr
const ShelfEntry* on_shelf(const std::string& name);

}  // namespace calmplate::sheet
