// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <sys/types.h>

#include <filesystem>
#include <fstream>
#include <functional>
#include <nlohmann/json.hpp>
#include <string>
#include <vector>

#include "window/display.hpp"

namespace calmplate::testing {

/// The window's program on a display, and what it writes about itself (--trace).
class WindowRun {
 public:
  using Line = nlohmann::json;

  /// @param program  calmplate-show
  WindowRun(const Display& display,
            const std::string& program,
            const std::filesystem::path& job,
            const std::filesystem::path& trace);
  ~WindowRun();
  WindowRun(const WindowRun&) = delete;
  WindowRun& operator=(const WindowRun&) = delete;

  /// The next line with this event, from where the last call ended, for which `wanted` holds.
  /// @throws std::runtime_error if the program ended, or after two minutes
  Line wait_for(const std::string& event, const std::function<bool(const Line&)>& wanted = {});
  /// The next command that was carried out or refused.
  Line wait_for_command(const std::string& command);
  /// The frame with the answer to the question of this command.
  Line wait_for_shown(const Line& command);
  /// Until the program has ended by itself. @return its exit status
  int wait_for_end();

  /// Where a place of the flat map, in mm, lies on the screen: of the last "view" line.
  std::pair<double, double> screen(double x_mm, double y_mm) const;
  std::pair<double, double> middle_of(const std::string& widget) const;

 private:
  bool read_line(Line& line);
  pid_t child_ = -1;
  int status_ = -1;
  std::filesystem::path trace_;
  std::ifstream stream_;
  std::string partial_;
  Line view_;
};

}  // namespace calmplate::testing
