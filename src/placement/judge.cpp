// SPDX-License-Identifier: GPL-3.0-or-later
#include "placement/judge.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>
#include <utility>

#include "base/units.hpp"
#include "response/band_response.hpp"
#include "response/third_octaves.hpp"

namespace calmplate::placement {

Judge::Judge(const TrialBench& bench, std::vector<Wish> wishes, const std::vector<PowerAt>& powers)
    : bench_(&bench), wishes_(std::move(wishes)) {
  if (wishes_.empty()) throw std::invalid_argument("Judge: at least one wish is needed");
  const drive::BandInput& band = bench.band();
  const reduced::ReducedModel& laid = bench.laid();
  const auto read = [&](std::size_t wish, Eigen::MatrixXd surface, double low, double high) {
    surfaces_.push_back(std::move(surface));
    readings_.push_back({surfaces_.size() - 1, low, high, wish});
  };
  for (std::size_t w = 0; w < wishes_.size(); ++w) {
    if (!(wishes_[w].weight > 0.0)) throw std::invalid_argument("Judge: a weight must be above 0");
    const std::size_t before = readings_.size();
    switch (wishes_[w].goal) {
      case Goal::velocity:
        read(w, laid.surface, band.low_hz, band.high_hz);
        break;
      case Goal::radiated:
        for (const PowerAt& p : powers)
          read(w,
               bench.coordinates().transpose() * p.power * bench.coordinates(),
               p.low_hz,
               p.high_hz);
        break;
      case Goal::worst_third: {
        surfaces_.push_back(laid.surface);
        for (const response::ThirdOctave& t : response::third_octaves(band.low_hz, band.high_hz))
          readings_.push_back({surfaces_.size() - 1, t.low_hz, t.high_hz, w});
        break;
      }
      case Goal::worst_point:
        for (Eigen::Index i = 0; i < laid.listen.rows(); ++i)
          read(w, laid.listen.row(i).transpose() * laid.listen.row(i), band.low_hz, band.high_hz);
        break;
    }
    if (readings_.size() == before)
      throw std::invalid_argument("Judge: a wish has nothing to read");
  }
}

std::vector<reduced::BandIntegral> Judge::integrals(const reduced::PoleExpansion& poles) const {
  std::vector<reduced::BandIntegral> out;
  out.reserve(surfaces_.size());
  for (const Eigen::MatrixXd& s : surfaces_) out.emplace_back(poles, s);
  return out;
}

double Judge::level_db(const std::vector<reduced::BandIntegral>& integrals) const {
  std::vector<double> worst(wishes_.size(), 0.0), sum(wishes_.size(), 0.0);
  for (const Reading& r : readings_) {
    const double value = response::weighted(
        integrals[r.surface], bench_->drive(), r.low_hz, r.high_hz, bench_->brake());
    sum[r.wish] += value;
    worst[r.wish] = std::max(worst[r.wish], value / (r.high_hz - r.low_hz));
  }
  double out = 0.0;
  for (std::size_t w = 0; w < wishes_.size(); ++w) {
    const Goal goal = wishes_[w].goal;
    const bool peak = goal == Goal::worst_third || goal == Goal::worst_point;
    out += wishes_[w].weight * base::to_db(peak ? worst[w] : sum[w]);
  }
  return out;
}

double Judge::level_db(const std::vector<reduced::BandIntegral>& integrals,
                       const Eigen::VectorXcd& poles) const {
  std::vector<reduced::BandIntegral> moved;
  moved.reserve(integrals.size());
  for (const reduced::BandIntegral& i : integrals) moved.push_back(i.with_poles(poles));
  return level_db(moved);
}

}  // namespace calmplate::placement
