// SPDX-License-Identifier: GPL-3.0-or-later
#include "editing/record.hpp"

#include "modes/cholesky_factor.hpp"
#include "study/layout_study.hpp"

namespace calmplate::editing {

struct Record::Parts {
  study::Common common;
};

Record::Record(const job::Job& job, const panel::Panel& panel, const base::Progress& progress)
    : parts_(std::make_unique<Parts>(Parts{study::common_of(job, panel, progress)})) {}

Record::~Record() = default;

const Eigen::VectorXd& Record::freq_hz() const noexcept { return parts_->common.freq_hz; }

study::LayoutResult Record::bare(const base::Progress& progress) const {
  return study::study_layout(parts_->common, nullptr, 1, progress, nullptr);
}

study::LayoutResult Record::of(const job::Layout& layout, const base::Progress& progress) const {
  return study::study_layout(parts_->common, &layout, 1, progress, nullptr);
}

}  // namespace calmplate::editing
