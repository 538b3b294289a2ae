// SPDX-License-Identifier: GPL-3.0-or-later
// What check says of a scan: the invented door's, in a unit that the job leaves open.
#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include "cli/program.hpp"
#include "cli/small_job.hpp"

namespace calmplate::cli {

TEST_CASE("check states the unit it guessed, what it mended and that the crown stayed", "[cli]") {
  const Folder folder;
  const std::string meshes = std::string(CALMPLATE_SOURCE_FOLDER) + "/meshes/";
  std::filesystem::copy_file(meshes + "estate_front_door_scan.stl", folder / "scan.stl");
  std::filesystem::copy_file(meshes + "estate_front_door_scan.toml", folder / "scan.toml");
  std::string job = changed(folder.read("scan.toml"), "estate_front_door_scan.stl", "scan.stl");
  folder.write("job.toml", changed(job, "mesh_unit = \"mm\"", "mesh_unit = \"guess\""));
  const Outcome run = run_program(folder, {"check", "job.toml"});
  CAPTURE(run.out, run.err);
  CHECK(run.status == 0);
  CHECK_THAT(run.out,
             Catch::Contains("unit of the mesh: guessed as mm") &&
                 Catch::Contains("write mesh_unit = \"mm\"") &&
                 Catch::Contains("1 loose islands dropped") &&
                 Catch::Contains("points scatter by 0.30 mm, smoothed") &&
                 Catch::Contains("crown before and after smoothing: straightedge gap ") &&
                 !Catch::Contains("look at it"));
  const auto json = nlohmann::json::parse(run_program(folder, {"check", "job.toml", "--json"}).out);
  const auto& mending = json.at("panel").at("mending");
  CHECK(mending.at("guessed_unit") == "mm");
  CHECK(mending.at("smoothed") == true);
  CHECK(mending.at("holes_closed").get<int>() > 100);
  CHECK(mending.at("crown").at("change").get<double>() < 0.01);
  const auto& before = mending.at("crown").at("scan");
  const auto& after = mending.at("crown").at("smoothed");
  for (const char* figure : {"gap_along_mm", "gap_up_mm", "mean_curvature_1_m", "volume_l"})
    CHECK(after.at(figure).get<double>() == Approx(before.at(figure).get<double>()).epsilon(0.01));

  // The same in metres by mistake, and a size that leaves two units open.
  folder.write("wrong.toml", changed(job, "mesh_unit = \"mm\"", "mesh_unit = \"m\""));
  const Outcome wrong = run_program(folder, {"check", "wrong.toml"});
  CHECK(wrong.status == 2);
  CHECK_THAT(wrong.err, Catch::Contains("is the unit of the file right?"));
  CHECK(count_lines(wrong.err) == 1);
}

TEST_CASE("a plate that may be in two units is asked about in one line", "[cli]") {
  const Folder folder;
  folder.write("plate.obj", plate_obj(100.0, 60.0, 10, 6));
  folder.write("job.toml",
               changed(small_job(), "element_mm = 0", "mesh_unit = \"guess\"\nelement_mm = 0"));
  const Outcome run = run_program(folder, {"check", "job.toml"});
  CHECK(run.status == 2);
  CHECK(run.err ==
        "calmplate: plate.obj: may be a door of 1 x 0.6 m (cm) or 2.54 x 1.524 m (inch); allowed: "
        "mesh_unit = \"cm\" or mesh_unit = \"inch\"\n");
}

}  // namespace calmplate::cli
