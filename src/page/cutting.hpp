// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <string>

#include "page/sections.hpp"

namespace calmplate::page {

/// What to buy and how long it takes, from the cutting.json that `calmplate cut` wrote into the
/// folder "cutting" of the result folder; empty if it is not there.
/// @throws base::InputError if it is damaged
std::string cutting_html(const Source& source);

}  // namespace calmplate::page
