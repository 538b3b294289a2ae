// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <CLI/CLI.hpp>

namespace calmplate::app {

constexpr int kFailed = 1;  ///< another cause than the input
constexpr int kBadInput = 2;
constexpr int kInterrupted = 130;  ///< Ctrl-C, as shells expect it

/// Each adds its command; its callback runs while the command line is parsed.
void add_run(CLI::App& app);
void add_report(CLI::App& app);
void add_place(CLI::App& app);
void add_check(CLI::App& app);
void add_start(CLI::App& app);
void add_cut(CLI::App& app);
void add_sheet(CLI::App& app);
void add_window(CLI::App& app);  ///< the command `show`

/// Adds `derive` to the command `sheet`.
void add_sheet_derive(CLI::App& sheet);

/// What the command that ran asks the program to return; 0 unless it set another.
int exit_status();
void set_exit_status(int status);

}  // namespace calmplate::app
