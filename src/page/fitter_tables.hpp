// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <string>

#include "page/results.hpp"

/// The tables that only the fitter's page has, as HTML without headings; empty if the results have
/// nothing to show.
namespace calmplate::page {

std::string thirds_html(const Results& results);
std::string points_html(const Results& results);
std::string modes_html(const Results& results);
std::string pieces_html(const Results& results);
std::string shelf_html(const Results& results);
std::string woofer_html(const Results& results);
std::string rattles_html(const Results& results);
std::string assumed_html(const Results& results);
std::string unknowns_html(const Results& results);

}  // namespace calmplate::page
