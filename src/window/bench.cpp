// SPDX-License-Identifier: GPL-3.0-or-later
#include "window/bench.hpp"

#include "base/input_error.hpp"

namespace calmplate::window {
namespace {

constexpr int kRestMilliseconds = 1200;
constexpr int kModes = 20;

}  // namespace

/// The figures of record at one temperature, with the bare panel's.
struct Bench::Recording {
  job::Job job;
  std::unique_ptr<editing::Record> record;
  std::optional<study::LayoutResult> bare;
};

Bench::Bench(const app::LoadedJob& loaded, const editing::Document& document)
    : loaded_(loaded), document_(document), temp_k_(loaded.job.temperature_k) {
  rest_.setSingleShot(true);
  rest_.setInterval(kRestMilliseconds);
  QObject::connect(&rest_, &QTimer::timeout, this, [this] { rested(); });
  for (Background* thread : {&quick_, &slow_}) {
    thread->on_progress = [this](const std::string& task, const std::string& stage, double share) {
      if (on_progress) on_progress(task, stage, share);
    };
    thread->on_fault = [this](const std::string& task, const std::string& fault) {
      if (on_fault) on_fault(task, fault);
    };
  }
}

Bench::~Bench() = default;

void Bench::start() {
  slow_.put("bench", [this](const base::Progress& progress) -> Background::Finish {
    auto made = std::make_shared<editing::LiveBench>(loaded_.job, loaded_.panel, progress);
    return [this, made] {
      live_ = made;
      if (on_ready) on_ready();
      show(layout_, temp_k_);
      ask_map();
    };
  });
}

void Bench::show(std::size_t layout, double temp_k) {
  layout_ = layout;
  temp_k_ = temp_k;
  ++question_;
  slow_.drop("record");
  quick_.drop("modes");
  if (!ready()) return;
  if (bare_temp_k_ != temp_k_) ask_bare();
  ask_answer();
  rest_.start();
}

void Bench::show_map(const std::string& sheet, bool on_layout) {
  if (map_sheet_ == sheet && map_on_layout_ == on_layout) return;
  map_sheet_ = sheet;
  map_on_layout_ = on_layout;
  if (ready()) ask_map();
}

void Bench::ask_bare() {
  bare_temp_k_ = temp_k_;
  quick_.put("bare", [this, live = live_, temp = temp_k_](const base::Progress& progress) {
    return [this, answer = live->answer({}, temp, progress)] {
      if (on_bare) on_bare(answer);
    };
  });
  if (!map_on_layout_) ask_map();
}

void Bench::ask_answer() {
  const editing::Pieces pieces = document_.layout(layout_).pieces;
  quick_.put(
      "answer",
      [this, live = live_, pieces, temp = temp_k_, question = question_](const base::Progress& p) {
        return [this, question, answer = live->answer(pieces, temp, p)] {
          if (on_answer) on_answer(question, answer);
        };
      });
}

void Bench::rested() {
  ask_modes();
  if (map_on_layout_) ask_map();
  ask_record();
}

void Bench::ask_modes() {
  const editing::Pieces pieces = document_.layout(layout_).pieces;
  quick_.put("modes",
             [this, live = live_, pieces, temp = temp_k_, question = question_](
                 const base::Progress& progress) {
               return [this, question, modes = live->modes(pieces, temp, kModes, progress)] {
                 if (question == question_ && on_modes) on_modes(modes);
               };
             });
}

void Bench::ask_map() {
  if (map_sheet_.empty()) return;
  editing::Pieces pieces;
  if (map_on_layout_) pieces = document_.layout(layout_).pieces;
  slow_.drop("map");
  slow_.put("map",
            [this, live = live_, pieces, temp = temp_k_, sheet = map_sheet_](
                const base::Progress& progress) {
              return [this, map = live->benefit_map(pieces, temp, sheet, 1, progress)] {
                if (on_map) on_map(map);
              };
            });
}

void Bench::ask_record() {
  if (document_.layout(layout_).to_place) return;
  const editing::Layout layout = document_.layout(layout_);
  const job::Layout of_job = document_.job_layout(layout_);
  const int question = question_;
  slow_.put("plan", [this, layout, question](const base::Progress&) {
    Bought bought;
    try {
      bought.plan = editing::plan_of(loaded_.job, loaded_.panel, layout);
    } catch (const base::InputError& e) {
      bought.fault = e.what();
    }
    return [this, bought, question] {
      if (question == question_ && on_bought) on_bought(bought);
    };
  });
  slow_.put("record", [this, of_job, question, temp = temp_k_](const base::Progress& progress) {
    if (!recording_ || recording_->job.temperature_k != temp) {
      auto made = std::make_shared<Recording>();
      made->job = loaded_.job;
      made->job.temperature_k = temp;
      made->record = std::make_unique<editing::Record>(made->job, loaded_.panel, progress);
      recording_ = made;
    }
    if (!recording_->bare) recording_->bare = recording_->record->bare(progress);
    auto settled = std::make_shared<Settled>();
    settled->bare = *recording_->bare;
    settled->freq_hz = recording_->record->freq_hz();
    settled->layout = recording_->record->of(of_job, progress);
    return [this, settled, question] {
      if (question == question_ && on_settled) on_settled(question, *settled);
    };
  });
}

}  // namespace calmplate::window
