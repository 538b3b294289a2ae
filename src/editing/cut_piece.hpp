// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <Eigen/Core>
#include <string>
#include <vector>

#include "job/written_layout.hpp"

namespace calmplate::editing {

/// The two parts of a piece on both sides of a straight line, the larger first, or why it cannot be
/// cut so.
struct CutParts {
  std::vector<job::WrittenPiece> parts;  ///< two, or none
  std::string refusal;
};

/// Nothing is lost between the parts: they share the corners on the cut.
/// @param a, b  two points of the line, m on the flat map
CutParts cut_piece(const job::WrittenPiece& piece,
                   const Eigen::Vector2d& a,
                   const Eigen::Vector2d& b);

}  // namespace calmplate::editing
