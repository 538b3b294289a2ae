// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <memory>
#include <vector>

#include "base/progress.hpp"
#include "placement/limit_use.hpp"
#include "placement/search_request.hpp"
#include "placement/trial_bench.hpp"

namespace calmplate::placement {

/// Spots by number, each with its piece condensed on every bench, which is made when first wanted.
/// Benches and request must outlive it.
class SpotShelf {
 public:
  SpotShelf(const std::vector<const TrialBench*>& benches,
            const SearchRequest& request,
            std::vector<Spot> spots);

  int size() const { return static_cast<int>(spots_.size()); }
  const Spot& operator[](int spot) const { return spots_[static_cast<std::size_t>(spot)]; }
  int add(Spot&& spot);  ///< @return its number

  /// Makes the pieces that are missing. @throws base::Cancelled
  void make(const std::vector<int>& spots, const base::Progress& progress);
  /// [n_bench] of a spot whose piece has been made.
  const std::vector<reduced::CondensedPiece>& pieces(int spot) const {
    return *pieces_[static_cast<std::size_t>(spot)];
  }
  LimitUse used(const std::vector<int>& spots) const;
  TrialBench::Pieces on_bench(const std::vector<int>& spots, std::size_t bench) const;

 private:
  const std::vector<const TrialBench*>* benches_;
  const SearchRequest* request_;
  std::vector<Spot> spots_;
  std::vector<std::unique_ptr<std::vector<reduced::CondensedPiece>>> pieces_;
};

}  // namespace calmplate::placement
