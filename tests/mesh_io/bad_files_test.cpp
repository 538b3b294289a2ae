// SPDX-License-Identifier: GPL-3.0-or-later
#include <fcntl.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <unistd.h>

#include <catch2/catch.hpp>
#include <cmath>
#include <cstdio>

#include "base/input_error.hpp"
#include "mesh_io/mesh_io.hpp"
#include "scratch.hpp"

namespace {

using namespace calmplate;

constexpr const char* kEndings = "; allowed: a file ending in .vtp, .vtu, .stl, .obj or .ply";
constexpr const char* kCells = "; allowed: triangles, quads or polygons";
constexpr const char* kCorners = "0 0 0 1 0 0 0 1 0 0 0 1";

/// What reading the file complains of, without the file's name.
std::string fault_of(const std::filesystem::path& file) {
  try {
    mesh_io::read_mesh(file, 1.0);
  } catch (const base::InputError& e) {
    const std::string text = e.what();
    REQUIRE(text.find('\n') == std::string::npos);
    REQUIRE(text.rfind(file.string() + ": ", 0) == 0);
    return text.substr(file.string().size() + 2);
  }
  return "no fault";
}

std::string fault_in(const std::string& name, const std::string& text) {
  const scratch::Folder folder;
  return fault_of(folder.file(name, text));
}

std::string damaged(const std::string& format) {
  return "is no whole " + format + " file: damaged, cut short, or with a value that is no number";
}

/// A small good file of the format.
std::string good(const scratch::Folder& folder, const std::string& name) {
  panel::Mesh mesh;
  mesh.nodes.resize(4, 3);
  mesh.nodes << 0, 0, 0, 1, 0, 0, 1, 1, 0.5, 0, 1, 0;
  mesh.triangles.resize(2, 3);
  mesh.triangles << 0, 1, 2, 0, 2, 3;
  mesh_io::write_mesh(folder / name, mesh);
  return scratch::bytes_of(folder / name);
}

/// A VTP file of one triangle whose coordinates are these bytes: their length, then the numbers.
std::string with_raw_points(const std::string& bytes) {
  std::string text = scratch::vtp(3, 1, "Polys", "", "0 1 2", "3");
  const std::string ascii = "format=\"ascii\"></DataArray>\n</Points>";
  text.replace(text.find(ascii), ascii.size(), "format=\"appended\" offset=\"0\"/>\n</Points>");
  return text.insert(text.find("</VTKFile>"),
                     "<AppendedData encoding=\"raw\">_" + bytes + "</AppendedData>\n");
}

/// What `work` writes to one of the process's own streams (1 or 2).
template <typename Work>
std::string said_on(int stream, const scratch::Folder& folder, const Work& work) {
  std::fflush(nullptr);
  const int kept = ::dup(stream);
  const int file = ::open((folder / "said").c_str(), O_CREAT | O_TRUNC | O_WRONLY, 0600);
  ::dup2(file, stream);
  work();
  std::fflush(nullptr);
  ::dup2(kept, stream);
  ::close(kept);
  ::close(file);
  return scratch::bytes_of(folder / "said");
}

}  // namespace

TEST_CASE("a file that is missing, a folder, empty or unknown is named in one line", "[mesh_io]") {
  const scratch::Folder folder;
  CHECK(fault_of(folder / "door.vtp") == "is not there");
  CHECK(fault_of(folder / "none" / "door.stl") == "is not there");
  CHECK(fault_of(folder.path()) == std::string("is a folder") + kEndings);
  CHECK(fault_in("door.ply", "") == "is empty");
  CHECK(fault_in("door.step", "x") ==
        std::string("has an ending of no mesh format known here") + kEndings);
  CHECK(fault_in("door", "x") == std::string("has no ending that tells its format") + kEndings);
  REQUIRE(::mkfifo((folder / "pipe.stl").c_str(), 0600) == 0);
  CHECK(fault_of(folder / "pipe.stl") == std::string("is no ordinary file") + kEndings);
}

TEST_CASE("text that is no mesh is refused in every format", "[mesh_io]") {
  const std::string text = "Dear customer,\nplease find the door attached.\n";
  CHECK(fault_in("a.vtp", text) == damaged("VTP"));
  CHECK(fault_in("a.vtu", text) == damaged("VTU"));
  CHECK(fault_in("a.stl", text) == damaged("STL"));
  CHECK(fault_in("a.ply", text) == damaged("PLY"));
  CHECK(fault_in("a.obj", text) == damaged("OBJ"));
  const scratch::Folder folder;
  CHECK(fault_in("a.vtp", good(folder, "b.vtu")) == damaged("VTP"));
  CHECK(fault_in("a.vtu", good(folder, "b.vtp")) == damaged("VTU"));
}

// Part of a door is a garbage mesh. Only the line end after a VTK file's closing tag may be
// missing. OBJ cannot tell (see surface_formats.hpp).
TEST_CASE("a file cut short at whatever byte is refused", "[mesh_io]") {
  const scratch::Folder folder;
  const std::string name = GENERATE("a.vtp", "a.vtu", "a.stl", "a.ply");
  const std::string whole = good(folder, name);
  const bool vtk = name == "a.vtp" || name == "a.vtu";  // a process for each reading
  const std::size_t last = whole.size() - (vtk ? 2 : 1);
  for (std::size_t size = last; size > 0 && size <= last; size -= vtk ? 13 : 1) {
    CAPTURE(name, size);
    CHECK(fault_of(folder.file("cut" + name.substr(1), whole.substr(0, size))) != "no fault");
  }
}

// A wrong byte may still give a mesh (a digit for a digit), but never a crash, a message of VTK on
// the terminal, or a triangle whose nodes do not exist.
TEST_CASE("a file with any one byte changed gives a sound mesh or one line", "[mesh_io]") {
  const scratch::Folder folder;
  const std::string name = GENERATE("a.vtp", "a.vtu", "a.stl", "a.ply", "a.obj");
  const std::string whole = good(folder, name);
  const std::filesystem::path file = folder / ("changed" + name.substr(1));
  const std::size_t step = name == "a.vtp" || name == "a.vtu" ? 19 : 3;
  int read = 0, refused = 0, unsound = 0;
  for (std::size_t at = 0; at < whole.size(); at += step)
    for (const char byte : {'\0', '7', '\xff'}) {
      std::string text = whole;
      text[at] = byte;
      folder.file(file.filename().string(), text);
      try {
        const panel::Mesh mesh = mesh_io::read_mesh(file, 1.0);
        ++read;
        if (!mesh.nodes.allFinite() || mesh.triangles.minCoeff() < 0 ||
            mesh.triangles.maxCoeff() >= mesh.nodes.rows())
          ++unsound;
      } catch (const base::InputError& e) {
        ++refused;
        if (std::string(e.what()).find('\n') != std::string::npos) ++unsound;
      }
    }
  CHECK(unsound == 0);
  CHECK(read > 0);
  CHECK(refused > 0);
}

TEST_CASE("nothing reaches the terminal when a VTK file is damaged", "[mesh_io]") {
  const scratch::Folder folder;
  const std::string name = GENERATE("a.vtp", "a.vtu");
  const std::string whole = good(folder, name);
  const int stream = GENERATE(1, 2);
  const std::string said = said_on(stream, folder, [&] {
    for (std::size_t at = 1; at < whole.size(); at += 37) {
      std::string text = whole;
      text[at] = '\xff';
      try {
        mesh_io::read_mesh(folder.file("changed" + name.substr(1), text), 1.0);
      } catch (const base::InputError&) {
      }
    }
  });
  CHECK(said.empty());
}

TEST_CASE("a coordinate that is no finite number is refused", "[mesh_io]") {
  CHECK(fault_in("a.ply",
                 "ply\nformat ascii 1.0\nelement vertex 3\nproperty float x\nproperty float y\n"
                 "property float z\nelement face 1\nproperty list uchar int vertex_indices\n"
                 "end_header\n0 0 0\n1 0 0\n0 nan 0\n3 0 1 2\n") ==
        "point 2 has a coordinate that is no finite number");
  CHECK(fault_in("a.obj", "v 0 0 0\nv 1 0 0\nv 0 nan 0\nf 1 2 3\n") == damaged("OBJ"));
  CHECK(fault_in("a.vtp", scratch::vtp(3, 1, "Polys", "0 0 0 1 0 0 0 nan 0", "0 1 2", "3")) !=
        "no fault");
  std::string stl(80, '-');
  stl += scratch::raw(std::uint32_t{1});
  for (const float v : {0.F, 0.F, 1.F, 0.F, 0.F, 0.F, 1.F, 0.F, 0.F, 0.F, INFINITY, 0.F})
    stl += scratch::raw(v);
  stl += std::string(2, '\0');
  CHECK(fault_in("a.stl", stl) == "point 2 has a coordinate that is no finite number");

  std::string bytes = scratch::raw(std::uint32_t{72});
  for (const double v : {0., 0., 0., 1., 0., 0., std::nan(""), 1., 0.}) bytes += scratch::raw(v);
  CHECK(fault_in("a.vtp", with_raw_points(bytes)) ==
        "point 2 has a coordinate that is no finite number");
}

TEST_CASE("cells that are no surface are refused by kind", "[mesh_io]") {
  CHECK(fault_in("a.vtu", scratch::vtu(4, 1, kCorners, "0 1 2 3", "4", "10")) ==
        "holds 1 cell with a volume; allowed: the skin alone, as triangles, quads or polygons");
  CHECK(fault_in(
            "a.vtu",
            scratch::vtu(6, 1, "0 0 0 2 0 0 0 2 0 1 0 0 1 1 0 0 1 0", "0 1 2 3 4 5", "6", "22")) ==
        std::string("holds 1 cell that is not straight-sided") + kCells);
  const std::string lines = std::string("holds no surface, only 2 lines or points") + kCells;
  CHECK(fault_in("a.vtu", scratch::vtu(4, 2, kCorners, "0 1 2", "2 3", "3 1")) == lines);
  CHECK(fault_in("a.vtp", scratch::vtp(4, 2, "Lines", kCorners, "0 1 2 3", "2 4")) == lines);
  CHECK(fault_in("a.obj", "v 0 0 0\nv 1 0 0\nv 0 1 0\nl 1 2\nl 2 3\n") == lines);
  CHECK(fault_in("a.obj", "v 0 0 0\nv 1 0 0\n") == std::string("holds no surface") + kCells);
  CHECK(fault_in("a.stl", std::string(84, '\0')) == std::string("holds no surface") + kCells);
}

TEST_CASE("a polygon whose points do not exist or are too few is refused", "[mesh_io]") {
  CHECK(fault_in("a.obj", "v 0 0 0\nv 1 0 0\nv 0 1 0\nf 1 2 4\n") ==
        "polygon 0 names a point that does not exist; allowed: 0 to 2");
  CHECK(fault_in("a.obj", "v 0 0 0\nv 1 0 0\nv 0 1 0\nf 1 2 3\nf -1 -2 -4\n") ==
        "polygon 1 names a point that does not exist; allowed: 0 to 2");
  CHECK(fault_in("a.obj", "f 1 2 3\n") ==
        "polygon 0 names a point that does not exist; allowed: there is none");
  CHECK(fault_in("a.obj", "v 0 0 0\nv 1 0 0\nv 0 1 0\nf 1 2\n") ==
        "polygon 0 has 2 points; allowed: 3 or more");
  CHECK(fault_in("a.vtp", scratch::vtp(4, 1, "Polys", kCorners, "0 1 -2", "3")) ==
        "polygon 0 names a point that does not exist; allowed: 0 to 3");
  CHECK(fault_in("a.vtu", scratch::vtu(4, 1, kCorners, "0 1 9", "3", "5")) ==
        "polygon 0 names a point that does not exist; allowed: 0 to 3");
}

// Source: [derived] the counts below stand for 24, 12 and 48 GB, which files of 700 bytes cannot
// fill. The reading process is to be refused the memory, not to take it and give it back.
TEST_CASE("a count out of all proportion to the file is refused", "[mesh_io][derived]") {
  CHECK(fault_in("a.vtp", scratch::vtp(1000000000, 1, "Polys", kCorners, "0 1 2", "3")) ==
        damaged("VTP"));
  // Three numbers before packed data: how many blocks, the size of each, the size of the last.
  std::string vtp =
      with_raw_points(scratch::raw(3000000000U) + scratch::raw(32768U) + scratch::raw(0U));
  vtp.insert(vtp.find(" byte_order"), " compressor=\"vtkZLibDataCompressor\"");
  CHECK(fault_in("a.vtp", vtp) == damaged("VTP"));
  CHECK(fault_in("a.ply",
                 "ply\nformat binary_little_endian 1.0\nelement vertex 4000000000\nproperty float "
                 "x\nproperty float y\nproperty float z\nend_header\n0000") == damaged("PLY"));
  rusage children{};
  REQUIRE(::getrusage(RUSAGE_CHILDREN, &children) == 0);
  CHECK(children.ru_maxrss < 1000000);  // kB
}
