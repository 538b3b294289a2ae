// SPDX-License-Identifier: GPL-3.0-or-later
// The drawing program as run, with DISPLAY unset.
#include "picture/draw_program.hpp"

#include <vtkDoubleArray.h>
#include <vtkNew.h>
#include <vtkPointData.h>
#include <vtkPoints.h>
#include <vtkUnstructuredGrid.h>
#include <vtkXMLUnstructuredGridWriter.h>

#include <catch2/catch.hpp>
#include <fstream>
#include <iterator>
#include <set>

#include "picture/sample_results.hpp"

namespace calmplate::sample {
namespace {

namespace fs = std::filesystem;
using nlohmann::json;

std::string quoted(const fs::path& path) { return "'" + path.string() + "'"; }

std::string bytes_of(const fs::path& file) {
  std::ifstream stream(file, std::ios::binary);
  return {std::istreambuf_iterator<char>(stream), std::istreambuf_iterator<char>()};
}

std::set<std::string> names_in(const fs::path& folder) {
  std::set<std::string> names;
  for (const auto& entry : fs::directory_iterator(folder)) {
    names.insert(entry.path().filename().string());
  }
  return names;
}

/// Exit 2, one line on standard error that holds `words`, nothing on standard output, no picture.
void check_refused(const fs::path& folder, const std::string& words) {
  const ProgramRun run = run_draw_program(folder.parent_path(), quoted(folder));
  CAPTURE(run.err);
  CHECK(run.status == 2);
  CHECK(run.out.empty());
  CHECK(count_lines(run.err) == 1);
  CHECK_THAT(run.err, Catch::Contains(words));
  CHECK_FALSE(fs::exists(folder / "pictures"));
}

/// A panel.vtu of one cell.
void write_one_cell(const fs::path& file, int cell_type, bool with_flat_map) {
  vtkNew<vtkPoints> points;
  vtkNew<vtkDoubleArray> flat;
  flat->SetName("flat_map_mm");
  flat->SetNumberOfComponents(3);
  const double corners[4][2] = {{0, 0}, {1, 0}, {1, 1}, {0, 1}};
  for (const auto& c : corners) {
    points->InsertNextPoint(c[0], c[1], 0.0);
    flat->InsertNextTuple3(1e3 * c[0], 1e3 * c[1], 0.0);
  }
  vtkNew<vtkUnstructuredGrid> grid;
  grid->SetPoints(points);
  const vtkIdType ids[4] = {0, 1, 2, 3};
  grid->InsertNextCell(cell_type, cell_type == VTK_QUAD ? 4 : 3, ids);
  if (with_flat_map) grid->GetPointData()->AddArray(flat);
  vtkNew<vtkXMLUnstructuredGridWriter> writer;
  writer->SetFileName(file.c_str());
  writer->SetInputData(grid);
  writer->Write();
}

}  // namespace

TEST_CASE("every picture of a result folder is drawn without a display", "[picture]") {
  const TemporaryFolder scratch("draw-all");
  const fs::path folder = scratch.path() / "door";
  write_sample(folder, {40, 26});
  const ProgramRun run = run_draw_program(scratch.path(), quoted(folder));
  CHECK(run.status == 0);
  CHECK(run.err.empty());
  const std::set<std::string> wanted{"benefit_map.png",
                                     "layout_bare.png",
                                     "layout_best_placed.png",
                                     "layout_full.png",
                                     "layout_partial.png",
                                     "modes_bare.png",
                                     "modes_best_placed.png",
                                     "modes_full.png",
                                     "modes_partial.png",
                                     "panel_3d.png",
                                     "reduction_third_octaves.png",
                                     "response.png",
                                     "working_best_placed.png",
                                     "working_full.png",
                                     "working_partial.png"};
  CHECK(names_in(folder / "pictures") == wanted);
  CHECK(count_lines(run.out) == int(wanted.size()));
  for (const std::string& name : wanted) {
    CAPTURE(name);
    CHECK_THAT(run.out, Catch::Contains((folder / "pictures" / name).string() + "\n"));
    const picture::RgbaImage image = read_png(folder / "pictures" / name);
    CHECK(image.width == 2339);
    CHECK(image.height == 1654);
    CHECK(inked_share(image) > 0.02);
    CHECK(inked_share(image) < 0.8);
    // Print size: 2339 pixels at 7874 a metre are 297 mm.
    const std::string bytes = bytes_of(folder / "pictures" / name);
    CHECK(bytes.substr(37, 4) == "pHYs");
    CHECK(bytes.substr(41, 8) == std::string("\x00\x00\x1e\xc2\x00\x00\x1e\xc2", 8));
  }
}

TEST_CASE("the same results give the same bytes", "[picture]") {
  const TemporaryFolder scratch("draw-same");
  const fs::path folder = scratch.path() / "door";
  write_sample(folder, {30, 20});
  const std::string only = " --only benefit_map --only panel_3d.png";
  const ProgramRun first = run_draw_program(scratch.path(), quoted(folder) + only);
  REQUIRE(first.status == 0);
  CHECK(names_in(folder / "pictures") == std::set<std::string>{"benefit_map.png", "panel_3d.png"});
  const std::string map = bytes_of(folder / "pictures" / "benefit_map.png");
  const std::string skin = bytes_of(folder / "pictures" / "panel_3d.png");
  REQUIRE(run_draw_program(scratch.path(), quoted(folder) + only).status == 0);
  CHECK(bytes_of(folder / "pictures" / "benefit_map.png") == map);
  CHECK(bytes_of(folder / "pictures" / "panel_3d.png") == skin);
}

TEST_CASE("a folder without trial pieces, modes and sheet still gives its pictures", "[picture]") {
  const TemporaryFolder scratch("draw-bare");
  const fs::path folder = scratch.path() / "door";
  json results = write_sample(folder, {20, 14});
  results["benefit_map"] = nullptr;
  results["layouts"] = json::array({results["layouts"][0]});
  results["layouts"][0]["modes"] = json::array();
  results["panel"]["keep_outs"] = json::array();
  results["drive"]["at_mm"] = nullptr;
  write_json(folder, results);
  const ProgramRun run = run_draw_program(scratch.path(), quoted(folder));
  CHECK(run.status == 0);
  CHECK(names_in(folder / "pictures") ==
        std::set<std::string>{"layout_bare.png", "panel_3d.png", "response.png"});
}

TEST_CASE("names of layouts that are no file names, or alike, do not clash", "[picture]") {
  const TemporaryFolder scratch("draw-names");
  const fs::path folder = scratch.path() / "door";
  json results = write_sample(folder, {20, 14});
  const json curve = results["curves"]["level_db"]["full"];
  results["layouts"][1]["name"] = "../a b";
  results["layouts"][2]["name"] = "../a/b";
  results["curves"]["level_db"]["../a b"] = curve;
  results["curves"]["level_db"]["../a/b"] = curve;
  write_json(folder, results);
  const ProgramRun run = run_draw_program(
      scratch.path(), quoted(folder) + " --only layout____a_b --only layout____a_b_2");
  CAPTURE(run.err);
  CHECK(run.status == 0);
  CHECK(names_in(folder / "pictures") ==
        std::set<std::string>{"layout____a_b.png", "layout____a_b_2.png"});
}

TEST_CASE("a result folder that cannot be used is refused in one line", "[picture]") {
  const TemporaryFolder scratch("draw-bad");
  const fs::path folder = scratch.path() / "door";
  check_refused(scratch.path() / "absent", "absent: is not a folder");
  json results = write_sample(folder, {12, 8});
  const fs::path json_file = folder / "results.json";
  const fs::path mesh_file = folder / "panel.vtu";
  SECTION("no results.json") {
    fs::remove(json_file);
    check_refused(folder, "results.json: cannot be read");
  }
  SECTION("results.json is a folder") {
    fs::remove(json_file);
    fs::create_directory(json_file);
    check_refused(folder, "results.json: cannot be read");
  }
  SECTION("results.json is cut short") {
    fs::resize_file(json_file, 1000);
    check_refused(folder, "results.json: is not JSON (fault at byte ");
  }
  SECTION("a key is missing") {
    results["layouts"][1].erase("share");
    write_json(folder, results);
    check_refused(folder, "results.json: layouts[1].share: is missing");
  }
  SECTION("no panel.vtu") {
    fs::remove(mesh_file);
    check_refused(folder, "panel.vtu: cannot be read");
  }
  SECTION("panel.vtu is not XML") {
    std::ofstream(mesh_file) << "solid door\nendsolid\n";
    check_refused(folder, "panel.vtu: cannot be read as a VTU file");
  }
  SECTION("panel.vtu is cut short") {
    fs::resize_file(mesh_file, fs::file_size(mesh_file) / 2);
    check_refused(folder, "panel.vtu: ");
  }
  SECTION("panel.vtu is empty") {
    fs::resize_file(mesh_file, 0);
    check_refused(folder, "panel.vtu: cannot be read as a VTU file");
  }
  SECTION("panel.vtu holds a quadrilateral") {
    write_one_cell(mesh_file, VTK_QUAD, true);
    check_refused(folder, "panel.vtu: cell 0: is not a triangle");
  }
  SECTION("panel.vtu has no flat map") {
    write_one_cell(mesh_file, VTK_TRIANGLE, false);
    check_refused(folder, "panel.vtu: flat_map_mm: is missing");
  }
}

TEST_CASE("a field that the results name must be there", "[picture]") {
  const TemporaryFolder scratch("draw-field");
  const fs::path folder = scratch.path() / "door";
  json results = write_sample(folder, {12, 8});
  results["benefit_map"]["field"] = "gain_dB";
  write_json(folder, results);
  const ProgramRun run = run_draw_program(scratch.path(), quoted(folder));
  CHECK(run.status == 2);
  CHECK(count_lines(run.err) == 1);
  CHECK_THAT(run.err, Catch::Contains("panel.vtu: gain_dB: is missing"));
}

TEST_CASE("bad arguments are refused in one line", "[picture]") {
  const TemporaryFolder scratch("draw-arguments");
  const fs::path folder = scratch.path() / "door";
  write_sample(folder, {12, 8});
  for (const std::string& arguments : {std::string(),
                                       std::string("--fast door"),
                                       quoted(folder) + " --only",
                                       quoted(folder) + " second",
                                       quoted(folder) + " --only portrait"}) {
    CAPTURE(arguments);
    const ProgramRun run = run_draw_program(scratch.path(), arguments);
    CHECK(run.status == 2);
    CHECK(run.out.empty());
    CHECK(count_lines(run.err) == 1);
  }
  const ProgramRun unknown = run_draw_program(scratch.path(), quoted(folder) + " --only portrait");
  CHECK_THAT(unknown.err, Catch::Contains("portrait; allowed: benefit_map, response, "));
}

TEST_CASE("help and version go to standard output", "[picture]") {
  const TemporaryFolder scratch("draw-help");
  const ProgramRun help = run_draw_program(scratch.path(), "--help");
  CHECK(help.status == 0);
  CHECK_THAT(help.out, Catch::Contains("Example: calmplate-draw"));
  CHECK(help.err.empty());
  const ProgramRun version = run_draw_program(scratch.path(), "--version");
  CHECK(version.status == 0);
  CHECK(version.out == std::string("calmplate-draw ") + CALMPLATE_VERSION + "\n");
}

TEST_CASE("without EGL the program says so in one line and does not abort", "[picture]") {
  const TemporaryFolder scratch("draw-no-egl");
  const fs::path folder = scratch.path() / "door";
  const fs::path empty = scratch.path() / "no-drivers";
  fs::create_directory(empty);
  write_sample(folder, {12, 8});
  const ProgramRun run = run_draw_program(
      scratch.path(), quoted(folder), "__EGL_VENDOR_LIBRARY_DIRS=" + quoted(empty));
  CHECK(run.status == 1);
  CHECK(run.out.empty());
  CHECK(count_lines(run.err) == 1);
  CHECK_THAT(run.err, Catch::Contains("calmplate-draw: cannot draw: EGL"));
  CHECK_FALSE(fs::exists(folder / "pictures"));
}

TEST_CASE("a picture that cannot be written is a failure, told in one line", "[picture]") {
  const TemporaryFolder scratch("draw-no-room");
  const fs::path folder = scratch.path() / "door";
  write_sample(folder, {12, 8});
  std::ofstream(folder / "pictures") << "a file where the folder should be\n";
  const ProgramRun run = run_draw_program(scratch.path(), quoted(folder) + " --only response");
  CHECK(run.status == 1);
  CHECK(run.out.empty());
  CHECK(count_lines(run.err) == 1);
}

}  // namespace calmplate::sample
