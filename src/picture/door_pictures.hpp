// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <string>

#include "picture/canvas.hpp"
#include "picture/render_window.hpp"
#include "picture/result_folder.hpp"

/// The pictures of a woofer in the door and of what it shakes, one A4 page each. Every figure on
/// them comes from results.json.
namespace calmplate::picture {

/// Whether there are third octaves of sound to draw: a woofer plays and the bare skin has them.
bool has_sound(const Results& results);

/// Sound power of the skin against the woofer's in each one-third octave, with a table of dB under
/// the woofer. Needs has_sound().
RgbaImage draw_skin_and_woofer(RenderWindow& window, const Results& results);

/// Whether there are levels at 1 m to draw.
bool has_skin_level(const Results& results);

/// Level at 1 m over frequency, skin against woofer. Needs has_skin_level().
RgbaImage draw_skin_level(RenderWindow& window, const Results& results);

/// Cone travel against Xmax, and the forces by which the woofer shakes the skin, over frequency.
/// Needs results.woofer.
RgbaImage draw_woofer(RenderWindow& window, const Results& results);

/// Number of pages of the rattle chart; 0 without points that have a limit.
std::size_t rattle_pages(const Results& results);

/// Where in a sweep each named point rattles, a strip a point and layout. @param page  from 0
RgbaImage draw_rattles(RenderWindow& window, const Results& results, std::size_t page);

/// Modes of the bare skin in free air against those in the door. Needs door modes of the first
/// layout.
RgbaImage draw_door_modes(RenderWindow& window, const Results& results);

/// How the woofer's own sound is drawn in every chart: one broad grey line.
Stroke woofer_stroke();

/// What levels of sound assume, one sentence.
extern const char* const kSoundAssumptions;

}  // namespace calmplate::picture
