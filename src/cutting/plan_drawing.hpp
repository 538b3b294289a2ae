// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <string>

#include "cutting/pen.hpp"
#include "cutting/plan.hpp"

namespace calmplate::cutting {

/// All stock of a plan, piece by piece, at one scale: parts with number and size, cuts numbered in
/// the order of work with their distance from the edge that they are measured from, rests worth
/// keeping with size, scrap hatched.
/// @param title  first line of the page
/// @param note   second line
PageDrawing plan_page(const CutPlan& plan, const std::string& title, const std::string& note);

}  // namespace calmplate::cutting
