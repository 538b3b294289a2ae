// SPDX-License-Identifier: GPL-3.0-or-later
#include <QApplication>
#include <QCloseEvent>
#include <QFileDialog>
#include <QInputDialog>
#include <QLabel>
#include <QListWidget>
#include <QMessageBox>
#include <QPushButton>
#include <QSlider>
#include <QWindow>
#include <algorithm>

#include "base/input_error.hpp"
#include "window/dialogs.hpp"
#include "window/main_window.hpp"

/// What a person does to pieces and layouts.
namespace calmplate::window {

void MainWindow::take(const Step& step, const QString& command) {
  if (!hand_.cutting && !hand_.dragging()) view_->unsetCursor();
  if (!step.refusal.empty())
    say(words::cannot(QString::fromStdString(step.refusal)));
  else if (step.changed)
    say_selected();
  if (step.changed && command != "press") {
    pieces_changed(command);
  } else {
    repaint_skin();
    trace_.line("command",
                {{"command", command},
                 {"refusal", QString::fromStdString(step.refusal)},
                 {"selected", hand_.selected()}});
  }
}

void MainWindow::pieces_changed(const QString& command) {
  if (command != "drag" && command != "release") released_ms_ = trace_.now_ms();
  bench_.show(hand_.layout(), bench_.temp_k());
  awaited_ = bench_.question();
  busy("", -1);  // what was being settled is stopped; other work will say so again
  repaint_skin();
  refresh_title();
  refresh_figures();
  QJsonObject line{{"command", command},
                   {"question", bench_.question()},
                   {"selected", hand_.selected()},
                   {"pieces", static_cast<int>(document_.layout(hand_.layout()).pieces.size())}};
  if (const auto piece = document_.piece(hand_.layout(), hand_.selected())) {
    const job::WrittenPiece& written = piece->written;
    line.insert("centre_x_mm", written.centre_mm.x());
    line.insert("centre_y_mm", written.centre_mm.y());
    line.insert("size_x_mm", written.size_mm.x());
    line.insert("size_y_mm", written.size_mm.y());
    line.insert("angle_deg", written.angle_deg);
  }
  trace_.line("command", line);
}

void MainWindow::undo(bool forwards) {
  if (hand_.dragging()) return;
  const std::string name = forwards ? document_.redo_name() : document_.undo_name();
  if (!(forwards ? document_.can_redo() : document_.can_undo())) return;
  if (forwards)
    document_.redo();
  else
    document_.undo();
  refresh_lists();
  if (!document_.piece(hand_.layout(), hand_.selected())) hand_.select(0);
  pieces_changed(forwards ? "redo" : "undo");
  const QString what = QString::fromStdString(name);
  say(forwards ? words::redone(what) : words::undone(what));
}

void MainWindow::lay_where_it_helps() {
  std::vector<Eigen::Vector2d> places;
  if (map_) {
    std::vector<placement::Place> sorted = map_->places;
    std::stable_sort(sorted.begin(), sorted.end(), [](const auto& a, const auto& b) {
      return a.benefit_db > b.benefit_db;
    });
    for (const placement::Place& place : sorted) places.push_back(place.centre);
  }
  // Without a map yet: from the middle outwards.
  if (places.empty()) {
    const panel::FlatMap& flat = loaded_.panel.flat;
    for (double x = 0.05; x < 1.0; x += 0.1)
      for (double y = 0.05; y < 1.0; y += 0.1)
        places.push_back(flat.low() + flat.size().cwiseProduct(Eigen::Vector2d(x, y)));
    const Eigen::Vector2d middle = flat.middle();
    std::stable_sort(places.begin(), places.end(), [&](const auto& a, const auto& b) {
      return (a - middle).norm() < (b - middle).norm();
    });
  }
  take(hand_.lay_at(places), "lay");
}

void MainWindow::to_layout(int number) {
  if (hand_.dragging() || number < 0 ||
      static_cast<std::size_t>(number) >= document_.layouts().size())
    return;
  hand_.set_layout(static_cast<std::size_t>(number));
  layout_id_ = document_.layout(hand_.layout()).id;
  settled_.reset();
  pieces_changed("layout");
  if (document_.layout(hand_.layout()).to_place) say(words::placed_layout_note());
}

void MainWindow::take_layout(const editing::Outcome& outcome, const QString& command, int then) {
  if (!outcome.done()) {
    say(words::cannot(QString::fromStdString(outcome.refusal)));
    return;
  }
  layout_id_ = document_.layout(static_cast<std::size_t>(then)).id;
  refresh_lists();
  settled_.reset();
  pieces_changed(command);
}

void MainWindow::new_layout(bool copy) {
  if (hand_.dragging()) return;
  const int last = static_cast<int>(document_.layouts().size());
  const std::string base =
      copy ? document_.layout(hand_.layout()).name : words::new_layout().toStdString();
  const std::string name = document_.free_name(base);
  take_layout(copy ? document_.duplicate_layout(hand_.layout(), name) : document_.add_layout(name),
              copy ? "duplicate layout" : "new layout",
              last);
}

void MainWindow::rename_layout() {
  if (hand_.dragging()) return;
  QInputDialog dialog(this);
  dialog.setWindowTitle(words::act(Act::layout_rename).word.remove('&').remove("..."));
  dialog.setLabelText(words::layout_name_question());
  dialog.setTextValue(QString::fromStdString(document_.layout(hand_.layout()).name));
  if (ask(dialog) != QDialog::Accepted) return;
  const QString name = dialog.textValue();
  take_layout(document_.rename_layout(hand_.layout(), name.toStdString()),
              "rename layout",
              static_cast<int>(hand_.layout()));
}

void MainWindow::remove_layout() {
  if (hand_.dragging() || document_.layouts().size() < 2) return;
  const int then = std::max(0, static_cast<int>(hand_.layout()) - 1);
  take_layout(document_.remove_layout(hand_.layout()), "delete layout", then);
}

bool MainWindow::save(bool as) {
  if (hand_.dragging()) return false;
  try {
    if (as) {
      QFileDialog dialog(this, words::save_as_title(), "", words::job_files());
      dialog.setAcceptMode(QFileDialog::AcceptSave);
      dialog.setDefaultSuffix("toml");
      dialog.selectFile(QString::fromStdString(text_.file().string()));
      if (ask(dialog) != QDialog::Accepted || dialog.selectedFiles().isEmpty()) return false;
      const QString file = dialog.selectedFiles().front();
      text_.save_as(document_, file.toStdString());
    } else {
      text_.save(document_);
    }
  } catch (const std::exception& e) {
    trace_.line("not saved", {{"why", e.what()}});
    QMessageBox message(QMessageBox::Warning,
                        words::program(),
                        QString::fromStdString(e.what()),
                        QMessageBox::Ok,
                        this);
    ask(message);
    return false;
  }
  refresh_title();
  say(words::saved(QString::fromStdString(text_.file().string())));
  trace_.line("saved", {{"file", QString::fromStdString(text_.file().string())}});
  return true;
}

void MainWindow::set_temperature(int celsius) {
  temperature_word_->setText(words::temperature(celsius));
  settled_.reset();
  temperature_rest_.start();
}

void MainWindow::closeEvent(QCloseEvent* event) {
  if (!document_.changed()) {
    event->accept();
    return;
  }
  QMessageBox question(this);
  question.setWindowTitle(words::program());
  question.setIcon(QMessageBox::Question);
  question.setText(words::save_question(QString::fromStdString(text_.file().filename().string())));
  QPushButton* keep = question.addButton(words::save_button(), QMessageBox::AcceptRole);
  QPushButton* drop = question.addButton(words::discard_button(), QMessageBox::DestructiveRole);
  QPushButton* back = question.addButton(words::cancel_button(), QMessageBox::RejectRole);
  question.setDefaultButton(keep);
  question.setEscapeButton(back);
  QObject::connect(qApp, &QGuiApplication::focusWindowChanged, &question, [&](QWindow* focus) {
    if (focus != nullptr && focus == question.windowHandle()) trace_.line("asks to save");
  });
  ask(question);
  const bool closes =
      question.clickedButton() == drop || (question.clickedButton() == keep && save(false));
  trace_.line(closes ? "closes" : "stays");
  event->setAccepted(closes);
}

}  // namespace calmplate::window
