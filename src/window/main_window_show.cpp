// SPDX-License-Identifier: GPL-3.0-or-later
#include <QCheckBox>
#include <QJsonArray>
#include <QLabel>
#include <QListWidget>
#include <QProgressBar>
#include <QSlider>
#include <QStatusBar>
#include <algorithm>
#include <cmath>

#include "window/colour_bar.hpp"
#include "window/figures_panel.hpp"
#include "window/look.hpp"
#include "window/main_window.hpp"
#include "window/response_chart.hpp"

/// What the window shows of document and answers.
namespace calmplate::window {
namespace {

constexpr double kTraceGridM = 0.05;

}  // namespace

void MainWindow::say(const QString& text) { statusBar()->showMessage(text); }

void MainWindow::say_selected() {
  const auto& pieces = document_.layout(hand_.layout()).pieces;
  for (std::size_t i = 0; i < pieces.size(); ++i) {
    if (pieces[i]->id != hand_.selected()) continue;
    const job::WrittenPiece& written = pieces[i]->written;
    QString size = words::area(pieces[i]->area_m2, pieces[i]->area_m2 / loaded_.panel.area_m2);
    if (written.shape == job::Shape::rectangle)
      size = words::piece_place(written.size_mm.x(),
                                written.size_mm.y(),
                                written.centre_mm.x(),
                                written.centre_mm.y(),
                                written.angle_deg);
    const QString text =
        words::piece_selected(static_cast<int>(i) + 1, static_cast<int>(pieces.size()), size);
    view_->setAccessibleDescription(text);
    say(text);
    return;
  }
  say(words::no_piece());
}

void MainWindow::busy(const QString& text, int percent) {
  busy_word_->setText(percent < 0 ? QString() : text);
  busy_->setVisible(percent >= 0);
  busy_->setValue(std::max(0, percent));
}

/// Undo and redo may bring layouts back or take them away: the list and the place in it follow.
void MainWindow::refresh_lists() {
  filling_lists_ = true;
  const auto& layouts = document_.layouts();
  std::size_t now = std::min(hand_.layout(), layouts.size() - 1);
  layouts_->clear();
  for (std::size_t i = 0; i < layouts.size(); ++i) {
    layouts_->addItem(QString::fromStdString(layouts[i].name));
    if (layouts[i].id == layout_id_) now = i;
  }
  hand_.set_layout(now);
  layout_id_ = layouts[now].id;
  layouts_->setCurrentRow(static_cast<int>(now));
  filling_lists_ = false;
}

void MainWindow::refresh_title() {
  setWindowTitle(words::title(QString::fromStdString(loaded_.job.title),
                              QString::fromStdString(text_.file().filename().string())));
  setWindowModified(document_.changed());
  actions_.at(Act::undo)->setEnabled(document_.can_undo());
  actions_.at(Act::redo)->setEnabled(document_.can_redo());
}

void MainWindow::refresh_figures() {
  const bool priced = std::any_of(loaded_.job.sheets.begin(),
                                  loaded_.job.sheets.end(),
                                  [](const sheet::Sheet& s) { return s.price_per_sheet > 0.0; });
  figures_->show_figures(
      editing::figures_of(loaded_.job, loaded_.panel, document_.layout(hand_.layout())), priced);
  figures_->show_settling(false);
}

void MainWindow::repaint_skin() {
  std::vector<PaintedPiece> pieces;
  int number = 0;
  for (const auto& laid : document_.layout(hand_.layout()).pieces) {
    PaintedPiece piece;
    piece.see_through = ground_ == Ground::working || ground_ == Ground::mode;
    piece.outlines = laid->outlines;
    piece.number = ++number;
    piece.outer = laid->piece.face == job::Face::outer;
    piece.selected = laid->id == hand_.selected();
    for (std::size_t s = 0; s < loaded_.job.sheets.size(); ++s)
      if (loaded_.job.sheets[s].name == laid->piece.sheets.front())
        piece.fill = look::sheet_fill(s);
    pieces.push_back(std::move(piece));
  }
  if (hand_.refused_outline()) {
    PaintedPiece ghost;
    ghost.outlines = {*hand_.refused_outline()};
    ghost.see_through = true;
    ghost.refused = true;
    pieces.push_back(std::move(ghost));
  }
  PaintedMarks marks;
  const double reach = 8.0 * view_->m_per_px();
  marks.handles = hand_.corners();
  if (const auto handle = hand_.turning_handle(Hand::kStalkReaches * reach)) {
    marks.turning_handle = handle;
    marks.turning_from = hand_.turning_handle(0.0);
  }
  marks.cut = hand_.cut_line();
  marks.label = QString::fromStdString(hand_.label());
  marks.label_at = hand_.label_at(reach);
  paint_.paint(pieces, marks, view_->m_per_px());
  view_->set_texture(paint_.image());
}

void MainWindow::connect_bench() {
  bench_.on_progress = [this](const std::string& task, const std::string& stage, double share) {
    const int percent = static_cast<int>(std::lround(100.0 * share));
    const QString words = QString::fromStdString(stage);
    if (task == "bench") busy(words::building(words, percent), percent);
    if (task == "map") busy(words::mapping(words, percent), percent);
    if (task == "record") {
      busy(words::settling(words, percent), percent);
      figures_->show_settling(true);
    }
  };
  bench_.on_fault = [this](const std::string& task, const std::string& fault) {
    busy("", -1);
    if (task == "answer" || task == "bare") figures_->show_live(std::nullopt);
    say(words::fault(QString::fromStdString(fault)));
    trace_.line("fault",
                {{"task", QString::fromStdString(task)}, {"why", QString::fromStdString(fault)}});
  };
  bench_.on_ready = [this] {
    busy("", -1);
    say(words::ready());
    awaited_ = bench_.question() + 1;
    trace_.line("ready");
  };
  bench_.on_bare = [this](const editing::LiveAnswer& bare) {
    chart_->set_bare({bench_.live().freq_hz(), bare.curve_db});
  };
  bench_.on_answer = [this](int question, const editing::LiveAnswer& answer) {
    chart_->set_now({bench_.live().freq_hz(), answer.curve_db});
    figures_->show_live(answer.reduction_db);
    awaited_ = question;
    trace_.line("answer", {{"question", question}, {"reduction_db", answer.reduction_db}});
  };
  bench_.on_modes = [this](const editing::LiveModes& modes) {
    mode_data_ = modes;
    show_modes();
  };
  bench_.on_map = [this](const placement::BenefitMap& map) {
    busy("", -1);
    map_ = map;
    if (ground_ == Ground::benefit) apply_ground();
    trace_.line("map", {{"places", static_cast<int>(map.places.size())}});
  };
  bench_.on_settled = [this](int question, const Settled& settled) {
    busy("", -1);
    settled_ = settled;
    settled_question_ = question;
    chart_->set_settled({settled.freq_hz, settled.layout.curve_db});
    figures_->show_settled(settled);
    if (ground_ == Ground::working) apply_ground();
    trace_.line("settled",
                {{"question", question},
                 {"shown", figures_->shown_record()},
                 {"shown_live", figures_->shown_reduction()},
                 {"shown_mass", figures_->shown_mass()},
                 {"shown_cost", figures_->shown_cost()},
                 {"band_level_db", settled.layout.band_level_db},
                 {"reduction_db", settled.bare.band_level_db - settled.layout.band_level_db}});
  };
  bench_.on_bought = [this](const Bought& bought) { figures_->show_bought(bought); };
}

void MainWindow::trace_view() {
  if (!trace_.on() || !isVisible()) return;
  const panel::FlatMap& flat = loaded_.panel.flat;
  QJsonArray points;
  for (double x = flat.low().x(); x <= flat.low().x() + flat.size().x() + 1e-9; x += kTraceGridM)
    for (double y = flat.low().y(); y <= flat.low().y() + flat.size().y() + 1e-9;
         y += kTraceGridM) {
      const QPointF at = view_->pixel_of({x, y});
      const QPoint corner = view_->mapToGlobal(QPoint(0, 0));
      points.append(QJsonArray{1e3 * x, 1e3 * y, corner.x() + at.x(), corner.y() + at.y()});
    }
  QJsonObject widgets;
  for (QWidget* widget : findChildren<QWidget*>()) {
    if (widget->objectName().isEmpty() || widget->objectName().startsWith("qt_")) continue;
    const QPoint corner = widget->mapToGlobal(QPoint(0, 0));
    widgets.insert(widget->objectName(),
                   QJsonArray{corner.x(), corner.y(), widget->width(), widget->height()});
  }
  trace_.line("view", {{"points", points}, {"widgets", widgets}});
}

/// The frame with the newest curve is on the screen: how long since the hand let go?
void MainWindow::trace_shown() {
  if (!trace_.on() || chart_->painted() == chart_painted_) return;
  chart_painted_ = chart_->painted();
  QJsonObject line{{"question", awaited_}, {"shown", figures_->shown_reduction()}};
  if (released_ms_ >= 0.0 && awaited_ == bench_.question())
    line.insert("since_release_ms", trace_.now_ms() - released_ms_);
  trace_.line("shown", line);
}

void MainWindow::showEvent(QShowEvent* event) {
  QMainWindow::showEvent(event);
  QTimer::singleShot(0, this, [this] {
    view_->look(Look::outside);
    trace_view();
  });
}

}  // namespace calmplate::window
