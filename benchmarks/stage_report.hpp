// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <string>
#include <vector>

namespace calmplate::bench {

/// CPU seconds of this process, all threads.
double cpu_seconds();
double wall_seconds();
/// Largest memory this process has held, bytes.
double peak_bytes();

/// What one panel size cost. Seconds are CPU seconds on one thread unless named otherwise.
struct StageTimes {
  int nodes = 0, dof = 0, modes = 0;
  double assembly = 0.0, factor = 0.0, solve1 = 0.0, solve16 = 0.0, product = 0.0;
  double eigen = 0.0;          ///< eigen-solve, factorisation included, count check left out
  double eigen_checked = 0.0;  ///< the same with the inertia count
  double worst_residual = 0.0;
  double nnz_l = 0.0;
  double peak = 0.0;         ///< bytes, after the eigen-solve
  double moved_piece = 0.0;  ///< new 200-point curve of a moved piece
  double full_job = 0.0;     ///< bench job without map
  double floor() const { return factor + 2.0 * modes * (solve1 + product); }
};

/// What the demo job cost.
struct JobTimes {
  double first_eigen = 0.0;                     ///< bare panel's reduction, CPU s
  double full_cpu = 0.0;                        ///< full job without map, one thread
  double full_wall_1 = 0.0, full_wall_2 = 0.0;  ///< wall clock, one and two threads, without map
  double moved_piece = 0.0;                     ///< new 200-point curve, CPU s
  double moved_error_db = 0.0;  ///< largest difference of that curve to a cold full solve
  double map = 0.0;             ///< CPU s
  int places = 0;
};

void print_stages(const std::vector<StageTimes>& stages);
void print_job(const JobTimes& job);
/// P11: wall clock of `calmplate --version` over that of an empty program, both beside this one.
void print_start_up(int repeats);
std::string as_json(const std::vector<StageTimes>& stages, const JobTimes& job);

}  // namespace calmplate::bench
