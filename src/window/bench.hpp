// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <QObject>
#include <QTimer>
#include <functional>
#include <map>
#include <memory>
#include <optional>
#include <string>

#include "app/load_job.hpp"
#include "editing/document.hpp"
#include "editing/live_bench.hpp"
#include "editing/record.hpp"
#include "window/background.hpp"

namespace calmplate::window {

/// Answers on the figures of record, for one state of a layout.
struct Settled {
  study::LayoutResult layout, bare;
  Eigen::VectorXd freq_hz;  ///< of both curves
};

/// What a plan of cuts would buy, or why there is none.
struct Bought {
  editing::StockPlan plan;
  std::string fault;  ///< one line; empty: there is a plan
};

/// All that is computed for the window, beside it: the live answer within a screen frame or two,
/// the rest after the hand has rested. Results arrive in the window's thread, and only those of the
/// newest question.
class Bench : public QObject {
 public:
  /// @param loaded, document  must outlive this object
  Bench(const app::LoadedJob& loaded, const editing::Document& document);
  ~Bench() override;

  void start();  ///< makes the live bench
  bool ready() const { return live_ != nullptr; }
  const editing::LiveBench& live() const { return *live_; }

  /// What is on the bench from now on; asks for all answers anew.
  void show(std::size_t layout, double temp_k);
  void show_map(const std::string& sheet, bool on_layout);
  double temp_k() const { return temp_k_; }
  /// Counts the questions; answers come with the number of theirs.
  int question() const { return question_; }

  std::function<void()> on_ready;
  std::function<void(const editing::LiveAnswer& bare)> on_bare;
  std::function<void(int question, const editing::LiveAnswer& answer)> on_answer;
  std::function<void(const editing::LiveModes&)> on_modes;
  std::function<void(const placement::BenefitMap&)> on_map;
  std::function<void(int question, const Settled&)> on_settled;
  std::function<void(const Bought&)> on_bought;
  std::function<void(const std::string& task, const std::string& stage, double share)> on_progress;
  std::function<void(const std::string& task, const std::string& fault)> on_fault;

 private:
  struct Recording;
  void ask_answer();
  void ask_bare();
  void ask_modes();
  void ask_map();
  void ask_record();
  void rested();

  const app::LoadedJob& loaded_;
  const editing::Document& document_;
  std::shared_ptr<const editing::LiveBench> live_;
  std::shared_ptr<Recording> recording_;  ///< touched by the slow thread alone
  std::size_t layout_ = 0;
  double temp_k_ = 0.0;
  std::optional<double> bare_temp_k_;
  int question_ = 0;
  std::string map_sheet_;
  bool map_on_layout_ = false;
  QTimer rest_;
  // Last, so that the threads end before what they use goes.
  Background quick_{this}, slow_{this};
};

}  // namespace calmplate::window
