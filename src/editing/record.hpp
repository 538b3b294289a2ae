// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <memory>

#include "base/progress.hpp"
#include "job/job.hpp"
#include "panel/panel.hpp"
#include "study/results.hpp"

namespace calmplate::editing {

/// The figures of record of single layouts: those that `calmplate run` prints, made by the same
/// functions, on the panel that the job was opened with. For settling what the live model shows, in
/// the background. (A drawn skin gets finer elements along pieces of a short shear lag, so a job
/// that is saved and read again may have others than it was opened with.)
class Record {
 public:
  /// @param job, panel  must outlive this object
  /// @throws base::Cancelled, base::InputError as study::run_study
  Record(const job::Job& job, const panel::Panel& panel, const base::Progress& progress);
  ~Record();

  /// Seconds of work each.
  /// @throws base::Cancelled
  study::LayoutResult bare(const base::Progress& progress) const;
  study::LayoutResult of(const job::Layout& layout, const base::Progress& progress) const;
  const Eigen::VectorXd& freq_hz() const noexcept;  ///< of LayoutResult::curve_db

 private:
  struct Parts;
  std::unique_ptr<Parts> parts_;
};

}  // namespace calmplate::editing
