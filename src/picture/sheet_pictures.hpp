// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <string>

#include "picture/curve_chart.hpp"
#include "picture/page.hpp"
#include "picture/render_window.hpp"
#include "picture/sheet_file.hpp"

/// The pictures of one sheet, one A4 page each. Every figure on them comes from sheet.json.
namespace calmplate::picture {

/// Modulus and loss factor over frequency, a curve a temperature. Needs sheet.curves.
RgbaImage draw_modulus(RenderWindow& window, const SheetFile& sheet);

/// The reduced-frequency nomogram: modulus and loss factor over reduced frequency, frequency at the
/// right, slanting lines of temperature. Needs sheet.reduced.
///
/// Source: memory, ISO 10112:1991, for the presentation.
RgbaImage draw_nomogram(RenderWindow& window, const SheetFile& sheet);

/// Composite loss factor of the coated bars over temperature. Needs sheet.bars.
RgbaImage draw_coated_bars(RenderWindow& window, const SheetFile& sheet);

/// Page words for a picture of the sheet: its name below the title, its figures in the footer.
PageWords sheet_page(const SheetFile& sheet, const std::string& title, const std::string& caption);

/// "20 °C"
std::string celsius(double temperature_c);

}  // namespace calmplate::picture
