// SPDX-License-Identifier: GPL-3.0-or-later
#include <QCheckBox>
#include <QComboBox>
#include <QKeyEvent>
#include <QListWidget>
#include <QMenuBar>
#include <QSlider>
#include <QTableWidget>
#include <QToolBar>

#include "window/help_card.hpp"
#include "window/main_window.hpp"

/// Menus, tools and keys.
namespace calmplate::window {
namespace {

constexpr double kStep = 0.005, kSmallStep = 0.001;  // m
constexpr double kTurnView = 6.0;                    // degrees
constexpr double kShiftView = 40.0;                  // pixels

/// Keys that mean something else in a list or a field work in the view alone.
bool works_everywhere(const QString& keys) {
  return keys.startsWith("Ctrl") || keys.startsWith("F1") || keys.startsWith("F2") ||
         keys.startsWith("Shift+F1");
}

void step_list(QListWidget* list, int by) {
  const int row = list->currentRow() + by;
  if (row >= 0 && row < list->count()) list->setCurrentRow(row);
}

}  // namespace

QAction* MainWindow::add_action(QMenu* menu,
                                Act which,
                                const std::function<void()>& does,
                                bool ticks) {
  const words::ActWord word = words::act(which);
  QAction* action = menu->addAction(word.word);
  action->setShortcuts(QKeySequence::listFromString(word.keys));
  action->setCheckable(ticks);
  if (!works_everywhere(word.keys)) {
    action->setShortcutContext(Qt::WidgetShortcut);
    view_->addAction(action);
  }
  if (ticks)
    QObject::connect(action, &QAction::toggled, this, [does] { does(); });
  else
    QObject::connect(action, &QAction::triggered, this, [does] { does(); });
  actions_[which] = action;
  return action;
}

void MainWindow::make_menus() {
  const auto menu = [this](words::Menu which) { return menuBar()->addMenu(words::menu(which)); };
  QMenu* file = menu(words::Menu::file);
  add_action(file, Act::save, [this] { save(false); });
  add_action(file, Act::save_as, [this] { save(true); });
  file->addSeparator();
  add_action(file, Act::close, [this] { close(); });

  QMenu* edit = menu(words::Menu::edit);
  add_action(edit, Act::undo, [this] { undo(false); });
  add_action(edit, Act::redo, [this] { undo(true); });

  QMenu* piece = menu(words::Menu::piece);
  add_action(piece, Act::lay_best, [this] { lay_where_it_helps(); });
  add_action(piece, Act::remove, [this] { take(hand_.remove(), "delete"); });
  piece->addSeparator();
  add_action(piece, Act::turn, [this] { take(hand_.turn(15.0), "turn"); });
  add_action(piece, Act::turn_little, [this] { take(hand_.turn(1.0), "turn"); });
  add_action(piece, Act::turn_back, [this] { take(hand_.turn(-15.0), "turn"); });
  add_action(piece, Act::turn_back_little, [this] { take(hand_.turn(-1.0), "turn"); });
  piece->addSeparator();
  add_action(piece, Act::cut_tool, [this] {
    hand_.cutting = true;
    view_->setCursor(Qt::CrossCursor);
    say(words::cut_tool());
  });
  add_action(piece, Act::cut_across, [this] { take(hand_.cut_through(false), "cut"); });
  add_action(piece, Act::cut_along, [this] { take(hand_.cut_through(true), "cut"); });
  piece->addSeparator();
  add_action(piece, Act::other_face, [this] { take(hand_.change_face(), "face"); });
  add_action(piece, Act::use_sheet, [this] { take(hand_.change_sheets(hand_.sheets), "sheet"); });
  piece->addSeparator();
  add_action(piece, Act::sheet_next, [this] { step_list(sheets_, 1); });
  add_action(piece, Act::sheet_before, [this] { step_list(sheets_, -1); });
  add_action(
      piece, Act::inner_outer, [this] { face_->setCurrentIndex(1 - face_->currentIndex()); });
  QAction* snap = add_action(
      piece,
      Act::snap,
      [this] {
        hand_.snapping = actions_.at(Act::snap)->isChecked();
        say(words::snapping(hand_.snapping));
      },
      true);
  snap->blockSignals(true);
  snap->setChecked(true);
  snap->blockSignals(false);

  QMenu* layout = menu(words::Menu::layout);
  add_action(layout, Act::layout_next, [this] { step_list(layouts_, 1); });
  add_action(layout, Act::layout_before, [this] { step_list(layouts_, -1); });
  layout->addSeparator();
  add_action(layout, Act::layout_new, [this] { new_layout(false); });
  add_action(layout, Act::layout_copy, [this] { new_layout(true); });
  add_action(layout, Act::layout_rename, [this] { rename_layout(); });
  add_action(layout, Act::layout_remove, [this] { remove_layout(); });

  QMenu* view = menu(words::Menu::view);
  add_action(view, Act::look_outside, [this] { view_->look(Look::outside); });
  add_action(view, Act::look_inside, [this] { view_->look(Look::inside); });
  add_action(view, Act::look_outside_aslant, [this] { view_->look(Look::outside_aslant); });
  add_action(view, Act::look_inside_aslant, [this] { view_->look(Look::inside_aslant); });
  add_action(view, Act::zoom_in, [this] { view_->zoom(1.15); });
  add_action(view, Act::zoom_out, [this] { view_->zoom(1.0 / 1.15); });
  view->addSeparator();
  add_action(view, Act::colour_plain, [this] { to_ground(Ground::plain); });
  add_action(view, Act::colour_benefit, [this] { to_ground(Ground::benefit); });
  add_action(view, Act::colour_working, [this] { to_ground(Ground::working); });
  add_action(view, Act::colour_mode, [this] { to_ground(Ground::mode); });
  view->addSeparator();
  add_action(
      view,
      Act::on_layout,
      [this] {
        const int row = sheets_->currentRow();
        if (row < 0) return;
        bench_.show_map(loaded_.job.sheets[static_cast<std::size_t>(row)].name,
                        actions_.at(Act::on_layout)->isChecked());
      },
      true);
  QAction* keep_outs = add_action(
      view,
      Act::keep_outs,
      [this] {
        paint_.show_keep_outs(actions_.at(Act::keep_outs)->isChecked());
        repaint_skin();
      },
      true);
  keep_outs->blockSignals(true);
  keep_outs->setChecked(true);
  keep_outs->blockSignals(false);
  add_action(view, Act::warmer, [this] { temperature_->setValue(temperature_->value() + 5); });
  add_action(view, Act::colder, [this] { temperature_->setValue(temperature_->value() - 5); });

  QMenu* modes = menu(words::Menu::modes);
  const auto step_mode = [this](int by) {
    const int row = modes_->currentRow() + by;
    if (row >= 0 && row < modes_->rowCount()) modes_->setCurrentCell(row, 0);
  };
  add_action(modes, Act::mode_next, [step_mode] { step_mode(1); });
  add_action(modes, Act::mode_before, [step_mode] { step_mode(-1); });
  add_action(
      modes, Act::animate, [this] { animate(actions_.at(Act::animate)->isChecked()); }, true);

  QMenu* help = menu(words::Menu::help);
  add_action(help, Act::help, [this] { show_help_card(this); });
  add_action(help, Act::cautions, [this] { show_cautions(this); });
}

void MainWindow::make_tools() {
  QToolBar* tools = addToolBar(words::menu(words::Menu::piece).remove('&'));
  tools->setMovable(false);
  tools->setToolButtonStyle(Qt::ToolButtonTextOnly);
  const auto group = [&](std::initializer_list<Act> acts) {
    for (const Act which : acts) {
      QAction* action = actions_.at(which);
      action->setIconText(words::tool(which));
      const words::ActWord word = words::act(which);
      action->setToolTip(QString(word.word).remove('&') + " (" + word.keys + ")");
      tools->addAction(action);
    }
    tools->addSeparator();
  };
  group({Act::undo, Act::redo});
  group({Act::lay_best, Act::cut_tool, Act::turn, Act::remove});
  group({Act::colour_plain, Act::colour_benefit, Act::colour_working, Act::colour_mode});
  group({Act::look_outside, Act::look_inside, Act::help});
}

bool MainWindow::arrow(double right, double up, Qt::KeyboardModifiers held) {
  const bool shift = held.testFlag(Qt::ShiftModifier), alt = held.testFlag(Qt::AltModifier);
  if (hand_.selected() == 0) {
    if (shift)
      view_->pan(kShiftView * right, kShiftView * up);
    else
      view_->turn(kTurnView * right, kTurnView * up);
    return true;
  }
  const double step = shift ? kSmallStep : kStep;
  if (alt) {
    take(hand_.grow(Eigen::Vector2d(step * right, step * up)), "resize");
    return true;
  }
  // To the right is to the right on the screen, also from inside.
  const double x = view_->from_inside() ? -right : right;
  take(hand_.nudge(Eigen::Vector2d(step * x, step * up)), "move");
  return true;
}

bool MainWindow::key_in_view(QKeyEvent* event) {
  switch (event->key()) {
    case Qt::Key_Left:
      return arrow(-1.0, 0.0, event->modifiers());
    case Qt::Key_Right:
      return arrow(1.0, 0.0, event->modifiers());
    case Qt::Key_Up:
      return arrow(0.0, 1.0, event->modifiers());
    case Qt::Key_Down:
      return arrow(0.0, -1.0, event->modifiers());
    case Qt::Key_Escape:
      if (hand_.dragging()) {
        take(hand_.cancel(), "cancel");
      } else if (hand_.cutting) {
        hand_.cutting = false;
        say("");
      } else {
        hand_.select(0);
        say_selected();
      }
      view_->unsetCursor();
      repaint_skin();
      return true;
    default:
      return false;
  }
}

}  // namespace calmplate::window
