// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/terminal.hpp"

#include <unistd.h>

#include <algorithm>
#include <atomic>
#include <csignal>
#include <cstdio>
#include <iostream>
#include <mutex>

namespace calmplate::app {
namespace {

// A signal handler can reach nothing but a global.
volatile std::sig_atomic_t interrupted = 0;
std::atomic<bool> line_shown{false};

void on_interrupt(int number) {
  if (interrupted != 0) {
    std::signal(number, SIG_DFL);
    std::raise(number);
  }
  interrupted = 1;
}

}  // namespace

void catch_interrupt() {
  std::signal(SIGINT, on_interrupt);
  std::signal(SIGTERM, on_interrupt);
}

void forget_interrupt() { interrupted = 0; }

void end_progress() {
  if (line_shown.exchange(false)) std::cerr << "\r\033[K" << std::flush;
}

void print_error(const std::string& text) {
  end_progress();
  std::cerr << "calmplate: " << text << "\n";
}

base::Progress terminal_progress(bool quiet) {
  base::Progress progress;
  progress.cancelled = [] { return interrupted != 0; };
  if (quiet || isatty(STDERR_FILENO) == 0) return progress;
  progress.report = [](const std::string& stage, double share) {
    static std::mutex one_at_a_time;
    const std::lock_guard<std::mutex> lock(one_at_a_time);
    char percent[16];
    std::snprintf(percent, sizeof percent, "%3.0f %%", 100.0 * std::clamp(share, 0.0, 1.0));
    std::cerr << "\r\033[K" << percent << "  " << stage << std::flush;
    line_shown = true;
  };
  return progress;
}

}  // namespace calmplate::app
