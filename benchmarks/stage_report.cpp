// SPDX-License-Identifier: GPL-3.0-or-later
#include "stage_report.hpp"

#include <sys/resource.h>

#include <algorithm>
#include <chrono>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <ctime>
#include <filesystem>
#include <nlohmann/json.hpp>
#include <stdexcept>

namespace calmplate::bench {

double cpu_seconds() {
  timespec t{};
  clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &t);
  return static_cast<double>(t.tv_sec) + 1e-9 * static_cast<double>(t.tv_nsec);
}

double wall_seconds() {
  return std::chrono::duration<double>(std::chrono::steady_clock::now().time_since_epoch()).count();
}

double peak_bytes() {
  rusage use{};
  getrusage(RUSAGE_SELF, &use);
  return 1024.0 * static_cast<double>(use.ru_maxrss);
}

namespace {

/// P10: measured peak over the arrays that cannot be done without.
double memory_ratio(const StageTimes& s) {
  const double needed = 8.0 * (s.nnz_l + s.dof * 2.0 * s.modes + s.dof * 1.0 * s.modes);
  return (s.peak - 150e6) / needed;
}

/// P12: slope of log time over log nodes, least squares.
double exponent(const std::vector<StageTimes>& stages) {
  double n = 0.0, x = 0.0, y = 0.0, xx = 0.0, xy = 0.0;
  for (const StageTimes& s : stages) {
    const double u = std::log(s.nodes), v = std::log(s.full_job);
    n += 1.0, x += u, y += v, xx += u * u, xy += u * v;
  }
  return n > 1.0 ? (n * xy - x * y) / (n * xx - x * x) : NAN;
}

}  // namespace

void print_stages(const std::vector<StageTimes>& stages) {
  std::printf("CPU seconds on one thread\n");
  std::printf("%8s %8s %5s %9s %8s %8s %9s %9s %9s %9s %10s %8s\n",
              "nodes",
              "dof",
              "modes",
              "assembly",
              "factor",
              "solve",
              "solve 16",
              "floor",
              "eigen",
              "counted",
              "residual",
              "peak MB");
  for (const StageTimes& s : stages)
    std::printf("%8d %8d %5d %9.3f %8.3f %8.4f %9.4f %9.3f %9.3f %9.3f %10.1e %8.0f\n",
                s.nodes,
                s.dof,
                s.modes,
                s.assembly,
                s.factor,
                s.solve1,
                s.solve16,
                s.floor(),
                s.eigen,
                s.eigen_checked,
                s.worst_residual,
                s.peak / 1e6);
  std::printf("\nRatios\n%8s %22s %22s %18s\n",
              "nodes",
              "P1 eigen / floor",
              "P5 assembly / factor",
              "P10 memory");
  for (const StageTimes& s : stages)
    std::printf("%8d %22.2f %22.2f %18.2f\n",
                s.nodes,
                s.eigen / s.floor(),
                s.assembly / s.factor,
                memory_ratio(s));
  std::printf("\n%8s %22s %22s\n", "nodes", "moved piece, CPU ms", "full job, CPU s");
  for (const StageTimes& s : stages)
    std::printf("%8d %22.1f %22.2f\n", s.nodes, 1e3 * s.moved_piece, s.full_job);
  std::printf("P12 exponent of the full job over nodes: %.2f   must 1.35, aim 1.15\n",
              exponent(stages));
}

void print_job(const JobTimes& j) {
  std::printf("\nBench job (three layouts)\n");
  std::printf("  first eigen-solve and reduction  %8.3f CPU s\n", j.first_eigen);
  std::printf("  full job without map             %8.3f CPU s\n", j.full_cpu);
  std::printf("  moved piece, new 200-point curve %8.4f CPU s\n", j.moved_piece);
  std::printf("  benefit map, %4d places         %8.3f CPU s\n", j.places, j.map);
  std::printf("P4 full job / first eigen-solve         %8.2f   must 4, aim 2\n",
              j.full_cpu / j.first_eigen);
  std::printf("P6 moved piece                          %8.1f ms must 100, aim 16\n",
              1e3 * j.moved_piece);
  std::printf("P7 moved piece / full job               1/%-6.0f must 1/100, aim 1/1000\n",
              j.full_cpu / j.moved_piece);
  std::printf("P8 map of 300 places / eigen-solve      %8.2f   must 3, aim 0.5\n",
              j.map * 300.0 / j.places / j.first_eigen);
  std::printf("P9 moved piece against a cold solve     %8.2f dB must 0.5, aim 0.1\n",
              j.moved_error_db);
  std::printf("P14 two threads / one, wall clock       %8.2f   must 0.9, aim 0.6\n",
              j.full_wall_2 / j.full_wall_1);
}

namespace {

/// Wall clock of running a program that lies beside this one, its output thrown away.
double run_seconds(const std::string& command) {
  const double start = wall_seconds();
  if (std::system((command + " > /dev/null").c_str()) != 0)
    throw std::runtime_error(command + " cannot be run");
  return wall_seconds() - start;
}

}  // namespace

void print_start_up(int repeats) {
  const std::string folder = std::filesystem::read_symlink("/proc/self/exe").parent_path().string();
  std::vector<double> own, empty;
  for (int i = 0; i < 10 * repeats; ++i) {
    own.push_back(run_seconds(folder + "/calmplate --version"));
    empty.push_back(run_seconds(folder + "/calmplate_bench_empty"));
  }
  std::sort(own.begin(), own.end());
  std::sort(empty.begin(), empty.end());
  const double a = own[own.size() / 2], b = empty[empty.size() / 2];
  std::printf("P11 start-up %.1f ms / empty program %.1f ms   %6.2f   must 5, aim 3\n",
              1e3 * a,
              1e3 * b,
              a / b);
}

std::string as_json(const std::vector<StageTimes>& stages, const JobTimes& j) {
  nlohmann::ordered_json list = nlohmann::ordered_json::array();
  for (const StageTimes& s : stages)
    list.push_back({{"nodes", s.nodes},
                    {"dof", s.dof},
                    {"modes", s.modes},
                    {"assembly_s", s.assembly},
                    {"factor_s", s.factor},
                    {"solve_s", s.solve1},
                    {"solve_16_s", s.solve16},
                    {"floor_s", s.floor()},
                    {"eigen_s", s.eigen},
                    {"eigen_counted_s", s.eigen_checked},
                    {"worst_residual", s.worst_residual},
                    {"peak_bytes", s.peak},
                    {"moved_piece_s", s.moved_piece},
                    {"full_job_s", s.full_job},
                    {"P1", s.eigen / s.floor()},
                    {"P3", s.worst_residual},
                    {"P5", s.assembly / s.factor},
                    {"P10", memory_ratio(s)}});
  const nlohmann::ordered_json out = {{"stages", list},
                                      {"P4", j.full_cpu / j.first_eigen},
                                      {"P6_s", j.moved_piece},
                                      {"P7", j.moved_piece / j.full_cpu},
                                      {"P8", j.map * 300.0 / j.places / j.first_eigen},
                                      {"P9_dB", j.moved_error_db},
                                      {"P12", exponent(stages)},
                                      {"P14", j.full_wall_2 / j.full_wall_1}};
  return out.dump(1) + "\n";
}

}  // namespace calmplate::bench
