// SPDX-License-Identifier: GPL-3.0-or-later
#include "editing/live_bench.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <mutex>
#include <optional>
#include <stdexcept>
#include <utility>

#include "base/parallel.hpp"
#include "base/units.hpp"
#include "editing/live_model.hpp"
#include "modes/cholesky_factor.hpp"
#include "placement/trial_bench.hpp"
#include "reduced/complex_modes.hpp"
#include "study/layout_study.hpp"

namespace calmplate::editing {
namespace {

using Eigen::Index;

/// Moves back and forth, undo and layouts that take turns find their pieces again. A lifted one
/// takes some 3 MB on a large door.
constexpr std::size_t kKeptCondensed = 200, kKeptLifted = 40;

/// Pieces are shaped from the bare panel's modes, so a small or stiff panel with few of them below
/// the study's limit needs more. Measured: docs/theory.md, "The live model".
constexpr double kFewestModes = 110.0;
constexpr double kMostOverLimit = 4.0;

/// Where about so many modes lie below: a plate of the skin's area and stiffness, of whose count a
/// crowned and held one has about two thirds. Hz
/// Source: [derived] a plate has A / 2 sqrt(m / D) modes a hertz; the two thirds are measured.
double enough_modes_hz(const shell::Skin& skin) {
  const shell::Plate& p = skin.plate;
  const double rigidity =
      p.young_pa * std::pow(p.thickness_m, 3) / (12.0 * (1.0 - p.poisson * p.poisson));
  const double per_hz = 0.5 * skin.panel->area_m2 * std::sqrt(p.density * p.thickness_m / rigidity);
  return kFewestModes / (0.65 * per_hz);
}

/// What makes two pieces alike.
std::string key_of(const Laid& laid) {
  std::string out;
  for (const auto& [key, value] : job::keys_of(laid.written)) out += key + "=" + value + ";";
  return out;
}

/// The most recently used of what was made, found again by a key.
template <typename T>
class Kept {
 public:
  explicit Kept(std::size_t most) : most_(most) {}

  std::shared_ptr<const T> find(const std::string& key) {
    const std::lock_guard<std::mutex> lock(mutex_);
    const auto found = entries_.find(key);
    if (found == entries_.end()) return nullptr;
    found->second.second = ++clock_;
    return found->second.first;
  }

  /// Keeps no fewer than this from now on.
  void hold(std::size_t least) {
    const std::lock_guard<std::mutex> lock(mutex_);
    most_ = std::max(most_, least);
  }

  void keep(const std::string& key, std::shared_ptr<const T> made) {
    const std::lock_guard<std::mutex> lock(mutex_);
    entries_[key] = {std::move(made), ++clock_};
    if (entries_.size() <= most_) return;
    entries_.erase(
        std::min_element(entries_.begin(), entries_.end(), [](const auto& a, const auto& b) {
          return a.second.second < b.second.second;
        }));
  }

 private:
  std::size_t most_;
  std::mutex mutex_;
  long clock_ = 0;
  std::map<std::string, std::pair<std::shared_ptr<const T>, long>> entries_;
};

}  // namespace

struct LiveBench::Parts {
  const job::Job* job = nullptr;
  const panel::Panel* panel = nullptr;
  study::Common common;
  reduced::FullReduction bare;
  std::optional<reduced::FullReduction> study_bare;  ///< as the study's, if `bare` has more modes
  double middle_hz = 0.0;
  Eigen::VectorXd freq_hz;
  reduced::ReducedModel door;              ///< bare, with air and woofer
  std::unique_ptr<LiveModel> heard, skin;  ///< with the door, and the skin alone
  LiveAnswer bare_answer;
  mutable Kept<reduced::CondensedPiece> condensed{kKeptCondensed};
  mutable Kept<LivePiece> lifted{kKeptLifted};

  std::shared_ptr<const reduced::CondensedPiece> condense(const Laid& piece) const;
  LiveModel::Laid lift(const Pieces& pieces,
                       const LiveModel& model,
                       double temp_k,
                       const base::Progress& progress) const;
};

/// The slips chosen at the job's temperature serve every other: 40 K away a level moves by less
/// than 0.01 dB.
std::shared_ptr<const reduced::CondensedPiece> LiveBench::Parts::condense(const Laid& piece) const {
  const std::string key = key_of(piece);
  if (auto kept = condensed.find(key)) return kept;
  auto out = std::make_shared<const reduced::CondensedPiece>(
      reduced::condense(common.skin,
                        study::laid_piece(*job, piece.piece, piece.covered),
                        bare.basis.topRows(common.skin.n_dof),
                        middle_hz,
                        job->temperature_k));
  condensed.keep(key, out);
  return out;
}

LiveModel::Laid LiveBench::Parts::lift(const Pieces& pieces,
                                       const LiveModel& model,
                                       double temp_k,
                                       const base::Progress& progress) const {
  LiveModel::Laid out(pieces.size());
  lifted.hold(2 * pieces.size());  // of the layout itself, with the door and without
  base::parallel_for(pieces.size(), std::min(4u, base::hardware_threads()), [&](std::size_t i) {
    progress.check();
    const std::string key =
        key_of(*pieces[i]) + std::to_string(temp_k) + (&model == skin.get() ? " skin" : " heard");
    out[i] = lifted.find(key);
    if (out[i]) return;
    out[i] = std::make_shared<const LivePiece>(model.lift(*condense(*pieces[i]), temp_k, 2));
    lifted.keep(key, out[i]);
  });
  return out;
}

LiveBench::LiveBench(const job::Job& job,
                     const panel::Panel& panel,
                     const base::Progress& progress,
                     int points)
    : parts_(std::make_unique<Parts>()) {
  if (points < 2) throw std::invalid_argument("LiveBench: a curve has 2 points or more");
  Parts& p = *parts_;
  p.job = &job;
  p.panel = &panel;
  progress.step("bare panel", 0.0);
  p.common = study::common_of(job, panel, progress);
  reduced::ReductionOptions options =
      study::reduction_of(job, true, std::min(4u, base::hardware_threads()));
  p.middle_hz = options.reference_hz;
  const auto reduce = [&](const reduced::ReductionOptions& o) {
    return reduced::reduce_full(p.common.skin,
                                shell::build_model(p.common.skin, study::attachments_of(job), {}),
                                p.common.ports,
                                o,
                                progress);
  };
  try {
    const double study_hz = options.top_hz;
    options.top_hz =
        std::clamp(enough_modes_hz(p.common.skin), study_hz, kMostOverLimit * study_hz);
    p.bare = reduce(options);
    if (options.top_hz > study_hz) {
      options.top_hz = study_hz;
      p.study_bare = reduce(options);
    }
  } catch (const modes::NotPositiveDefinite&) {
    study::throw_loose(job);
  }
  progress.step("air and woofer", 0.8);
  p.door = study::couple_door(job, p.common.skin, p.common.door, p.bare, p.bare.model).model;
  const study::CurveRange range = study::curve_range(job.band);
  p.freq_hz = Eigen::VectorXd::LinSpaced(points, range.low_hz, range.high_hz);
  const response::Brake brake =
      placement::TrialBench(p.common.skin, p.bare, p.door, job.drive, job.band).brake();
  progress.step("live model", 0.9);
  p.heard = std::make_unique<LiveModel>(p.door, job.drive, job.band, brake, p.freq_hz);
  p.skin =
      std::make_unique<LiveModel>(p.bare.model, job.drive, job.band, response::Brake(), p.freq_hz);
  p.bare_answer = answer({}, job.temperature_k, progress);
  p.bare_answer.reduction_db = 0.0;
  progress.step("live model", 1.0);
}

LiveBench::~LiveBench() = default;

const Eigen::VectorXd& LiveBench::freq_hz() const noexcept { return parts_->freq_hz; }
const LiveAnswer& LiveBench::bare() const noexcept { return parts_->bare_answer; }

LiveAnswer LiveBench::answer(const Pieces& pieces,
                             double temp_k,
                             const base::Progress& progress) const {
  const LiveModel::Answer found =
      parts_->heard->answer(parts_->lift(pieces, *parts_->heard, temp_k, progress),
                            std::min(4u, base::hardware_threads()),
                            progress);
  // The bare skin does not feel the temperature.
  return {
      found.curve_db, found.band_level_db, parts_->bare_answer.band_level_db - found.band_level_db};
}

LiveModes LiveBench::modes(const Pieces& pieces,
                           double temp_k,
                           int most,
                           const base::Progress& progress) const {
  const LiveModel::Modes found =
      parts_->skin->modes(parts_->lift(pieces, *parts_->skin, temp_k, progress), most, progress);
  const Index n = found.lambda.size();
  LiveModes out{
      Eigen::VectorXd(n), Eigen::VectorXd(n), Eigen::MatrixXd(parts_->bare.normal.rows(), n)};
  for (Index j = 0; j < n; ++j) {
    const double real = std::max(found.lambda(j).real(), 0.0);
    out.freq_hz(j) = std::sqrt(real) / base::kTwoPi;
    out.loss_factor(j) = real > 0.0 ? found.lambda(j).imag() / real : 0.0;
    out.shape.col(j) = reduced::real_picture(parts_->bare.normal * found.shape.col(j));
  }
  return out;
}

placement::BenefitMap LiveBench::benefit_map(const Pieces& pieces,
                                             double temp_k,
                                             const std::string& sheet,
                                             unsigned threads,
                                             const base::Progress& progress) const {
  const Parts& p = *parts_;
  placement::MapRequest request = study::map_request(*p.job, p.job->sheet_named(sheet), threads);
  std::vector<shell::LaidPiece> below;
  for (const auto& piece : pieces) {
    below.push_back(study::laid_piece(*p.job, piece->piece, piece->covered));
    if (piece->piece.face == job::Face::inner) request.taken.push_back(piece->piece.region);
  }
  const reduced::FullReduction& bare = p.study_bare ? *p.study_bare : p.bare;
  reduced::ReducedModel laid =
      reduced::reduce_by_pieces(p.common.skin, bare, below, p.middle_hz, temp_k);
  laid = study::couple_door(*p.job, p.common.skin, p.common.door, bare, laid).model;
  const placement::TrialBench bench(p.common.skin, bare, laid, p.job->drive, p.job->band);
  return placement::benefit_map(*p.panel, bench, request, progress);
}

}  // namespace calmplate::editing
