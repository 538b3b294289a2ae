// SPDX-License-Identifier: GPL-3.0-or-later
#include "study/unknowns.hpp"

#include <catch2/catch.hpp>
#include <cmath>

#include "study/demo_job.hpp"
#include "study/place.hpp"

using namespace calmplate;
using namespace calmplate::testing;

namespace {

study::PanelMaker maker(const job::Job& job) {
  const panel::Mesh mesh = mesh_io::read_mesh(job.mesh_file, job.mesh_metres_per_unit);
  return [mesh, options = job.panel_options](double element_m) {
    panel::PanelOptions at_size = options;
    at_size.element_size_m = element_m;
    return panel::make_panel(mesh, at_size, "test");
  };
}

/// The flat plate with one layout, its rim on springs.
job::Job plate_job() {
  job::Job job = demo_job("flat_test_plate.toml", 0.025).job;
  job.layouts.resize(2);
  job.edges.front().hold = shell::Hold::springs;
  job.edges.front().normal_stiffness = 1e7;
  job.edges.front().in_plane_stiffness = 1e7;
  job.edges.front().rotation_stiffness = 200.0;
  return job;
}

}  // namespace

// Source: [derived] in one dimension no gap is larger than a few times the mean one; in two every
// quarter of the square holds its share.
TEST_CASE("points fill their square evenly, the same every time", "[study][derived]") {
  const Eigen::MatrixXd p = study::even_points(64, 2);
  CHECK((p.array() >= 0.0).all());
  CHECK((p.array() < 1.0).all());
  for (const double x : {0.0, 0.5})
    for (const double y : {0.0, 0.5}) {
      int inside = 0;
      for (Eigen::Index i = 0; i < p.rows(); ++i)
        inside += p(i, 0) >= x && p(i, 0) < x + 0.5 && p(i, 1) >= y && p(i, 1) < y + 0.5;
      CHECK(std::abs(inside - 16) <= 2);
    }
  Eigen::VectorXd one = study::even_points(50, 1).col(0);
  std::sort(one.data(), one.data() + one.size());
  for (Eigen::Index i = 1; i < one.size(); ++i) CHECK(one(i) - one(i - 1) < 2.7 / 50.0);
  CHECK(study::even_points(64, 2) == p);
  CHECK_THROWS_AS(study::even_points(0, 2), std::invalid_argument);
}

TEST_CASE("a draw works on what it names and on nothing else", "[study]") {
  job::Job job = plate_job();
  job.unknowns.edge_factor = job::Spread{0.25, 4.0};
  job.unknowns.thickness_m = job::Spread{0.7e-3, 0.9e-3};
  const study::Draw middle = study::draw_at(job, Eigen::Vector2d(0.5, 0.5));
  CHECK(middle.edge_factor == Approx(1.0));
  CHECK(middle.thickness_m == Approx(0.8e-3));
  const study::Draw low = study::draw_at(job, Eigen::Vector2d(0.0, 0.0));
  const job::Job drawn = study::drawn_job(job, low);
  CHECK(drawn.edges.front().rotation_stiffness == Approx(50.0));
  CHECK(drawn.thickness_m == Approx(0.7e-3));
  CHECK(drawn.temperature_k == job.temperature_k);
  study::Draw soft;
  soft.thickness_m = job.thickness_m;
  soft.temperature_k = job.temperature_k;
  soft.modulus_factor = 2.0;
  const job::Job stiffer = study::drawn_job(job, soft);
  const auto modulus = [](const job::Job& j) {
    return j.sheets.front().core_modulus->modulus(50, 293.15);
  };
  CHECK(std::abs(modulus(stiffer) - 2.0 * modulus(job)) < 1e-9 * std::abs(modulus(job)));
}

// Source: [derived] the crown of a spherical cap is its rise over the rim.
TEST_CASE("the crown of a skin is scaled about the plane through it", "[study][derived]") {
  const JobOnPanel demo = demo_job("estate_front_door.toml", 0.04);
  const auto depth = [](const panel::Panel& p) {
    const Eigen::Vector3d n = p.normals.colwise().sum().transpose().normalized();
    const Eigen::VectorXd h = p.mesh.nodes * n;
    return h.maxCoeff() - h.minCoeff();
  };
  const panel::Panel flat = study::with_crown(demo.job, demo.panel, 0.0);
  const panel::Panel deep = study::with_crown(demo.job, demo.panel, 1.5);
  CHECK(depth(flat) < 1e-9);
  CHECK(depth(deep) == Approx(1.5 * depth(demo.panel)).epsilon(0.02));
  CHECK(deep.rim.size() == demo.panel.rim.size());
  CHECK(deep.mesh.triangles == demo.panel.mesh.triangles);
}

// Source: [derived] every draw solved anew by hand lies within what is reported, and the ends are
// reached by one of them.
TEST_CASE("low and high hold every draw, and the order of the layouts is told",
          "[study][derived]") {
  job::Job job = plate_job();
  job.unknowns.edge_factor = job::Spread{0.2, 5.0};
  job.unknowns.temperature_k = job::Spread{273.15, 313.15};
  job.unknowns.samples = 3;
  const auto make = maker(job);
  const panel::Panel panel = make(0.025);
  study::Results record;
  const study::Common common = study::common_of(job, panel, {});
  record.layouts = study::study_layouts(common, 2, {}, study::Detail::modes);
  const study::UnknownsResult u = study::study_unknowns(job, record, make, 0.025, 2, {});
  CHECK(u.samples == 3);
  CHECK(u.solves == 4 * 3);
  REQUIRE(u.layouts.size() == 3);
  CHECK(u.ranges.size() == 2);
  CHECK(u.sentence.find("order") != std::string::npos);
  for (std::size_t i = 0; i < 3; ++i) {
    const double own = record.layouts[0].band_level_db - record.layouts[i].band_level_db;
    CHECK(u.layouts[i].reduction_db.low <= own);
    CHECK(u.layouts[i].reduction_db.high >= own);
    CHECK(u.layouts[i].first_hz.low < record.layouts[i].modes.front().freq_hz);
    CHECK(u.layouts[i].first_hz.high > record.layouts[i].modes.front().freq_hz);
  }
  // One draw by hand, on the coarse skin as the study takes it.
  const panel::Panel coarse = make(0.0375);
  const auto first_hz = [&](const job::Job& j) {
    return study::study_layouts(study::common_of(j, coarse, {}), 1, {}, study::Detail::modes)[0]
        .modes.front()
        .freq_hz;
  };
  const Eigen::MatrixXd points = study::even_points(3, 2);
  const double there = first_hz(job);
  double low = 0.0, high = 0.0;
  for (Eigen::Index i = 0; i < 3; ++i) {
    const double moved =
        first_hz(study::drawn_job(job, study::draw_at(job, points.row(i)))) - there;
    low = std::min(low, moved);
    high = std::max(high, moved);
  }
  const double own = record.layouts[0].modes.front().freq_hz;
  CHECK(u.layouts[0].first_hz.low == Approx(own + low).epsilon(1e-9));
  CHECK(u.layouts[0].first_hz.high == Approx(own + high).epsilon(1e-9));
}

// Source: [derived] a thin-plate mode in closed form: three sizes go to it, and the limit is nearer
// than the finest.
TEST_CASE("three element sizes lead to the exact frequency", "[study][derived]") {
  job::Job job = demo_job("flat_test_plate.toml", 0.025).job;
  job.layouts.resize(1);
  job.edges.front().hold = shell::Hold::simply_supported;
  const study::ConvergenceResult c = study::study_convergence(job, maker(job), 0.025, 2, {});
  const panel::Panel panel = maker(job)(0.025);
  const double a = panel.flat.size().x(), b = panel.flat.size().y(), h = job.thickness_m;
  const double d = 210e9 * h * h * h / (12.0 * (1.0 - 0.09));
  const double exact =
      base::kPi / 2.0 * (1.0 / (a * a) + 1.0 / (b * b)) * std::sqrt(d / (7850.0 * h));
  REQUIRE(!c.bare_hz.empty());
  CHECK(c.element_m[0] > c.element_m[1]);
  CHECK(c.element_m[1] > c.element_m[2]);
  CHECK(c.bare_hz[0].limit == Approx(exact).epsilon(1e-3));
  CHECK(std::abs(c.bare_hz[0].limit - exact) <=
        std::abs(c.bare_hz[0].value[0] - exact) + 1e-4 * exact);
  CHECK(c.worst_hz_error < 0.02);
  REQUIRE(c.reduction_db.size() == 1);
  CHECK(c.worst_db_error < 0.3);
}

TEST_CASE("a layout to be placed gets pieces that the record confirms", "[study]") {
  job::Job job = demo_job("flat_test_plate.toml", 0.03).job;
  job.layouts.resize(1);
  job::Layout layout;
  layout.name = "placed";
  layout.place = job::PlaceInput{};
  layout.place->sheets = {job.sheets.front().name};
  layout.place->sizes_m = {{0.12, 0.1}};
  layout.place->pieces = 2;
  job.layouts.push_back(layout);
  const panel::Panel panel = maker(job)(0.03);
  const auto places = study::place_layouts(job, panel, 2, {});
  REQUIRE(places.size() == 1);
  REQUIRE(job.layouts[1].pieces.size() == 2);
  CHECK_FALSE(job.layouts[1].place);
  const auto studied =
      study::study_layouts(study::common_of(job, panel, {}), 2, {}, study::Detail::levels);
  CHECK(studied[0].band_level_db - studied[2].band_level_db ==
        Approx(places[0].gain_db).margin(0.2));
  // Over what is unknown: the edge's hold moves the modes, so the worst draw gains less.
  job.edges.front().hold = shell::Hold::springs;
  job.edges.front().normal_stiffness = 1e7;
  job.edges.front().in_plane_stiffness = 1e7;
  job.edges.front().rotation_stiffness = 200.0;
  job.unknowns.edge_factor = job::Spread{0.2, 5.0};
  job.unknowns.crown_factor = job::Spread{0.9, 1.1};
  job.layouts[1].pieces.clear();
  job.layouts[1].place = layout.place;
  const double known = study::place_layouts(job, panel, 2, {})[0].gain_db;
  job.layouts[1].pieces.clear();
  job.layouts[1].place = layout.place;
  job.layouts[1].place->over_unknowns = true;
  job.layouts[1].place->worst = true;
  CHECK(study::place_layouts(job, panel, 2, {})[0].gain_db != Approx(known).margin(1e-6));
  CHECK(job.layouts[1].pieces.size() == 2);
  job.layouts[1].pieces.clear();
  job.layouts[1].place = layout.place;
  job.layouts[1].place->sizes_m = {{0.9, 0.9}};
  CHECK_THROWS_AS(study::place_layouts(job, panel, 1, {}), base::InputError);
  job.layouts[1].place->sizes_m = {{0.12, 0.1}};
  job.layouts[1].place->area_m2 = 0.005;
  CHECK_THROWS_AS(study::place_layouts(job, panel, 1, {}), base::InputError);
}
