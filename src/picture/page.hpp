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

/// The words that every page carries.
struct PageWords {
  std::string title;
  std::string second;   ///< under the title: what the page is about
  std::string caption;  ///< at most two lines: how to read the picture
  std::string footer;   ///< figures that the reader may want to know
};
void draw_page_frame(Canvas& canvas, const PageWords& words);

/// The same for a job: title, the job's own title and note, a one-line caption that says what is
/// seen, and a footer with the panel and the drive.
void draw_page_frame(Canvas& canvas,
                     const Results& results,
                     const std::string& title,
                     const std::string& caption);

/// How a layout is drawn in a chart, by its number in the results: told apart in a grey print by
/// lightness, width and dash. A bar takes the same colour as the line.
Stroke layout_stroke(std::size_t number);

/// The layouts that carry a sheet.
std::vector<const Layout*> treated_layouts(const Results& results);

/// "8.3 dB lower", or "1.2 dB higher" for a reduction below zero; "no level" if it is NaN.
std::string reduction_text(double reduction_db);

/// "40 to 250 Hz"
std::string band_text(const Results& results);

}  // namespace calmplate::picture
