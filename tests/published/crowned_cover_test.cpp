// SPDX-License-Identifier: GPL-3.0-or-later
#include <catch2/catch.hpp>
#include <string>
#include <utility>
#include <vector>

#include "base/units.hpp"
#include "published/bench.hpp"
#include "published/closed_forms.hpp"
#include "published/crowned.hpp"
#include "published/reference_file.hpp"
#include "published/sheets.hpp"
#include "published/table.hpp"

using namespace calmplate;
using namespace calmplate::published;

namespace {

struct Panel {
  std::string key;
  Crown crown;
  double top_hz;
};

const std::vector<Panel> kPanels = {{"inf 8", {0.0, 1.0 / 8.0}, 60.0},
                                    {"inf 3", {0.0, 1.0 / 3.0}, 80.0},
                                    {"8 8", {1.0 / 8.0, 1.0 / 8.0}, 92.0},
                                    {"8 3", {1.0 / 8.0, 1.0 / 3.0}, 125.0}};

}  // namespace

// Source: derived, by another route: the same formula was worked out apart from this program.
TEST_CASE("the closed form of covered crowned panels gives the digits on record",
          "[published][derived]") {
  const ReferenceFile data("sandwich/crowned.txt");
  const double digits = data["record rule"][0];
  for (const Panel& panel : kPanels)
    for (std::size_t i = 0; i < data[panel.key + " f"].size(); ++i) {
      const std::vector<double>& waves = data[panel.key + " modes"];
      const std::complex<double> omega2 = covered_omega2(steel(0.8e-3),
                                                         foil_butyl(1e6, 0.3),
                                                         base::kPi * waves[2 * i] / 1.0,
                                                         base::kPi * waves[2 * i + 1] / 0.6,
                                                         panel.crown);
      CAPTURE(panel.key, i);
      CHECK(frequency_hz(omega2) == Approx(data[panel.key + " f"][i]).epsilon(digits));
      CHECK(loss_factor(omega2) == Approx(data[panel.key + " eta"][i]).epsilon(digits));
    }
}

// Source: derived closed form, see closed_forms.hpp.
TEST_CASE("a crown takes away the damping of a full cover as it must", "[published][derived]") {
  const ReferenceFile data("sandwich/crowned.txt");
  for (const Panel& panel : kPanels) {
    const Bench bench = crowned_panel(1.0, 0.6, panel.crown, 60, 36);
    const sheet::Sheet sheet = foil_butyl(1e6, 0.3);
    const BenchModes modes = damped_modes(bench, {full_cover(bench, sheet, true)}, panel.top_hz);
    const std::vector<double>& waves = data[panel.key + " modes"];
    Table table("Covered panel, R " + panel.key + " m (x, y), shear diaphragms, 17 mm elements");
    for (std::size_t i = 0; 2 * i < waves.size(); ++i) {
      const int m = static_cast<int>(waves[2 * i]), n = static_cast<int>(waves[2 * i + 1]);
      const Eigen::Index j = find_mode(bench, modes, m, n);
      const std::string mode = " (" + std::to_string(m) + "," + std::to_string(n) + ")";
      table.row("Hz" + mode, modes.freq_hz(j), data[panel.key + " f"][i], data.rule());
      table.row(
          "loss" + mode, modes.loss_factor(j), data[panel.key + " eta"][i], data["loss rule"][0]);
    }
  }
}
