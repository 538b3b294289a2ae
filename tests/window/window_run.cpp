// SPDX-License-Identifier: GPL-3.0-or-later
#include "window/window_run.hpp"

#include <fcntl.h>
#include <signal.h>
#include <sys/prctl.h>
#include <sys/wait.h>
#include <unistd.h>

#include <chrono>
#include <cmath>
#include <cstdlib>
#include <stdexcept>
#include <thread>

namespace calmplate::testing {

WindowRun::WindowRun(const Display& display,
                     const std::string& program,
                     const std::filesystem::path& job,
                     const std::filesystem::path& trace)
    : trace_(trace) {
  std::filesystem::remove(trace);
  const std::string job_name = job.string(), trace_name = trace.string();
  child_ = ::fork();
  if (child_ == 0) {
    ::prctl(PR_SET_PDEATHSIG, SIGKILL);
    ::setenv("DISPLAY", display.name().c_str(), 1);
    ::unsetenv("WAYLAND_DISPLAY");
    ::setenv("QT_QPA_PLATFORM", "xcb", 1);
    ::setenv("LIBGL_ALWAYS_SOFTWARE", "1", 1);
    ::execl(program.c_str(),
            program.c_str(),
            job_name.c_str(),
            "--trace",
            trace_name.c_str(),
            static_cast<char*>(nullptr));
    ::_exit(127);
  }
}

WindowRun::~WindowRun() {
  if (child_ < 0) return;
  ::kill(child_, SIGKILL);
  ::waitpid(child_, nullptr, 0);
}

bool WindowRun::read_line(Line& line) {
  if (!stream_.is_open()) {
    stream_.open(trace_);
    if (!stream_.is_open()) return false;
  }
  stream_.clear();
  for (char c = 0; stream_.get(c);) {
    if (c != '\n') {
      partial_ += c;
      continue;
    }
    line = Line::parse(partial_);
    partial_.clear();
    if (line["event"] == "view") view_ = line;
    return true;
  }
  return false;
}

WindowRun::Line WindowRun::wait_for(const std::string& event,
                                    const std::function<bool(const Line&)>& wanted) {
  const auto last = std::chrono::steady_clock::now() + std::chrono::minutes(2);
  std::string seen;
  while (std::chrono::steady_clock::now() < last) {
    Line line;
    if (read_line(line)) {
      if (line["event"] == event && (!wanted || wanted(line))) return line;
      if (line["event"] != "view") seen += "\n" + line.dump();
      continue;
    }
    if (child_ < 0 || ::waitpid(child_, &status_, WNOHANG) == child_) {
      child_ = -1;
      throw std::runtime_error("the window ended while \"" + event + "\" was awaited;" + seen);
    }
    std::this_thread::sleep_for(std::chrono::milliseconds(2));
  }
  throw std::runtime_error("no \"" + event + "\" came;" + seen);
}

WindowRun::Line WindowRun::wait_for_command(const std::string& command) {
  return wait_for("command", [&](const Line& line) { return line["command"] == command; });
}

WindowRun::Line WindowRun::wait_for_shown(const Line& command) {
  return wait_for("shown",
                  [&](const Line& line) { return line["question"] == command.at("question"); });
}

int WindowRun::wait_for_end() {
  if (child_ >= 0) ::waitpid(child_, &status_, 0);
  child_ = -1;
  return WIFEXITED(status_) ? WEXITSTATUS(status_) : 128 + WTERMSIG(status_);
}

std::pair<double, double> WindowRun::screen(double x_mm, double y_mm) const {
  // Between the four points of the grid round the place, evenly.
  constexpr double kGrid = 50.0;
  double x = 0.0, y = 0.0, weight = 0.0;
  for (const Line& point : view_.at("points")) {
    const double a = 1.0 - std::abs(point[0].get<double>() - x_mm) / kGrid;
    const double b = 1.0 - std::abs(point[1].get<double>() - y_mm) / kGrid;
    if (a <= 0.0 || b <= 0.0) continue;
    x += a * b * point[2].get<double>();
    y += a * b * point[3].get<double>();
    weight += a * b;
  }
  if (std::abs(weight - 1.0) > 1e-6) throw std::runtime_error("off the grid of the view");
  return {x, y};
}

std::pair<double, double> WindowRun::middle_of(const std::string& widget) const {
  const Line& box = view_.at("widgets").at(widget);
  return {box[0].get<double>() + 0.5 * box[2].get<double>(),
          box[1].get<double>() + 0.5 * box[3].get<double>()};
}

}  // namespace calmplate::testing
