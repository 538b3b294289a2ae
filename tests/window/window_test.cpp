// SPDX-License-Identifier: GPL-3.0-or-later
#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include "cli/program.hpp"
#include "window/display.hpp"
#include "window/window_run.hpp"

namespace calmplate::testing {
namespace {

constexpr int kWidth = 1280, kHeight = 860;

/// An invented plate, with remarks that saving must leave alone.
std::string plate_job() {
  return R"toml(# A plate to try the window on (invented).
[job]
title = "Plate under the hand (invented)"

[panel]
outline_mm = [[0, 0], [600, 0], [600, 400], [0, 400]]
element_mm = 25
thickness_mm = 0.8   # measured twice

[[panel.edge]]
part = "rim"
hold = "pinned"

[[sheet]]
name = "butyl"
shelf = "butyl 2 mm"
price_per_sheet = 4
stock_width_mm = 500
stock_length_mm = 500

[[keep_out]]
name = "drain"
centre_mm = [300, 20]
size_mm = [500, 30]

# What the customer has now.
[[layout]]
name = "first"

[[layout.piece]]
sheet = "butyl"
centre_mm = [150, 300]   # upper left
size_mm = [150, 100]

[drive]
kind = "force"
at_mm = [220, 130]

[band]
low_Hz = 40
high_Hz = 250
)toml";
}

struct Desk {
  cli::Folder folder;
  Display display{kWidth, kHeight};

  Desk() { folder.write("job.toml", plate_job()); }
  std::unique_ptr<WindowRun> open() {
    auto run = std::make_unique<WindowRun>(
        display, CALMPLATE_SHOW, folder / "job.toml", folder / "trace.jsonl");
    run->wait_for("ready");
    run->wait_for("shown");
    return run;
  }
  void drag(const WindowRun& run, double x0, double y0, double x1, double y1) {
    const auto [ax, ay] = run.screen(x0, y0);
    const auto [bx, by] = run.screen(x1, y1);
    display.drag(ax, ay, bx, by, 8);
  }
};

nlohmann::json run_job(const cli::Folder& folder) {
  const cli::Outcome outcome =
      cli::run_program(folder, {"run", "job.toml", "--json", "--no-pictures", "-o", "out"});
  INFO(outcome.err);
  REQUIRE(outcome.status == 0);
  return nlohmann::json::parse(outcome.out);
}

double number_in(const std::string& text) {
  return std::stod(text.substr(text.find_first_of("-0123456789")));
}

}  // namespace

// Source: [derived] the job's own figures: the window has to show those that `calmplate run`
// prints. A drag ends within a pixel of its aim (1.4 mm here) and snaps to 5 mm.
TEST_CASE("laying, moving, turning and undoing by hand, saving, and the same figures in a run",
          "[window][derived]") {
  Desk desk;
  auto run = desk.open();
  const auto [px, py] = run->screen(425, 160);
  const auto before = desk.display.pixel(int(px), int(py));

  desk.drag(*run, 350, 100, 500, 220);
  auto line = run->wait_for_command("release");
  CHECK(line["pieces"] == 2);
  CHECK(line["centre_x_mm"].get<double>() == Approx(425.0));
  CHECK(line["centre_y_mm"].get<double>() == Approx(160.0));
  CHECK(line["size_x_mm"].get<double>() == Approx(150.0));
  CHECK(line["size_y_mm"].get<double>() == Approx(120.0));
  run->wait_for_shown(line);
  CHECK(desk.display.pixel(int(px) - 20, int(py) - 20) != before);

  desk.drag(*run, 425, 160, 465, 215);
  line = run->wait_for_command("release");
  CHECK(line["centre_x_mm"].get<double>() == Approx(465.0));
  CHECK(line["centre_y_mm"].get<double>() == Approx(215.0));

  desk.display.press({"Control_L"}, "z");
  line = run->wait_for_command("undo");
  run->wait_for_shown(line);
  desk.display.press({"Control_L"}, "y");
  run->wait_for_command("redo");
  desk.display.press("Escape");
  desk.display.press("Tab");
  desk.display.press("Tab");
  desk.display.press("Left");
  line = run->wait_for_command("move");
  desk.display.press({"Shift_L"}, "Up");
  line = run->wait_for_command("move");
  desk.display.press("r");
  line = run->wait_for_command("turn");
  CHECK(line["angle_deg"].get<double>() == Approx(15.0));
  CHECK(line["pieces"] == 2);
  const double x = line["centre_x_mm"], y = line["centre_y_mm"];

  const auto settled =
      run->wait_for("settled", [&](const auto& l) { return l["question"] == line["question"]; });
  desk.display.press({"Control_L"}, "s");
  run->wait_for("saved");
  desk.display.press({"Control_L"}, "q");
  CHECK(run->wait_for_end() == 0);

  const std::string text = desk.folder.read("job.toml");
  CHECK_THAT(text,
             Catch::Contains("# A plate to try the window on (invented).") &&
                 Catch::Contains("thickness_mm = 0.8   # measured twice") &&
                 Catch::Contains("# What the customer has now.") &&
                 Catch::Contains("centre_mm = [150, 300]   # upper left"));
  CHECK(text.substr(0, text.find("[[layout.piece]]")) ==
        plate_job().substr(0, plate_job().find("[[layout.piece]]")));
  const nlohmann::json results = run_job(desk.folder);
  const nlohmann::json& layout = results.at("layouts").at(1);
  REQUIRE(layout.at("pieces").size() == 2);
  const double reduction = layout.at("band_reduction_db");
  CHECK(settled["reduction_db"].get<double>() == Approx(reduction).margin(1e-6));
  CHECK(settled["band_level_db"].get<double>() ==
        Approx(layout.at("band_level_db").get<double>()).margin(1e-6));
  CHECK(number_in(settled["shown"]) == Approx(-reduction).margin(0.051));
  CHECK(number_in(settled["shown_mass"]) ==
        Approx(layout.at("mass_kg").get<double>()).margin(0.0051));
  CHECK(number_in(settled["shown_cost"]) == Approx(layout.at("cost").get<double>()).margin(0.0051));
  // The live model is another one; docs/theory.md says how far it may be from the figures of
  // record.
  CHECK(number_in(settled["shown_live"]) == Approx(-reduction).margin(0.5));

  // Opened again, the piece lies where it was left.
  run = desk.open();
  desk.display.press("Tab");
  desk.display.press("Tab");
  desk.display.press("Right");
  line = run->wait_for_command("move");
  CHECK(line["centre_x_mm"].get<double>() == Approx(x + 5.0));
  CHECK(line["centre_y_mm"].get<double>() == Approx(y));
  CHECK(line["angle_deg"].get<double>() == Approx(15.0));
  // Closing asks, and going back keeps the window.
  desk.display.press({"Control_L"}, "q");
  run->wait_for("asks to save");
  desk.display.press("Escape");
  run->wait_for("stays");
  desk.display.press({"Control_L"}, "q");
  run->wait_for("asks to save");
  desk.display.press({"Alt_L"}, "d");
  CHECK(run->wait_for_end() == 0);
  CHECK(desk.folder.read("job.toml") == text);
}

// Source: [practice] common practice, no source: what a hand may not do stops, and is undone whole.
TEST_CASE("a piece stops at another, is cut, resized, deleted, and every step comes back",
          "[window][practice]") {
  Desk desk;
  auto run = desk.open();
  desk.drag(*run, 350, 250, 500, 350);
  auto line = run->wait_for_command("release");
  REQUIRE(line["pieces"] == 2);
  // Onto the other piece: it comes no nearer than edge to edge.
  desk.drag(*run, 425, 300, 150, 300);
  line = run->wait_for_command("release");
  CHECK(line["centre_x_mm"].get<double>() >= 300.0 - 1e-9);
  CHECK(line["centre_x_mm"].get<double>() < 425.0);
  CHECK(line["centre_y_mm"].get<double>() == Approx(300.0));
  const double x = line["centre_x_mm"];
  desk.display.press({"Alt_L"}, "Right");
  line = run->wait_for_command("resize");
  CHECK(line["size_x_mm"].get<double>() == Approx(155.0));
  CHECK(line["centre_x_mm"].get<double>() == Approx(x + 2.5));
  desk.display.press("c");
  desk.drag(*run, x, 220, x, 380);
  line = run->wait_for_command("release");
  CHECK(line["pieces"] == 3);
  desk.display.press("Delete");
  line = run->wait_for_command("delete");
  CHECK(line["pieces"] == 2);
  // Delete, cut, resize, move, lay: five steps back, and the file is as it was.
  for (int step = 0; step < 5; ++step) {
    desk.display.press({"Control_L"}, "z");
    line = run->wait_for_command("undo");
  }
  CHECK(line["pieces"] == 1);
  desk.display.press({"Control_L"}, "s");
  run->wait_for("saved");
  CHECK(desk.folder.read("job.toml") == plate_job());
  // Layouts: a duplicate is saved behind the first.
  desk.display.press({"Control_L"}, "d");
  run->wait_for_command("duplicate layout");
  desk.display.press("l");
  line = run->wait_for_command("lay");
  CHECK(line["pieces"] == 2);
  run->wait_for_shown(line);
  desk.display.press({"Control_L"}, "s");
  run->wait_for("saved");
  desk.display.press({"Control_L"}, "q");
  CHECK(run->wait_for_end() == 0);
  CHECK_THAT(desk.folder.read("job.toml"), Catch::Contains("name = \"first 2\""));
  CHECK(run_job(desk.folder).at("layouts").size() == 3);
}

}  // namespace calmplate::testing
