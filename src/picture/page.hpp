// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <string>
#include <vector>

#include "picture/canvas.hpp"
#include "picture/result_folder.hpp"

namespace calmplate::picture {

/// The part of a page that a picture may use, mm.
constexpr Point kContentLow{13.0, 29.0};
constexpr Point kContentHigh{284.0, 187.0};

/// Title, the job's own title and note, a one-line caption that says what is seen, and a footer
/// with the panel and the drive: what every page carries.
void draw_page_frame(Canvas& canvas,
                     const Results& results,
                     const std::string& title,
                     const std::string& caption);

/// Colour and dash of a line in a chart with several: told apart in a grey print by lightness,
/// width and dash.
Stroke chart_stroke(std::size_t number);

/// Fill of an area that stands for one of several layouts or sheets, light to dark.
Colour area_fill(std::size_t number, std::size_t count);

/// The layouts that carry a sheet.
std::vector<const Layout*> treated_layouts(const Results& results);

/// "40 to 250 Hz"
std::string band_text(const Results& results);

/// A text of the user's as part of a file name: every byte but letters, digits, '-' and '_' gives
/// way to '_'.
std::string as_file_name(const std::string& words);

}  // namespace calmplate::picture
