// SPDX-License-Identifier: GPL-3.0-or-later
// Best placed layouts against what is laid by habit, at the same share of the skin, on the doors of
// meshes/: decibels over the band on the model of record. Prints the table of docs/placement.md.
#include <algorithm>
#include <chrono>
#include <cstdio>
#include <filesystem>

#include "app/load_job.hpp"
#include "base/parallel.hpp"
#include "study/place.hpp"
#include "study/study.hpp"

namespace {

using namespace calmplate;

double seconds_since(std::chrono::steady_clock::time_point start) {
  return std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
}

void compare(const std::filesystem::path& file) {
  app::LoadedJob loaded = app::load_job(file);
  job::Job& job = loaded.job;
  job.temperatures_k.clear();
  job.layouts.clear();
  const auto damps = std::find_if(job.sheets.begin(), job.sheets.end(), [](const auto& s) {
    return s.kind != sheet::Kind::mass;
  });
  if (damps == job.sheets.end()) return;
  const std::string sheet = damps->name;
  const unsigned threads = base::hardware_threads();
  const job::Job plain = job;
  const study::PlaceBench bench(plain, loaded.panel, threads, {});
  std::vector<double> seconds;
  std::vector<double> shares = {0.15, 0.25, 0.40};
  for (const double share : shares) {
    job::Layout wish{"wish", {}, job::PlaceInput{}, {}};
    wish.place->sheets = {sheet};
    wish.place->share = share;
    wish.place->free_sizes = true;
    if (!(damps->stock_width_m > 0.0)) wish.place->sizes_m = {{0.25, 0.2}, {0.2, 0.125}};
    job.layouts.push_back(study::centre_block(plain, loaded.panel, sheet, share));
    job.layouts.push_back(study::chequer(plain, loaded.panel, sheet, share));
    job::Layout placed;
    bench.place_by_energy(wish, placed);
    job.layouts.push_back(placed);
    const auto start = std::chrono::steady_clock::now();
    bench.place(wish, placed);
    seconds.push_back(seconds_since(start));
    job.layouts.push_back(placed);
  }
  const std::vector<study::LayoutResult> studied = study::study_layouts(
      study::common_of(job, loaded.panel, {}), threads, {}, study::Detail::levels);
  const auto entry = [&](std::size_t i) {
    const study::LayoutResult& l = studied[i + 1];
    std::printf(" %.1f (%.0f %%) |", studied[0].band_level_db - l.band_level_db, 100.0 * l.share);
  };
  for (std::size_t s = 0; s < shares.size(); ++s) {
    std::printf("| %s | %.0f %% |", file.stem().string().c_str(), 100.0 * shares[s]);
    for (std::size_t k = 0; k < 4; ++k) entry(4 * s + k);
    std::printf(" %.0f |\n", seconds[s]);
    std::fflush(stdout);
  }
}

}  // namespace

int main(int argc, char** argv) {
  std::printf(
      "| door | limit | centre block | chequer | strain energy | best placed | search, s |\n");
  std::printf("|---|---|---|---|---|---|---|\n");
  for (int i = 1; i < argc; ++i) try {
      compare(argv[i]);
    } catch (const std::exception& e) {
      std::fprintf(stderr, "%s\n", e.what());
      return 1;
    }
  return 0;
}
