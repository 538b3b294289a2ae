// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <QWidget>
#include <functional>

namespace calmplate::window {

/// Scale of the skin's colours, with its ends and what it means. Nothing to show: it hides itself.
class ColourBar : public QWidget {
 public:
  explicit ColourBar(QWidget* parent = nullptr);

  void show_scale(const QString& meaning,
                  double low,
                  double high,
                  const std::function<QColor(double share)>& colour_of);
  void show_nothing();
  QSize sizeHint() const override;

 protected:
  void paintEvent(QPaintEvent* event) override;

 private:
  QString meaning_;
  double low_ = 0.0, high_ = 1.0;
  std::function<QColor(double)> colour_of_;
};

}  // namespace calmplate::window
