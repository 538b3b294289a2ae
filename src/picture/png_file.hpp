// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <filesystem>

#include "picture/area_image.hpp"

namespace calmplate::picture {

/// Writes the image as an RGB PNG that carries its print resolution (kDotsPerInch). The file
/// appears whole under its name or not at all.
/// @throws std::runtime_error naming the file if it cannot be written
void write_png(const std::filesystem::path& path, const RgbaImage& image);

}  // namespace calmplate::picture
