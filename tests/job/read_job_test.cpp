// SPDX-License-Identifier: GPL-3.0-or-later
#include <catch2/catch.hpp>
#include <cmath>
#include <stdexcept>
#include <string>

#include "base/units.hpp"
#include "job/good_job.hpp"
#include "job/job.hpp"
#include "job/read_sections.hpp"

namespace calmplate {
namespace {

job::Job read(const std::string& text) { return job::read_job_text(text, "doors/van.toml"); }

void check_point(const Eigen::Vector2d& point, double x, double y) {
  CHECK_THAT(point.x(), Catch::WithinAbs(x, 1e-12));
  CHECK_THAT(point.y(), Catch::WithinAbs(y, 1e-12));
}

const char* const kSmallest = R"([job]
title = "t"
[panel]
mesh = "a.vtp"
thickness_mm = 0.8
free = true
[drive]
kind = "pressure"
)";

}  // namespace

// Source: [derived] every value below is the written one times its unit.
TEST_CASE("the panel and its edges come out in SI", "[job][derived]") {
  const job::Job j = read(testing::good_job());
  CHECK(j.file == "doors/van.toml");
  CHECK(j.title == "Van, sliding door (invented)");
  CHECK(j.note == "Two lines\nof note.");
  CHECK(j.mesh_file == "doors/meshes/skin.stl");
  CHECK(j.mesh_metres_per_unit == 1e-3);
  CHECK_THAT(j.thickness_m, Catch::WithinRel(0.8e-3, 1e-14));
  CHECK(j.material.name == "soft steel");
  CHECK_THAT(j.material.young_pa, Catch::WithinRel(205e9, 1e-14));
  CHECK(j.material.poisson == 0.29);
  CHECK(j.material.density == 7800.0);
  CHECK(j.material.loss_factor == 0.02);
  CHECK_THAT(j.panel_options.element_size_m, Catch::WithinRel(0.015, 1e-14));
  CHECK_THAT(j.panel_options.corner_degrees, Catch::WithinRel(40.0, 1e-14));
  CHECK(j.panel_options.along == Eigen::Vector3d(0, 1, 0));
  CHECK(j.panel_options.outward == Eigen::Vector3d(-1, 0, 0));
  CHECK(j.air == job::Air::one_face);
  CHECK_THAT(j.temperature_k, Catch::WithinRel(263.15, 1e-14));

  REQUIRE(j.edges.size() == 2);
  const shell::EdgeInput& hem = j.edges[0];
  CHECK(hem.part == "bottom");
  CHECK(hem.hold == shell::Hold::springs);
  REQUIRE((hem.from && hem.to));
  check_point(*hem.to, 0.4, 0.0);
  CHECK_THAT(hem.normal_stiffness, Catch::WithinRel(3e6, 1e-14));
  CHECK_THAT(hem.in_plane_stiffness, Catch::WithinRel(4.5e6, 1e-14));
  CHECK(hem.rotation_stiffness == 250.0);
  CHECK(hem.loss_factor == 0.2);
  CHECK(j.edges[1].hold == shell::Hold::clamped);
  CHECK_FALSE(j.edges[1].from);
  CHECK(j.edge_where[1].line == 30);
  CHECK(j.edge_where[1].key == "panel.edge[2]");
  CHECK(j.edge_where[1].file == "doors/van.toml");
}

// Source: [derived] as above; a round tube has J = I_y + I_z.
TEST_CASE("what hangs on the skin comes out in SI", "[job][derived]") {
  const job::Job j = read(testing::good_job());
  REQUIRE(j.beams.size() == 2);
  const shell::BeamInput& beam = j.beams[0];
  CHECK(beam.name == "beam");
  check_point(beam.to, 0.9, 0.3);
  CHECK_THAT(beam.area_m2, Catch::WithinRel(200e-6, 1e-14));
  CHECK_THAT(beam.inertia_normal_m4, Catch::WithinRel(2e-8, 1e-14));
  CHECK_THAT(beam.inertia_in_plane_m4, Catch::WithinRel(3e-8, 1e-14));
  CHECK_THAT(beam.torsion_m4, Catch::WithinRel(4.1e-8, 1e-14));
  CHECK_THAT(beam.offset_m, Catch::WithinRel(0.022, 1e-14));
  CHECK(beam.material.name == "steel");
  CHECK_FALSE(beam.ends_held);
  REQUIRE(beam.pads_m.size() == 3);
  CHECK_THAT(beam.pads_m[1], Catch::WithinRel(0.4005, 1e-14));
  CHECK_THAT(beam.pad_stiffness, Catch::WithinRel(12e3, 1e-14));
  CHECK_THAT(beam.pad_shear_stiffness, Catch::WithinRel(6e3, 1e-14));
  CHECK(beam.pad_loss_factor == 0.4);
  const shell::BeamInput& rib = j.beams[1];
  CHECK(rib.pads_m.empty());
  CHECK_THAT(rib.inertia_in_plane_m4, Catch::WithinRel(4e-10, 1e-12));
  CHECK_THAT(rib.torsion_m4, Catch::WithinRel(8e-10, 1e-12));

  REQUIRE(j.springs.size() == 1);
  CHECK(j.springs[0].normal_stiffness == 500.0);
  CHECK(j.springs[0].loss_factor == 0.1);
  REQUIRE(j.masses.size() == 1);
  CHECK(j.masses[0].mass_kg == 0.25);
  check_point(j.masses[0].at, 0.85, 0.45);
}

// Source: [derived] as above; mass per area is density times thickness, summed over the layers.
TEST_CASE("the three kinds of sheet come out in SI", "[job][derived]") {
  const job::Job j = read(testing::good_job());
  const sheet::Sheet& butyl = j.sheet_named("butyl");
  CHECK(butyl.kind == sheet::Kind::constrained);
  CHECK_THAT(butyl.core_thickness_m, Catch::WithinRel(1.5e-3, 1e-14));
  CHECK_THAT(butyl.foil_thickness_m, Catch::WithinRel(1e-4, 1e-14));
  CHECK_THAT(butyl.foil.young_pa, Catch::WithinRel(69e9, 1e-14));
  CHECK(butyl.foil.poisson == 0.33);
  const std::complex<double> g = butyl.core_modulus->modulus(100.0, 293.15);
  CHECK_THAT(g.real(), Catch::WithinRel(0.35e6, 1e-14));
  CHECK_THAT(g.imag(), Catch::WithinRel(0.35e6 * 0.7, 1e-14));
  CHECK_THAT(butyl.mass_per_area(), Catch::WithinRel(1450 * 1.5e-3 + 2700 * 1e-4, 1e-14));
  CHECK(butyl.price_per_sheet == 5.0);
  CHECK_THAT(butyl.stock_length_m, Catch::WithinRel(0.5, 1e-14));

  const sheet::Sheet& pad = j.sheet_named("hard pad");
  CHECK(pad.kind == sheet::Kind::free_layer);
  CHECK(pad.core_poisson == 0.4);
  CHECK_THAT(pad.core_modulus->modulus(100.0, 293.15).real(), Catch::WithinRel(900e6, 1e-14));
  CHECK(pad.foil_thickness_m == 0.0);
  CHECK(pad.stock_width_m == 0.0);

  const sheet::Sheet& mat = j.sheet_named("heavy mat");
  CHECK(mat.kind == sheet::Kind::mass);
  CHECK(mat.core_modulus == nullptr);
  CHECK_THAT(mat.mass_per_area(), Catch::WithinRel(3.5, 1e-14));
  CHECK_THROWS_AS(j.sheet_named("none such"), std::out_of_range);
}

// Source: [derived] area of a rectangle; of a regular polygon of n sides around a circle,
// n r^2 tan(pi/n).
TEST_CASE("keep-outs and layouts come out as regions on the flat map", "[job][derived]") {
  const job::Job j = read(testing::good_job());
  REQUIRE(j.keep_outs.size() == 3);
  const auto area = [](const panel::Polygon& p) { return std::abs(panel::polygon_area(p)); };
  CHECK_THAT(area(j.keep_outs[0].outline), Catch::WithinRel(0.06 * 0.03, 1e-12));
  // Turned by a quarter: 30 wide, 60 high.
  CHECK_THAT(j.keep_outs[0].outline.col(0).maxCoeff(), Catch::WithinAbs(0.515, 1e-12));
  CHECK_THAT(area(j.keep_outs[1].outline),
             Catch::WithinRel(64 * 0.012 * 0.012 * std::tan(base::kPi / 64), 1e-12));
  CHECK(j.keep_outs[2].outline.rows() == 4);  // the repeated point is dropped

  REQUIRE(j.layouts.size() == 4);
  REQUIRE(j.layouts[3].place);
  const job::PlaceInput& place = *j.layouts[3].place;
  CHECK(place.sheets == std::vector<std::string>{"butyl"});
  REQUIRE(place.sizes_m.size() == 2);
  CHECK(place.sizes_m[0].x() == Approx(0.1));
  CHECK(place.angles_rad[1] == Approx(base::kPi / 4));
  CHECK(*place.share == Approx(0.2));
  CHECK(place.gap_m == Approx(0.004));
  REQUIRE(place.goals.size() == 2);
  CHECK(place.goals[1].first == job::Goal::worst_third);
  CHECK(place.goals[1].second == 0.5);
  CHECK(place.layout == "stacked");
  CHECK(j.unknowns.thickness_m->low == Approx(0.0007));
  CHECK(j.unknowns.temperature_k->high == Approx(303.15));
  CHECK(j.unknowns.samples == 8);
  const job::Layout& partial = j.layouts[0];
  REQUIRE(partial.pieces.size() == 2);
  CHECK(partial.pieces[0].face == job::Face::outer);
  CHECK(partial.pieces[0].foil_held);
  CHECK_THAT(area(partial.pieces[0].region.outline), Catch::WithinRel(0.02, 1e-12));
  CHECK(partial.pieces[0].region.holes.empty());
  CHECK(partial.pieces[1].face == job::Face::inner);
  CHECK_FALSE(partial.pieces[1].foil_held);
  CHECK(partial.pieces[1].where.key == "layout[1].piece[2]");
  const panel::Region& all = j.layouts[1].pieces[0].region;
  CHECK(all.outline.rows() == 0);
  CHECK(all.holes.size() == 3);
  CHECK_THAT(all.rim_margin_m, Catch::WithinRel(0.025, 1e-14));
  CHECK_THAT(all.hole_margin_m, Catch::WithinRel(0.010, 1e-14));
}

// Source: [derived] as above.
TEST_CASE("drive, band, listening points and benefit map come out in SI", "[job][derived]") {
  const job::Job j = read(testing::good_job());
  CHECK(j.drive.kind == drive::Kind::tap);
  check_point(j.drive.at, 0.25, 0.25);
  CHECK(j.drive.impulse_ns == 0.03);
  CHECK_THAT(j.drive.contact_s, Catch::WithinRel(5e-3, 1e-14));
  CHECK(j.drive_where.key == "drive");
  CHECK(j.band.low_hz == 30.0);
  CHECK(j.band.high_hz == 300.0);
  CHECK(j.band.step_hz == 1.0);
  REQUIRE(j.listen_at.size() == 3);
  CHECK(j.listen_at[0].limit_m_s2 == 0.0);
  CHECK(j.listen_at[1].limit_m_s2 == Approx(30.0));
  CHECK(j.listen_at[2].limit_m_s2 == Approx(0.4 / 0.008));
  check_point(j.listen_at[0].at, 0.71, 0.21);
  CHECK(j.benefit_map.wanted);
  CHECK(j.benefit_map.sheet == "hard pad");
  CHECK_THAT(j.benefit_map.piece_m, Catch::WithinRel(0.12, 1e-14));
  CHECK_THAT(j.benefit_map.spacing_m, Catch::WithinRel(0.04, 1e-14));
  CHECK(j.benefit_map.layout == "partial");
  CHECK(read(testing::with(testing::good_job(), "layout = \"partial\"", "layout = \"bare\""))
            .benefit_map.layout.empty());
}

// Source: [derived] as above.
TEST_CASE("woofer, amplifier, filter and cavity come out in SI", "[job][derived]") {
  const job::Job j = read(testing::good_job());
  REQUIRE(j.woofer);
  const drive::WooferInput& w = *j.woofer;
  CHECK(w.fs_hz == 65.0);
  CHECK(w.qms == 4.5);
  CHECK(w.qes == 0.62);
  CHECK(w.qts == 0.54);
  CHECK(w.re_ohm == 3.2);
  CHECK_THAT(w.sd_m2, Catch::WithinRel(0.0133, 1e-14));
  CHECK_THAT(w.mms_kg.value(), Catch::WithinRel(0.015, 1e-14));
  CHECK_THAT(w.cms_m_n.value(), Catch::WithinRel(4e-4, 1e-14));
  CHECK_THAT(w.vas_m3.value(), Catch::WithinRel(0.010, 1e-14));
  CHECK(w.bl_tm == 5.6);
  CHECK(w.rms_ns_m == 1.36);
  CHECK_THAT(w.xmax_m.value(), Catch::WithinRel(5e-3, 1e-14));
  CHECK(w.nominal_ohm == 4.0);
  CHECK(w.count == 1);
  CHECK(w.mounting == drive::Mounting::skin);
  check_point(w.ring_centre, 0.25, 0.2);
  check_point(w.cone_centre.value(), 0.26, 0.21);
  CHECK_THAT(w.ring_diameter_m, Catch::WithinRel(0.155, 1e-14));
  CHECK(w.frame_mass_kg == 1.2);
  CHECK(j.woofer_where.key == "woofer");
  CHECK(j.amplifier.voltage_v == 8.0);
  CHECK_FALSE(j.amplifier.power_w);
  REQUIRE((j.filter.high_pass && j.filter.low_pass));
  CHECK(j.filter.high_pass->freq_hz == 60.0);
  CHECK(j.filter.high_pass->order == 2);
  CHECK(j.filter.high_pass->type == drive::FilterType::butterworth);
  CHECK(j.filter.low_pass->freq_hz == 250.0);
  CHECK(j.filter.low_pass->order == 4);
  CHECK(j.filter.low_pass->type == drive::FilterType::linkwitz_riley);
  CHECK(j.cavity.wanted);
  CHECK_THAT(j.cavity.volume_m3.value(), Catch::WithinRel(0.03, 1e-14));
  CHECK_FALSE(j.cavity.depth_m);
  CHECK_THAT(j.cavity.leak_area_m2, Catch::WithinRel(0.002, 1e-14));
  CHECK_THAT(j.cavity.leak_length_m.value(), Catch::WithinRel(0.015, 1e-14));
  CHECK(j.cavity.lining_loss_factor == 0.1);
  CHECK(j.cavity_where.key == "cavity");
  const job::Job wedge = read(testing::with(testing::good_job(),
                                            "volume_l = 30\n",
                                            "depth_bottom_mm = 120\ndepth_top_mm = 70\n"
                                            "leak_centre_mm = [300, 400]\n"));
  CHECK_FALSE(wedge.cavity.volume_m3);
  CHECK_THAT(wedge.cavity.depth_bottom_m.value(), Catch::WithinRel(0.12, 1e-14));
  CHECK_THAT(wedge.cavity.depth_top_m.value(), Catch::WithinRel(0.07, 1e-14));
  check_point(wedge.cavity.leak_centre.value(), 0.3, 0.4);
}

// Source: [derived] what docs/job-file.md states.
TEST_CASE("a woofer shakes the skin unless the job names something else", "[job][derived]") {
  const std::string good = testing::good_job();
  const std::string tap = "kind = \"tap\"\nat_mm = [250, 250]\nimpulse_Ns = 0.03\ncontact_ms = 5\n";
  CHECK(read(good).drive.kind == drive::Kind::tap);
  const job::Job named = read(testing::with(good, tap, "kind = \"woofer\"\n"));
  CHECK(named.drive.kind == drive::Kind::woofer);
  CHECK(named.drive_where.key == "drive");
  const job::Job silent = read(testing::with(good, "[drive]\n" + tap, ""));
  CHECK(silent.drive.kind == drive::Kind::woofer);
  CHECK(silent.drive_where.key == "woofer");
}

// Source: [derived] as above.
TEST_CASE("a band counts as given if one of its ends is", "[job][derived]") {
  const std::string good = testing::good_job(), band = "low_Hz = 30\nhigh_Hz = 300\nstep_Hz = 1\n";
  CHECK(read(good).band_given);
  CHECK(read(testing::with(good, band, "low_Hz = 30\n")).band_given);
  CHECK(read(testing::with(good, band, "high_Hz = 300\n")).band_given);
  const job::Job step = read(testing::with(good, band, "step_Hz = 0.25\n"));
  CHECK_FALSE(step.band_given);
  CHECK(step.band.step_hz == 0.25);
  CHECK_FALSE(read(testing::with(good, "[band]\n" + band, "")).band_given);
}

// Source: [derived] the defaults that docs/job-file.md states.
TEST_CASE("a woofer by its least figures has the defaults of the rest", "[job][derived]") {
  CHECK_FALSE(read(kSmallest).woofer);
  CHECK_FALSE(read(kSmallest).cavity.wanted);
  const std::string woofer =
      "[woofer]\nfs_Hz = 65\nQes = 0.62\nQts = 0.54\nRe_ohm = 3.2\nSd_cm2 = 133\nVas_l = 10\n";
  const job::Job j =
      read(kSmallest + woofer + "[amplifier]\npower_W = 20\n[cavity]\nvolume_l = 30\n");
  REQUIRE(j.woofer);
  CHECK_FALSE(j.woofer->mms_kg);
  CHECK_FALSE(j.woofer->qms);
  CHECK_FALSE(j.woofer->xmax_m);
  CHECK(j.woofer->count == 1);
  CHECK(j.woofer->mounting == drive::Mounting::inner_panel);
  CHECK_FALSE(j.woofer->cone_centre);
  CHECK(j.amplifier.power_w == 20.0);
  CHECK_FALSE(j.filter.high_pass);
  CHECK_FALSE(j.filter.low_pass);
  const job::Job filtered = read(kSmallest + woofer +
                                 "[amplifier]\npower_W = 20\n[filter]\nlow_pass_Hz = 120\n"
                                 "[cavity]\nwanted = false\ndepth_mm = 90\n");
  CHECK_FALSE(filtered.filter.high_pass);
  CHECK(filtered.filter.low_pass->order == 2);
  CHECK(filtered.filter.low_pass->type == drive::FilterType::butterworth);
  CHECK_FALSE(filtered.cavity.wanted);
  CHECK_THAT(filtered.cavity.depth_m.value(), Catch::WithinRel(0.09, 1e-14));
  const std::string good = testing::good_job();
  const job::Job ring = read(testing::with(good, "cone_centre_mm = [260, 210]\n", ""));
  check_point(ring.woofer->cone_centre.value(), 0.25, 0.2);
  CHECK(read(testing::with(good, "[cavity]\nwanted = true\n", "[cavity]\n")).cavity.wanted);
}

// Source: [derived] the defaults that docs/job-file.md states.
TEST_CASE("what a small job leaves out has its default", "[job][derived]") {
  const job::Job j = read(kSmallest);
  CHECK(j.currency == "EUR");
  CHECK(j.note.empty());
  CHECK(j.mesh_metres_per_unit == 1.0);
  CHECK_THAT(j.panel_options.element_size_m, Catch::WithinRel(0.012, 1e-14));
  CHECK_THAT(j.panel_options.corner_degrees, Catch::WithinRel(35.0, 1e-14));
  CHECK(j.panel_options.along == Eigen::Vector3d(1, 0, 0));
  CHECK(j.panel_options.outward == Eigen::Vector3d(0, 0, 0));
  CHECK(j.material.name == "steel");
  CHECK(j.material.young_pa == 210e9);
  CHECK(j.material.loss_factor == 0.01);
  CHECK(j.air == job::Air::both_faces);
  CHECK(j.edges.empty());
  CHECK(j.drive.pressure_pa == 1.0);
  CHECK(j.band.low_hz == 40.0);
  CHECK(j.band.high_hz == 250.0);
  CHECK(j.band.step_hz == 0.5);
  CHECK(j.temperature_k == 293.15);
  CHECK_FALSE(j.benefit_map.wanted);  // there is no sheet to lay on trial
  CHECK(read(testing::with(kSmallest, "mesh = ", "element_mm = 0\nmesh = "))
            .panel_options.element_size_m == 0.0);
}

// Source: [practice] common practice, no source: files from other systems read alike.
TEST_CASE("byte order mark and carriage returns do no harm", "[job][practice]") {
  std::string text = "\xef\xbb\xbf" + std::string(kSmallest);
  for (std::size_t i = 0; (i = text.find('\n', i)) != std::string::npos; i += 2)
    text.insert(i, "\r");
  CHECK(read(text).title == "t");
  CHECK(read(testing::with(kSmallest, "\"a.vtp\"", "\"/doors/a.vtp\"")).mesh_file ==
        "/doors/a.vtp");
}

// Source: [derived] what stands in the job is what the panel is told, in metres.
TEST_CASE("a scan's unit, noise and smallest hole are read", "[job][derived]") {
  const auto options = [](const std::string& lines) {
    return read(testing::with(kSmallest, "mesh = ", lines + "\nmesh = "));
  };
  job::Job j = options("mesh_unit = \"guess\"");
  CHECK(j.panel_options.guess_unit);
  CHECK(j.mesh_metres_per_unit == 1.0);
  CHECK_FALSE(j.panel_options.scan_noise_m.has_value());
  CHECK_FALSE(j.panel_options.smallest_hole_m.has_value());
  j = options("mesh_unit = \"cm\"\nscan_noise_mm = 0.25\nsmallest_hole_mm = 0");
  CHECK_FALSE(j.panel_options.guess_unit);
  CHECK(j.mesh_metres_per_unit == 0.01);
  CHECK(j.panel_options.scan_noise_m.value() == Approx(0.00025).epsilon(1e-12));
  CHECK(j.panel_options.smallest_hole_m.value() == 0.0);
}

}  // namespace calmplate
