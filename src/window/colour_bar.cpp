// SPDX-License-Identifier: GPL-3.0-or-later
#include "window/colour_bar.hpp"

#include <QPainter>

namespace calmplate::window {
namespace {

constexpr int kWidth = 180;

}  // namespace

ColourBar::ColourBar(QWidget* parent) : QWidget(parent) {
  setSizePolicy(QSizePolicy::Preferred, QSizePolicy::Fixed);
}

QSize ColourBar::sizeHint() const { return {560, fontMetrics().height() + 6}; }

void ColourBar::show_scale(const QString& meaning,
                           double low,
                           double high,
                           const std::function<QColor(double share)>& colour_of) {
  meaning_ = meaning;
  low_ = low;
  high_ = high;
  colour_of_ = colour_of;
  setAccessibleName(meaning);
  update();
}

void ColourBar::show_nothing() {
  colour_of_ = nullptr;
  setAccessibleName("");
  update();
}

void ColourBar::paintEvent(QPaintEvent*) {
  if (!colour_of_) return;
  QPainter painter(this);
  const int line = fontMetrics().height();
  const QString low = QString::number(low_, 'f', 1), high = QString::number(high_, 'f', 1);
  int x = 4;
  const auto write = [&](const QString& text) {
    painter.drawText(QRect(x, 0, width() - x, height()), Qt::AlignLeft | Qt::AlignVCenter, text);
    x += fontMetrics().horizontalAdvance(text) + line / 2;
  };
  write(low);
  const int top = (height() - line) / 2;
  for (int i = 0; i < kWidth; ++i)
    painter.fillRect(x + i, top, 1, line, colour_of_((i + 0.5) / kWidth));
  painter.drawRect(x, top, kWidth, line);
  x += kWidth + line / 2;
  write(high);
  write(meaning_);
}

}  // namespace calmplate::window
