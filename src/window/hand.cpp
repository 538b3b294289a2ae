// SPDX-License-Identifier: GPL-3.0-or-later
#include "window/hand.hpp"

#include <algorithm>
#include <cmath>

namespace calmplate::window {
namespace {

constexpr double kPi = 3.14159265358979323846;
constexpr double kGrid = 0.005;  // m
constexpr double kGridDegrees = 5.0;
constexpr double kSmallest = 0.010;  // m: a shorter side is a slip of the hand

double to_deg(double rad) { return rad * 180.0 / kPi; }

Eigen::Vector2d turned(const Eigen::Vector2d& v, double deg) {
  const double a = deg * kPi / 180.0;
  return {std::cos(a) * v.x() - std::sin(a) * v.y(), std::sin(a) * v.x() + std::cos(a) * v.y()};
}

bool is_rectangle(const job::WrittenPiece& piece) { return piece.shape == job::Shape::rectangle; }

/// The point by which a piece is moved.
Eigen::Vector2d place_of(const job::WrittenPiece& piece) {
  if (piece.shape == job::Shape::polygon) return 1e-3 * piece.outline_mm.row(0).transpose();
  return 1e-3 * piece.centre_mm;
}

panel::Polygon moved(panel::Polygon outline, const Eigen::Vector2d& by) {
  outline.rowwise() += by.transpose();
  return outline;
}

}  // namespace

void Hand::set_layout(std::size_t layout) {
  if (layout != layout_) selected_ = 0;
  layout_ = layout;
}

std::shared_ptr<const editing::Laid> Hand::selected_piece() const {
  if (selected_ == 0 || layout_ >= document_.layouts().size()) return nullptr;
  return document_.piece(layout_, selected_);
}

bool Hand::select_next(bool backwards) {
  const auto& pieces = document_.layout(layout_).pieces;
  const int count = static_cast<int>(pieces.size());
  int at = -1;
  for (int i = 0; i < count; ++i)
    if (pieces[static_cast<std::size_t>(i)]->id == selected_) at = i;
  const int next = at < 0 ? (backwards ? count - 1 : 0) : at + (backwards ? -1 : 1);
  selected_ = next < 0 || next >= count ? 0 : pieces[static_cast<std::size_t>(next)]->id;
  return selected_ != 0;
}

Eigen::Vector2d Hand::snapped(const Eigen::Vector2d& at) const {
  if (!snapping) return at;
  return (at / kGrid).array().round() * kGrid;
}

Step Hand::done(const editing::Outcome& outcome) {
  Step step{outcome.done(), outcome.refusal};
  if (outcome.done()) {
    gesture_changed_ = true;
    ghost_.reset();
    if (outcome.piece != 0) selected_ = outcome.piece;
  }
  return step;
}

bool Hand::grip_handle(const Eigen::Vector2d& at, double reach_m) {
  const auto piece = selected_piece();
  if (!piece || !is_rectangle(piece->written)) return false;
  if ((*turning_handle(kStalkReaches * reach_m) - at).norm() <= reach_m) {
    grip_ = Grip::turn;
    return true;
  }
  const std::vector<Eigen::Vector2d> corner = corners();
  for (std::size_t k = 0; k < corner.size(); ++k) {
    if ((corner[k] - at).norm() > reach_m) continue;
    grip_ = Grip::resize;
    anchor_ = corner[(k + 2) % 4];
    return true;
  }
  return false;
}

Step Hand::press(const Eigen::Vector2d& at, double reach_m) {
  if (dragging()) return {};
  start_ = last_ = at;
  gesture_changed_ = false;
  ghost_.reset();
  if (cutting) {
    grip_ = Grip::cut;
    return {};
  }
  document_.begin_gesture();
  if (grip_handle(at, reach_m)) return {};
  const int before = selected_;
  if (const auto id = document_.piece_at(layout_, at)) {
    selected_ = *id;
    grip_ = Grip::move;
    anchor_ = place_of(selected_piece()->written);
  } else {
    selected_ = 0;
    grip_ = Grip::lay;
    start_ = snapped(at);
  }
  return {selected_ != before, ""};
}

Step Hand::drag(const Eigen::Vector2d& at) {
  last_ = at;
  switch (grip_) {
    case Grip::lay:
      return drag_lay(at);
    case Grip::move:
      return drag_move(at);
    case Grip::turn:
      return drag_turn(at);
    case Grip::resize:
      return drag_resize(at);
    default:
      return {};
  }
}

Step Hand::release(const Eigen::Vector2d& at) {
  if (!dragging()) return {};
  Step step = grip_ == Grip::cut ? (last_ = at, finish_cut()) : drag(at);
  if (grip_ == Grip::move && !step.refusal.empty()) come_near(at);
  if (grip_ != Grip::cut) document_.end_gesture();
  if (grip_ == Grip::lay || grip_ == Grip::resize) {
    if (const auto piece = selected_piece()) last_size_ = 1e-3 * piece->written.size_mm;
  }
  step.changed = step.changed || gesture_changed_;
  grip_ = Grip::none;
  ghost_.reset();
  return step;
}

Step Hand::cancel() {
  if (!dragging()) return {};
  if (grip_ != Grip::cut) {
    document_.end_gesture();
    if (gesture_changed_) document_.undo();
  }
  if (!selected_piece()) selected_ = 0;
  grip_ = Grip::none;
  ghost_.reset();
  cutting = false;
  return {gesture_changed_, ""};
}

Step Hand::drag_lay(const Eigen::Vector2d& at) {
  const Eigen::Vector2d end = snapped(at);
  const Eigen::Vector2d size = (end - start_).cwiseAbs();
  if (size.minCoeff() < kSmallest) return {};
  const Eigen::Vector2d centre = 0.5 * (start_ + end);
  const Step step = selected_ == 0 ? done(document_.lay(layout_, start_, end, sheets, face))
                                   : done(document_.resize(layout_, selected_, centre, size));
  if (!step.refusal.empty()) ghost_ = panel::rectangle(centre, size, 0.0);
  return step;
}

Step Hand::drag_move(const Eigen::Vector2d& at) {
  const auto piece = selected_piece();
  if (!piece) return {};
  const Eigen::Vector2d now = place_of(piece->written);
  Eigen::Vector2d target = anchor_ + (at - start_);
  if ((at - start_).norm() < 0.002 && !gesture_changed_) return {};  // a click is no move
  const bool upright = is_rectangle(piece->written) && piece->written.angle_deg == 0.0;
  const Eigen::Vector2d corner = upright ? Eigen::Vector2d(-0.5e-3 * piece->written.size_mm)
                                         : Eigen::Vector2d(Eigen::Vector2d::Zero());
  target = snapped(target + corner) - corner;
  if ((target - now).norm() < 5e-5) {
    ghost_.reset();
    return {};
  }
  const Step step = done(document_.move(layout_, selected_, target - now));
  if (!step.refusal.empty() && !piece->outlines.empty())
    ghost_ = moved(piece->outlines.front(), target - now);
  return step;
}

/// After a refused move: as near to its aim as is allowed, by halving the way that is left.
void Hand::come_near(const Eigen::Vector2d& at) {
  constexpr int kHalvings = 6;
  const auto piece = selected_piece();
  if (!piece) return;
  Eigen::Vector2d allowed = place_of(piece->written) - anchor_ + start_, refused = at;
  for (int k = 0; k < kHalvings; ++k) {
    const Eigen::Vector2d middle = 0.5 * (allowed + refused);
    (drag_move(middle).refusal.empty() ? allowed : refused) = middle;
  }
}

Step Hand::drag_turn(const Eigen::Vector2d& at) {
  const auto piece = selected_piece();
  if (!piece) return {};
  const Eigen::Vector2d from = at - 1e-3 * piece->written.centre_mm;
  double target = to_deg(std::atan2(from.y(), from.x())) - 90.0;
  if (snapping) target = kGridDegrees * std::round(target / kGridDegrees);
  const double by = std::remainder(target - piece->written.angle_deg, 360.0);
  if (std::abs(by) < 0.05) return {};
  const Step step = done(document_.turn(layout_, selected_, by));
  if (!step.refusal.empty())
    ghost_ = panel::rectangle(
        1e-3 * piece->written.centre_mm, 1e-3 * piece->written.size_mm, target * kPi / 180.0);
  return step;
}

Step Hand::drag_resize(const Eigen::Vector2d& at) {
  const auto piece = selected_piece();
  if (!piece) return {};
  const double angle = piece->written.angle_deg;
  Eigen::Vector2d across = turned((angle == 0.0 ? snapped(at) : at) - anchor_, -angle);
  if (snapping && angle != 0.0) across = (across / kGrid).array().round() * kGrid;
  const Eigen::Vector2d size = across.cwiseAbs();
  if (size.minCoeff() < kSmallest) return {};
  if ((size - 1e-3 * piece->written.size_mm).norm() < 5e-5) return {};
  const Eigen::Vector2d centre = anchor_ + turned(0.5 * across, angle);
  const Step step = done(document_.resize(layout_, selected_, centre, size));
  if (!step.refusal.empty()) ghost_ = panel::rectangle(centre, size, angle * kPi / 180.0);
  return step;
}

Step Hand::finish_cut() {
  cutting = false;
  if ((last_ - start_).norm() < kSmallest) return {};
  int id = 0;
  // The piece that is meant: the selected one, else the one under the line's middle or an end.
  if (selected_piece()) id = selected_;
  for (const double share : {0.5, 0.25, 0.75, 0.0, 1.0}) {
    if (id != 0) break;
    id = document_.piece_at(layout_, start_ + share * (last_ - start_)).value_or(0);
  }
  if (id == 0) return {false, "the line of the cut crosses no piece"};
  return done(document_.cut(layout_, id, start_, last_));
}

}  // namespace calmplate::window
