// SPDX-License-Identifier: GPL-3.0-or-later
#include "cutting/cut_tree.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>

namespace calmplate::cutting {
namespace {

constexpr double kPerMetre = 1e6;
constexpr double kRounding = 1e-3;  // of a micrometre

}  // namespace

Length length_to_cut(double metres) {
  return static_cast<Length>(std::ceil(metres * kPerMetre - kRounding));
}

Length length_at_hand(double metres) {
  return static_cast<Length>(std::floor(metres * kPerMetre + kRounding));
}

double to_metres(Length length) { return static_cast<double>(length) / kPerMetre; }

CutTree::CutTree(Length width, Length height, Length gap) : gap_(gap) {
  if (width <= 0 || height <= 0 || gap < 0)
    throw std::invalid_argument("CutTree: stock without area or a gap below 0");
  CutNode whole;
  whole.rect = {0, 0, width, height};
  nodes_.push_back(whole);
}

int CutTree::cut(int rest, CutAxis axis, Length position) {
  if (axis == CutAxis::none || !is_rest(rest))
    throw std::invalid_argument("CutTree::cut: not a rest, or no direction");
  const Rect whole = node(rest).rect;
  const bool along_x = axis == CutAxis::x;
  const Length from = along_x ? whole.x : whole.y, size = along_x ? whole.w : whole.h;
  if (position <= from || position >= from + size)
    throw std::invalid_argument("CutTree::cut: the cut does not run inside the rest");
  CutNode low, high;
  low.rect = high.rect = whole;
  const Length high_from = position + gap_, high_size = from + size - high_from;
  if (along_x) {
    low.rect.w = position - from;
    high.rect.x = high_from;
    high.rect.w = high_size;
  } else {
    low.rect.h = position - from;
    high.rect.y = high_from;
    high.rect.h = high_size;
  }
  const int first = static_cast<int>(nodes_.size());
  nodes_.push_back(low);
  if (high_size > 0) nodes_.push_back(high);
  at(rest).axis = axis;
  at(rest).at = position;
  at(rest).low = first;
  at(rest).high = high_size > 0 ? first + 1 : -1;
  return first;
}

void CutTree::place(int rest, int item, Length w, Length h, bool turned, bool x_first) {
  const Rect whole = node(rest).rect;
  if (!is_rest(rest) || w <= 0 || h <= 0 || w > whole.w || h > whole.h)
    throw std::invalid_argument("CutTree::place: not a rest, or the item does not fit");
  int here = rest;
  for (const bool x_now : {x_first, !x_first}) {
    if (x_now && w < whole.w) here = cut(here, CutAxis::x, whole.x + w);
    if (!x_now && h < whole.h) here = cut(here, CutAxis::y, whole.y + h);
  }
  at(here).item = item;
  at(here).turned = turned;
}

void CutTree::graft(int rest, const CutTree& other, int other_node) {
  const CutNode from = other.node(other_node);
  const Rect whole = node(rest).rect;
  if (from.item >= 0) {
    if (from.rect.w != whole.w || from.rect.h != whole.h)
      throw std::invalid_argument("CutTree::graft: an item would be cut");
    at(rest).item = from.item;
    at(rest).turned = from.turned;
    return;
  }
  if (from.axis == CutAxis::none) return;
  // Positions are carried over relative to the corner of the node.
  const bool along_x = from.axis == CutAxis::x;
  const Length start = along_x ? whole.x : whole.y, size = along_x ? whole.w : whole.h;
  const Length position = start + from.at - (along_x ? from.rect.x : from.rect.y);
  if (position >= start + size) {
    graft(rest, other, from.low);
    return;
  }
  const int low = cut(rest, from.axis, position);
  graft(low, other, from.low);
  if (from.high >= 0 && node(rest).high >= 0) graft(node(rest).high, other, from.high);
}

Length CutTree::reach() const {
  Length far = 0;
  for (const CutNode& n : nodes_)
    if (n.item >= 0) far = std::max(far, n.rect.x + n.rect.w);
  return far;
}

Length CutTree::largest_rest() const {
  Length most = 0;
  for (const CutNode& n : nodes_)
    if (n.item < 0 && n.axis == CutAxis::none) most = std::max(most, n.rect.w * n.rect.h);
  return most;
}

int CutTree::cut_count() const {
  return static_cast<int>(std::count_if(
      nodes_.begin(), nodes_.end(), [](const CutNode& n) { return n.axis != CutAxis::none; }));
}

}  // namespace calmplate::cutting
