// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <Eigen/Core>
#include <memory>
#include <vector>

#include "base/progress.hpp"
#include "editing/laid.hpp"
#include "job/job.hpp"
#include "panel/panel.hpp"
#include "placement/benefit_map.hpp"

namespace calmplate::editing {

/// What a layout does, on the live model.
struct LiveAnswer {
  Eigen::VectorXd curve_db;  ///< [n_point] at LiveBench::freq_hz, as study::LayoutResult's curve
  double band_level_db = 0.0;
  double reduction_db = 0.0;  ///< against the bare panel at the same temperature
};

/// Modes with shapes for moving pictures.
struct LiveModes {
  Eigen::VectorXd freq_hz, loss_factor;  ///< [n_mode] ascending
  /// [n_node x n_mode] outward displacement at the nodes, largest value 1; of a damped mode its
  /// real picture
  Eigen::MatrixXd shape;
};

/// "What does this layout do now?" at the speed of a hand. One bench serves a panel and its job.
///
/// Model (b): the bare panel's reduced model with the door's air and woofer is made once; every
/// piece is condensed onto it once and kept, so that a move costs one small piece and one solve a
/// frequency. Sheets have their modulus at each frequency and temperature. How far it is from the
/// figures of record: docs/theory.md, "The live model".
///
/// All functions may be called from several threads at once.
class LiveBench {
 public:
  /// Seconds of work: for a background thread.
  /// @param job, panel  must outlive this object
  /// @param points      of the curve, 2 or more, evenly from below to above the band
  /// @throws base::InputError if part of the panel is loose; base::Cancelled
  LiveBench(const job::Job& job,
            const panel::Panel& panel,
            const base::Progress& progress,
            int points = 200);
  ~LiveBench();
  LiveBench(const LiveBench&) = delete;
  LiveBench& operator=(const LiveBench&) = delete;

  const Eigen::VectorXd& freq_hz() const noexcept;  ///< [n_point]

  /// @param temp_k    of sheets and skin; any at which the sheets' modulus is known
  /// @param progress  looked at now and then: a newer question may cancel this one
  /// @throws base::Cancelled, std::out_of_range from a modulus that is not known there
  LiveAnswer answer(const Pieces& pieces, double temp_k, const base::Progress& progress = {}) const;

  /// The bare panel's own answer.
  const LiveAnswer& bare() const noexcept;

  /// The lowest damped modes of the skin with the air of both faces, as `calmplate run` lists them.
  /// @param most  how many, from 1
  LiveModes modes(const Pieces& pieces,
                  double temp_k,
                  int most = 20,
                  const base::Progress& progress = {}) const;

  /// Where one more trial piece of this sheet would help most, on top of the pieces.
  /// @param sheet    of the job. @throws std::out_of_range if it has none of that name
  placement::BenefitMap benefit_map(const Pieces& pieces,
                                    double temp_k,
                                    const std::string& sheet,
                                    unsigned threads,
                                    const base::Progress& progress) const;

 private:
  struct Parts;
  std::unique_ptr<Parts> parts_;
};

}  // namespace calmplate::editing
