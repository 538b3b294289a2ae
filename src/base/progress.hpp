// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <functional>
#include <stdexcept>
#include <string>

namespace calmplate::base {

/// Thrown by Progress::check when the person asked to stop. Nothing has been written then.
class Cancelled : public std::runtime_error {
 public:
  Cancelled() : std::runtime_error("stopped on request") {}
};

/// Progress and cancel for long work; handed down as an argument, never a global.
/// Both functions may be empty. `report` may be called from several threads.
struct Progress {
  /// Called with the stage in trade words ("modes of layout full") and its share done, 0 to 1.
  std::function<void(const std::string& stage, double share)> report;
  /// True once the work is to stop.
  std::function<bool()> cancelled;

  /// @throws Cancelled if a stop was asked for
  void check() const {
    if (cancelled && cancelled()) throw Cancelled();
  }
  void step(const std::string& stage, double share) const {
    check();
    if (report) report(stage, share);
  }
};

}  // namespace calmplate::base
