// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <string>

#include "page/sections.hpp"

namespace calmplate::page {

/// The body of each voice's page, below the head.
std::string customer_body(const Source& source);
std::string fitter_body(const Source& source);

}  // namespace calmplate::page
