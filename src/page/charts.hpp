// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <string>

#include "page/results.hpp"

/// The charts of the page as HTML figures, each with its figures as a table to open. Empty if the
/// results have nothing to show.
namespace calmplate::page {

/// @param plain  for the customer: bare skin and proposal alone, and without the level's reference
std::string response_figure(const Results& results, bool plain);
std::string coverage_figure(const Results& results);
/// Every layout over temperature.
std::string temperature_figure(const Results& results);
/// The sheets of the comparison over temperature.
std::string comparison_figure(const Results& results);

/// The layout's name for a person: words for the bare panel.
std::string shown_name(const Layout& layout);
/// "where the woofer plays (40 to 250 Hz)"
std::string where_text(const Results& results);
/// "3.45", or "–" for none.
std::string money(double cost);

}  // namespace calmplate::page
