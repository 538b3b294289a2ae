// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <cstdint>
#include <vector>

namespace calmplate::cutting {

/// A length in whole micrometres. Nesting compares sums of lengths, and whole numbers make "fits"
/// and "is left over" exact and the same on every machine. Everything outside nesting is in metres.
using Length = std::int64_t;

/// The shortest whole length that is not below `metres`; a thousandth of a micrometre counts as
/// rounding.
Length length_to_cut(double metres);
/// The longest whole length that is not above `metres`, likewise.
Length length_at_hand(double metres);
double to_metres(Length length);

struct Rect {
  Length x = 0, y = 0, w = 0,
         h = 0;  ///< lower left corner, size along x (the stock's length) and y
};

/// Which coordinate a straight cut holds constant.
enum class CutAxis { none, x, y };

/// A rectangle of stock: cut in two, or holding an item, or left over.
struct CutNode {
  Rect rect;
  CutAxis axis = CutAxis::none;
  Length at = 0;  ///< the cut takes away [at, at + gap]
  int low = -1;   ///< the part below `at`
  int high = -1;  ///< the part above; -1 if the cut's gap used it up
  int item = -1;  ///< fills the rectangle
  bool turned = false;
};

/// One piece of stock and how straight cuts from edge to edge take it apart. Node 0 is the whole;
/// every cut goes right across its rectangle, so whatever can be built here a knife can cut.
class CutTree {
 public:
  /// @throws std::invalid_argument if a length is not above 0 or the gap is below 0
  CutTree(Length width, Length height, Length gap);

  const std::vector<CutNode>& nodes() const noexcept { return nodes_; }
  const CutNode& node(int i) const { return nodes_.at(static_cast<std::size_t>(i)); }
  Length gap() const noexcept { return gap_; }

  /// Whether a node is a rest: neither cut nor filled.
  bool is_rest(int i) const { return node(i).axis == CutAxis::none && node(i).item < 0; }

  /// Cuts a rest in two. @return the part below the cut
  /// @throws std::invalid_argument if the node is no rest or the cut does not run inside it
  int cut(int rest, CutAxis axis, Length at);

  /// Cuts `w` by `h` off a rest's lower left corner and puts an item there.
  /// @param x_first  the cut at constant x is made before the other
  /// @throws std::invalid_argument if it does not fit
  void place(int rest, int item, Length w, Length h, bool turned, bool x_first);

  /// Takes over, into a rest, what `other` does below one of its nodes; cuts that fall outside the
  /// rest are left out. @throws std::invalid_argument if an item of `other` would be cut or lost
  void graft(int rest, const CutTree& other, int other_node);

  /// How far items reach along x, from 0.
  Length reach() const;
  Length largest_rest() const;  ///< area, square micrometres
  int cut_count() const;

 private:
  CutNode& at(int i) { return nodes_.at(static_cast<std::size_t>(i)); }
  std::vector<CutNode> nodes_;
  Length gap_;
};

}  // namespace calmplate::cutting
