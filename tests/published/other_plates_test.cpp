// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <catch2/catch.hpp>
#include <string>
#include <vector>

#include "base/units.hpp"
#include "published/bench.hpp"
#include "published/closed_forms.hpp"
#include "published/reference_file.hpp"
#include "published/table.hpp"
#include "support/test_meshes.hpp"

using namespace calmplate;
using namespace calmplate::published;

namespace {

constexpr double kRule = 0.005;

struct RoundMode {
  double lambda;
  int diameters, circles;
};

/// Modes of a round plate in order; those with diameters come twice.
template <typename LambdaOf>
std::vector<RoundMode> round_modes(const LambdaOf& lambda_of) {
  std::vector<RoundMode> modes;
  for (int n = 0; n < 5; ++n) {
    const std::vector<double> lambda = lambda_of(n);
    for (int s = 0; s < static_cast<int>(lambda.size()); ++s)
      for (int twin = 0; twin < (n == 0 ? 1 : 2); ++twin)
        modes.push_back({lambda[static_cast<std::size_t>(s)], n, s});
  }
  std::sort(modes.begin(), modes.end(), [](const RoundMode& a, const RoundMode& b) {
    return a.lambda < b.lambda;
  });
  modes.resize(8);
  return modes;
}

void check_round(const std::string& title,
                 const Bench& bench,
                 const std::vector<RoundMode>& known) {
  const BenchModes modes = bare_modes(bench, 8);
  Table table(title);
  for (std::size_t i = 0; i < known.size(); ++i)
    table.row(std::to_string(known[i].diameters) + " diameters, " +
                  std::to_string(known[i].circles) + " circles",
              modes.freq_hz(static_cast<int>(i)),
              plate_hz(known[i].lambda, 0.3, steel(0.8e-3)),
              kRule);
}

}  // namespace

// Source: derived. Converged Ritz in skew coordinates, see the data file.
TEST_CASE("a clamped rhombus of 30 degrees skew has its frequencies", "[published][derived]") {
  const ReferenceFile data("thin_plates/rectangles.txt");
  const std::vector<double>& lambda = data["CCCC 1 skew 30"];
  const Bench bench = make_bench(testing::skew_plate(0.6, base::from_degrees(60.0), 50),
                                 steel(0.8e-3),
                                 all_round(shell::Hold::clamped));
  const BenchModes modes = bare_modes(bench, static_cast<int>(lambda.size()));
  Table table("Clamped rhombus, side 0.6 m, skew 30 degrees, 12 mm elements, Hz");
  for (std::size_t i = 0; i < lambda.size(); ++i)
    table.row("skew 30, mode " + std::to_string(i + 1),
              modes.freq_hz(static_cast<int>(i)),
              plate_hz(lambda[i], 0.6, steel(0.8e-3)),
              data.rule());
}

// Source: derived. Bessel functions, see closed_forms.hpp.
TEST_CASE("a clamped disc has its frequencies", "[published][derived]") {
  const Bench bench =
      make_bench(testing::disc(0.3, 25), steel(0.8e-3), all_round(shell::Hold::clamped));
  check_round("Clamped disc, radius 0.3 m, 12 mm elements, Hz", bench, round_modes([](int n) {
                return clamped_disc(n, 2);
              }));
}

// Source: derived. Bessel functions, see closed_forms.hpp.
TEST_CASE("a ring clamped outside and free inside has its frequencies", "[published][derived]") {
  for (const double ratio : {0.3, 0.5}) {
    const Bench bench = make_bench(testing::annulus(ratio * 0.3, 0.3, ratio < 0.4 ? 18 : 13),
                                   steel(0.8e-3),
                                   all_round(shell::Hold::clamped));
    check_round("Ring, outer radius 0.3 m clamped, inner " + std::to_string(ratio).substr(0, 3) +
                    " of it free, 12 mm elements, Hz",
                bench,
                round_modes([ratio](int n) { return clamped_free_ring(n, ratio, 0.3, 2); }));
  }
}

// Source: derived, by another route: the roots were also found with other software to six digits.
TEST_CASE("the closed forms of round plates give the digits on record", "[published][derived]") {
  const ReferenceFile data("thin_plates/round.txt");
  for (int n = 0; n < 4; ++n) {
    const auto i = static_cast<std::size_t>(n);
    CHECK(clamped_disc(n, 1)[0] == Approx(data["disc"][i]).epsilon(data.rule()));
    CHECK(clamped_free_ring(n, 0.3, 0.3, 1)[0] == Approx(data["ring 0.3"][i]).epsilon(data.rule()));
    CHECK(clamped_free_ring(n, 0.5, 0.3, 1)[0] == Approx(data["ring 0.5"][i]).epsilon(data.rule()));
  }
}
