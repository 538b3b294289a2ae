// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <QColor>
#include <QPen>

#include "picture/colour_scale.hpp"

/// Pens and colours of the window. They differ in lightness, so that no kind of colour vision is
/// needed to tell them apart.
namespace calmplate::window::look {

inline QPen bare_pen() { return {QColor(0x8c, 0x93, 0x9a), 1.6}; }
inline QPen now_pen() { return {QColor(0xb4, 0x3c, 0x00), 3.0}; }
inline QPen settled_pen() { return {QColor(0x10, 0x3a, 0x66), 1.3}; }

inline QColor screen(const picture::Colour& colour) {
  return QColor::fromRgbF(colour.r, colour.g, colour.b);
}

/// Pale fill of the job's k-th sheet; black text stands on all.
inline QColor sheet_fill(std::size_t k) {
  const auto step = static_cast<double>(k % 5);
  return screen(picture::from_lch(88.0 - 7.5 * step, 30.0, 95.0 + 95.0 * step));
}

}  // namespace calmplate::window::look
