// SPDX-License-Identifier: GPL-3.0-or-later
#include "placement/search.hpp"

#include <catch2/catch.hpp>
#include <cmath>

#include "placement/reshape.hpp"
#include "placement/spots.hpp"
#include "reduced/full_reduction.hpp"
#include "shell/attachments.hpp"
#include "shell/small_panels.hpp"

using namespace calmplate;
using namespace calmplate::testing;
using shell::Hold;

namespace {

/// A small panel, its bench and a sheet in squares.
struct Bench {
  panel::Panel panel;
  shell::Skin skin;
  reduced::FullReduction bare;
  sheet::Sheet butyl = constrained(1e6, 1.0);
  drive::DriveInput drive;
  drive::BandInput band;
  std::unique_ptr<placement::TrialBench> bench;
  placement::SearchRequest request;

  Bench(panel::Panel p,
        const std::vector<shell::EdgeInput>& edges,
        const Eigen::Vector2d& at,
        const drive::BandInput& in_band,
        double piece_m,
        double spacing_m)
      : panel(std::move(p)), skin(skin_of(panel, edges, 0.8e-3, 0.01)), band(in_band) {
    reduced::Ports ports;
    ports.load = shell::normal_at(skin, panel.flat.nearest(at));
    ports.listen = Eigen::MatrixXd(0, skin.n_dof);
    reduced::ReductionOptions o;
    o.top_hz = 3.0 * band.high_hz;
    o.air_faces = 0;
    bare = reduced::reduce_full(skin, shell::build_model(skin, {}, {}), ports, o, {});
    bench = std::make_unique<placement::TrialBench>(skin, bare, bare.model, drive, band);
    request.sheets = {{&butyl, {Eigen::Vector2d::Constant(piece_m)}}};
    request.spacing_m = spacing_m;
    request.threads = 2;
  }

  placement::SearchResult search() const {
    return placement::search(panel, {bench.get()}, {{}}, request, {});
  }

  reduced::CondensedPiece condensed(const placement::Spot& spot) const {
    return bench->condense({spot.covered, {&butyl}, false, false});
  }

  double level(const placement::TrialBench::Pieces& pieces) const {
    const placement::Judge judge(*bench, {{}}, {});
    return judge.level_db(judge.integrals(bench->poles(pieces)));
  }
};

/// Calls `use` with every choice of k numbers below n.
void each_choice(int n, int k, const std::function<void(const std::vector<int>&)>& use) {
  std::vector<int> c(static_cast<std::size_t>(k));
  for (int i = 0; i < k; ++i) c[static_cast<std::size_t>(i)] = i;
  for (;;) {
    use(c);
    int i = k - 1;
    while (i >= 0 && c[static_cast<std::size_t>(i)] == n - k + i) --i;
    if (i < 0) return;
    ++c[static_cast<std::size_t>(i)];
    for (int j = i + 1; j < k; ++j)
      c[static_cast<std::size_t>(j)] = c[static_cast<std::size_t>(j - 1)] + 1;
  }
}

/// Best gain of all choices of k of the spots, each solved.
double best_of_all(const Bench& b, int k, std::size_t expected_spots) {
  const std::vector<placement::Spot> spots = placement::all_spots(b.panel, b.request);
  REQUIRE(spots.size() == expected_spots);
  std::vector<reduced::CondensedPiece> pieces;
  for (const placement::Spot& s : spots) pieces.push_back(b.condensed(s));
  const double empty = b.level({});
  double best = 0.0;
  each_choice(static_cast<int>(spots.size()), k, [&](const std::vector<int>& c) {
    placement::TrialBench::Pieces laid;
    for (const int i : c) laid.push_back(&pieces[static_cast<std::size_t>(i)]);
    best = std::max(best, empty - b.level(laid));
  });
  return best;
}

}  // namespace

// Source: [derived] every choice solved on the same bench.
TEST_CASE("three pieces of twelve places and four of sixteen are within 0.1 dB of the best choice",
          "[placement][derived]") {
  Bench twelve(panel_of(flat_plate(0.5, 0.4, 20, 16)),
               {edge("rim", Hold::clamped)},
               {0.17, 0.13},
               {30.0, 160.0, 0.5},
               0.095,
               0.1);
  twelve.request.limits.pieces = 3;
  const placement::SearchResult three = twelve.search();
  const double best_three = best_of_all(twelve, 3, 12);
  CHECK(three.pieces.size() == 3);
  CHECK(three.gain_db > best_three - 0.1);
  CHECK(best_three > 2.0);

  Bench sixteen(panel_of(flat_plate(0.5, 0.5, 18, 18)),
                {edge("rim", Hold::clamped)},
                {0.21, 0.12},
                {30.0, 110.0, 0.5},
                0.095,
                0.1);
  sixteen.request.limits.pieces = 4;
  const placement::SearchResult four = sixteen.search();
  const double best_four = best_of_all(sixteen, 4, 16);
  CHECK(four.pieces.size() == 4);
  CHECK(four.gain_db > best_four - 0.1);
  // The steps lead from nothing to the whole, and end at the gain.
  REQUIRE(four.steps.size() == 5);
  CHECK(four.steps.front().gain_db == 0.0);
  CHECK(four.steps.back().gain_db == Approx(four.gain_db).margin(1e-6));
}

// Source: [derived] the curvature of a cantilever's first mode is largest at its root, that of a
// simply supported plate's in its middle.
TEST_CASE("one piece goes to the root of a cantilever and to the middle of a plate",
          "[placement][derived]") {
  // First bending mode at 10.7 Hz.
  Bench strip(panel_of(flat_plate(0.25, 0.06, 40, 8)),
              {edge("left", Hold::clamped)},
              {0.24, 0.03},
              {6.0, 16.0, 0.1},
              0.058,
              0.005);
  strip.request.limits.pieces = 1;
  const placement::SearchResult root = strip.search();
  REQUIRE(root.pieces.size() == 1);
  CHECK(root.pieces.front().centre.x() < 0.045);

  // Mode (1,1) at 39 Hz.
  Bench plate(panel_of(flat_plate(0.36, 0.30, 24, 20)),
              {edge("rim", Hold::simply_supported)},
              {0.18, 0.15},
              {25.0, 55.0, 0.1},
              0.10,
              0.03);
  plate.request.limits.pieces = 1;
  const placement::SearchResult middle = plate.search();
  REQUIRE(middle.pieces.size() == 1);
  CHECK((middle.pieces.front().centre - Eigen::Vector2d(0.18, 0.15)).norm() < 0.016);
}

// Source: [derived] on a square plate driven on its diagonal the two modes (1,2) and (2,1) count
// alike, so what is found and its mirror image in the diagonal do the same.
TEST_CASE("with two equal modes a layout and its mirror image do the same",
          "[placement][derived]") {
  Bench b(panel_of(flat_plate(0.36, 0.36, 20, 20)),
          {edge("rim", Hold::simply_supported)},
          {0.11, 0.11},
          {55.0, 100.0, 0.1},
          0.10,
          0.04);
  b.request.limits.pieces = 2;
  const placement::SearchResult found = b.search();
  REQUIRE(found.pieces.size() == 2);
  std::vector<reduced::CondensedPiece> mirrored;
  for (const placement::Spot& s : found.pieces) {
    const auto spot =
        placement::spot_at(b.panel, b.request, 0, s.size, 0.0, {s.centre.y(), s.centre.x()});
    REQUIRE(spot);
    mirrored.push_back(b.condensed(*spot));
  }
  const double gain = b.level({}) - b.level({&mirrored[0], &mirrored[1]});
  CHECK(gain == Approx(found.gain_db).margin(0.1));
}

TEST_CASE("no piece enters a keep-out, lies on what is there, or nears another under the gap",
          "[placement]") {
  Bench b(panel_of(flat_plate(0.5, 0.4, 14, 12)),
          {edge("rim", Hold::clamped)},
          {0.17, 0.13},
          {30.0, 80.0, 0.5},
          0.08,
          0.04);
  b.request.limits.pieces = 4;
  b.request.starts = 1;
  b.request.gap_m = 0.012;
  b.request.rim_margin_m = 0.01;
  Dice dice;
  const auto somewhere = [&] { return Eigen::Vector2d(0.25 + 0.2 * dice(), 0.2 + 0.16 * dice()); };
  for (int job = 0; job < 12; ++job) {
    // Every other job may stretch and join its pieces.
    b.request.sheets[0].free_up_to_m =
        job % 2 == 0 ? Eigen::Vector2d(0, 0) : Eigen::Vector2d(0.2, 0.1);
    b.request.keep_out.clear();
    for (int k = 0; k < 3; ++k)
      b.request.keep_out.push_back(panel::rectangle(
          somewhere(), {0.06 + 0.04 * dice(), 0.07 + 0.05 * dice()}, 1.5 * dice()));
    b.request.taken = {panel::rectangle(somewhere(), {0.1, 0.06}, dice())};
    const placement::SearchResult found = b.search();
    for (std::size_t i = 0; i < found.pieces.size(); ++i) {
      const placement::Spot& s = found.pieces[i];
      for (const panel::Polygon& k : b.request.keep_out)
        CHECK(panel::overlap_area(s.outline, k) < 1e-8);
      const panel::Polygon grown =
          panel::rectangle(s.centre, s.size + Eigen::Vector2d::Constant(2.0 * 0.0119), s.angle_rad);
      CHECK(panel::overlap_area(grown, b.request.taken.front()) < 1e-8);
      for (std::size_t j = 0; j < i; ++j)
        CHECK(panel::overlap_area(grown, found.pieces[j].outline) < 1e-8);
      CHECK(panel::share_on_panel(
                b.panel,
                panel::rectangle(s.centre, s.size + Eigen::Vector2d::Constant(0.0199), 0.0)) >
            1.0 - 1e-6);
      CHECK(s.size.maxCoeff() < 0.2 + 1e-6);
      CHECK(s.size.minCoeff() < 0.1 + 1e-6);
    }
  }
}

TEST_CASE("limits hold, threads do not matter, and a stop keeps the best so far", "[placement]") {
  Bench b(panel_of(flat_plate(0.5, 0.4, 14, 12)),
          {edge("rim", Hold::clamped)},
          {0.17, 0.13},
          {30.0, 80.0, 0.5},
          0.08,
          0.04);
  b.butyl.price_per_sheet = 10.0;
  b.butyl.stock_width_m = 0.5;
  b.butyl.stock_length_m = 0.5;
  b.request.starts = 1;
  b.request.limits.area_m2 = 0.02;
  const placement::SearchResult by_area = b.search();
  CHECK(by_area.pieces.size() == 3);  // 0.0064 m2 each
  b.request.threads = 1;
  const placement::SearchResult alone = b.search();
  REQUIRE(alone.pieces.size() == by_area.pieces.size());
  for (std::size_t i = 0; i < alone.pieces.size(); ++i)
    CHECK(alone.pieces[i].centre == by_area.pieces[i].centre);
  CHECK(alone.gain_db == by_area.gain_db);
  b.request.limits = {};
  b.request.limits.mass_kg = 2.5 * 0.0064 * b.butyl.mass_per_area();
  CHECK(b.search().pieces.size() == 2);
  b.request.limits = {};
  b.request.limits.cost = 10.0 * 0.0064 / 0.25 * 1.5;
  CHECK(b.search().pieces.size() == 1);
  b.request.limits.cost = 10.0 * 0.0064 / 0.25 * 0.5;
  CHECK(b.search().pieces.empty());
  b.request.limits = {};
  b.request.limits.sheets = 0.0064 / 0.25 * 2.01;
  CHECK(b.search().pieces.size() == 2);

  b.request.limits = {};
  b.request.limits.pieces = 3;
  int asked = 0;
  base::Progress stop;
  stop.cancelled = [&] { return ++asked > 400; };
  const placement::SearchResult part =
      placement::search(b.panel, {b.bench.get()}, {{}}, b.request, stop);
  CHECK(part.stopped);
  CHECK(part.gain_db > 0.0);
  CHECK(!part.pieces.empty());
}

// Source: [derived] a sheet's edge carries no shear over the length sqrt(foil stiffness x core
// thickness / core shear), 24 mm here, so that one piece does more than the same area in small
// ones. What joining gives is solved beside it.
TEST_CASE("pieces that may be stretched and joined become one and calm more",
          "[placement][derived]") {
  Bench b(panel_of(flat_plate(0.5, 0.4, 20, 16)),
          {edge("rim", Hold::clamped)},
          {0.17, 0.13},
          {30.0, 80.0, 0.5},
          0.1,
          0.05);
  b.request.starts = 1;
  b.request.limits.area_m2 = 0.0401;
  b.request.gap_m = 0.002;
  const placement::SearchResult listed = b.search();
  b.request.sheets[0].free_up_to_m = {0.3, 0.3};
  const placement::SearchResult free = b.search();
  CHECK(listed.pieces.size() <= 4);
  CHECK(free.pieces.size() < listed.pieces.size());
  double area = 0.0;
  for (const placement::Spot& s : free.pieces) area += s.area_m2;
  CHECK(area < 0.0401);
  CHECK(free.gain_db > listed.gain_db + 0.3);
  // Two halves with a gap, and the same two joined.
  const auto half = placement::spot_at(b.panel, b.request, 0, {0.1, 0.2}, 0.0, {0.199, 0.2});
  const auto other = placement::spot_at(b.panel, b.request, 0, {0.1, 0.2}, 0.0, {0.301, 0.2});
  REQUIRE((half && other));
  const auto whole = placement::joined(b.panel, b.request, *half, *other);
  REQUIRE(whole);
  CHECK((whole->size - Eigen::Vector2d(0.202, 0.2)).norm() < 1e-9);
  CHECK((whole->centre - Eigen::Vector2d(0.25, 0.2)).norm() < 1e-9);
  const auto apart = placement::spot_at(b.panel, b.request, 0, {0.1, 0.2}, 0.0, {0.3, 0.21});
  CHECK(!placement::joined(b.panel, b.request, *half, *apart));
}

// Source: [derived] the first-order screen against the solved layouts it is to rank.
TEST_CASE("the screen ranks places much as their solved gains do", "[placement][derived]") {
  const Bench b(panel_of(flat_plate(0.5, 0.4, 20, 16)),
                {edge("rim", Hold::clamped)},
                {0.17, 0.13},
                {30.0, 160.0, 0.5},
                0.095,
                0.1);
  const placement::Judge judge(*b.bench, {{}}, {});
  const reduced::PoleExpansion poles = b.bench->poles({});
  const auto integrals = judge.integrals(poles);
  const double empty = judge.level_db(integrals);
  Eigen::VectorXd first(12), solved(12);
  const std::vector<placement::Spot> spots = placement::all_spots(b.panel, b.request);
  REQUIRE(spots.size() == 12);
  for (Eigen::Index i = 0; i < 12; ++i) {
    const reduced::CondensedPiece piece = b.condensed(spots[static_cast<std::size_t>(i)]);
    first(i) = empty - judge.level_db(integrals, b.bench->moved_poles(poles, piece));
    solved(i) = empty - b.level({&piece});
  }
  const Eigen::VectorXd x = first.array() - first.mean(), y = solved.array() - solved.mean();
  CHECK(x.dot(y) / (x.norm() * y.norm()) > 0.8);
}
