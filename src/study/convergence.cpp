// SPDX-License-Identifier: GPL-3.0-or-later
#include <Eigen/QR>
#include <algorithm>
#include <array>
#include <cmath>

#include "base/parallel.hpp"
#include "study/unknowns.hpp"

namespace calmplate::study {
namespace {

constexpr std::array<double, 3> kSizes = {1.5, 1.2247448713915890, 1.0};  // h^2: 2.25, 1.5, 1
constexpr std::size_t kModes = 10;

/// a of a + b h^2 through three figures, by least squares: where they go as h goes to 0.
Extrapolated extrapolate(const std::array<double, 3>& h, const std::array<double, 3>& value) {
  Eigen::Matrix<double, 3, 2> a;
  Eigen::Vector3d v;
  for (Eigen::Index i = 0; i < 3; ++i) {
    const auto k = static_cast<std::size_t>(i);
    a.row(i) << 1.0, h[k] * h[k];
    v(i) = value[k];
  }
  const Eigen::Vector2d x = a.colPivHouseholderQr().solve(v);
  return {value, x(0)};
}

}  // namespace

ConvergenceResult study_convergence(const job::Job& job,
                                    const PanelMaker& make_panel,
                                    double element_m,
                                    unsigned threads,
                                    const base::Progress& progress) {
  ConvergenceResult out;
  std::array<std::vector<LayoutResult>, 3> studied;
  std::array<double, 3> size{};
  job::Job plain = job;
  plain.temperatures_k.clear();
  base::parallel_for(kSizes.size(), threads, [&](std::size_t i) {
    progress.step("element size " + std::to_string(i + 1) + " of 3",
                  static_cast<double>(i) / kSizes.size());
    const panel::Panel panel = make_panel(kSizes[i] * element_m);
    size[i] = panel.element_size_m;
    studied[i] = study_layouts(common_of(plain, panel, progress), 1, progress, Detail::modes);
  });
  out.element_m = size;
  std::size_t n_mode = kModes;
  for (const auto& s : studied) n_mode = std::min(n_mode, s[0].modes.size());
  for (std::size_t m = 0; m < n_mode; ++m)
    out.bare_hz.push_back(extrapolate(size,
                                      {studied[0][0].modes[m].freq_hz,
                                       studied[1][0].modes[m].freq_hz,
                                       studied[2][0].modes[m].freq_hz}));
  for (std::size_t l = 1; l < studied[0].size(); ++l) {
    std::array<double, 3> reduction{};
    for (std::size_t i = 0; i < 3; ++i)
      reduction[i] = studied[i][0].band_level_db - studied[i][l].band_level_db;
    out.layouts.push_back(studied[0][l].name);
    out.reduction_db.push_back(extrapolate(size, reduction));
  }
  for (const Extrapolated& e : out.bare_hz)
    out.worst_hz_error = std::max(out.worst_hz_error, std::abs(e.value[2] / e.limit - 1.0));
  for (const Extrapolated& e : out.reduction_db)
    out.worst_db_error = std::max(out.worst_db_error, std::abs(e.value[2] - e.limit));
  return out;
}

}  // namespace calmplate::study
