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
#include "support/test_meshes.hpp"

using namespace calmplate;
using namespace calmplate::published;

namespace {

const std::vector<std::pair<int, int>> kClassicModes = {{1, 1}, {2, 1}, {1, 2}, {2, 2}, {3, 1}};
const std::vector<std::pair<int, int>> kButylModes = {{1, 1}, {2, 1}, {3, 1}, {1, 2}, {2, 2}};
constexpr double kClassicA = 0.348, kClassicB = 0.3048;

const shell::Plate kClassicFace{0.762e-3, 68.9e9, 0.3, 2740.0};

sheet::Sheet classic_sheet() {
  return constrained(0.254e-3, 0.896e6, 0.5, 999.0, 0.762e-3, material(68.9e9, 0.3, 2740.0));
}

std::string mode_name(const std::string& what, std::pair<int, int> mode) {
  return what + " (" + std::to_string(mode.first) + "," + std::to_string(mode.second) + ")";
}

std::complex<double> closed_form(const shell::Plate& base,
                                 const sheet::Sheet& sheet,
                                 double a,
                                 double b,
                                 std::pair<int, int> mode) {
  return covered_omega2(base, sheet, base::kPi * mode.first / a, base::kPi * mode.second / b);
}

}  // namespace

// Source: derived, by another route: the same formula was worked out apart from this program.
TEST_CASE("the closed form of covered plates gives the digits on record", "[published][derived]") {
  const ReferenceFile data("sandwich/plates.txt");
  const double digits = data["record rule"][0];
  const auto check = [&](const std::string& key, std::size_t i, std::complex<double> omega2) {
    CAPTURE(key, i);
    CHECK(frequency_hz(omega2) == Approx(data[key + " f"][i]).epsilon(digits));
    CHECK(loss_factor(omega2) == Approx(data[key + " eta"][i]).epsilon(digits));
  };
  for (std::size_t i = 0; i < kClassicModes.size(); ++i)
    check("classic",
          i,
          closed_form(kClassicFace, classic_sheet(), kClassicA, kClassicB, kClassicModes[i]));
  for (const auto& [key, shear_pa] : std::vector<std::pair<std::string, double>>{
           {"butyl 0.3", 0.3e6}, {"butyl 1", 1e6}, {"butyl 3", 3e6}, {"butyl 10", 10e6}})
    for (std::size_t i = 0; i < kButylModes.size(); ++i)
      check(
          key, i, closed_form(steel(0.8e-3), foil_butyl(shear_pa, 0.3), 1.0, 0.6, kButylModes[i]));
}

// Source: derived closed form; beside it remembered values of the literature, see the data file.
TEST_CASE("the classic three-layer plate has its frequencies and losses",
          "[published][derived][memory]") {
  const ReferenceFile data("sandwich/plates.txt");
  const Bench bench = make_bench(testing::flat_plate(kClassicA, kClassicB, 50, 44),
                                 kClassicFace,
                                 all_round(shell::Hold::simply_supported));
  const sheet::Sheet sheet = classic_sheet();
  const BenchModes modes = damped_modes(bench, {full_cover(bench, sheet, true)}, 260.0);
  Table table("Classic three-layer plate 0.348 x 0.3048 m, SSSS, 7 mm elements");
  for (std::size_t i = 0; i < kClassicModes.size(); ++i) {
    const std::pair<int, int> mode = kClassicModes[i];
    const Eigen::Index j = find_mode(bench, modes, mode.first, mode.second);
    const std::complex<double> exact = closed_form(kClassicFace, sheet, kClassicA, kClassicB, mode);
    table.row(mode_name("Hz", mode), modes.freq_hz(j), frequency_hz(exact), data.rule());
    table.row(
        mode_name("loss", mode), modes.loss_factor(j), loss_factor(exact), data["loss rule"][0]);
    table.row(
        mode_name("Hz, remembered", mode), modes.freq_hz(j), data["remembered f"][i], data.rule());
    table.row(mode_name("loss, remembered", mode),
              modes.loss_factor(j),
              data["remembered eta"][i],
              data["loss rule"][0]);
    // The first mode's loss by strain energy is known to be high by 7.9 % at core loss 0.5.
    if (i == 0)
      table.between("loss by strain energy over complex (1,1)",
                    modes.loss_factor_energy(j) / modes.loss_factor(j),
                    1.02,
                    1.12);
  }
}

// Source: derived closed form, see closed_forms.hpp.
TEST_CASE("a plate under foil and butyl has its frequencies and losses", "[published][derived]") {
  const ReferenceFile data("sandwich/plates.txt");
  const Bench bench = make_bench(testing::flat_plate(1.0, 0.6, 60, 36),
                                 steel(0.8e-3),
                                 all_round(shell::Hold::simply_supported));
  Table table("SSSS 1.0 x 0.6 x 0.8 mm steel under 2 mm butyl and 0.1 mm foil, 17 mm elements");
  for (const double shear_mpa : {0.3, 1.0, 3.0, 10.0}) {
    const sheet::Sheet sheet = foil_butyl(1e6 * shear_mpa, 0.3);
    const BenchModes modes = damped_modes(bench, {full_cover(bench, sheet, true)}, 60.0);
    for (const std::pair<int, int>& mode : kButylModes) {
      const Eigen::Index j = find_mode(bench, modes, mode.first, mode.second);
      const std::complex<double> exact = closed_form(steel(0.8e-3), sheet, 1.0, 0.6, mode);
      const std::string shear = "G " + std::to_string(shear_mpa).substr(0, 4) + " MPa, ";
      table.row(mode_name(shear + "Hz", mode), modes.freq_hz(j), frequency_hz(exact), data.rule());
      table.row(mode_name(shear + "loss", mode),
                modes.loss_factor(j),
                loss_factor(exact),
                data["loss rule"][0]);
    }
  }
}
