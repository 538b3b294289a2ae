// SPDX-License-Identifier: GPL-3.0-or-later
#include "editing/layout_text.hpp"

#include <algorithm>
#include <map>
#include <set>
#include <stdexcept>
#include <utility>

#include "base/input_error.hpp"
#include "editing/piece_text.hpp"

namespace calmplate::editing {
namespace {

bool has_foil(const job::Job& job, const job::WrittenPiece& piece) {
  return std::any_of(piece.sheets.begin(), piece.sheets.end(), [&](const std::string& name) {
    return job.sheet_named(name).kind == sheet::Kind::constrained;
  });
}

/// How a section of the text is written: its header's own indent, the blank lines above it, keys.
struct Style {
  std::string indent;
  int blanks = 1;
  KeyStyle keys;
};

class Writer {
 public:
  Writer(const std::string& text,
         const std::string& file,
         const std::vector<Held>& held,
         const std::vector<Layout>& layouts,
         const job::Job& job)
      : text_(text),
        file_(file),
        held_(held),
        layouts_(layouts),
        job_(job),
        written_(job::written_layouts(text, file)),
        lines_(text, written_.header_lines) {
    if (held.size() != written_.layouts.size())
      throw std::logic_error("text_with: the text has other layouts");
  }

  std::string result() {
    int behind = 0;  // line that a new layout stands before; 0: at the end of the text
    for (const Layout& layout : layouts_) {
      if (layout.pieces.empty() && !layout.to_place)
        throw base::InputError({file_, 0, "layout \"" + layout.name + "\""},
                               "has no piece",
                               "at least one: lay one, or remove the layout");
      const std::size_t at = number_of(layout.id);
      if (at < held_.size()) {
        keep(at, layout);
        behind = std::max(behind, end_of(written_.layouts[at]));
      } else {
        add(layout, behind);
      }
    }
    for (std::size_t i = 0; i < held_.size(); ++i)
      if (std::none_of(layouts_.begin(), layouts_.end(), [&](const Layout& l) {
            return l.id == held_[i].layout;
          }))
        remove(written_.layouts[i]);
    return edits_.applied(text_);
  }

 private:
  /// Place of a document's layout in the text, or behind the last.
  std::size_t number_of(int id) const {
    return static_cast<std::size_t>(
        std::find_if(held_.begin(), held_.end(), [&](const Held& h) { return h.layout == id; }) -
        held_.begin());
  }

  [[noreturn]] void refuse(const std::string& name, int line) const {
    throw base::InputError({file_, line, "layout \"" + name + "\""},
                           "is written as a list in one piece of text, in which pieces and keys "
                           "cannot come or go",
                           "[[layout]] and [[layout.piece]] with their keys on lines of their own");
  }

  /// The line behind all that belongs to a layout.
  int end_of(const job::WrittenLayout& layout) const {
    if (layout.section.in_line) return 0;
    int out = lines_.end(layout.section.line);
    for (const job::WrittenSection& s : layout.piece_sections)
      if (!s.in_line) out = std::max(out, lines_.end(s.line));
    if (layout.place_line > 0) out = std::max(out, lines_.end(layout.place_line));
    return out;
  }

  void keep(std::size_t at, const Layout& layout) {
    const job::WrittenLayout& old = written_.layouts[at];
    if (layout.name != old.name)
      for (const job::WrittenKey& key : old.section.keys)
        if (key.key == "name") edits_.replace(key.value, job::toml_text(layout.name));
    int behind = old.section.in_line ? 0 : lines_.end(old.section.line);
    std::set<int> there;
    for (const auto& laid : layout.pieces) {
      there.insert(laid->id);
      const std::vector<int>& ids = held_[at].pieces;
      const auto k =
          static_cast<std::size_t>(std::find(ids.begin(), ids.end(), laid->id) - ids.begin());
      if (k == ids.size()) {
        if (behind == 0) refuse(old.name, old.section.line);
        put(behind, piece_lines(laid->written, style_for(old)));
        continue;
      }
      const job::WrittenSection& section = old.piece_sections[k];
      behind = section.in_line ? 0 : lines_.end(section.line);
      if (laid->written == old.pieces[k]) continue;
      if (!edit_piece(text_,
                      lines_,
                      {&old.pieces[k], &laid->written, has_foil(job_, laid->written), &section},
                      edits_))
        refuse(old.name, section.line);
    }
    for (std::size_t k = 0; k < held_[at].pieces.size(); ++k)
      if (there.count(held_[at].pieces[k]) == 0) {
        if (old.piece_sections[k].in_line) refuse(old.name, old.section.line);
        cut_out(old.piece_sections[k].line);
      }
  }

  void add(const Layout& layout, int behind) {
    if (!written_.layouts.empty() && written_.layouts.front().section.in_line)
      refuse(layout.name, written_.layouts.front().section.line);
    const job::WrittenLayout* like = written_.layouts.empty() ? nullptr : &written_.layouts.back();
    const Style style = like != nullptr ? style_at(like->section) : Style();
    std::string out = blanks(style) + style.indent + "[[layout]]" + lines_.newline() +
                      style.keys.key("name") + job::toml_text(layout.name) + lines_.newline();
    const Style inner = like != nullptr ? style_for(*like) : Style();
    for (const auto& laid : layout.pieces) out += piece_lines(laid->written, inner);
    put(behind > 0 ? behind : lines_.count() + 1, out);
  }

  void remove(const job::WrittenLayout& layout) {
    if (layout.section.in_line) refuse(layout.name, layout.section.line);
    cut_out(layout.section.line);
    for (const job::WrittenSection& s : layout.piece_sections)
      if (!s.in_line) cut_out(s.line);
    if (layout.place_line > 0) cut_out(layout.place_line);
  }

  /// Takes a section out with its comments and the blank lines above them.
  void cut_out(int header) {
    const int from = lines_.lead(header) - lines_.blanks_above(header);
    edits_.replace({lines_.begin(from), lines_.begin(lines_.end(header))}, "");
  }

  /// Puts whole lines before a line; at the end of a text without a last line end they get one.
  void put(int line, std::string lines) {
    if (line > lines_.count() && !text_.empty() && text_.back() != '\n') {
      lines = lines_.newline() + lines.substr(0, lines.size() - lines_.newline().size());
    }
    edits_.insert(lines_.begin(line), lines);
  }

  std::string blanks(const Style& style) const {
    std::string out;
    for (int i = 0; i < style.blanks; ++i) out += lines_.newline();
    return out;
  }

  std::string piece_lines(const job::WrittenPiece& piece, const Style& style) const {
    std::string out = blanks(style) + style.indent + "[[layout.piece]]" + lines_.newline();
    for (const auto& [key, value] : job::keys_of(piece))
      out += style.keys.key(key) + value + lines_.newline();
    return out;
  }

  Style style_at(const job::WrittenSection& section) const {
    const std::string header = lines_.line(section.line);
    return {header.substr(0, header.find_first_not_of(" \t")),
            lines_.blanks_above(section.line),
            style_of(lines_, text_, section)};
  }

  /// As the layout's own last piece is written, else as any is.
  Style style_for(const job::WrittenLayout& layout) const {
    for (auto s = layout.piece_sections.rbegin(); s != layout.piece_sections.rend(); ++s)
      if (!s->in_line) return style_at(*s);
    for (const job::WrittenLayout& other : written_.layouts)
      for (const job::WrittenSection& s : other.piece_sections)
        if (!s.in_line) return style_at(s);
    return {};
  }

  const std::string& text_;
  const std::string& file_;
  const std::vector<Held>& held_;
  const std::vector<Layout>& layouts_;
  const job::Job& job_;
  job::WrittenLayouts written_;
  TextLines lines_;
  TextEdits edits_;
};

}  // namespace

std::string text_with(const std::string& text,
                      const std::string& file,
                      const std::vector<Held>& held,
                      const std::vector<Layout>& layouts,
                      const job::Job& job) {
  return Writer(text, file, held, layouts, job).result();
}

}  // namespace calmplate::editing
