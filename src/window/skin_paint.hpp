// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <Eigen/Core>
#include <QColor>
#include <QImage>
#include <QString>
#include <functional>
#include <optional>
#include <vector>

#include "job/job.hpp"
#include "panel/panel.hpp"

namespace calmplate::window {

/// One piece as it is painted.
struct PaintedPiece {
  std::vector<panel::Polygon> outlines;  ///< m on the flat map
  QColor fill;
  int number = 0;
  bool outer = false;
  bool selected = false;
  bool refused = false;      ///< cannot stay as it is drawn
  bool see_through = false;  ///< the skin's own colours are what counts
};

/// What lies over the pieces while something is being done.
struct PaintedMarks {
  std::vector<Eigen::Vector2d> handles;           ///< corners that resize, m on the flat map
  std::optional<Eigen::Vector2d> turning_handle;  ///< that turns the piece
  std::optional<Eigen::Vector2d> turning_from;    ///< where its stalk begins
  std::optional<std::pair<Eigen::Vector2d, Eigen::Vector2d>> cut;
  QString label;  ///< such as the size while a piece is drawn
  Eigen::Vector2d label_at = Eigen::Vector2d::Zero();
};

/// Paints the skin's texture: a ground that rarely changes, and pieces with marks on top.
class SkinPaint {
 public:
  /// @param low, size  of the texture on the flat map, m
  SkinPaint(const panel::Panel& panel,
            const job::Job& job,
            const Eigen::Vector2d& low,
            const Eigen::Vector2d& size);

  /// Colours the ground by a value at each node. [n_node]; where it is NaN the skin stays plain.
  void ground_field(const Eigen::VectorXd& at_nodes,
                    const std::function<QColor(double)>& colour_of);
  void plain_ground();
  void show_keep_outs(bool on);
  /// Seen from inside, words are painted the other way round, so that they can be read.
  void mirror_words(bool on);

  /// @param m_per_px  of the screen: marks keep their size when the view comes nearer
  void paint(const std::vector<PaintedPiece>& pieces, const PaintedMarks& marks, double m_per_px);

  /// RGBA, first row at the top of the flat map.
  const QImage& image() const { return image_; }

 private:
  QPointF place(const Eigen::Vector2d& flat) const;
  QPolygonF polygon(const panel::Polygon& outline) const;
  void draw_ground_marks();
  void draw_word(QPainter& painter,
                 const QPointF& at,
                 const QString& word,
                 const QFont& font) const;
  void draw_piece(QPainter& painter, const PaintedPiece& piece, double px) const;
  void draw_marks(QPainter& painter, const PaintedMarks& marks, double px) const;
  void draw_point(QPainter& painter, const Eigen::Vector2d& at, const QString& name) const;

  const panel::Panel& panel_;
  const job::Job& job_;
  Eigen::Vector2d low_, size_;
  double px_per_m_ = 1.0;
  bool keep_outs_ = true, mirrored_ = false;
  QImage field_;   ///< the skin's colours alone
  QImage ground_;  ///< with keep-outs, points and rim
  QImage image_;
};

}  // namespace calmplate::window
