// SPDX-License-Identifier: GPL-3.0-or-later
// How long a scan of millions of triangles takes from file to panel, and how much memory.
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include <CLI/CLI.hpp>
#include <chrono>
#include <cmath>
#include <cstdio>
#include <exception>
#include <filesystem>
#include <iostream>
#include <string>

#include "mesh_io/mesh_io.hpp"
#include "panel/panel.hpp"
#include "support/rough_scan.hpp"

namespace {

using namespace calmplate;

struct Options {
  std::string door = "meshes/estate_front_door.vtp", file = "scan.stl";
  int triangles = 2000000;
  double element_mm = 12.0;
};

double seconds() {
  return std::chrono::duration<double>(std::chrono::steady_clock::now().time_since_epoch()).count();
}

double cpu_seconds() {
  rusage used{};
  ::getrusage(RUSAGE_SELF, &used);
  const auto of = [](const timeval& t) { return double(t.tv_sec) + 1e-6 * double(t.tv_usec); };
  return of(used.ru_utime) + of(used.ru_stime);
}

double peak_gib() {
  rusage used{};
  ::getrusage(RUSAGE_SELF, &used);
  return double(used.ru_maxrss) / 1048576.0;
}

/// Cuts up the door until it has the triangles, roughens it, writes it in mm.
void make_scan(const Options& options) {
  panel::Mesh door = mesh_io::read_mesh(options.door, 1.0);
  const double times =
      std::log(options.triangles / 0.95 / double(door.triangles.rows())) / std::log(4.0);
  panel::Mesh scan = testing::roughened(
      testing::subdivided(std::move(door), std::max(0, int(std::lround(times)))), {});
  scan.nodes *= 1e3;
  mesh_io::write_mesh(options.file, scan);
}

/// In a process of its own, so that its memory does not count.
bool make_scan_apart(const Options& options) {
  const pid_t id = ::fork();
  if (id == 0) {
    try {
      make_scan(options);
    } catch (const std::exception& fault) {
      std::cerr << fault.what() << '\n';
      ::_exit(1);
    }
    ::_exit(0);
  }
  int status = 1;
  return id > 0 && ::waitpid(id, &status, 0) == id && status == 0;
}

void measure(const Options& options) {
  const double start = seconds(), cpu_start = cpu_seconds();
  const panel::Mesh raw = mesh_io::read_mesh(options.file, 1.0);
  const double read = seconds(), cpu_read = cpu_seconds();
  panel::PanelOptions wanted;
  wanted.element_size_m = 1e-3 * options.element_mm;
  wanted.guess_unit = true;
  wanted.outward = -Eigen::Vector3d::UnitY();
  panel::PanelReport report;
  const panel::Panel panel = panel::make_panel(raw, wanted, options.file, &report);
  const double done = seconds(), cpu_done = cpu_seconds();
  std::printf("%ld triangles, %.0f MB\n",
              long(raw.triangles.rows()),
              double(std::filesystem::file_size(options.file)) / 1e6);
  std::printf("  read            %6.1f s  %6.1f CPU s\n", read - start, cpu_read - cpu_start);
  std::printf("  clean and mesh  %6.1f s  %6.1f CPU s\n", done - read, cpu_done - cpu_read);
  std::printf("  together        %6.1f s  %6.1f CPU s\n", done - start, cpu_done - cpu_start);
  std::printf("  peak memory     %6.2f GiB\n", peak_gib());
  std::printf(
      "  in %s; %d doubled points, %d turned, %d gaps and holes closed, %d islands; noise %.3f "
      "mm\n",
      report.guessed_unit.c_str(),
      report.duplicate_nodes,
      report.flipped_triangles,
      report.holes_filled,
      report.islands_dropped,
      1e3 * report.noise_m);
  std::printf("  crown: mean height %.3f to %.3f mm, mean curvature %.4f to %.4f /m\n",
              1e3 * report.scanned.mean_height_m,
              1e3 * report.kept.mean_height_m,
              report.scanned.mean_curvature(),
              report.kept.mean_curvature());
  std::printf("  panel: %ld nodes, %.4f m2, %zu rim parts, smallest angle %.0f degrees\n",
              long(panel.mesh.nodes.rows()),
              panel.area_m2,
              panel.rim.size(),
              report.worst_angle_deg);
}

}  // namespace

int main(int count, char** words) {
  Options options;
  bool made = false;
  CLI::App app("Time and memory from a scan's file to a panel");
  app.add_option("--door", options.door, "mesh to be made a scan of, in m")->capture_default_str();
  app.add_option("--file", options.file, "the scan: .stl, .ply or .obj")->capture_default_str();
  app.add_option("--triangles", options.triangles, "about so many")->capture_default_str();
  app.add_option("--element", options.element_mm, "of the panel, mm")->capture_default_str();
  app.add_flag("--made", made, "the scan is there already");
  CLI11_PARSE(app, count, words);
  try {
    if (!made && !make_scan_apart(options)) return 1;
    measure(options);
  } catch (const std::exception& fault) {
    std::cerr << "calmplate_bench_scan: " << fault.what() << '\n';
    return 1;
  }
  return 0;
}
