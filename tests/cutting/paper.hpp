// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <string>
#include <vector>

/// PDF pages as a printer would put them on paper.
namespace calmplate::testing {

/// A page in grey, 0 black to 255 white, or in three colours.
struct Print {
  int width = 0, height = 0, channels = 1;
  double dots_per_mm = 0.0;
  std::vector<unsigned char> dots;

  int at(int x, int y, int channel = 0) const {
    return dots[static_cast<std::size_t>((y * width + x) * channels + channel)];
  }
};

/// One page of a PDF by Poppler's pdftoppm. @param page  from 1
/// @throws std::runtime_error if the program fails or is not there
Print printed(const std::string& pdf, int page, double dots_per_inch, bool colour = false);

/// The words of all pages, a form feed after each, by Poppler's pdftotext.
std::string words_of(const std::string& pdf);

/// Middles of the dark strokes along a row (or column) from one place to another, mm from the
/// page's left (upper) edge; weighted by darkness, so finer than a dot.
std::vector<double> strokes_in_row(const Print& print, double y_mm, double from_mm, double to_mm);
std::vector<double> strokes_in_column(const Print& print,
                                      double x_mm,
                                      double from_mm,
                                      double to_mm);

}  // namespace calmplate::testing
