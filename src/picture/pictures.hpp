// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include "picture/area_image.hpp"
#include "picture/render_window.hpp"
#include "picture/result_fields.hpp"
#include "picture/result_folder.hpp"

/// One function a picture. Each draws one A4 page and decides nothing: every figure on it comes
/// from the result folder. All throw base::InputError if a field that the results name is missing.
namespace calmplate::picture {

/// Where one trial piece lowers the band level by how much. Needs results.benefit.
RgbaImage draw_benefit(RenderWindow& window, const Results& results, const ResultFields& fields);

/// Where the sheet of a layout turns motion into heat. Needs layout.working_field.
RgbaImage draw_working(RenderWindow& window,
                       const Results& results,
                       const ResultFields& fields,
                       const Layout& layout);

/// What a working map shows, with its unit: a steady drive keeps up a power in the sheet, a tap
/// leaves energy there, which the ending of the field's name tells ("_J_per_m2").
/// @param prefix  of the unit, such as "m"
std::string working_quantity(const std::string& field, const std::string& prefix);

/// How hard each place of the skin moves over the band: a map without words for the page that is
/// handed over, smaller than A4, on one scale for all layouts. Needs "velocity_NAME" in panel.vtu.
RgbaImage draw_velocity(RenderWindow& window,
                        const Results& results,
                        const ResultFields& fields,
                        const Layout& layout);
bool has_velocity(const ResultFields& fields, const Layout& layout);

/// Level over frequency, all layouts.
RgbaImage draw_response(RenderWindow& window, const Results& results);

/// Reduction in each one-third octave, a bar a treated layout.
RgbaImage draw_third_octaves(RenderWindow& window, const Results& results);

/// Reduction over temperature, a curve a sheet on the same layout. Needs results.comparison.
RgbaImage draw_sheets_over_temperature(RenderWindow& window, const Results& results);

/// Treated layouts that have figures at more than one temperature.
std::vector<const Layout*> layouts_over_temperature(const Results& results);

/// Reduction over temperature, a curve each of those layouts; there must be one.
RgbaImage draw_layouts_over_temperature(RenderWindow& window, const Results& results);

/// Number of the layout's modes that can be drawn: at most six, as many as have a shape.
std::size_t drawable_modes(const ResultFields& fields, const Layout& layout);

/// The shapes of the layout's first modes.
RgbaImage draw_modes(RenderWindow& window,
                     const Results& results,
                     const ResultFields& fields,
                     const Layout& layout);

/// The pieces of a layout with numbers and dimensions: what the fitter cuts and lays.
RgbaImage draw_layout(RenderWindow& window, const Results& results, const Layout& layout);

/// The layout's pieces as a list over the whole page, for a layout with more of them than have room
/// beside its drawing (kRowsBesideDrawing).
RgbaImage draw_piece_list(RenderWindow& window, const Results& results, const Layout& layout);
constexpr std::size_t kRowsBesideDrawing = 22;

/// The skin in space, bare and with the pieces of the layouts.
RgbaImage draw_skin(RenderWindow& window, const Results& results, const ResultFields& fields);

/// Rim parts and holes with numbers and names, the datum and sizes: what `calmplate check` took the
/// skin for.
RgbaImage draw_rim_parts(RenderWindow& window, const CheckFile& check);

}  // namespace calmplate::picture
