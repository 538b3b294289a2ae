// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <QGroupBox>
#include <QLabel>
#include <optional>

#include "editing/laid.hpp"
#include "window/bench.hpp"

namespace calmplate::window {

/// What the layout does and takes: dB, kg, money, stock.
class FiguresPanel : public QGroupBox {
 public:
  explicit FiguresPanel(QWidget* parent = nullptr);

  void set_units(const QString& currency, const QString& level_unit);
  void show_figures(const editing::Figures& figures, bool priced);
  /// @param reduction_db  nothing: not known yet
  void show_live(std::optional<double> reduction_db);
  void show_settled(const Settled& settled);
  void show_settling(bool under_way);
  void show_bought(const Bought& bought);

  QString shown_reduction() const { return reduction_->text(); }
  QString shown_record() const { return record_->text(); }
  QString shown_mass() const { return mass_->text(); }
  QString shown_cost() const { return cost_->text(); }

 private:
  QLabel *reduction_, *note_, *record_, *pieces_, *area_, *mass_, *cost_, *stock_, *plan_;
  QString currency_, unit_;
};

}  // namespace calmplate::window
