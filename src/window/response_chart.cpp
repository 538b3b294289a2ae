// SPDX-License-Identifier: GPL-3.0-or-later
#include "window/response_chart.hpp"

#include <QKeyEvent>
#include <QMouseEvent>
#include <QPainter>
#include <algorithm>
#include <cmath>

#include "window/look.hpp"
#include "window/words.hpp"

namespace calmplate::window {
namespace {

constexpr double kBesideBand = 1.12;   // shown below and above the band, as a ratio
constexpr double kDecibelStep = 10.0;  // between lines
constexpr double kRounding = 5.0;      // of the scale's ends
constexpr double kMostDecibels = 70.0;

QColor blend(const QColor& a, const QColor& b, double share) {
  return QColor::fromRgbF(a.redF() + share * (b.redF() - a.redF()),
                          a.greenF() + share * (b.greenF() - a.greenF()),
                          a.blueF() + share * (b.blueF() - a.blueF()));
}

}  // namespace

ResponseChart::ResponseChart(QWidget* parent) : QWidget(parent) {
  setMouseTracking(true);
  setFocusPolicy(Qt::StrongFocus);
  setAttribute(Qt::WA_OpaquePaintEvent);
  setAccessibleName(words::chart_name());
}

void ResponseChart::set_band(double low_hz, double high_hz, const QString& unit) {
  band_low_hz_ = low_hz;
  band_high_hz_ = high_hz;
  low_hz_ = low_hz / kBesideBand;
  high_hz_ = high_hz * kBesideBand;
  unit_ = unit;
  update();
}

void ResponseChart::set_bare(Curve curve) {
  bare_ = std::move(curve);
  settle_range();
  update();
}

void ResponseChart::set_now(Curve curve) {
  now_ = std::move(curve);
  new_curve_ = true;
  update();
}

void ResponseChart::set_settled(Curve curve) {
  settled_ = std::move(curve);
  update();
}

/// The scale follows the bare curve alone: it must not move while a piece is moved.
void ResponseChart::settle_range() {
  if (bare_.level_db.size() == 0) return;
  high_db_ = kRounding * std::ceil((bare_.level_db.maxCoeff() + 2.0) / kRounding);
  low_db_ = kRounding * std::floor((bare_.level_db.minCoeff() - 8.0) / kRounding);
  low_db_ = std::max(low_db_, high_db_ - kMostDecibels);
}

QRectF ResponseChart::plot() const {
  const double line = fontMetrics().height();
  return QRectF(QPointF(4.2 * line, 1.7 * line),
                QPointF(width() - 0.8 * line, height() - 2.6 * line));
}

double ResponseChart::x_of(double freq_hz) const {
  return plot().left() +
         plot().width() * std::log(freq_hz / low_hz_) / std::log(high_hz_ / low_hz_);
}

double ResponseChart::y_of(double level_db) const {
  return plot().bottom() - plot().height() * (level_db - low_db_) / (high_db_ - low_db_);
}

double ResponseChart::freq_at(double x) const {
  const double share = (x - plot().left()) / plot().width();
  return low_hz_ * std::pow(high_hz_ / low_hz_, std::clamp(share, 0.0, 1.0));
}

void ResponseChart::draw_axes(QPainter& painter) const {
  const QRectF area = plot();
  const QColor ink = palette().color(QPalette::Text), paper = palette().color(QPalette::Base);
  painter.fillRect(
      QRectF(QPointF(x_of(band_low_hz_), area.top()), QPointF(x_of(band_high_hz_), area.bottom())),
      blend(paper, QColor(0x2f, 0x6f, 0xb0), 0.10));
  const double line = fontMetrics().height();
  painter.setRenderHint(QPainter::Antialiasing, false);
  for (double db = kDecibelStep * std::ceil(low_db_ / kDecibelStep); db <= high_db_ + 0.5;
       db += kDecibelStep) {
    painter.setPen(blend(paper, ink, 0.18));
    painter.drawLine(QPointF(area.left(), y_of(db)), QPointF(area.right(), y_of(db)));
    painter.setPen(ink);
    painter.drawText(QRectF(0, y_of(db) - line, area.left() - 0.4 * line, 2 * line),
                     Qt::AlignRight | Qt::AlignVCenter,
                     QString::number(db, 'f', 0));
  }
  double last_label = -1e9;
  for (const double decade : {1.0, 10.0, 100.0, 1000.0}) {
    for (const double step : {1.0, 1.5, 2.0, 2.5, 3.0, 4.0, 5.0, 6.0, 7.0, 8.0, 9.0}) {
      const double freq = step * decade;
      if (freq < low_hz_ || freq > high_hz_) continue;
      painter.setPen(blend(paper, ink, 0.18));
      painter.drawLine(QPointF(x_of(freq), area.top()), QPointF(x_of(freq), area.bottom()));
      if (x_of(freq) - last_label < 3.0 * line) continue;
      last_label = x_of(freq);
      painter.setPen(ink);
      painter.drawText(QRectF(x_of(freq) - 3 * line, area.bottom(), 6 * line, 1.2 * line),
                       Qt::AlignCenter,
                       QString::number(freq, 'f', 0));
    }
  }
  painter.setPen(blend(paper, ink, 0.6));
  painter.drawRect(area);
  painter.setPen(ink);
  painter.drawText(QRectF(area.left(), area.bottom() + 1.1 * line, area.width(), 1.3 * line),
                   Qt::AlignCenter,
                   words::chart_frequency());
  painter.save();
  painter.translate(0.9 * line, area.center().y());
  painter.rotate(-90.0);
  painter.drawText(QRectF(-area.height(), -0.7 * line, 2 * area.height(), 1.4 * line),
                   Qt::AlignCenter,
                   words::chart_level(unit_));
  painter.restore();
}

void ResponseChart::draw_curve(QPainter& painter, const Curve& curve, const QPen& pen) const {
  if (curve.freq_hz.size() == 0) return;
  QPolygonF line;
  line.reserve(static_cast<int>(curve.freq_hz.size()));
  for (Eigen::Index i = 0; i < curve.freq_hz.size(); ++i)
    line << QPointF(x_of(curve.freq_hz(i)), y_of(curve.level_db(i)));
  painter.setRenderHint(QPainter::Antialiasing);
  painter.setPen(pen);
  painter.drawPolyline(line);
}

void ResponseChart::draw_legend(QPainter& painter) const {
  const double line = fontMetrics().height();
  double x = plot().left();
  const auto entry = [&](const QPen& pen, const QString& word) {
    painter.setPen(pen);
    painter.drawLine(QPointF(x, 0.9 * line), QPointF(x + 2 * line, 0.9 * line));
    painter.setPen(palette().color(QPalette::Text));
    painter.drawText(QPointF(x + 2.5 * line, 1.2 * line), word);
    x += 4.0 * line + fontMetrics().horizontalAdvance(word);
  };
  entry(look::bare_pen(), words::chart_bare());
  entry(look::now_pen(), words::chart_now());
  if (settled_.freq_hz.size() > 0) entry(look::settled_pen(), words::chart_settled());
}

std::optional<double> ResponseChart::level_at(const Curve& curve, double freq_hz) {
  const Eigen::Index n = curve.freq_hz.size();
  if (n < 2 || freq_hz < curve.freq_hz(0) || freq_hz > curve.freq_hz(n - 1)) return std::nullopt;
  const double* begin = curve.freq_hz.data();
  const Eigen::Index above =
      std::clamp<Eigen::Index>(std::lower_bound(begin, begin + n, freq_hz) - begin, 1, n - 1);
  const double share =
      (freq_hz - curve.freq_hz(above - 1)) / (curve.freq_hz(above) - curve.freq_hz(above - 1));
  return curve.level_db(above - 1) + share * (curve.level_db(above) - curve.level_db(above - 1));
}

void ResponseChart::draw_cursor(QPainter& painter) const {
  if (!cursor_hz_) return;
  const auto bare = level_at(bare_, *cursor_hz_), now = level_at(now_, *cursor_hz_);
  painter.setPen(QPen(palette().color(QPalette::Text), 1.0, Qt::DotLine));
  painter.drawLine(QPointF(x_of(*cursor_hz_), plot().top()),
                   QPointF(x_of(*cursor_hz_), plot().bottom()));
  const QString word = words::chart_reading(*cursor_hz_, bare, now);
  const double line = fontMetrics().height();
  painter.drawText(QRectF(plot().left(), 0.1 * line, plot().width(), 1.5 * line),
                   Qt::AlignRight | Qt::AlignVCenter,
                   word);
}

void ResponseChart::paintEvent(QPaintEvent*) {
  QPainter painter(this);
  painter.fillRect(rect(), palette().color(QPalette::Base));
  draw_axes(painter);
  painter.save();
  painter.setClipRect(plot());
  draw_curve(painter, bare_, look::bare_pen());
  draw_curve(painter, settled_, look::settled_pen());
  draw_curve(painter, now_, look::now_pen());
  painter.restore();
  draw_legend(painter);
  draw_cursor(painter);
  if (hasFocus()) {
    painter.setPen(QPen(palette().color(QPalette::Highlight), 2.0));
    painter.setBrush(Qt::NoBrush);
    painter.drawRect(rect().adjusted(1, 1, -1, -1));
  }
  if (new_curve_) ++painted_;
  new_curve_ = false;
}

void ResponseChart::mouseMoveEvent(QMouseEvent* event) {
  cursor_hz_ = freq_at(event->pos().x());
  update();
}

void ResponseChart::leaveEvent(QEvent*) {
  cursor_hz_.reset();
  update();
}

void ResponseChart::focusOutEvent(QFocusEvent* event) {
  cursor_hz_.reset();
  QWidget::focusOutEvent(event);
}

void ResponseChart::keyPressEvent(QKeyEvent* event) {
  const double by = event->modifiers().testFlag(Qt::ShiftModifier) ? 1.0 : 5.0;
  const double from = cursor_hz_.value_or(band_low_hz_);
  if (event->key() == Qt::Key_Right)
    cursor_hz_ = std::min(from + by, high_hz_);
  else if (event->key() == Qt::Key_Left)
    cursor_hz_ = std::max(from - by, low_hz_);
  else
    return QWidget::keyPressEvent(event);
  setAccessibleDescription(
      words::chart_reading(*cursor_hz_, level_at(bare_, *cursor_hz_), level_at(now_, *cursor_hz_)));
  update();
}

}  // namespace calmplate::window
