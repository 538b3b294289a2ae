// SPDX-License-Identifier: GPL-3.0-or-later
#include "window/figures_panel.hpp"

#include <QFormLayout>
#include <QVBoxLayout>

#include "window/words.hpp"

namespace calmplate::window {

FiguresPanel::FiguresPanel(QWidget* parent) : QGroupBox(words::figures_name(), parent) {
  const auto label = [this](const QString& name) {
    auto* made = new QLabel(this);
    made->setAccessibleName(name);
    made->setTextInteractionFlags(Qt::TextSelectableByMouse);
    made->setWordWrap(true);
    return made;
  };
  reduction_ = label(words::live_note());
  note_ = label(words::live_note());
  record_ = label(words::not_settled_note());
  pieces_ = label(words::pieces_row());
  area_ = label(words::area_row());
  mass_ = label(words::mass_row());
  cost_ = label(words::cost_row());
  stock_ = label(words::stock_row());
  plan_ = label(words::stock_row());
  QFont large = font();
  large.setPointSizeF(2.2 * large.pointSizeF());
  large.setBold(true);
  reduction_->setFont(large);
  reduction_->setText(words::reduction_waits());
  reduction_->setObjectName("reduction");
  note_->setText(words::live_note());
  record_->setText(words::not_settled_note());
  auto* rows = new QFormLayout;
  rows->setHorizontalSpacing(10);
  rows->setVerticalSpacing(3);
  rows->addRow(words::pieces_row(), pieces_);
  rows->addRow(words::area_row(), area_);
  rows->addRow(words::mass_row(), mass_);
  rows->addRow(words::cost_row(), cost_);
  auto* column = new QVBoxLayout(this);
  column->setSpacing(3);
  column->addWidget(reduction_);
  column->addWidget(note_);
  column->addWidget(record_);
  column->addLayout(rows);
  column->addWidget(stock_);
  column->addWidget(plan_);
}

void FiguresPanel::set_units(const QString& currency, const QString& level_unit) {
  currency_ = currency;
  unit_ = level_unit;
}

void FiguresPanel::show_figures(const editing::Figures& figures, bool priced) {
  pieces_->setText(QString::number(figures.pieces));
  area_->setText(words::area(figures.area_m2, figures.share));
  mass_->setText(words::mass(figures.mass_kg));
  cost_->setText(priced ? words::cost(figures.cost, currency_) : words::no_price());
  QStringList lines;
  for (const editing::StockCount& count : figures.stock)
    if (count.sheets > 0.0)
      lines << words::stock(QString::fromStdString(count.sheet), count.sheets, count.whole_sheets);
  stock_->setText(lines.join("\n"));
  plan_->clear();
}

void FiguresPanel::show_live(std::optional<double> reduction_db) {
  reduction_->setText(reduction_db ? words::reduction_live(*reduction_db)
                                   : words::reduction_waits());
}

void FiguresPanel::show_settling(bool under_way) {
  record_->setText(under_way ? words::settling_note() : words::not_settled_note());
}

void FiguresPanel::show_settled(const Settled& settled) {
  record_->setText(words::settled_note(settled.bare.band_level_db - settled.layout.band_level_db,
                                       settled.layout.band_level_db,
                                       unit_));
}

void FiguresPanel::show_bought(const Bought& bought) {
  if (!bought.fault.empty())
    plan_->setText(QString::fromStdString(bought.fault));
  else if (bought.plan.bought > 0)
    plan_->setText(
        words::stock_plan(bought.plan.bought, bought.plan.cost, currency_, bought.plan.proven));
}

}  // namespace calmplate::window
