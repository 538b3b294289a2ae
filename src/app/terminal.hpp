// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <string>

#include "base/progress.hpp"

namespace calmplate::app {

/// Ctrl-C and a request to end set a flag that long work looks at; a second one ends at once.
void catch_interrupt();

/// Takes a first Ctrl-C back: the work goes on, and the next one stops it anew.
void forget_interrupt();

/// One line on standard error, with the program's name before it; clears a progress line first.
void print_error(const std::string& text);

/// Progress on standard error if that is a terminal and quiet is false, else none; cancel always.
base::Progress terminal_progress(bool quiet);

/// Removes the progress line, so that what follows starts on a clean one.
void end_progress();

}  // namespace calmplate::app
