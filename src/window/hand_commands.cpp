// SPDX-License-Identifier: GPL-3.0-or-later
#include <cmath>
#include <cstdio>

#include "window/hand.hpp"

/// The single commands of a hand, and what is drawn of it.
namespace calmplate::window {
namespace {

constexpr double kPi = 3.14159265358979323846;

Eigen::Vector2d turned(const Eigen::Vector2d& v, double deg) {
  const double a = deg * kPi / 180.0;
  return {std::cos(a) * v.x() - std::sin(a) * v.y(), std::sin(a) * v.x() + std::cos(a) * v.y()};
}

std::string words(const char* form, double a, double b) {
  char text[80];
  std::snprintf(text, sizeof text, form, a, b);
  return text;
}

}  // namespace

Step Hand::nudge(const Eigen::Vector2d& by) {
  if (!selected_piece()) return {};
  return done(document_.move(layout_, selected_, by));
}

Step Hand::turn(double by_deg) {
  if (!selected_piece()) return {};
  return done(document_.turn(layout_, selected_, by_deg));
}

Step Hand::grow(const Eigen::Vector2d& by) {
  const auto piece = selected_piece();
  if (!piece) return {};
  const Eigen::Vector2d size = 1e-3 * piece->written.size_mm + by;
  if (piece->written.shape == job::Shape::rectangle && size.minCoeff() <= 0.0) return {};
  const Eigen::Vector2d centre =
      1e-3 * piece->written.centre_mm + turned(0.5 * by, piece->written.angle_deg);
  const Step step = done(document_.resize(layout_, selected_, centre, size));
  if (step.changed) last_size_ = size;
  return step;
}

Step Hand::cut_through(bool along) {
  const auto piece = selected_piece();
  if (!piece || piece->outlines.empty()) return {};
  const panel::Polygon& outline = piece->outlines.front();
  Eigen::Vector2d middle = 0.5 * (outline.colwise().minCoeff() + outline.colwise().maxCoeff());
  Eigen::Vector2d size = outline.colwise().maxCoeff() - outline.colwise().minCoeff();
  double angle = 0.0;
  if (piece->written.shape == job::Shape::rectangle) {
    middle = 1e-3 * piece->written.centre_mm;
    size = 1e-3 * piece->written.size_mm;
    angle = piece->written.angle_deg;
  }
  const bool wide = size.x() >= size.y();
  const Eigen::Vector2d line = turned(
      wide == along ? Eigen::Vector2d(size.x(), 0.0) : Eigen::Vector2d(0.0, size.y()), angle);
  return done(document_.cut(layout_, selected_, middle - line, middle + line));
}

Step Hand::remove() {
  if (!selected_piece()) return {};
  const int id = selected_;
  select_next(true);
  const Step step = done(document_.remove(layout_, id));
  if (!step.changed) selected_ = id;
  return step;
}

Step Hand::change_sheets(const std::vector<std::string>& names) {
  if (!selected_piece()) return {};
  return done(document_.change_sheets(layout_, selected_, names));
}

Step Hand::change_face() {
  const auto piece = selected_piece();
  if (!piece) return {};
  const bool inner = piece->written.face == job::Face::inner;
  return done(
      document_.change_face(layout_, selected_, inner ? job::Face::outer : job::Face::inner));
}

Step Hand::lay_at(const std::vector<Eigen::Vector2d>& places) {
  Step step;
  for (const Eigen::Vector2d& place : places) {
    const Eigen::Vector2d corner = snapped(place - 0.5 * last_size_);
    step = done(document_.lay(layout_, corner, corner + last_size_, sheets, face));
    if (step.changed) return step;
  }
  return step;
}

std::vector<Eigen::Vector2d> Hand::corners() const {
  const auto piece = selected_piece();
  if (!piece || piece->written.shape != job::Shape::rectangle) return {};
  std::vector<Eigen::Vector2d> corner;
  const Eigen::Vector2d half = 0.5e-3 * piece->written.size_mm;
  for (const auto& [x, y] :
       {std::pair(-1, -1), std::pair(1, -1), std::pair(1, 1), std::pair(-1, 1)})
    corner.push_back(1e-3 * piece->written.centre_mm +
                     turned({x * half.x(), y * half.y()}, piece->written.angle_deg));
  return corner;
}

std::optional<Eigen::Vector2d> Hand::turning_handle(double stalk_m) const {
  const auto piece = selected_piece();
  if (!piece || piece->written.shape != job::Shape::rectangle) return std::nullopt;
  return 1e-3 * piece->written.centre_mm +
         turned({0.0, 0.5e-3 * piece->written.size_mm.y() + stalk_m}, piece->written.angle_deg);
}

std::optional<std::pair<Eigen::Vector2d, Eigen::Vector2d>> Hand::cut_line() const {
  if (grip_ != Grip::cut) return std::nullopt;
  return std::pair(start_, last_);
}

Eigen::Vector2d Hand::label_at(double reach_m) const {
  if (grip_ == Grip::move) {
    if (const auto piece = selected_piece(); piece && !piece->outlines.empty()) {
      const panel::Polygon& outline = piece->outlines.front();
      return {0.5 * (outline.col(0).minCoeff() + outline.col(0).maxCoeff()),
              outline.col(1).minCoeff() - 1.5 * reach_m};
    }
  }
  return last_ + Eigen::Vector2d(0.0, 2.5 * reach_m);
}

std::string Hand::label() const {
  const auto piece = selected_piece();
  if (grip_ == Grip::lay && (!piece || ghost_)) {
    const Eigen::Vector2d size = 1e3 * (snapped(last_) - start_).cwiseAbs();
    return words("%.0f x %.0f mm", size.x(), size.y());
  }
  if (!piece) return "";
  const job::WrittenPiece& written = piece->written;
  if (grip_ == Grip::lay || grip_ == Grip::resize)
    return words("%.0f x %.0f mm", written.size_mm.x(), written.size_mm.y());
  if (grip_ == Grip::move && written.shape == job::Shape::rectangle)
    return words("centre (%.0f, %.0f) mm", written.centre_mm.x(), written.centre_mm.y());
  if (grip_ == Grip::turn) return words("%.1f degrees", written.angle_deg, 0.0);
  return "";
}

}  // namespace calmplate::window
