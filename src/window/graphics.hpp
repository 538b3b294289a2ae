// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <QApplication>
#include <memory>

namespace calmplate::window {

/// Qt on a display that can draw in 3-D, by software if need be. Where there is no display, Qt ends
/// the program itself: then one line is printed and the exit status is 1.
/// @throws std::runtime_error if the display has no OpenGL 3.2
std::unique_ptr<QApplication> start_graphics(int& argc, char** argv);

}  // namespace calmplate::window
