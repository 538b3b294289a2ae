// SPDX-License-Identifier: GPL-3.0-or-later
#include <QCheckBox>
#include <QLabel>
#include <QSlider>
#include <QTableWidget>
#include <cmath>
#include <limits>

#include "picture/colour_scale.hpp"
#include "window/colour_bar.hpp"
#include "window/look.hpp"
#include "window/main_window.hpp"

/// The colours of the skin and its motion.
namespace calmplate::window {
namespace {

constexpr double kPi = 3.14159265358979323846;
constexpr int kFramesAround = 36;  // of one turn of the motion
constexpr double kRingFactor =
    2.2;  // ring time = 2.2 / (loss factor x frequency), see docs/theory.md

QColor rising(double share) { return look::screen(picture::ColourScale::sequential().at(share)); }
QColor both_ways(double share) { return look::screen(picture::ColourScale::diverging().at(share)); }

}  // namespace

void MainWindow::to_ground(Ground ground) {
  ground_ = ground;
  if (ground == Ground::mode && modes_->currentRow() < 0 && modes_->rowCount() > 0)
    modes_->setCurrentCell(0, 0);
  apply_ground();
}

void MainWindow::apply_ground() {
  paint_.plain_ground();
  scale_->show_nothing();
  if (ground_ == Ground::benefit) apply_map();
  if (ground_ == Ground::working) apply_working();
  if (ground_ == Ground::mode) apply_mode();
  repaint_skin();
}

void MainWindow::apply_map() {
  if (!map_ || map_->places.empty()) return;
  double low = 0.0, high = 0.1;
  for (const placement::Place& place : map_->places) {
    low = std::min(low, place.benefit_db);
    high = std::max(high, place.benefit_db);
  }
  paint_.ground_field(map_->at_nodes,
                      [low, high](double db) { return rising((db - low) / (high - low)); });
  scale_->show_scale(words::benefit_scale(), low, high, rising);
}

void MainWindow::apply_working() {
  if (!settled_ || settled_->layout.working.size() == 0) {
    say(words::working_waits());
    return;
  }
  const Eigen::VectorXd& working = settled_->layout.working;
  const Eigen::VectorXd& cover = settled_->layout.cover;
  const panel::Triangles& triangles = loaded_.panel.mesh.triangles;
  Eigen::VectorXd sum = Eigen::VectorXd::Zero(loaded_.panel.mesh.nodes.rows()), count = sum;
  for (Eigen::Index t = 0; t < triangles.rows(); ++t) {
    if (cover(t) < 0.5) continue;
    for (int k = 0; k < 3; ++k) {
      sum(triangles(t, k)) += working(t);
      count(triangles(t, k)) += 1.0;
    }
  }
  const double most = std::max(1e-300, (sum.array() / count.array().max(1.0)).maxCoeff());
  Eigen::VectorXd share(sum.size());
  for (Eigen::Index i = 0; i < sum.size(); ++i)
    share(i) = count(i) > 0.0 ? sum(i) / count(i) / most : std::numeric_limits<double>::quiet_NaN();
  paint_.ground_field(share, rising);
  scale_->show_scale(words::working_scale(), 0.0, 1.0, rising);
}

void MainWindow::apply_mode() {
  const int row = modes_->currentRow();
  if (!mode_data_ || row < 0 || row >= mode_data_->shape.cols()) {
    if (!mode_data_) say(words::modes_wait());
    return;
  }
  paint_.ground_field(mode_data_->shape.col(row),
                      [](double value) { return both_ways(0.5 + 0.5 * value); });
  scale_->show_scale(words::mode_scale(mode_data_->freq_hz(row)), -1.0, 1.0, both_ways);
}

void MainWindow::show_modes() {
  filling_lists_ = true;
  const int row = modes_->currentRow();
  const int count = static_cast<int>(mode_data_->freq_hz.size());
  modes_->setRowCount(count);
  for (int m = 0; m < count; ++m) {
    const double freq = mode_data_->freq_hz(m), loss = mode_data_->loss_factor(m);
    const QString cells[3] = {
        QString::number(freq, 'f', 1),
        QString::number(loss, 'f', 3),
        loss > 0.0 ? QString::number(kRingFactor / (loss * freq), 'f', 2) : ""};
    for (int column = 0; column < 3; ++column) {
      auto* item = new QTableWidgetItem(cells[column]);
      item->setTextAlignment(Qt::AlignRight | Qt::AlignVCenter);
      modes_->setItem(m, column, item);
    }
  }
  if (row >= 0 && row < count) modes_->setCurrentCell(row, 0);
  filling_lists_ = false;
  if (ground_ == Ground::mode) apply_ground();
}

void MainWindow::animate(bool on) {
  animate_->setChecked(on);
  if (on) {
    if (ground_ != Ground::mode) to_ground(Ground::mode);
    frames_.start();
    return;
  }
  frames_.stop();
  phase_ = 0.0;
  mesh_.displace({});
  view_->render_soon();
}

void MainWindow::next_frame() {
  const int row = modes_->currentRow();
  if (!mode_data_ || row < 0 || row >= mode_data_->shape.cols()) return;
  phase_ += 2.0 * kPi / kFramesAround;
  const double by_m = 1e-3 * amplitude_->value() * std::sin(phase_);
  mesh_.displace(by_m * mode_data_->shape.col(row));
  view_->render_soon();
}

}  // namespace calmplate::window
