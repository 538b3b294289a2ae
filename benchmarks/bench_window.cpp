// SPDX-License-Identifier: GPL-3.0-or-later
// From the hand to the screen: how long after the mouse button is let go, or a key is pressed, the
// frame with the new curve has been handed to the display. The display is one in memory, the input
// is real, drawing is by software.
#include <CLI/CLI.hpp>
#include <algorithm>
#include <chrono>
#include <cstdio>
#include <filesystem>
#include <thread>
#include <vector>

#include "window/display.hpp"
#include "window/window_run.hpp"

namespace {

using calmplate::testing::Display;
using calmplate::testing::WindowRun;

struct Sample {
  double answer_ms = 0.0, shown_ms = 0.0;
};

void print_row(const char* what, const std::vector<Sample>& samples, double Sample::*which) {
  std::vector<double> value;
  for (const Sample& sample : samples) value.push_back(sample.*which);
  std::sort(value.begin(), value.end());
  const auto at = [&](double share) {
    return value[std::size_t(share * double(value.size() - 1))];
  };
  std::printf("%-44s %6.1f  %6.1f  %6.1f  %6.1f\n", what, at(0.0), at(0.5), at(0.9), at(1.0));
}

/// The times of the command that comes next, from its own line to answer and frame.
Sample next_sample(WindowRun& run, const std::string& command) {
  const auto line = run.wait_for_command(command);
  const auto question = line.at("question");
  const double answer =
      run.wait_for("answer", [&](const auto& l) { return l["question"] == question; })["ms"];
  const auto shown = run.wait_for("shown", [&](const auto& l) {
    return l["question"] == question && l.contains("since_release_ms");
  });
  const double since = shown["since_release_ms"], at = shown["ms"];
  return {answer - (at - since), since};
}

void rest() { std::this_thread::sleep_for(std::chrono::milliseconds(400)); }

}  // namespace

int main(int argc, char** argv) {
  CLI::App app{"Latency of the window, from the hand to the screen"};
  std::string job = "meshes/estate_front_door.toml", picture;
  int drags = 20;
  app.add_option("JOB", job, "job file with the estate's front door")->capture_default_str();
  app.add_option("--drags", drags, "how many")->capture_default_str();
  app.add_option("--picture", picture, "PPM of the screen at the end");
  CLI11_PARSE(app, argc, argv);
  namespace fs = std::filesystem;
  const fs::path self = fs::read_symlink("/proc/self/exe");
  const fs::path trace = fs::temp_directory_path() / "calmplate_bench_window.jsonl";
  Display hand(1280, 860);
  WindowRun run(hand, (self.parent_path() / "calmplate-show").string(), job, trace);
  run.wait_for("map");
  rest();
  std::vector<Sample> dragged, pressed;
  // The lower piece of "centre block": to and fro, each time to another place.
  double x = 480.0, y = 170.0;
  for (int i = 0; i < drags; ++i) {
    const double to_x = i % 2 == 0 ? 540.0 - 5.0 * (i % 8) : 480.0;
    const double to_y = i % 2 == 0 ? 150.0 + 5.0 * (i % 8) : 170.0;
    const auto [ax, ay] = run.screen(x, y);
    const auto [bx, by] = run.screen(to_x, to_y);
    hand.drag(ax, ay, bx, by, 12, 16);
    x = to_x;
    y = to_y;
    dragged.push_back(next_sample(run, "release"));
    rest();
  }
  for (int i = 0; i < drags; ++i) {
    hand.press({"Shift_L"}, i % 4 < 2 ? "Right" : "Left");
    pressed.push_back(next_sample(run, "move"));
    rest();
  }
  std::printf("ms, %d each                                      least  median   90 %%     most\n",
              drags);
  print_row("mouse let go -> live answer", dragged, &Sample::answer_ms);
  print_row("mouse let go -> new curve on the screen", dragged, &Sample::shown_ms);
  print_row("key pressed (move by 1 mm) -> live answer", pressed, &Sample::answer_ms);
  print_row("key pressed -> new curve on the screen", pressed, &Sample::shown_ms);
  if (!picture.empty()) hand.write_picture(picture);
  return 0;
}
