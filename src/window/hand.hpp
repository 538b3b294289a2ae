// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <Eigen/Core>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "editing/document.hpp"

namespace calmplate::window {

/// What a hand's motion did.
struct Step {
  bool changed = false;  ///< the document, or what is selected
  std::string refusal;   ///< one line, empty if nothing was refused
};

/// What a person does with pieces, from points on the flat map to commands of the document: laying,
/// moving, turning, resizing and cutting by dragging, and the same by single commands. Knows no
/// screen. All positions in m on the flat map.
///
/// While something is dragged the document follows, and a motion that is refused leaves it where it
/// was last allowed; one drag is one step of undo.
class Hand {
 public:
  explicit Hand(editing::Document& document) : document_(document) {}

  std::vector<std::string> sheets;    ///< of the next piece
  job::Face face = job::Face::inner;  ///< of the next piece
  bool snapping = true;               ///< to 5 mm and 5 degrees
  bool cutting = false;               ///< the next drag is a cut

  void set_layout(std::size_t layout);
  std::size_t layout() const { return layout_; }
  int selected() const { return selected_; }  ///< id, 0: none
  void select(int id) { selected_ = id; }
  /// The piece after (before) the selected one in the layout's order, or none after the last.
  /// @return false if there is none
  bool select_next(bool backwards);

  // Dragging. `reach_m`: how near a handle has to be.

  Step press(const Eigen::Vector2d& at, double reach_m);
  Step drag(const Eigen::Vector2d& at);
  Step release(const Eigen::Vector2d& at);
  /// Takes back what the drag has done.
  Step cancel();
  bool dragging() const { return grip_ != Grip::none; }

  // Single commands on the selected piece; without one they do nothing.

  Step nudge(const Eigen::Vector2d& by);
  Step turn(double by_deg);
  Step grow(const Eigen::Vector2d& by);  ///< its lower left corner stays
  Step cut_through(bool along);          ///< in the middle, across or along its longer side
  Step remove();
  Step change_sheets(const std::vector<std::string>& names);
  Step change_face();
  /// A square of the last size laid at the first of the places where it is allowed.
  Step lay_at(const std::vector<Eigen::Vector2d>& places);

  // What to draw.

  std::vector<Eigen::Vector2d> corners() const;  ///< of the selected rectangle, else empty
  std::optional<Eigen::Vector2d> turning_handle(double stalk_m) const;
  /// Where the piece would be that was refused.
  const std::optional<panel::Polygon>& refused_outline() const { return ghost_; }
  std::optional<std::pair<Eigen::Vector2d, Eigen::Vector2d>> cut_line() const;
  std::string label() const;  ///< size, place or angle while something is dragged
  Eigen::Vector2d label_at(double reach_m) const;  ///< where it stands, m
  static constexpr double kStalkReaches = 4.0;     ///< length of the turning handle's stalk

 private:
  enum class Grip { none, lay, move, turn, resize, cut };
  std::shared_ptr<const editing::Laid> selected_piece() const;
  Eigen::Vector2d snapped(const Eigen::Vector2d& at) const;
  Step done(const editing::Outcome& outcome);
  Step drag_lay(const Eigen::Vector2d& at);
  Step drag_move(const Eigen::Vector2d& at);
  void come_near(const Eigen::Vector2d& at);
  Step drag_turn(const Eigen::Vector2d& at);
  Step drag_resize(const Eigen::Vector2d& at);
  Step finish_cut();
  bool grip_handle(const Eigen::Vector2d& at, double reach_m);

  editing::Document& document_;
  std::size_t layout_ = 0;
  int selected_ = 0;
  Grip grip_ = Grip::none;
  Eigen::Vector2d start_ = Eigen::Vector2d::Zero(), last_ = Eigen::Vector2d::Zero();
  Eigen::Vector2d anchor_ = Eigen::Vector2d::Zero();  ///< piece's place, or the corner that stays
  Eigen::Vector2d last_size_ = Eigen::Vector2d(0.15, 0.15);
  bool gesture_changed_ = false;
  std::optional<panel::Polygon> ghost_;
};

}  // namespace calmplate::window
