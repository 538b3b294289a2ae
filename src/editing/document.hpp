// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <Eigen/Core>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "editing/laid.hpp"
#include "job/job.hpp"
#include "panel/panel.hpp"

namespace calmplate::editing {

/// What became of a command. A refused one leaves everything as it was.
struct Outcome {
  std::string refusal;  ///< one line for the person; empty: done
  int piece = 0;        ///< id of the piece that was laid or changed, 0: none

  bool done() const { return refusal.empty(); }
};

/// The layouts of a job as a person edits them, with undo of any depth.
///
/// Positions are those of the flat map, m. Corners, moves and sizes go in steps of 0.1 mm, turns in
/// steps of 0.1 degree, and no number gets more than three decimals, so that the file and the
/// document hold the same numbers. Pieces that are not touched keep what their file says. Every
/// command keeps the rules of the job file by the job's own readers and checks: pieces lie on the
/// skin, do not overlap on one face, stay out of keep-outs. Layouts are counted from 0 in the order
/// of the job. Not for several threads at once.
class Document {
 public:
  /// @param job    checked against the panel; must outlive this object, as the panel must
  /// @param text   of the job file. Ids count from 1 in its order: a layout, its pieces, the next
  /// @throws base::InputError if the text is not that of a job
  Document(const job::Job& job, const panel::Panel& panel, const std::string& text);

  const std::vector<Layout>& layouts() const noexcept { return now_.layouts; }
  /// @throws std::out_of_range
  const Layout& layout(std::size_t number) const;
  /// @return null if the layout has no such piece. @throws std::out_of_range for the layout
  std::shared_ptr<const Laid> piece(std::size_t layout, int id) const;
  const job::Job& job() const noexcept { return *job_; }
  const panel::Panel& panel() const noexcept { return *panel_; }

  // Pieces. `layout` that is not there: std::out_of_range; an id that is not: refused.

  /// A rectangle between two opposite corners, sides along the map.
  /// @param sheets  from the skin outwards
  Outcome lay(std::size_t layout,
              const Eigen::Vector2d& corner,
              const Eigen::Vector2d& opposite,
              const std::vector<std::string>& sheets,
              job::Face face = job::Face::inner);
  /// Any piece, such as figures typed in; three decimals are kept.
  Outcome lay(std::size_t layout, job::WrittenPiece piece);
  Outcome move(std::size_t layout, int id, const Eigen::Vector2d& by);
  /// About its middle, anticlockwise on the map. A piece everywhere does not turn.
  Outcome turn(std::size_t layout, int id, double by_deg);
  /// A rectangle gets another centre and size (before turning); other shapes are refused.
  Outcome resize(std::size_t layout,
                 int id,
                 const Eigen::Vector2d& centre,
                 const Eigen::Vector2d& size);
  /// Cuts a piece in two along the straight line through a and b; nothing is lost at the cut. A
  /// rectangle cut square across gives two rectangles (the line may be askew by 0.5 mm over the
  /// piece), else there are polygons; the larger part keeps the id. Refused if the line misses the
  /// piece or gives more than two parts, or if a part would be smaller than the job allows.
  /// @return  piece: the new part
  Outcome cut(std::size_t layout, int id, const Eigen::Vector2d& a, const Eigen::Vector2d& b);
  Outcome remove(std::size_t layout, int id);
  Outcome change_sheets(std::size_t layout, int id, const std::vector<std::string>& sheets);
  Outcome change_face(std::size_t layout, int id, job::Face face);
  /// Puts other words and numbers in a piece's place; three decimals are kept.
  Outcome change(std::size_t layout, int id, job::WrittenPiece piece);

  // Layouts. A new one comes last.

  Outcome add_layout(const std::string& name);
  Outcome duplicate_layout(std::size_t layout, const std::string& name);
  /// Refused if another section of the job names it.
  Outcome remove_layout(std::size_t layout);
  Outcome rename_layout(std::size_t layout, const std::string& name);
  /// "partial", "partial 2" ...: a name that is free.
  std::string free_name(const std::string& wanted) const;

  // Undo. Commands between begin_gesture and end_gesture (a drag) are one step.

  void begin_gesture();
  void end_gesture();
  bool can_undo() const noexcept { return !before_.empty(); }
  bool can_redo() const noexcept { return !after_.empty(); }
  std::string undo_name() const;  ///< "move a piece"; empty: nothing to undo
  std::string redo_name() const;
  void undo();  ///< does nothing if there is nothing
  void redo();

  /// True if the layouts differ from what was saved last.
  bool changed() const;
  void mark_saved();

  /// The piece under a point of the map, the one laid last if there are two (one on each face).
  std::optional<int> piece_at(std::size_t layout, const Eigen::Vector2d& at) const;

  /// The layout as `calmplate run` would read it. @throws std::out_of_range
  job::Layout job_layout(std::size_t layout) const;

 private:
  struct State {
    std::string name;  ///< of the command that led away from here
    std::vector<Layout> layouts;
  };
  std::shared_ptr<const Laid> made(int id, const job::WrittenPiece& piece) const;
  Outcome put(std::size_t layout, Pieces pieces, const std::string& name, int id);
  Outcome replace(std::size_t layout, int id, job::WrittenPiece piece, const std::string& name);
  void commit(std::vector<Layout> layouts, const std::string& name);
  std::string refusal_of_name(const std::string& name, std::size_t except) const;
  std::string named_by(const std::string& name) const;

  const job::Job* job_;
  const panel::Panel* panel_;
  State now_;
  std::vector<State> before_, after_;
  std::vector<Layout> saved_;
  int next_id_ = 1;
  bool gesture_ = false, gesture_open_ = false;
};

}  // namespace calmplate::editing
