// SPDX-License-Identifier: GPL-3.0-or-later
#include "editing/live_bench.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <cstdio>
#include <fstream>
#include <iterator>

#include "base/units.hpp"
#include "drive/spectrum.hpp"
#include "editing/edit_job.hpp"
#include "editing/record.hpp"
#include "study/demo_job.hpp"
#include "study/layout_study.hpp"

using namespace calmplate;
using namespace calmplate::testing;

namespace {

std::string text_of(const std::filesystem::path& file) {
  std::ifstream stream(file, std::ios::binary);
  return {std::istreambuf_iterator<char>(stream), std::istreambuf_iterator<char>()};
}

/// Largest difference between the live curve and the record's at the live points inside the band,
/// dB. The record's response is asked at the very same frequencies.
double worst_in_band(const job::Job& job,
                     const Eigen::VectorXd& freq_hz,
                     const Eigen::VectorXd& live_db,
                     const study::LayoutResult& record,
                     const Eigen::VectorXd& record_hz) {
  double worst = 0.0;
  for (Eigen::Index i = 0; i < freq_hz.size(); ++i) {
    if (freq_hz(i) < job.band.low_hz || freq_hz(i) > job.band.high_hz) continue;
    const double step = record_hz(1) - record_hz(0);
    const auto k = static_cast<Eigen::Index>((freq_hz(i) - record_hz(0)) / step);
    const double share = (freq_hz(i) - record_hz(k)) / step;
    const double there = (1.0 - share) * record.curve_db(k) + share * record.curve_db(k + 1);
    worst = std::max(worst, std::abs(live_db(i) - there));
  }
  return worst;
}

/// The small drawn door with something else that shakes it.
std::string with_drive(const std::string& drive) {
  const std::string force = "[drive]\nkind = \"force\"\nat_mm = [150, 130]\n";
  std::string text = edit_text();
  return text.replace(text.find(force), force.size(), drive);
}

/// Live against record for every layout with pieces; a line each.
void compare(job::Job& job,
             const panel::Panel& panel,
             const std::string& text,
             double level_db,
             double curve_db) {
  job.band.step_hz = 0.1;  // so that the record's curve may be read between its points
  job.temperatures_k.clear();
  const editing::Document document(job, panel, text);
  const editing::LiveBench live(job, panel, {});
  const editing::Record record(job, panel, {});
  const study::LayoutResult bare = record.bare({});
  CHECK(live.bare().band_level_db == Approx(bare.band_level_db).margin(0.02));
  for (std::size_t l = 0; l < document.layouts().size(); ++l) {
    const editing::Layout& layout = document.layout(l);
    if (layout.pieces.empty()) continue;
    INFO(layout.name);
    const study::LayoutResult exact = record.of(document.job_layout(l), {});
    const editing::LiveAnswer quick = live.answer(layout.pieces, job.temperature_k);
    const double worst =
        worst_in_band(job, live.freq_hz(), quick.curve_db, exact, record.freq_hz());
    CHECK(std::abs(quick.band_level_db - exact.band_level_db) < level_db);
    CHECK(quick.reduction_db == Approx(bare.band_level_db - exact.band_level_db).margin(level_db));
    CHECK(worst < curve_db);
    const editing::LiveModes modes = live.modes(layout.pieces, job.temperature_k, 10);
    double worst_hz = 0.0, worst_loss = 0.0;
    REQUIRE(modes.freq_hz.size() > 4);
    for (Eigen::Index j = 0; j < modes.freq_hz.size(); ++j) {
      if (static_cast<std::size_t>(j) >= exact.modes.size()) break;
      const study::ModeResult& m = exact.modes[static_cast<std::size_t>(j)];
      worst_hz = std::max(worst_hz, std::abs(modes.freq_hz(j) / m.freq_hz - 1.0));
      worst_loss = std::max(worst_loss, std::abs(modes.loss_factor(j) / m.loss_factor - 1.0));
      CHECK(modes.shape.col(j).cwiseAbs().maxCoeff() == Approx(1.0));
      if (j < exact.mode_shapes.cols()) {
        const Eigen::VectorXd a = modes.shape.col(j).normalized();
        CHECK(std::abs(a.dot(exact.mode_shapes.col(j).normalized())) > 0.99);
      }
    }
    CHECK(worst_hz < 0.003);
    CHECK(worst_loss < 0.05);
    const editing::Figures figures = editing::figures_of(job, panel, layout);
    CHECK(figures.area_m2 == Approx(exact.area_m2).epsilon(1e-12));
    CHECK(figures.share == Approx(exact.share).epsilon(1e-12));
    CHECK(figures.mass_kg == Approx(exact.mass_kg).epsilon(1e-12));
    CHECK(figures.cost == Approx(exact.cost).margin(1e-12));
    std::printf("%-14s level %+.3f dB, curve %.3f dB, modes %.2f %%, loss %.1f %%\n",
                layout.name.c_str(),
                quick.band_level_db - exact.band_level_db,
                worst,
                100.0 * worst_hz,
                100.0 * worst_loss);
  }
}

}  // namespace

// Source: [crosscheck] model (a) of the same program, which tests/study holds against a direct
// solve. 0.5 dB is what a hand needs; butyl comes within 0.05. Bitumen is stiff enough to stretch
// the skin in its plane, which the live model makes up for by one factor: 0.15.
TEST_CASE("Live figures are those of the record on a drawn door with every kind of sheet",
          "[editing][crosscheck]") {
  EditJob p;
  compare(p.job, p.panel, p.text, 0.15, 0.5);
}

// Source: [crosscheck] as above.
TEST_CASE("Live figures are those of the record on the demo's test plate",
          "[editing][crosscheck]") {
  JobOnPanel p = demo_job("flat_test_plate.toml", 0.0);
  p.job.air = job::Air::both_faces;
  compare(p.job, p.panel, text_of(p.job.file), 0.1, 0.5);
}

// Source: [crosscheck] as above, with cavity, leak, woofer and its brake.
TEST_CASE("Live figures are those of the record on the demo door with its woofer",
          "[editing][crosscheck][slow]") {
  JobOnPanel p = demo_job("estate_front_door.toml", 0.028);
  const job::Job asked = job::read_job(p.job.file);
  p.job.air = asked.air;
  p.job.cavity = asked.cavity;
  p.job.drive = asked.drive;
  job::settle_band(p.job, p.panel.area_m2);
  compare(p.job, p.panel, text_of(p.job.file), 0.1, 0.5);
}

// Source: [crosscheck] as above. A tap has a spectrum; a pressure drives every mode.
TEST_CASE("Live figures are those of the record for a tap and a pressure",
          "[editing][crosscheck]") {
  for (const std::string& drive : {std::string("kind = \"tap\"\nat_mm = [310, 215]\n"),
                                   std::string("kind = \"pressure\"\n")}) {
    EditJob p(with_drive("[drive]\n" + drive));
    compare(p.job, p.panel, p.text, 0.15, 0.5);
  }
}

// Source: [crosscheck] a solve of model (a) at each frequency, without poles, with modes kept up to
// four times the study's limit: the record's own 23 shapes are too few for a woofer's weight on so
// small a skin, 0.7 dB at 174 Hz. The woofer pulls at its ring and brakes there.
TEST_CASE("A woofer on the skin is followed at every frequency of the band",
          "[editing][crosscheck]") {
  EditJob p(with_drive(
      "[woofer]\nfs_Hz = 65\nQms = 4.5\nQes = 0.62\nRe_ohm = 3.2\nMms_g = 15\nSd_cm2 = 133\n"
      "mounting = \"skin\"\nring_centre_mm = [300, 290]\nring_diameter_mm = 150\n"
      "frame_mass_kg = 0.6\n[amplifier]\npower_W = 25\n[cavity]\nvolume_l = 25\n"
      "leak_area_cm2 = 10\n"));
  p.job.temperatures_k.clear();
  const editing::LiveBench live(p.job, p.panel, {});
  const study::Common c = study::common_of(p.job, p.panel, {});
  for (const std::size_t l : {std::size_t(0), std::size_t(1)}) {
    reduced::ReductionOptions options = study::reduction_of(p.job, false, 1);
    options.top_hz *= 4.0;
    const reduced::FullReduction full = reduced::reduce_full(
        c.skin,
        shell::build_model(c.skin,
                           study::attachments_of(p.job),
                           study::pieces_of(p.job, p.panel, p.document.job_layout(l))),
        c.ports,
        options,
        {});
    const reduced::ReducedModel door =
        study::couple_door(p.job, c.skin, c.door, full, full.model).model;
    const auto quick = live.answer(p.document.layout(l).pieces, p.job.temperature_k);
    double worst = 0.0;
    for (Eigen::Index i = 0; i < live.freq_hz().size(); ++i) {
      const double f = live.freq_hz()(i);
      if (f < p.job.band.low_hz || f > p.job.band.high_hz) continue;
      const Eigen::VectorXcd v = base::kTwoPi * f * door.solve(f);
      const double square = drive::strength(p.job.drive, f) * v.dot(door.surface * v).real();
      worst = std::max(worst, std::abs(quick.curve_db(i) - base::to_db(square / 1e-18)));
    }
    std::printf("woofer on the skin, layout %d: curve %.3f dB\n", static_cast<int>(l), worst);
    CHECK(worst < 0.2);
  }
}

// Source: [derived] what was asked before does not change an answer; a cancelled question says so.
TEST_CASE("An answer does not depend on what was asked before, and can be cancelled",
          "[editing][derived]") {
  EditJob p;
  editing::Document& d = p.document;
  const editing::LiveBench asked(p.job, p.panel, {}), fresh(p.job, p.panel, {});
  const int id = d.layout(0).pieces[0]->id;
  for (int i = 0; i < 3; ++i) {
    REQUIRE(d.move(0, id, {0.004, 0.003}).done());
    asked.answer(d.layout(0).pieces, p.job.temperature_k + 8.0 * i);
  }
  const auto a = asked.answer(d.layout(0).pieces, 303.15),
             b = fresh.answer(d.layout(0).pieces, 303.15);
  CHECK(a.curve_db == b.curve_db);
  CHECK(a.band_level_db == b.band_level_db);
  base::Progress stop;
  stop.cancelled = [] { return true; };
  CHECK_THROWS_AS(asked.answer(d.layout(1).pieces, 293.15, stop), base::Cancelled);
  CHECK_THROWS_AS(asked.benefit_map(d.layout(1).pieces, 293.15, "butyl", 1, stop), base::Cancelled);
}

// Source: [crosscheck] the record of a job that says so in [conditions].
TEST_CASE("The temperature slider gives the record of a job at that temperature",
          "[editing][crosscheck]") {
  EditJob p;
  const editing::LiveBench live(p.job, p.panel, {});
  for (const double temp_k : {268.15, 308.15}) {
    job::Job job = p.job;
    job.temperature_k = temp_k;
    const editing::Record record(job, p.panel, {});
    const auto exact = record.of(p.document.job_layout(0), {});
    const auto quick = live.answer(p.document.layout(0).pieces, temp_k);
    CHECK(std::abs(quick.band_level_db - exact.band_level_db) < 0.1);
  }
}

// Source: [crosscheck] the map of the study, which is model (b) on the same trial bench.
TEST_CASE("The benefit map is that of the study for the layout that lies there",
          "[editing][crosscheck]") {
  EditJob p;
  const editing::LiveBench live(p.job, p.panel, {});
  const auto map =
      live.benefit_map(p.document.layout(1).pieces, p.job.temperature_k, "butyl", 1, {});
  job::Job job = p.job;
  job.layouts.pop_back();  // the one to be placed
  const study::Results results = study::run_study(job, p.panel, {}, {});
  REQUIRE(results.map);
  REQUIRE(map.places.size() == results.map->places.size());
  for (std::size_t i = 0; i < map.places.size(); ++i)
    CHECK(map.places[i].benefit_db == Approx(results.map->places[i].benefit_db).margin(1e-9));
}
