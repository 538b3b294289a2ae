// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <filesystem>
#include <string>
#include <vector>

#include "picture/area_image.hpp"
#include "picture/colour_scale.hpp"

namespace calmplate::sample {

/// A folder of its own under the system's temporary folder, removed at the end.
class TemporaryFolder {
 public:
  explicit TemporaryFolder(const std::string& name);
  ~TemporaryFolder();
  TemporaryFolder(const TemporaryFolder&) = delete;
  TemporaryFolder& operator=(const TemporaryFolder&) = delete;
  const std::filesystem::path& path() const { return path_; }

 private:
  std::filesystem::path path_;
};

struct ProgramRun {
  int status = -1;  ///< exit status; 128 + signal if a signal ended the program
  std::string out;
  std::string err;
};

/// Runs the drawing program with DISPLAY unset.
/// @param environment  further settings for env, such as "NAME=value"
ProgramRun run_draw_program(const std::filesystem::path& scratch,
                            const std::string& arguments,
                            const std::string& environment = "");

int count_lines(const std::string& text);

/// A PNG read back, lowest row first.
picture::RgbaImage read_png(const std::filesystem::path& file);

/// Mean CIE lightness over a box given in shares of the page, from its lower left corner.
double mean_lightness(const picture::RgbaImage& image, double x0, double y0, double x1, double y1);

/// Share of the pixels in a square about a place, mm on the page, whose colour is the one wanted.
double share_of(const picture::RgbaImage& image,
                double x_mm,
                double y_mm,
                const picture::Colour& colour,
                double half_mm);

/// Share of the pixels that are not white.
double inked_share(const picture::RgbaImage& image);

}  // namespace calmplate::sample
