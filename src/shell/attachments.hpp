// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <map>

#include "shell/assembler.hpp"
#include "shell/panel_model.hpp"

namespace calmplate::shell {

/// Where attachments put their small matrices.
struct AttachmentMatrices {
  Assembler* elastic;                    ///< beams
  std::map<double, Assembler>* springs;  ///< by loss factor
  Assembler* mass;
};

/// The elastic parts of the rim.
void add_rim_springs(const Skin& skin, std::map<double, Assembler>& springs);

/// Beams, point springs and point masses. A beam on pads gets nodes of its own, held at its ends or
/// free, and springs to the skin at the pads; a bonded beam follows the skin.
/// @param next_dof  first free number for the beams' nodes; moved past the last one used
/// @throws base::InputError if a place is off the panel or a beam has no length
void add_attachments(const Skin& skin,
                     const Attachments& attachments,
                     int& next_dof,
                     const AttachmentMatrices& out);

}  // namespace calmplate::shell
