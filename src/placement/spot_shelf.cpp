// SPDX-License-Identifier: GPL-3.0-or-later
#include "placement/spot_shelf.hpp"

#include <algorithm>
#include <utility>

#include "base/parallel.hpp"

namespace calmplate::placement {

SpotShelf::SpotShelf(const std::vector<const TrialBench*>& benches,
                     const SearchRequest& request,
                     std::vector<Spot> spots)
    : benches_(&benches), request_(&request), spots_(std::move(spots)), pieces_(spots_.size()) {}

int SpotShelf::add(Spot&& spot) {
  spots_.push_back(std::move(spot));
  pieces_.emplace_back();
  return size() - 1;
}

void SpotShelf::make(const std::vector<int>& spots, const base::Progress& progress) {
  std::vector<int> missing;
  for (const int s : spots)
    if (!pieces_[static_cast<std::size_t>(s)]) missing.push_back(s);
  std::sort(missing.begin(), missing.end());
  missing.erase(std::unique(missing.begin(), missing.end()), missing.end());
  base::parallel_for(missing.size(), request_->threads, [&](std::size_t i) {
    progress.check();
    const Spot& spot = (*this)[missing[i]];
    shell::LaidPiece laid;
    laid.covered = spot.covered;
    laid.plies = {request_->sheets[spot.sheet].sheet};
    laid.outer_face = request_->outer_face;
    auto made = std::make_unique<std::vector<reduced::CondensedPiece>>();
    for (const TrialBench* bench : *benches_) made->push_back(bench->condense(laid));
    pieces_[static_cast<std::size_t>(missing[i])] = std::move(made);
  });
}

LimitUse SpotShelf::used(const std::vector<int>& spots) const {
  LimitUse use;
  for (const int s : spots) use.add((*this)[s], *request_->sheets[(*this)[s].sheet].sheet);
  return use;
}

TrialBench::Pieces SpotShelf::on_bench(const std::vector<int>& spots, std::size_t bench) const {
  TrialBench::Pieces out;
  for (const int s : spots) out.push_back(&pieces(s)[bench]);
  return out;
}

}  // namespace calmplate::placement
