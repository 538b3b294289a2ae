// SPDX-License-Identifier: GPL-3.0-or-later
#include "window/skin_paint.hpp"

#include <QFont>
#include <QFontMetricsF>
#include <QPainter>
#include <QPainterPath>
#include <algorithm>
#include <cmath>

#include "window/words.hpp"

namespace calmplate::window {
namespace {

constexpr double kMostPixels = 1.1e6;  // of the texture: more takes longer than a screen frame
const QColor kSkin(0xd6, 0xd8, 0xda);
const QColor kInk(0x1c, 0x22, 0x28);
const QColor kSelected(0xb4, 0x3c, 0x00);
const QColor kRefused(0xc0, 0x00, 0x20);
const QColor kKeepOut(0x7a, 0x1f, 0x3d);

/// Signed area of a screen triangle, twice.
double twice_area(const QPointF& a, const QPointF& b, const QPointF& c) {
  return (b.x() - a.x()) * (c.y() - a.y()) - (b.y() - a.y()) * (c.x() - a.x());
}

}  // namespace

SkinPaint::SkinPaint(const panel::Panel& panel,
                     const job::Job& job,
                     const Eigen::Vector2d& low,
                     const Eigen::Vector2d& size)
    : panel_(panel), job_(job), low_(low), size_(size) {
  px_per_m_ = std::sqrt(kMostPixels / (size.x() * size.y()));
  const QSize pixels(static_cast<int>(std::ceil(size.x() * px_per_m_)),
                     static_cast<int>(std::ceil(size.y() * px_per_m_)));
  field_ = QImage(pixels, QImage::Format_RGBA8888_Premultiplied);
  image_ = QImage(pixels, QImage::Format_RGBA8888_Premultiplied);
  plain_ground();
}

QPointF SkinPaint::place(const Eigen::Vector2d& flat) const {
  return {(flat.x() - low_.x()) / size_.x() * field_.width(),
          (low_.y() + size_.y() - flat.y()) / size_.y() * field_.height()};
}

QPolygonF SkinPaint::polygon(const panel::Polygon& outline) const {
  QPolygonF points;
  for (Eigen::Index i = 0; i < outline.rows(); ++i) points << place(outline.row(i).transpose());
  return points;
}

void SkinPaint::plain_ground() {
  field_.fill(kSkin);
  draw_ground_marks();
}

void SkinPaint::show_keep_outs(bool on) {
  keep_outs_ = on;
  draw_ground_marks();
}

void SkinPaint::mirror_words(bool on) {
  if (on == mirrored_) return;
  mirrored_ = on;
  draw_ground_marks();
}

void SkinPaint::ground_field(const Eigen::VectorXd& at_nodes,
                             const std::function<QColor(double)>& colour_of) {
  field_.fill(kSkin);
  const panel::FlatPoints& flat = panel_.flat.points();
  for (Eigen::Index t = 0; t < panel_.mesh.triangles.rows(); ++t) {
    QPointF corner[3];
    double value[3];
    for (int k = 0; k < 3; ++k) {
      const int node = panel_.mesh.triangles(t, k);
      corner[k] = place(flat.row(node).transpose());
      value[k] = at_nodes(node);
    }
    if (!std::isfinite(value[0] + value[1] + value[2])) continue;
    const double whole = twice_area(corner[0], corner[1], corner[2]);
    if (whole == 0.0) continue;
    const auto [left, right] = std::minmax({corner[0].x(), corner[1].x(), corner[2].x()});
    const auto [top, bottom] = std::minmax({corner[0].y(), corner[1].y(), corner[2].y()});
    for (int j = std::max(0, int(top)); j <= std::min(field_.height() - 1, int(bottom)); ++j) {
      auto* row = reinterpret_cast<quint32*>(field_.scanLine(j));
      for (int i = std::max(0, int(left)); i <= std::min(field_.width() - 1, int(right)); ++i) {
        const QPointF at(i + 0.5, j + 0.5);
        const double a = twice_area(at, corner[1], corner[2]) / whole;
        const double b = twice_area(at, corner[2], corner[0]) / whole;
        if (a < -1e-3 || b < -1e-3 || a + b > 1.001) continue;
        const QColor colour = colour_of(a * value[0] + b * value[1] + (1.0 - a - b) * value[2]);
        row[i] = 0xff000000u | quint32(colour.blue()) << 16 | quint32(colour.green()) << 8 |
                 quint32(colour.red());
      }
    }
  }
  draw_ground_marks();
}

void SkinPaint::draw_word(QPainter& painter,
                          const QPointF& at,
                          const QString& word,
                          const QFont& font) const {
  const QFontMetricsF metrics(font);
  QPainterPath path;
  path.addText(-0.5 * metrics.horizontalAdvance(word), 0.35 * metrics.ascent(), font, word);
  painter.save();
  painter.translate(at);
  if (mirrored_) painter.scale(-1.0, 1.0);
  painter.setPen(QPen(QColor(255, 255, 255, 210), 5.0, Qt::SolidLine, Qt::RoundCap, Qt::RoundJoin));
  painter.drawPath(path);
  painter.setPen(Qt::NoPen);
  painter.setBrush(kInk);
  painter.drawPath(path);
  painter.restore();
}

void SkinPaint::draw_point(QPainter& painter,
                           const Eigen::Vector2d& at,
                           const QString& name) const {
  const double r = 0.007 * px_per_m_;
  const QPointF middle = place(at);
  painter.setPen(QPen(kInk, 2.5));
  painter.setBrush(QColor(255, 255, 255, 220));
  painter.drawEllipse(middle, r, r);
  painter.drawLine(middle - QPointF(r, 0), middle + QPointF(r, 0));
  painter.drawLine(middle - QPointF(0, r), middle + QPointF(0, r));
  QFont font;
  font.setPixelSize(std::max(10, int(0.017 * px_per_m_)));
  if (!name.isEmpty()) draw_word(painter, middle + QPointF(0, 2.6 * r), name, font);
}

void SkinPaint::draw_ground_marks() {
  ground_ = field_;
  QPainter painter(&ground_);
  painter.setRenderHint(QPainter::Antialiasing);
  for (const panel::RimPart& part : panel_.rim) {
    QPolygonF line;
    for (const int node : part.nodes) line << place(panel_.flat.points().row(node).transpose());
    painter.setPen(QPen(kInk, part.hole ? 4.0 : 6.0));
    painter.drawPolyline(line);
  }
  QFont font;
  font.setPixelSize(std::max(10, int(0.018 * px_per_m_)));
  if (keep_outs_) {
    for (const job::KeepOut& zone : job_.keep_outs) {
      const QPolygonF outline = polygon(zone.outline);
      painter.setPen(QPen(kKeepOut, 2.5, Qt::DashLine));
      painter.setBrush(QBrush(kKeepOut, Qt::BDiagPattern));
      painter.drawPolygon(outline);
      draw_word(painter, outline.boundingRect().center(), QString::fromStdString(zone.name), font);
    }
  }
}

void SkinPaint::draw_piece(QPainter& painter, const PaintedPiece& piece, double px) const {
  const double scale = px * px_per_m_;  // texture pixels to a pixel of the screen
  QPainterPath path;
  for (const panel::Polygon& outline : piece.outlines) {
    path.addPolygon(polygon(outline));
    path.closeSubpath();
  }
  QColor fill = piece.fill;
  fill.setAlpha(piece.see_through ? 0 : 205);
  const QColor edge = piece.refused ? kRefused : piece.selected ? kSelected : kInk;
  QPen pen(edge, (piece.selected || piece.refused ? 3.0 : 1.6) * scale);
  if (piece.outer) pen.setStyle(Qt::DotLine);
  painter.setPen(pen);
  painter.setBrush(fill);
  painter.drawPath(path);
  if (piece.refused) {
    painter.setPen(Qt::NoPen);
    painter.setBrush(QBrush(kRefused, Qt::DiagCrossPattern));
    painter.drawPath(path);
  }
  if (piece.number <= 0) return;
  const QRectF box = path.boundingRect();
  QFont font;
  font.setBold(true);
  font.setPixelSize(
      std::max(12, int(std::min(0.035 * px_per_m_, 0.6 * std::min(box.width(), box.height())))));
  draw_word(painter, box.center(), QString::number(piece.number), font);
}

void SkinPaint::draw_marks(QPainter& painter, const PaintedMarks& marks, double px) const {
  const double scale = px * px_per_m_;
  painter.setPen(QPen(Qt::white, 1.2 * scale));
  painter.setBrush(kSelected);
  if (marks.turning_handle && marks.turning_from) {
    painter.setPen(QPen(kSelected, 1.8 * scale));
    painter.drawLine(place(*marks.turning_from), place(*marks.turning_handle));
    painter.setPen(QPen(Qt::white, 1.2 * scale));
    painter.drawEllipse(place(*marks.turning_handle), 6.5 * scale, 6.5 * scale);
  }
  const double half = 4.5 * scale;
  for (const Eigen::Vector2d& handle : marks.handles) {
    const QPointF at = place(handle);
    painter.drawRect(QRectF(at.x() - half, at.y() - half, 2 * half, 2 * half));
  }
  if (marks.cut) {
    painter.setPen(QPen(kRefused, 2.5 * scale, Qt::DashLine));
    painter.drawLine(place(marks.cut->first), place(marks.cut->second));
  }
  if (!marks.label.isEmpty()) {
    QFont font;
    font.setPixelSize(std::max(9, int(14 * scale)));
    draw_word(painter, place(marks.label_at), marks.label, font);
  }
}

void SkinPaint::paint(const std::vector<PaintedPiece>& pieces,
                      const PaintedMarks& marks,
                      double m_per_px) {
  std::copy_n(ground_.constBits(), ground_.sizeInBytes(), image_.bits());
  QPainter painter(&image_);
  painter.setRenderHint(QPainter::Antialiasing);
  for (const PaintedPiece& piece : pieces) draw_piece(painter, piece, m_per_px);
  if (job_.drive.kind == drive::Kind::force || job_.drive.kind == drive::Kind::tap)
    draw_point(painter, job_.drive.at, words::drive_point());
  for (const job::ListenPoint& point : job_.listen_at)
    draw_point(painter, point.at, QString::fromStdString(point.name));
  draw_marks(painter, marks, m_per_px);
}

}  // namespace calmplate::window
