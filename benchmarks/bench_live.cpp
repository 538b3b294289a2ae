// SPDX-License-Identifier: GPL-3.0-or-later
// What a hand waits for: a moved piece of 150 mm to its new curve (P6), over the full job (P7), and
// how far that curve is from a cold full solve at every frequency (P9). One run, interleaved.
#include <CLI/CLI.hpp>
#include <algorithm>
#include <chrono>
#include <cmath>
#include <cstdio>
#include <ctime>
#include <functional>
#include <nlohmann/json.hpp>
#include <string>
#include <vector>

#include "app/load_job.hpp"
#include "base/safe_output.hpp"
#include "editing/job_text.hpp"
#include "editing/live_bench.hpp"
#include "response/band_response.hpp"
#include "study/layout_study.hpp"

namespace {

using namespace calmplate;

double wall_seconds() {
  return std::chrono::duration<double>(std::chrono::steady_clock::now().time_since_epoch()).count();
}

double cpu_seconds() {
  timespec t{};
  clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &t);
  return static_cast<double>(t.tv_sec) + 1e-9 * static_cast<double>(t.tv_nsec);
}

/// One thing that is measured again and again.
struct Measure {
  std::string name;
  std::vector<double> wall_ms = {}, cpu_ms = {};

  void once(const std::function<void()>& body) {
    const double wall = wall_seconds(), cpu = cpu_seconds();
    body();
    wall_ms.push_back(1e3 * (wall_seconds() - wall));
    cpu_ms.push_back(1e3 * (cpu_seconds() - cpu));
  }
};

double median(std::vector<double> values) {
  std::sort(values.begin(), values.end());
  return values[values.size() / 2];
}

void print(const Measure& m) {
  const auto [low, high] = std::minmax_element(m.wall_ms.begin(), m.wall_ms.end());
  std::printf("%-40s %9.1f %9.1f %9.1f %9.1f\n",
              m.name.c_str(),
              median(m.wall_ms),
              *low,
              *high,
              median(m.cpu_ms));
}

/// The layout by model (a), at the live curve's own frequencies.
Eigen::VectorXd cold_curve(const study::Common& c,
                           const job::Layout& layout,
                           const Eigen::VectorXd& freq_hz) {
  const job::Job& job = *c.job;
  const reduced::FullReduction full = reduced::reduce_full(
      c.skin,
      shell::build_model(
          c.skin, study::attachments_of(job), study::pieces_of(job, *c.panel, layout)),
      c.ports,
      study::reduction_of(job, false, 1),
      {});
  const response::BandResponse response(
      study::couple_door(job, c.skin, c.door, full, full.model).model,
      job.drive,
      1.3 * job.band.high_hz,
      0.65 * job.band.low_hz);
  Eigen::VectorXd out(freq_hz.size());
  for (Eigen::Index i = 0; i < freq_hz.size(); ++i) out(i) = response.level_db(freq_hz(i));
  return out;
}

/// The first place where a piece of 150 mm may be laid, on a grid over the map.
editing::Outcome lay_somewhere(editing::Document& document, std::size_t layout) {
  const panel::FlatMap& map = document.panel().flat;
  const std::string sheet = document.job().sheets.front().name;
  for (double y = 0.03; y < map.size().y(); y += 0.01)
    for (double x = 0.03; x < map.size().x(); x += 0.01) {
      const Eigen::Vector2d corner = map.low() + Eigen::Vector2d(x, y);
      const editing::Outcome laid =
          document.lay(layout, corner, corner + Eigen::Vector2d(0.15, 0.15), {sheet});
      if (laid.done()) return laid;
    }
  return {"there is no place for a piece of 150 mm", 0};
}

int run(const std::string& file,
        const std::string& layout_name,
        int repeats,
        const std::string& json) {
  app::LoadedJob loaded = app::load_job(file);
  job::Job& job = loaded.job;
  editing::Document document(job, loaded.panel, editing::JobText::open(file).text());
  std::size_t layout = 0;
  while (layout + 1 < document.layouts().size() && document.layout(layout).name != layout_name)
    ++layout;
  Measure make{"bench made"}, move{"command: move, checked"}, answer{"P6 moved piece to new curve"},
      warm{"same pieces again"}, warmer{"another temperature"}, modes{"20 modes with shapes"},
      full{"full job without map, one thread"};
  std::unique_ptr<editing::LiveBench> live;
  make.once(
      [&] { live = std::make_unique<editing::LiveBench>(job, loaded.panel, base::Progress()); });
  const editing::Outcome laid = lay_somewhere(document, layout);
  if (!laid.done()) throw std::runtime_error(laid.refusal);
  const auto& pieces = [&]() -> const editing::Pieces& { return document.layout(layout).pieces; };
  live->answer(pieces(), job.temperature_k);
  editing::LiveAnswer last;
  for (int i = 0; i < repeats; ++i) {
    editing::Outcome moved;
    move.once([&] {
      moved = document.move(layout, laid.piece, {i % 2 == 0 ? 0.0031 : -0.0019, 0.0007});
    });
    if (!moved.done()) throw std::runtime_error(moved.refusal);
    answer.once([&] { last = live->answer(pieces(), job.temperature_k); });
    warm.once([&] { live->answer(pieces(), job.temperature_k); });
    warmer.once([&] { live->answer(pieces(), job.temperature_k + 0.1 * (i + 1)); });
    modes.once([&] { live->modes(pieces(), job.temperature_k); });
  }
  const study::Common common = study::common_of(job, loaded.panel, {});
  const Eigen::VectorXd cold = cold_curve(common, document.job_layout(layout), live->freq_hz());
  const Eigen::VectorXd differ = (cold - last.curve_db).cwiseAbs();
  double in_band = 0.0;
  for (Eigen::Index i = 0; i < differ.size(); ++i)
    if (live->freq_hz()(i) >= job.band.low_hz && live->freq_hz()(i) <= job.band.high_hz)
      in_band = std::max(in_band, differ(i));
  study::StudyOptions options;
  options.with_map = false;
  full.once([&] { study::run_study(job, loaded.panel, options, {}); });

  std::printf("%-40s %9s %9s %9s %9s\n", "ms", "median", "least", "most", "CPU");
  for (const Measure* m : {&make, &move, &answer, &warm, &warmer, &modes, &full}) print(*m);
  const double p7 = median(answer.wall_ms) / full.wall_ms.front();
  std::printf("P7 moved piece over full job: %.5f\n", p7);
  std::printf(
      "P9 largest difference from a cold full solve: %.3f dB in the band, %.3f dB over the "
      "curve, %ld frequencies\n",
      in_band,
      differ.maxCoeff(),
      static_cast<long>(differ.size()));
  if (!json.empty()) {
    nlohmann::ordered_json out;
    for (const Measure* m : {&make, &move, &answer, &warm, &warmer, &modes, &full})
      out["wall_ms"][m->name] = m->wall_ms;
    out["P6_ms"] = median(answer.wall_ms);
    out["P7"] = p7;
    out["P9_dB"] = in_band;
    out["P9_curve_dB"] = differ.maxCoeff();
    base::write_file_whole(json, out.dump(1) + "\n");
  }
  return 0;
}

}  // namespace

int main(int argc, char** argv) {
  CLI::App app{"A moved piece to its new curve, and how exact it is"};
  std::string file, layout = "partial", json;
  int repeats = 15;
  app.add_option("job", file, "job file, such as meshes/estate_front_door.toml")->required();
  app.add_option("--layout", layout, "the moved piece comes on top of it")->capture_default_str();
  app.add_option("--repeats", repeats, "moves, of which the median counts")
      ->check(CLI::Range(1, 1000))
      ->capture_default_str();
  app.add_option("--json", json, "write the figures to this file too");
  CLI11_PARSE(app, argc, argv);
  try {
    return run(file, layout, repeats, json);
  } catch (const std::exception& e) {
    std::fprintf(stderr, "%s\n", e.what());
    return 1;
  }
}
