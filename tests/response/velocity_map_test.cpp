// SPDX-License-Identifier: GPL-3.0-or-later
#include "response/velocity_map.hpp"

#include <catch2/catch.hpp>

#include "reduced/toy_model.hpp"

using namespace calmplate;
using namespace calmplate::testing;

// Source: [derived] a node's map value is the band level of the velocity along its row. The band
// level follows moduli part by part, the map at every point of the quadrature.
TEST_CASE("the velocity map is the band level of every node", "[response][derived]") {
  const reduced::ReducedModel m = toy_model(0.03, std::make_shared<RisingModulus>());
  drive::BandInput band;
  band.low_hz = 50.0;
  band.high_hz = 200.0;
  for (const drive::Kind kind : {drive::Kind::force, drive::Kind::tap}) {
    drive::DriveInput drive;
    drive.kind = kind;
    const response::BandResponse r(m, drive, 300.0, 30.0);
    const Eigen::VectorXd map = response::velocity_map_db(r, m.listen, drive, band);
    REQUIRE(map.size() == 2);
    for (Eigen::Index i = 0; i < 2; ++i)
      CHECK(map(i) ==
            Approx(r.band_level_db(50.0, 200.0, Eigen::VectorXd(m.listen.row(i)))).margin(0.02));
  }
  const response::BandResponse r(m, {}, 300.0, 30.0);
  CHECK_THROWS_AS(response::velocity_map_db(r, Eigen::MatrixXd::Ones(2, 11), {}, band),
                  std::invalid_argument);
}
