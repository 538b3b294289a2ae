// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <Eigen/Core>
#include <QPixmap>
#include <QWidget>
#include <optional>

namespace calmplate::window {

/// Level over frequency: bare thin and grey, what lies now thick, what was settled last thin and
/// dark, the band shaded. A cursor reads values off, by mouse or with the arrow keys.
class ResponseChart : public QWidget {
 public:
  struct Curve {
    Eigen::VectorXd freq_hz, level_db;  ///< [n], the same length; empty: none
  };

  explicit ResponseChart(QWidget* parent = nullptr);

  void set_band(double low_hz, double high_hz, const QString& unit);
  void set_bare(Curve curve);
  void set_now(Curve curve);
  void set_settled(Curve curve);
  QSize sizeHint() const override { return {700, 220}; }
  QSize minimumSizeHint() const override { return {320, 150}; }

  /// Counts how often a new curve of set_now has been painted.
  int painted() const { return painted_; }

 protected:
  void paintEvent(QPaintEvent* event) override;
  void mouseMoveEvent(QMouseEvent* event) override;
  void leaveEvent(QEvent* event) override;
  void keyPressEvent(QKeyEvent* event) override;
  void focusOutEvent(QFocusEvent* event) override;

 private:
  QRectF plot() const;
  double x_of(double freq_hz) const;
  double y_of(double level_db) const;
  double freq_at(double x) const;
  void settle_range();
  void draw_axes(QPainter& painter) const;
  void draw_curve(QPainter& painter, const Curve& curve, const QPen& pen) const;
  void draw_legend(QPainter& painter) const;
  void draw_cursor(QPainter& painter) const;
  static std::optional<double> level_at(const Curve& curve, double freq_hz);

  Curve bare_, now_, settled_;
  double band_low_hz_ = 40.0, band_high_hz_ = 250.0;
  double low_hz_ = 35.0, high_hz_ = 280.0;
  double low_db_ = 80.0, high_db_ = 140.0;
  QString unit_;
  std::optional<double> cursor_hz_;
  bool new_curve_ = false;
  int painted_ = 0;
};

}  // namespace calmplate::window
