// SPDX-License-Identifier: GPL-3.0-or-later
#include "editing/document.hpp"

#include <algorithm>
#include <stdexcept>
#include <utility>

#include "editing/cut_piece.hpp"
#include "editing/rounding.hpp"
#include "job/check_pieces.hpp"

namespace calmplate::editing {
namespace {

Outcome refused(const std::string& why) { return {why, 0}; }

/// What an input error says, on one line.
std::string words_of(const base::InputError& e) { return e.what(); }

job::WrittenPiece cleaned(job::WrittenPiece p) {
  p.centre_mm = thousandths(p.centre_mm);
  p.size_mm = thousandths(p.size_mm);
  p.angle_deg = thousandths(p.angle_deg);
  for (Eigen::Index i = 0; i < p.outline_mm.rows(); ++i)
    p.outline_mm.row(i) = thousandths(p.outline_mm.row(i).transpose()).transpose();
  p.margin_mm = thousandths(p.margin_mm);
  p.hole_margin_mm = thousandths(p.hole_margin_mm);
  return p;
}

bool same(const std::vector<Layout>& a, const std::vector<Layout>& b) {
  const auto same_piece = [](const auto& x, const auto& y) {
    return x == y || (x->id == y->id && x->written == y->written);
  };
  return std::equal(a.begin(), a.end(), b.begin(), b.end(), [&](const Layout& x, const Layout& y) {
    return x.id == y.id && x.name == y.name &&
           std::equal(
               x.pieces.begin(), x.pieces.end(), y.pieces.begin(), y.pieces.end(), same_piece);
  });
}

bool has_foil(const job::Job& job, const std::vector<std::string>& sheets) {
  return std::any_of(sheets.begin(), sheets.end(), [&](const std::string& name) {
    return std::any_of(job.sheets.begin(), job.sheets.end(), [&](const sheet::Sheet& s) {
      return s.name == name && s.kind == sheet::Kind::constrained;
    });
  });
}

Pieces::const_iterator find(const Pieces& pieces, int id) {
  return std::find_if(pieces.begin(), pieces.end(), [&](const auto& p) { return p->id == id; });
}

const char kPlaced[] =
    "the pieces of this layout are to be found by the program ([layout.place]); lay pieces in "
    "another layout";
const char kGone[] = "the layout has no such piece";

}  // namespace

Document::Document(const job::Job& job, const panel::Panel& panel, const std::string& text)
    : job_(&job), panel_(&panel) {
  for (const job::WrittenLayout& written : job::written_layouts(text, job.file).layouts) {
    Layout layout;
    layout.id = next_id_++;
    layout.name = written.name;
    layout.to_place = written.to_place;
    for (const job::WrittenPiece& piece : written.pieces)
      layout.pieces.push_back(made(next_id_++, piece));
    now_.layouts.push_back(std::move(layout));
  }
  saved_ = now_.layouts;
}

std::shared_ptr<const Laid> Document::made(int id, const job::WrittenPiece& piece) const {
  return make_laid(*panel_, id, piece, job::read_written("layout", {piece}, *job_).pieces.front());
}

const Layout& Document::layout(std::size_t number) const { return now_.layouts.at(number); }

std::shared_ptr<const Laid> Document::piece(std::size_t number, int id) const {
  const Pieces& pieces = layout(number).pieces;
  const auto found = find(pieces, id);
  return found == pieces.end() ? nullptr : *found;
}

/// Takes the pieces for those of a layout if the job's checks let them pass.
Outcome Document::put(std::size_t number, Pieces pieces, const std::string& name, int id) {
  job::Job lean;
  lean.keep_outs = job_->keep_outs;
  lean.layouts.emplace_back();
  for (std::size_t i = 0; i < pieces.size(); ++i) {
    lean.layouts.front().pieces.push_back(pieces[i]->piece);
    lean.layouts.front().pieces.back().where = {"", 0, "piece " + std::to_string(i + 1)};
  }
  try {
    job::check_pieces(lean, *panel_);
  } catch (const base::InputError& e) {
    return refused(words_of(e));
  }
  std::vector<Layout> layouts = now_.layouts;
  layouts[number].pieces = std::move(pieces);
  commit(std::move(layouts), name);
  return {"", id};
}

Outcome Document::replace(std::size_t number,
                          int id,
                          job::WrittenPiece piece,
                          const std::string& name) {
  Pieces pieces = layout(number).pieces;
  const auto at = find(pieces, id) - pieces.cbegin();
  if (at == static_cast<std::ptrdiff_t>(pieces.size())) return refused(kGone);
  auto& slot = pieces[static_cast<std::size_t>(at)];
  piece = cleaned(std::move(piece));
  if (piece == slot->written) return {"", id};
  try {
    slot = made(id, piece);
  } catch (const base::InputError& e) {
    return refused("piece " + std::to_string(at + 1) + words_of(e).substr(7));
  }
  return put(number, std::move(pieces), name, id);
}

Outcome Document::lay(std::size_t number,
                      const Eigen::Vector2d& corner,
                      const Eigen::Vector2d& opposite,
                      const std::vector<std::string>& sheets,
                      job::Face face) {
  const Eigen::Vector2d a = tenths(1e3 * corner), b = tenths(1e3 * opposite);
  job::WrittenPiece piece;
  piece.sheets = sheets;
  piece.face = face;
  piece.centre_mm = 0.5 * (a + b);
  piece.size_mm = (b - a).cwiseAbs();
  return lay(number, piece);
}

Outcome Document::lay(std::size_t number, job::WrittenPiece piece) {
  if (layout(number).to_place) return refused(kPlaced);
  Pieces pieces = layout(number).pieces;
  try {
    pieces.push_back(made(next_id_, cleaned(std::move(piece))));
  } catch (const base::InputError& e) {
    return refused("the new piece" + words_of(e).substr(7));
  }
  const Outcome out = put(number, std::move(pieces), "lay a piece", next_id_);
  if (out.done()) ++next_id_;
  return out;
}

Outcome Document::move(std::size_t number, int id, const Eigen::Vector2d& by) {
  const auto old = piece(number, id);
  if (!old) return refused(kGone);
  if (old->written.shape == job::Shape::everywhere)
    return refused("a piece that lies everywhere is not moved");
  return replace(number, id, moved(old->written, by), "move a piece");
}

Outcome Document::turn(std::size_t number, int id, double by_deg) {
  const auto old = piece(number, id);
  if (!old) return refused(kGone);
  if (old->written.shape == job::Shape::everywhere)
    return refused("a piece that lies everywhere is not turned");
  return replace(number, id, turned(old->written, by_deg), "turn a piece");
}

Outcome Document::resize(std::size_t number,
                         int id,
                         const Eigen::Vector2d& centre,
                         const Eigen::Vector2d& size) {
  const auto old = piece(number, id);
  if (!old) return refused(kGone);
  if (old->written.shape != job::Shape::rectangle)
    return refused("only a rectangle gets another size");
  job::WrittenPiece piece = old->written;
  piece.centre_mm = 1e3 * centre;
  piece.size_mm = tenths(1e3 * size);
  return replace(number, id, std::move(piece), "resize a piece");
}

Outcome Document::cut(std::size_t number,
                      int id,
                      const Eigen::Vector2d& a,
                      const Eigen::Vector2d& b) {
  const auto old = piece(number, id);
  if (!old) return refused(kGone);
  CutParts parts = cut_piece(old->written, a, b);
  if (!parts.refusal.empty()) return refused(parts.refusal);
  Pieces pieces = layout(number).pieces;
  const auto at = static_cast<std::size_t>(find(pieces, id) - pieces.cbegin());
  try {
    pieces[at] = made(id, parts.parts[0]);
    pieces.insert(pieces.begin() + static_cast<std::ptrdiff_t>(at) + 1,
                  made(next_id_, parts.parts[1]));
  } catch (const base::InputError& e) {
    return refused("a part of the cut" + words_of(e).substr(7));
  }
  const Outcome out = put(number, std::move(pieces), "cut a piece", next_id_);
  if (out.done()) ++next_id_;
  return out;
}

Outcome Document::remove(std::size_t number, int id) {
  std::vector<Layout> layouts = now_.layouts;
  Pieces& pieces = layouts.at(number).pieces;
  const auto found = find(pieces, id);
  if (found == pieces.end()) return refused(kGone);
  pieces.erase(found);
  commit(std::move(layouts), "delete a piece");
  return {};
}

Outcome Document::change_sheets(std::size_t number,
                                int id,
                                const std::vector<std::string>& sheets) {
  const auto old = piece(number, id);
  if (!old) return refused(kGone);
  job::WrittenPiece piece = old->written;
  piece.sheets = sheets;
  // What has no foil has no foil's edge to hold.
  piece.foil_held = piece.foil_held && has_foil(*job_, sheets);
  return replace(number, id, std::move(piece), "change a sheet");
}

Outcome Document::change_face(std::size_t number, int id, job::Face face) {
  const auto old = piece(number, id);
  if (!old) return refused(kGone);
  job::WrittenPiece piece = old->written;
  piece.face = face;
  return replace(number, id, std::move(piece), "change a face");
}

Outcome Document::change(std::size_t number, int id, job::WrittenPiece piece) {
  return replace(number, id, std::move(piece), "change a piece");
}

std::optional<int> Document::piece_at(std::size_t number, const Eigen::Vector2d& at) const {
  const Pieces& pieces = layout(number).pieces;
  for (auto p = pieces.rbegin(); p != pieces.rend(); ++p) {
    bool inside = false;  // by how often a ray to the right crosses an outline
    for (const panel::Polygon& o : (*p)->outlines)
      for (Eigen::Index i = 0; i < o.rows(); ++i) {
        const Eigen::Vector2d a = o.row(i), b = o.row((i + 1) % o.rows());
        if ((a.y() > at.y()) != (b.y() > at.y()) &&
            at.x() < a.x() + (b.x() - a.x()) * (at.y() - a.y()) / (b.y() - a.y()))
          inside = !inside;
      }
    if (inside) return (*p)->id;
  }
  return std::nullopt;
}

job::Layout Document::job_layout(std::size_t number) const {
  job::Layout out;
  out.name = layout(number).name;
  for (const auto& laid : layout(number).pieces) out.pieces.push_back(laid->piece);
  return out;
}

void Document::commit(std::vector<Layout> layouts, const std::string& name) {
  if (!(gesture_ && gesture_open_)) {
    before_.push_back({name, std::move(now_.layouts)});
    gesture_open_ = gesture_;
  }
  now_.layouts = std::move(layouts);
  after_.clear();
}

void Document::begin_gesture() {
  gesture_ = true;
  gesture_open_ = false;
}

void Document::end_gesture() {
  // A drag back to where it began is no step.
  if (gesture_open_ && same(before_.back().layouts, now_.layouts)) before_.pop_back();
  gesture_ = gesture_open_ = false;
}

std::string Document::undo_name() const { return before_.empty() ? "" : before_.back().name; }
std::string Document::redo_name() const { return after_.empty() ? "" : after_.back().name; }

void Document::undo() {
  end_gesture();
  if (before_.empty()) return;
  after_.push_back({before_.back().name, std::move(now_.layouts)});
  now_.layouts = std::move(before_.back().layouts);
  before_.pop_back();
}

void Document::redo() {
  end_gesture();
  if (after_.empty()) return;
  before_.push_back({after_.back().name, std::move(now_.layouts)});
  now_.layouts = std::move(after_.back().layouts);
  after_.pop_back();
}

bool Document::changed() const { return !same(now_.layouts, saved_); }
void Document::mark_saved() { saved_ = now_.layouts; }

}  // namespace calmplate::editing
