// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <QAction>
#include <QMainWindow>
#include <QTimer>
#include <map>
#include <optional>

#include "app/load_job.hpp"
#include "editing/document.hpp"
#include "editing/job_text.hpp"
#include "window/bench.hpp"
#include "window/hand.hpp"
#include "window/skin_mesh.hpp"
#include "window/skin_paint.hpp"
#include "window/skin_view.hpp"
#include "window/trace.hpp"
#include "window/words.hpp"

class QCheckBox;
class QComboBox;
class QLabel;
class QListWidget;
class QProgressBar;
class QSlider;
class QTableWidget;

namespace calmplate::window {

class ColourBar;
class FiguresPanel;
class ResponseChart;

/// The window: a job, its skin, and the hand that lays sheet on it.
class MainWindow : public QMainWindow {
 public:
  /// @param text   of the job's file
  /// @param trace  must outlive the window
  MainWindow(app::LoadedJob loaded, editing::JobText text, Trace& trace);
  ~MainWindow() override;

 protected:
  void closeEvent(QCloseEvent* event) override;
  void showEvent(QShowEvent* event) override;

 private:
  enum class Ground { plain, benefit, working, mode };
  using Act = words::Act;

  // main_window.cpp: the parts and how they hang together
  QWidget* make_left();
  QWidget* make_right();
  QWidget* make_middle();
  void connect_view();
  void connect_bench();
  void connect_lists();

  // main_window_actions.cpp
  void make_menus();
  QAction* add_action(QMenu* menu,
                      Act which,
                      const std::function<void()>& does,
                      bool ticks = false);
  void make_tools();
  bool key_in_view(QKeyEvent* event);
  bool arrow(double right, double up, Qt::KeyboardModifiers held);

  // main_window_edit.cpp: what a person does
  void take(const Step& step, const QString& command);
  void pieces_changed(const QString& command);
  void undo(bool forwards);
  void lay_where_it_helps();
  void to_layout(int number);
  void new_layout(bool copy);
  void rename_layout();
  void remove_layout();
  void take_layout(const editing::Outcome& outcome, const QString& command, int then);
  bool save(bool as);
  void set_temperature(int celsius);

  // main_window_show.cpp: what the window shows
  void refresh_lists();
  void refresh_title();
  void refresh_figures();
  void repaint_skin();
  void say(const QString& text);
  void say_selected();
  void busy(const QString& text, int percent);  ///< percent below 0: no longer
  void to_ground(Ground ground);
  void apply_ground();
  void apply_map();
  void apply_working();
  void apply_mode();
  void show_modes();
  void animate(bool on);
  void next_frame();
  void trace_view();
  void trace_shown();

  app::LoadedJob loaded_;
  editing::JobText text_;
  Trace& trace_;
  editing::Document document_;
  SkinMesh mesh_;
  SkinPaint paint_;
  Hand hand_;
  int layout_id_ = 0;

  SkinView* view_ = nullptr;
  ResponseChart* chart_ = nullptr;
  FiguresPanel* figures_ = nullptr;
  ColourBar* scale_ = nullptr;
  QListWidget *layouts_ = nullptr, *sheets_ = nullptr;
  QComboBox* face_ = nullptr;
  QTableWidget* modes_ = nullptr;
  QSlider *temperature_ = nullptr, *amplitude_ = nullptr;
  QLabel *temperature_word_ = nullptr, *amplitude_word_ = nullptr, *side_ = nullptr,
         *place_ = nullptr, *busy_word_ = nullptr;
  QProgressBar* busy_ = nullptr;
  QCheckBox* animate_ = nullptr;
  std::map<Act, QAction*> actions_;

  Ground ground_ = Ground::benefit;
  std::optional<placement::BenefitMap> map_;
  std::optional<Settled> settled_;
  int settled_question_ = -1;
  std::optional<editing::LiveModes> mode_data_;
  QTimer frames_, temperature_rest_;
  double phase_ = 0.0;
  bool filling_lists_ = false;

  double released_ms_ = -1.0;  ///< when the hand let go; below 0: nothing is awaited
  int awaited_ = -1;           ///< question whose answer goes to the chart
  int chart_painted_ = 0;
  Bench bench_;  ///< last: its threads use what stands above
};

}  // namespace calmplate::window
