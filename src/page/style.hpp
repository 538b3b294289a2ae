// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <string>

namespace calmplate::page {

/// The page's style sheet: phone, desktop and A4 in print. Ours alone; no file beside the page.
/// @param one_page  print on one A4 page: the customer's
std::string style_sheet(bool one_page);

}  // namespace calmplate::page
