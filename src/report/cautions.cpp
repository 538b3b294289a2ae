// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/summary.hpp"

namespace calmplate::report {

const std::vector<std::string>& cautions() {
  static const std::vector<std::string> kCautions = {
      "The vehicle maker's instructions and local rules come first; leave airbags and "
      "high-voltage parts to qualified people.",
      "Ignition off, battery disconnected, and wait as long as the maker says before working near "
      "airbags or belt tensioners.",
      "Never touch orange high-voltage cables or what they lead to.",
      "A sensor in the door may read the air pressure of a side impact: do not cover it, and ask "
      "the "
      "maker before closing or opening holes of the inner panel.",
      "Keep drain holes and bottom seams open, 30 mm around them clear, so that no water stays in "
      "the door.",
      "Run the window all the way down and up after every piece; keep clear of glass, regulator, "
      "rods, latch and cables.",
      "Do not glue across the skin and the beam's mastic pads.",
      "Foil and hem edges cut: wear gloves. Solvents burn and harm: ventilate, no flame, try the "
      "paint first.",
      "Sheet adds mass to hinges and check strap: more than about 1 kg a door deserves a thought.",
      "Protect your hearing during sweeps and taps in a closed car.",
  };
  return kCautions;
}

}  // namespace calmplate::report
