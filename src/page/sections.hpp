// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <filesystem>
#include <string>
#include <vector>

#include "page/results.hpp"

/// The parts that both voices share, as HTML.
namespace calmplate::page {

/// What the page is made of.
struct Source {
  Results results;
  std::filesystem::path folder;
};

/// The file as base 64 behind "data:TYPE;base64,", or empty if it is not there.
/// @throws base::InputError if it is there and is not a PNG or JPEG file of up to 16 MB
std::string picture_data(const std::filesystem::path& file);

std::string head_html(const Source& source);  ///< logo, fitter, contact, customer, h1
std::string car_of(const Results& results);
std::string question_text(const Results& results);
std::string options_html(const Results& results, std::size_t most_rows);
/// The bare map beside the maps of some layouts; empty without pictures.
std::string maps_html(const Source& source, const std::vector<const Layout*>& after);
std::string sounds_html(const Results& results);  ///< empty if no layout has tones
std::string foot_html(const Results& results);

}  // namespace calmplate::page
