// SPDX-License-Identifier: GPL-3.0-or-later
#include "modes/eigen_solve.hpp"

#include <Eigen/Eigenvalues>
#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <cstring>

#include "base/input_error.hpp"
#include "modes/model_matrices.hpp"

using namespace calmplate;
using modes::ModeOptions;
using modes::ModeSet;
using test::Sparse;

namespace {

double hz(double omega2) { return std::sqrt(omega2) / base::kTwoPi; }

std::vector<double> chain_values(int n, bool held) {
  std::vector<double> a;
  for (int j = 0; j < n; ++j)
    a.push_back(held ? test::held_chain_value(n, 1.0, j + 1) : test::free_chain_value(n, 1.0, j));
  return a;
}

/// The equation itself, M-orthonormality and order; whatever the basis of repeated modes is.
void check_modes(const Sparse& K, const Sparse& M, const ModeSet& modes, double tolerance) {
  const Eigen::Index k = modes.omega2.size();
  CAPTURE(modes.iterations, k);
  CHECK(modes.complete);
  REQUIRE(modes.shape.cols() == k);
  REQUIRE(modes.shape.rows() == K.rows());
  REQUIRE(modes.residual.size() == k);
  CHECK(modes.residual.maxCoeff() < tolerance);
  const Eigen::MatrixXd gram = modes.shape.transpose() * (M * modes.shape);
  CHECK((gram - Eigen::MatrixXd::Identity(k, k)).cwiseAbs().maxCoeff() < 1e-9);
  for (Eigen::Index j = 0; j < k; ++j) {
    const Eigen::VectorXd kx = K * modes.shape.col(j);
    const Eigen::VectorXd mx = M * modes.shape.col(j);
    if (modes.omega2[j] > 0.0) CHECK((kx - modes.omega2[j] * mx).norm() < tolerance * kx.norm());
    if (j > 0) CHECK(modes.omega2[j] >= modes.omega2[j - 1]);
  }
}

}  // namespace

// Source: derived. Sums of the chain's eigenvalues; a square has exact doubles. Tolerance: the
// square of the residual, so rounding.
TEST_CASE("a square membrane has all its modes, the doubles twice", "[modes][derived]") {
  const int n = 28;
  const Sparse K = test::membrane(test::chain(n, 1.0, true));
  const Sparse M = test::diagonal(n * n, 1.0);
  const std::vector<double> known = test::lowest_sums(chain_values(n, true), 60);
  const ModeSet modes = modes::modes_up_to(K, M, hz(0.5 * (known[49] + known[50])));
  check_modes(K, M, modes, 1e-9);
  REQUIRE(modes.omega2.size() == 50);
  CHECK(modes.rigid_body == 0);
  int doubles = 0;
  for (int i = 0; i < 50; ++i) {
    const auto at = static_cast<std::size_t>(i);
    CHECK(modes.omega2[i] == Approx(known[at]).epsilon(1e-11));
    if (i > 0 && known[at] - known[at - 1] < 1e-12) ++doubles;
  }
  CHECK(doubles > 15);
}

// Source: derived. The eigenvalues of the squared membrane are the squares.
TEST_CASE("the lowest modes of a square plate are the closed form's", "[modes][derived]") {
  const int n = 24;
  const int count = GENERATE(1, 2, 3, 8, 40);
  CAPTURE(count);
  const Sparse K = test::squared(test::membrane(test::chain(n, 1.0, true)));
  const Sparse M = test::diagonal(n * n, 0.25);
  const std::vector<double> known = test::lowest_sums(chain_values(n, true), 40);
  const ModeSet modes = modes::lowest_modes(K, M, count);
  check_modes(K, M, modes, 1e-9);
  REQUIRE(modes.omega2.size() == count);
  for (int i = 0; i < count; ++i) {
    const double root = known[static_cast<std::size_t>(i)];
    CHECK(modes.omega2[i] == Approx(root * root / 0.25).epsilon(1e-10));
  }
}

// Source: derived. Free chain: one mode at 0, then 4 sin^2(pi j / 2n). A free membrane likewise.
TEST_CASE("a free membrane has one rigid-body mode and then the closed form", "[modes][derived]") {
  const int n = GENERATE(5, 26);
  CAPTURE(n);
  const Sparse K = test::membrane(test::chain(n, 1.0, false));
  const Sparse M = test::diagonal(n * n, 1.0);
  const std::vector<double> known = test::lowest_sums(chain_values(n, false), 20);
  const bool by_number = GENERATE(true, false);
  CAPTURE(by_number);
  const int count = 13;  // modes 13 and 14 are no pair for either size
  REQUIRE(known[13] - known[12] > 1e-3 * known[13]);
  const ModeSet modes = by_number ? modes::lowest_modes(K, M, count)
                                  : modes::modes_up_to(K, M, hz(0.5 * (known[12] + known[13])));
  check_modes(K, M, modes, 1e-9);
  REQUIRE(modes.omega2.size() == count);
  CHECK(modes.rigid_body == 1);
  CHECK(modes.omega2[0] == 0.0);
  for (int i = 1; i < count; ++i)
    CHECK(modes.omega2[i] == Approx(known[static_cast<std::size_t>(i)]).epsilon(1e-10));
}

// Source: derived. Massless followers move with their neighbours and change nothing.
TEST_CASE("a mass matrix with empty rows keeps its modes", "[modes][derived]") {
  const int n = 22;
  const Sparse inner = test::membrane(test::chain(n, 1.0, true));
  const Sparse K = test::with_massless_followers(inner, 3.0);
  const Sparse M = test::half_massless(n * n);
  const std::vector<double> known = test::lowest_sums(chain_values(n, true), 25);
  const ModeSet modes = modes::lowest_modes(K, M, 25);
  check_modes(K, M, modes, 1e-9);
  for (int i = 0; i < 25; ++i)
    CHECK(modes.omega2[i] == Approx(known[static_cast<std::size_t>(i)]).epsilon(1e-10));
  CHECK((modes.shape.topRows(n * n) - modes.shape.bottomRows(n * n)).cwiseAbs().maxCoeff() < 1e-9);
}

// Source: derived. Few masses on a large massless membrane: as many modes as masses, no more.
TEST_CASE("no more modes come back than there are masses", "[modes][derived]") {
  const int n = 20;
  const Sparse K = test::membrane(test::chain(n, 1.0, true));
  Sparse M(n * n, n * n);
  for (int i = 0; i < 12; ++i) M.insert(31 * i + 7, 31 * i + 7) = 1.0 + 0.1 * i;
  M.makeCompressed();
  const ModeSet modes = modes::lowest_modes(K, M, 30);
  CHECK(modes.omega2.size() == 12);
  check_modes(K, M, modes, 1e-8);
  CHECK(modes::modes_up_to(K, M, 1e3).omega2.size() == 12);
}

// Source: derived. Copies that do not touch each other repeat every eigenvalue; more often than the
// first blocks are wide, so that only the count can tell that some are missing at first.
TEST_CASE("modes repeated more often than a block is wide are all found", "[modes][derived]") {
  const int copies = GENERATE(6, 12, 30);
  const int length = 40;
  CAPTURE(copies);
  const Sparse one = test::chain(length, 1.0, true);
  std::vector<Eigen::Triplet<double>> entries;
  for (int b = 0; b < copies; ++b)
    for (int c = 0; c < length; ++c)
      for (Sparse::InnerIterator it(one, c); it; ++it)
        entries.emplace_back(b * length + static_cast<int>(it.row()), b * length + c, it.value());
  const int n = copies * length;
  const Sparse K = test::from_triplets(n, entries);
  const Sparse M = test::diagonal(n, 1.0);
  const double top =
      0.5 * (test::held_chain_value(length, 1.0, 2) + test::held_chain_value(length, 1.0, 3));
  const ModeSet modes = modes::modes_up_to(K, M, hz(top));
  check_modes(K, M, modes, 1e-8);
  REQUIRE(modes.omega2.size() == 2 * copies);
  for (int i = 0; i < 2 * copies; ++i)
    CHECK(modes.omega2[i] ==
          Approx(test::held_chain_value(length, 1.0, 1 + i / copies)).epsilon(1e-10));
  const ModeSet lowest = modes::lowest_modes(K, M, copies);
  check_modes(K, M, lowest, 1e-8);
  CHECK(lowest.omega2[copies - 1] == Approx(test::held_chain_value(length, 1.0, 1)).epsilon(1e-10));
}

// Source: derived. Every second pair of rows shares one mass: M has rank n / 2 though no row of it
// is empty, so n / 2 modes exist.
TEST_CASE("directions without mass are no modes even where every row has mass",
          "[modes][derived]") {
  const int n = GENERATE(20, 600);  // dense route, Krylov route
  CAPTURE(n);
  std::vector<Eigen::Triplet<double>> entries;
  for (int i = 0; i < n; ++i)
    for (int j = i - i % 4; j < i - i % 4 + 4; ++j) entries.emplace_back(i, j, 1.0);
  const Sparse M = test::from_triplets(n, entries);
  const Sparse K = test::chain(n, 1.0, true);
  const ModeSet modes = modes::lowest_modes(K, M, n == 20 ? n : n / 3 - 5);
  CHECK(modes.omega2.size() == n / 4);
  check_modes(K, M, modes, 1e-7);
}

// Source: crosscheck, Eigen 3.4 GeneralizedSelfAdjointEigenSolver on the full dense pair.
TEST_CASE("modes agree with a dense solver when K and M are coupled", "[modes][crosscheck]") {
  const int n = 18;
  const Sparse K = test::squared(test::membrane(test::chain(n, 1.0, true)));
  const Sparse M = test::membrane(test::chain(n, -0.04, true)) + test::diagonal(n * n, 1.0);
  const Eigen::GeneralizedSelfAdjointEigenSolver<Eigen::MatrixXd> dense{Eigen::MatrixXd(K),
                                                                        Eigen::MatrixXd(M)};
  const ModeSet modes = modes::lowest_modes(K, M, 30);
  check_modes(K, M, modes, 1e-9);
  for (int i = 0; i < 30; ++i)
    CHECK(modes.omega2[i] == Approx(dense.eigenvalues()[i]).epsilon(1e-9));
}

// Source: derived. x = K^-1 f is what the factor must give when nothing is loose.
TEST_CASE("the solver keeps the factor of K for static loads", "[modes][derived]") {
  const Sparse K = test::membrane(test::chain(10, 1.0, true));
  modes::ModeSolver solver(K, test::diagonal(100, 1.0));
  CHECK(solver.shift() == 0.0);
  const Eigen::VectorXd f = Eigen::VectorXd::LinSpaced(100, -1.0, 2.0);
  CHECK((K * solver.factor().solve(f) - f).norm() < 1e-10 * f.norm());
  CHECK(solver.lowest(5).omega2.size() == 5);
  CHECK(solver.lowest(7).omega2.size() == 7);

  const Sparse loose = test::membrane(test::chain(10, 1.0, false));
  modes::ModeSolver free_solver(loose, test::diagonal(100, 1.0));
  CHECK(free_solver.shift() < 0.0);
  const Sparse shifted = loose - free_solver.shift() * test::diagonal(100, 1.0);
  CHECK((shifted * free_solver.factor().solve(f) - f).norm() < 1e-10 * f.norm());
}

TEST_CASE("lower triangles and full matrices give the same bytes", "[modes]") {
  const Sparse K = test::membrane(test::chain(20, 1.0, true));
  const Sparse M = test::membrane(test::chain(20, -0.04, true)) + test::diagonal(400, 1.0);
  const ModeSet full = modes::lowest_modes(K, M, 10);
  const ModeSet half =
      modes::lowest_modes(K.triangularView<Eigen::Lower>(), M.triangularView<Eigen::Lower>(), 10);
  CHECK((full.shape.array() == half.shape.array()).all());
}

TEST_CASE("two threads give the bytes of one", "[modes]") {
  const Sparse K = test::membrane(test::chain(30, 1.0, true));
  const Sparse M = test::diagonal(900, 1.0);
  ModeOptions two;
  two.threads = 2;
  const ModeSet a = modes::modes_up_to(K, M, hz(0.3));
  const ModeSet b = modes::modes_up_to(K, M, hz(0.3), two);
  REQUIRE(a.omega2.size() > 10);
  REQUIRE(a.omega2.size() == b.omega2.size());
  CHECK(std::memcmp(a.shape.data(), b.shape.data(), sizeof(double) * a.shape.size()) == 0);
  CHECK(std::memcmp(a.omega2.data(), b.omega2.data(), sizeof(double) * a.omega2.size()) == 0);
  CHECK(a.iterations == b.iterations);
}

TEST_CASE("a frequency below the first mode gives an empty, complete set", "[modes]") {
  const Sparse K = test::membrane(test::chain(8, 1.0, true));
  const ModeSet modes = modes::modes_up_to(K, test::diagonal(64, 1.0), 1e-3);
  CHECK(modes.omega2.size() == 0);
  CHECK(modes.shape.rows() == 64);
  CHECK(modes.complete);
}

TEST_CASE("more modes than allowed is the user's fault and says how many", "[modes]") {
  const Sparse K = test::membrane(test::chain(8, 1.0, true));
  ModeOptions options;
  options.max_modes = 63;
  CHECK_THROWS_WITH(modes::modes_up_to(K, test::diagonal(64, 1.0), 1e3, options),
                    "64 modes lie below the top frequency; allowed: at most 63; lower the top "
                    "frequency");
  CHECK_THROWS_AS(modes::modes_up_to(K, test::diagonal(64, 1.0), 1e3, options), base::InputError);
}

TEST_CASE("work stops when asked to, before and in the middle", "[modes]") {
  const Sparse K = test::membrane(test::chain(30, 1.0, true));
  const Sparse M = test::diagonal(900, 1.0);
  int asked = 0;
  const int after = GENERATE(0, 3, 12);
  CAPTURE(after);
  base::Progress progress;
  progress.cancelled = [&] { return asked++ >= after; };
  CHECK_THROWS_AS(modes::lowest_modes(K, M, 40, {}, progress), base::Cancelled);
  CHECK(asked == after + 1);
}

TEST_CASE("a part with neither mass nor stiffness is named", "[modes]") {
  Sparse K = test::chain(12, 1.0, true);
  K.conservativeResize(13, 13);
  Sparse M = test::diagonal(12, 1.0);
  M.conservativeResize(13, 13);
  try {
    modes::lowest_modes(K, M, 3);
    FAIL("no throw");
  } catch (const modes::NotPositiveDefinite& e) {
    CHECK(e.dof() == 12);
  }
}

TEST_CASE("wrong calls of the mode solver are refused", "[modes]") {
  const Sparse K = test::chain(6, 1.0, true);
  const Sparse M = test::diagonal(6, 1.0);
  const double bad_hz = GENERATE(0.0, -1.0, INFINITY, NAN);
  CHECK_THROWS_AS(modes::modes_up_to(K, M, bad_hz), std::invalid_argument);
  CHECK_THROWS_AS(modes::lowest_modes(K, M, 0), std::invalid_argument);
  CHECK_THROWS_AS(modes::lowest_modes(K, M, 2001), std::invalid_argument);
  CHECK_THROWS_AS(modes::lowest_modes(K, test::diagonal(5, 1.0), 1), std::invalid_argument);
  CHECK_THROWS_AS(modes::lowest_modes(Sparse(0, 0), Sparse(0, 0), 1), std::invalid_argument);
  CHECK_THROWS_AS(modes::lowest_modes(K, Sparse(6, 6), 1), std::invalid_argument);
  CHECK_THROWS_AS(modes::lowest_modes(K, test::diagonal(6, NAN), 1), std::invalid_argument);
  ModeOptions options;
  options.threads = 0;
  CHECK_THROWS_AS(modes::lowest_modes(K, M, 1, options), std::invalid_argument);
  options = {};
  options.tolerance = 0.0;
  CHECK_THROWS_AS(modes::lowest_modes(K, M, 1, options), std::invalid_argument);
  options = {};
  options.max_modes = 0;
  CHECK_THROWS_AS(modes::lowest_modes(K, M, 1, options), std::invalid_argument);
  options = {};
  options.scale_hz = -1.0;
  CHECK_THROWS_AS(modes::lowest_modes(K, M, 1, options), std::invalid_argument);
}
