// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <cmath>
#include <cstdint>
#include <string>
#include <vector>

#include "cutting/plan.hpp"

/// Invented cutting jobs from fixed seeds.
namespace calmplate::testing {

/// Numbers that are the same on every machine.
class Draw {
 public:
  explicit Draw(std::uint64_t seed) : state_(seed * 2862933555777941757ULL + 3037000493ULL) {}
  /// A whole number from low to high.
  int whole(int low, int high) {
    state_ = state_ * 6364136223846793005ULL + 1442695040888963407ULL;
    return low + static_cast<int>((state_ >> 33U) % static_cast<std::uint64_t>(high - low + 1));
  }

 private:
  std::uint64_t state_;
};

/// A part whose outline is its rectangle, or a triangle in it.
inline cutting::Part plain_part(int number, double w_m, double h_m, bool triangle = false) {
  cutting::Part part;
  part.layout = "invented";
  part.piece = number;
  part.label = std::to_string(number);
  part.sheet = "sheet";
  part.outer_face = true;
  part.size_m = {w_m, h_m};
  part.rectangular = !triangle;
  panel::Polygon outline(triangle ? 3 : 4, 2);
  if (triangle)
    outline << 0.0, 0.0, w_m, 0.0, 0.0, h_m;
  else
    outline << 0.0, 0.0, w_m, 0.0, w_m, h_m, 0.0, h_m;
  part.loops = {outline};
  part.area_m2 = (triangle ? 0.5 : 1.0) * w_m * h_m;
  return part;
}

struct CuttingJob {
  std::vector<cutting::Part> parts;
  cutting::Stock stock;
  cutting::CuttingInput input;
};

inline CuttingJob random_job(int seed) {
  Draw draw(static_cast<std::uint64_t>(seed));
  CuttingJob job;
  job.stock.sheet = "sheet";
  job.stock.form = seed % 4 == 3 ? cutting::StockForm::roll : cutting::StockForm::sheet;
  const int direction = draw.whole(0, 5);
  job.stock.direction = direction == 0   ? cutting::Direction::along
                        : direction == 1 ? cutting::Direction::up
                                         : cutting::Direction::none;
  job.stock.width_m = 1e-3 * draw.whole(300, 1000);
  job.stock.length_m = job.stock.form == cutting::StockForm::roll ? 1e-3 * draw.whole(5000, 20000)
                                                                  : 1e-3 * draw.whole(300, 1500);
  job.stock.price = draw.whole(0, 1) == 0 ? 0.0 : 9.5;
  for (int k = draw.whole(0, 4); k > 0; --k)
    job.stock.offcuts_m.push_back({1e-3 * draw.whole(60, 600), 1e-3 * draw.whole(60, 600)});
  job.input.gap_m = 1e-3 * (draw.whole(0, 2) == 0 ? draw.whole(1, 4) : 0);
  const double longest = std::min(job.stock.length_m, 1.2), wide = job.stock.width_m;
  const int count = draw.whole(1, 18), largest = draw.whole(30, 100);
  for (int k = 1; k <= count; ++k) {
    // Tenths of a millimetre; along the stock's length and across it.
    const double along = 1e-4 * std::floor(1e4 * longest * 0.01 * draw.whole(5, largest));
    const double across = 1e-4 * std::floor(1e4 * wide * 0.01 * draw.whole(5, largest));
    const bool up = job.stock.direction == cutting::Direction::up;
    job.parts.push_back(
        plain_part(k, up ? across : along, up ? along : across, draw.whole(0, 4) == 0));
  }
  return job;
}

}  // namespace calmplate::testing
