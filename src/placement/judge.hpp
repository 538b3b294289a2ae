// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <Eigen/Core>
#include <vector>

#include "placement/search_request.hpp"
#include "placement/trial_bench.hpp"

namespace calmplate::placement {

/// Sound power of the skin for rms velocities, taken at one frequency. [r x r] W s2/m2 in the
/// coordinates of the model that a bench was made of.
struct PowerAt {
  double low_hz = 0.0, high_hz = 0.0;  ///< where it serves
  Eigen::MatrixXd power;
};

/// Turns poles of one bench into the number to be made small: the wishes' dB, weighted.
class Judge {
 public:
  /// @param bench   must outlive this object
  /// @param wishes  at least one
  /// @param powers  for Goal::radiated: parts that cover the band
  /// @throws std::invalid_argument if a wish has no weight, points or powers to work on
  Judge(const TrialBench& bench, std::vector<Wish> wishes, const std::vector<PowerAt>& powers);

  /// What the poles give on every surface that the wishes need, ready to be moved.
  std::vector<reduced::BandIntegral> integrals(const reduced::PoleExpansion& poles) const;
  /// dB, lower is better; differences count.
  double level_db(const std::vector<reduced::BandIntegral>& integrals) const;
  /// The same after the poles have moved to first order.
  double level_db(const std::vector<reduced::BandIntegral>& integrals,
                  const Eigen::VectorXcd& poles) const;

 private:
  struct Reading {
    std::size_t surface = 0;
    double low_hz = 0.0, high_hz = 0.0;
    std::size_t wish = 0;
  };

  const TrialBench* bench_;
  std::vector<Wish> wishes_;
  std::vector<Eigen::MatrixXd> surfaces_;
  std::vector<Reading> readings_;
};

}  // namespace calmplate::placement
