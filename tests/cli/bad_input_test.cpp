// SPDX-License-Identifier: GPL-3.0-or-later
// What a user can get wrong: each is one line that says where and what, exit 2, and no trace.
#include <catch2/catch.hpp>
#include <functional>

#include "cli/program.hpp"
#include "cli/small_job.hpp"

namespace calmplate::cli {
namespace {

namespace fs = std::filesystem;

struct BadInput {
  const char* what;
  std::function<void(const Folder&)> spoil;  ///< changes the small job's folder
  std::vector<std::string> words;            ///< all of them stand in the message
};

const std::vector<std::string> kRun{"run", "job.toml", "-o", "out", "--no-pictures"};

void check_refused(const Folder& folder,
                   const std::vector<std::string>& arguments,
                   const std::vector<std::string>& words) {
  const auto before = folder.content();
  const Outcome run = run_program(folder, arguments);
  CAPTURE(run.err);
  CHECK(run.status == 2);
  CHECK(run.out.empty());
  CHECK(count_lines(run.err) == 1);
  CHECK_THAT(run.err, Catch::StartsWith("calmplate: ") && Catch::EndsWith("\n"));
  for (const std::string& word : words) CHECK_THAT(run.err, Catch::Contains(word));
  CHECK(folder.content() == before);
}

void check_all_refused(const std::vector<BadInput>& cases) {
  for (const BadInput& bad : cases) {
    INFO(bad.what);
    const Folder folder;
    write_small_job(folder);
    bad.spoil(folder);
    check_refused(folder, kRun, bad.words);
  }
}

/// The small job with `part` replaced.
std::function<void(const Folder&)> job_with(const std::string& part, const std::string& by) {
  return [=](const Folder& folder) { folder.write("job.toml", changed(small_job(), part, by)); };
}

std::function<void(const Folder&)> job_of(const std::string& text) {
  return [=](const Folder& folder) { folder.write("job.toml", text); };
}

std::function<void(const Folder&)> mesh_of(const std::string& obj) {
  return [=](const Folder& folder) { folder.write("plate.obj", obj); };
}

const std::string kPlate = plate_obj(0.5, 0.4, 16, 13);

}  // namespace

TEST_CASE("a job file that cannot be read is refused", "[cli][bad]") {
  check_all_refused({
      {"no file", [](const Folder& f) { fs::remove(f / "job.toml"); }, {"job.toml", "not exist"}},
      {"a folder",
       [](const Folder& f) {
         fs::remove(f / "job.toml");
         fs::create_directory(f / "job.toml");
       },
       {"job.toml", "is a folder"}},
      {"empty", job_of(""), {"job.toml", "is empty"}},
      {"not TOML", job_of("[job]\nthis is no job\n"), {"job.toml:2", "TOML"}},
      {"not text", job_of(std::string("\x7f\x80\x00\xff", 4)), {"job.toml", "UTF-8"}},
  });
}

TEST_CASE("a value that cannot be is refused with its line and key", "[cli][bad]") {
  check_all_refused({
      {"negative thickness",
       job_with("thickness_mm = 0.8", "thickness_mm = -0.8"),
       {"job.toml:7: panel.thickness_mm: is -0.8 mm", "0.2 to 5 mm"}},
      {"not a number",
       job_with("thickness_mm = 0.8", "thickness_mm = nan"),
       {"job.toml:7: panel.thickness_mm: ", "not a finite number"}},
      {"text for a number",
       job_with("thickness_mm = 0.8", "thickness_mm = \"thin\""),
       {"job.toml:7: panel.thickness_mm: is a string"}},
      {"metres for millimetres",
       job_with("thickness_mm = 0.8", "thickness_mm = 0.0008"),
       {"panel.thickness_mm: is 0.0008 mm", "metres?"}},
      {"unknown key",
       job_with("thickness_mm = 0.8", "thicknes_mm = 0.8"),
       {"job.toml:7: panel.thicknes_mm: ", "did you mean thickness_mm?"}},
      {"unknown section", job_with("[band]", "[bands]"), {"bands", "did you mean band?"}},
      {"sheet without modulus",
       job_with("core_shear_MPa = 1.0\n", ""),
       {"sheet[1].core_shear_MPa: is missing"}},
      {"unknown foil material",
       job_with("foil_thickness_mm = 0.1", "foil_thickness_mm = 0.1\nfoil_material = \"cheese\""),
       {"sheet[1].foil_material", "\"cheese\"", "\"aluminium\""}},
      {"empty band",
       job_with("high_Hz = 120", "high_Hz = 30"),
       {"band.high_Hz", "30 to 30 Hz is empty"}},
      {"unknown sheet",
       job_with("sheet = \"butyl\"", "sheet = \"butil\""),
       {"layout[1].piece[1].sheet", "did you mean \"butyl\"?"}},
      {"layout's name taken",
       job_with("name = \"full\"", "name = \"patch\""),
       {"layout[2].name", "\"patch\""}},
      {"nothing holds the panel",
       job_with("[[panel.edge]]\npart = \"rim\"\nhold = \"clamped\"\n", ""),
       {"panel.edge: is missing", "free = true"}},
      {"free and held",
       job_with("thickness_mm = 0.8", "thickness_mm = 0.8\nfree = true"),
       {"panel", "free"}},
  });
}

TEST_CASE("what does not fit on the panel is refused with its place", "[cli][bad]") {
  check_all_refused({
      {"rim part that does not exist",
       job_with("part = \"rim\"", "part = \"hole-1\""),
       {"panel.edge[1].part", "\"hole-1\"", "\"bottom\""}},
      {"piece over the edge",
       job_with("centre_mm = [250, 200]", "centre_mm = [450, 200]"),
       {"layout[1].piece[1]: hangs over", "25 %"}},
      {"overlapping pieces",
       job_with("size_mm = [200, 150]\n",
                "size_mm = [200, 150]\n\n[[layout.piece]]\nsheet = \"butyl\"\n"
                "centre_mm = [300, 200]\nsize_mm = [200, 150]\n"),
       {"layout[1].piece[2]: overlaps layout[1].piece[1]", "22500 mm2"}},
      {"piece in a keep-out",
       job_with("centre_mm = [440, 20]", "centre_mm = [260, 180]"),
       {"layout[1].piece[1]: enters the keep-out \"drain\"", "1600 mm2"}},
      {"drive beside the panel",
       job_with("at_mm = [150, 130]", "at_mm = [150, 430]"),
       {"drive.at_mm: is [150, 430] mm", "off the panel"}},
      {"listening beside the panel",
       job_with("at_mm = [350, 250]", "at_mm = [-20, 250]"),
       {"listen_at[1].at_mm: is [-20, 250] mm"}},
  });
}

TEST_CASE("a mesh that cannot be a skin is refused with its file's name", "[cli][bad]") {
  const auto other_mesh = [](const std::string& name) { return job_with("plate.obj", name); };
  check_all_refused({
      {"no file", other_mesh("skin.obj"), {"skin.obj", "is not there"}},
      {"a folder",
       [](const Folder& f) {
         fs::remove(f / "plate.obj");
         fs::create_directory(f / "plate.obj");
       },
       {"plate.obj", "is a folder"}},
      {"unknown ending",
       [&](const Folder& f) {
         f.write("plate.dxf", kPlate);
         other_mesh("plate.dxf")(f);
       },
       {"plate.dxf", "ending", ".vtp"}},
      {"VTP cut short",
       [&](const Folder& f) {
         write_test_plate(f);
         f.write("plate.vtp", f.read("plate.vtp").substr(0, 6000));
       },
       {"plate.vtp", "cut short"}},
      {"point that does not exist", mesh_of(kPlate + "f 1 2 900\n"), {"plate.obj", "not exist"}},
      {"coordinate that is no number",
       mesh_of(changed(kPlate, "v 0 0 0", "v nan 0 0")),
       {"plate.obj", "no number"}},
      {"no surface", mesh_of("v 0 0 0\nv 0 1 0\nv 1 0 0\n"), {"plate.obj"}},
      {"three triangles at an edge",
       mesh_of(kPlate + "v 0.25 0.2 0.05\nf 100 101 239\n"),
       {"plate.obj", "edge with 3 triangles"}},
      {"closed solid", mesh_of(box_obj(0.5, 0.4, 0.1)), {"plate.obj", "closed"}},
      {"millimetres read as metres",
       mesh_of(plate_obj(500, 400, 16, 13)),
       {"plate.obj: is 500 m across", "unit"}},
      {"metres read as millimetres",
       job_with("element_mm = 0", "mesh_unit = \"mm\"\nelement_mm = 0"),
       {"plate.obj: is 0.0005 m across", "unit"}},
  });
}

TEST_CASE("a place that cannot take the results is refused before the work", "[cli][bad]") {
  const Folder folder;
  write_small_job(folder);
  fs::create_directory(folder / "letters");
  folder.write("letters/to_keep.txt", "somebody else's");
  const auto run_to = [&](const std::string& target) {
    return std::vector<std::string>{"run", "job.toml", "-o", target, "--no-pictures"};
  };
  check_refused(folder, run_to("letters"), {"letters", "not a result of this program"});
  check_refused(folder, run_to("job.toml"), {"job.toml", "not a result of this program"});
  check_refused(folder, run_to("."), {"not a result of this program"});
  check_refused(folder, run_to("nowhere/out"), {"nowhere", "is not a folder"});
  check_refused(folder, run_to("job.toml/out"), {"job.toml", "is not a folder"});
  check_refused(folder, run_to(""), {"output"});
}

TEST_CASE("a command line that says nothing clear is refused and points to help", "[cli][bad]") {
  const Folder folder;
  write_small_job(folder);
  const std::string help = "(see calmplate --help)";
  check_refused(folder, {}, {help});
  check_refused(folder, {"walk", "job.toml"}, {help});
  check_refused(folder, {"run", "-o", "out"}, {"JOB", help});
  check_refused(folder, {"run", "job.toml"}, {"--output", help});
  check_refused(folder, {"run", "job.toml", "-o", "out", "--speed"}, {"--speed", help});
  check_refused(folder, {"run", "job.toml", "-o", "out", "--threads", "0"}, {"--threads", help});
  check_refused(folder, {"run", "job.toml", "-o", "out", "--threads", "two"}, {"--threads", help});
  check_refused(folder, {"check", "job.toml", "more"}, {"more", help});
}

}  // namespace calmplate::cli
