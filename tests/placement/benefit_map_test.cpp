// SPDX-License-Identifier: GPL-3.0-or-later
#include "placement/benefit_map.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <memory>

#include "base/units.hpp"
#include "response/band_response.hpp"
#include "support/test_meshes.hpp"

namespace {

using namespace calmplate;

/// A clamped steel plate 0.5 x 0.4 m, its drive in the middle, and a butyl sheet.
struct Plate {
  panel::Panel panel = panel::make_panel(testing::flat_plate(0.5, 0.4, 30, 24), {}, "plate");
  shell::Skin skin;
  shell::PanelModel model;
  reduced::FullReduction bare;
  sheet::Sheet butyl;
  drive::DriveInput drive;
  drive::BandInput band{30.0, 120.0, 0.5};

  Plate() {
    shell::EdgeInput rim;
    rim.part = "rim";
    rim.hold = shell::Hold::clamped;
    skin = shell::make_skin(panel, {0.8e-3, 210e9, 0.3, 7850.0}, 0.01, {rim});
    model = shell::build_model(skin, {}, {});
    reduced::Ports ports;
    drive.at = {0.25, 0.2};
    ports.load = shell::normal_at(skin, panel.flat.nearest(drive.at));
    ports.listen.resize(0, skin.n_dof);
    reduced::ReductionOptions o;
    o.top_hz = 500.0;
    o.air_faces = 0;
    bare = reduced::reduce_full(skin, model, ports, o, {});
    butyl.core_thickness_m = 2e-3;
    butyl.core_density = 1700.0;
    butyl.core_modulus = std::make_shared<sheet::ConstantModulus>(1e6, 1.0);
    butyl.foil_thickness_m = 1e-4;
    butyl.foil = {"aluminium", 70e9, 0.3, 2700.0, 0.0};
  }

  placement::MapRequest request() const {
    placement::MapRequest r;
    r.sheet = &butyl;
    r.piece_m = 0.1;
    r.spacing_m = 0.05;
    return r;
  }
};

}  // namespace

// Source: [derived] plate, drive and grid of places are mirror images of themselves; the mesh is
// not quite (its diagonals turn), hence the tolerance.
TEST_CASE("a symmetric panel has a symmetric benefit map", "[placement][derived]") {
  const Plate p;
  const placement::TrialBench bench(p.skin, p.bare, p.bare.model, p.drive, p.band);
  const placement::BenefitMap map = placement::benefit_map(p.panel, bench, p.request(), {});
  REQUIRE(map.places.size() > 40);
  int pairs = 0;
  for (const placement::Place& a : map.places)
    for (const placement::Place& b : map.places)
      if ((a.centre + b.centre - Eigen::Vector2d(0.5, 0.4)).norm() < 1e-9) {
        CHECK(a.benefit_db == Approx(b.benefit_db).margin(0.03));
        ++pairs;
      }
  CHECK(pairs == static_cast<int>(map.places.size()));
}

// Source: [derived] the map's shortcut against model (b) with the same piece, band in closed form.
TEST_CASE("a place's benefit is what the reduced model gives for a piece there",
          "[placement][derived]") {
  const Plate p;
  const placement::TrialBench bench(p.skin, p.bare, p.bare.model, p.drive, p.band);
  placement::MapRequest request = p.request();
  request.threads = 2;
  const placement::BenefitMap map = placement::benefit_map(p.panel, bench, request, {});
  const response::BandResponse before(p.bare.model, p.drive, p.band.high_hz);
  for (const std::size_t i : {std::size_t{0}, map.places.size() / 3, map.places.size() / 2}) {
    shell::LaidPiece piece;
    panel::Region region;
    region.outline = panel::rectangle(map.places[i].centre, {0.1, 0.1}, 0.0);
    piece.covered = panel::cover(p.panel, region);
    piece.plies = {&p.butyl};
    const response::BandResponse after(
        reduced::reduce_by_pieces(p.skin, p.bare, {piece}, 60.0), p.drive, p.band.high_hz);
    const double benefit = before.band_level_db(p.band.low_hz, p.band.high_hz) -
                           after.band_level_db(p.band.low_hz, p.band.high_hz);
    CHECK(map.places[i].benefit_db == Approx(benefit).margin(0.1));
  }
}

TEST_CASE("the map does not depend on the number of threads, and keeps out where told",
          "[placement]") {
  const Plate p;
  const placement::TrialBench bench(p.skin, p.bare, p.bare.model, p.drive, p.band);
  placement::MapRequest request = p.request();
  const placement::BenefitMap one = placement::benefit_map(p.panel, bench, request, {});
  request.threads = 2;
  const placement::BenefitMap two = placement::benefit_map(p.panel, bench, request, {});
  REQUIRE(one.places.size() == two.places.size());
  for (std::size_t i = 0; i < one.places.size(); ++i)
    CHECK(one.places[i].benefit_db == two.places[i].benefit_db);

  request.keep_out = {panel::rectangle({0.25, 0.2}, {0.2, 0.2}, 0.0)};
  const placement::BenefitMap kept = placement::benefit_map(p.panel, bench, request, {});
  CHECK(kept.places.size() < one.places.size());
  for (const placement::Place& place : kept.places)
    CHECK((place.centre - Eigen::Vector2d(0.25, 0.2)).cwiseAbs().maxCoeff() > 0.05);
}

TEST_CASE("a map without a sheet or with a piece of no size is a wrong call", "[placement]") {
  const Plate p;
  const placement::TrialBench bench(p.skin, p.bare, p.bare.model, p.drive, p.band);
  placement::MapRequest request = p.request();
  request.piece_m = 0.0;
  CHECK_THROWS_AS(placement::benefit_map(p.panel, bench, request, {}), std::invalid_argument);
  request = p.request();
  request.sheet = nullptr;
  CHECK_THROWS_AS(placement::benefit_map(p.panel, bench, request, {}), std::invalid_argument);
}
