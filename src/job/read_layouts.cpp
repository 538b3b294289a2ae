// SPDX-License-Identifier: GPL-3.0-or-later
#include <string>
#include <vector>

#include "job/read_sections.hpp"

namespace calmplate::job {
namespace {

constexpr double kSmallestPiece_mm = 5.0;
constexpr double kSmallestKeepOut_mm = 1.0;
constexpr Range kMargin{0.0, 500.0};  // mm

std::vector<std::string> sheet_names(const Job& job) {
  std::vector<std::string> names;
  for (const sheet::Sheet& sheet : job.sheets) names.push_back(sheet.name);
  return names;
}

/// The shape keys of which a section has to have exactly one.
/// @param allowed  the same in words
/// @return the one it has
std::string only_one_of(const TableReader& reader,
                        const std::vector<std::string>& shapes,
                        const std::string& allowed) {
  std::string found;
  for (const std::string& shape : shapes) {
    if (!reader.has(shape)) continue;
    if (!found.empty()) reader.fail(shape, "stands beside " + found, allowed);
    found = shape;
  }
  if (found.empty()) throw base::InputError(reader.where(), "has no shape", allowed);
  return found;
}

panel::Region read_region(TableReader& reader, const Job& job) {
  panel::Region region;
  const std::string shape = only_one_of(reader,
                                        {"size_mm", "outline_mm", "everywhere"},
                                        "one of size_mm (with centre_mm), outline_mm, everywhere");
  if (shape == "size_mm") {
    region.outline = read_rectangle(reader, kSmallestPiece_mm);
  } else if (shape == "outline_mm") {
    region.outline = read_outline(reader);
  } else {
    if (!reader.flag_or("everywhere", true))
      reader.fail("everywhere", "is false", "true, or a shape in place of it");
    region.rim_margin_m = reader.number_or("margin_mm", kMargin, 0.0);
    region.hole_margin_m = reader.number_or("hole_margin_mm", kMargin, 0.0);
    for (const KeepOut& keep_out : job.keep_outs) region.holes.push_back(keep_out.outline);
  }
  reader.finish(shape);
  return region;
}

/// The sheet of a piece, or several on top of each other, the one on the skin first.
std::vector<std::size_t> read_stack(TableReader& reader, const Job& job) {
  constexpr std::size_t kMost = 5;
  if (reader.has("sheet") && reader.has("sheets"))
    reader.fail("sheets", "stands beside sheet", "one of the two");
  if (!reader.has("sheets")) return {reader.word("sheet", sheet_names(job), "sheet")};
  const std::vector<std::size_t> stack = reader.words("sheets", sheet_names(job), "sheet", 1, true);
  if (stack.size() > kMost)
    reader.fail("sheets",
                "has " + std::to_string(stack.size()) + " sheets on each other",
                "up to " + std::to_string(kMost));
  bool foil_below = false;
  for (const std::size_t i : stack) {
    if (job.sheets[i].kind == sheet::Kind::free_layer && foil_below)
      reader.fail("sheets",
                  "has the free layer " + in_quotes(job.sheets[i].name) + " on a foil",
                  "free layers below every sheet with a foil");
    foil_below = foil_below || job.sheets[i].kind == sheet::Kind::constrained;
  }
  return stack;
}

Piece read_piece(TableReader& reader, const Job& job) {
  Piece piece;
  bool has_foil = false;
  for (const std::size_t i : read_stack(reader, job)) {
    piece.sheets.push_back(job.sheets[i].name);
    has_foil = has_foil || job.sheets[i].kind == sheet::Kind::constrained;
  }
  piece.face =
      reader.choice_or<Face>("face", {{"inner", Face::inner}, {"outer", Face::outer}}, Face::inner);
  piece.foil_held = reader.choice_or<bool>("foil_edge", {{"free", false}, {"held", true}}, false);
  if (reader.has("foil_edge") && !has_foil)
    reader.fail("foil_edge",
                piece.sheets.size() > 1
                    ? "does not go with these sheets, none of which has a foil"
                    : "does not go with the sheet " + in_quotes(piece.sheets.front()) +
                          ", which has no foil",
                "only with a sheet of kind \"constrained\"");
  piece.region = read_region(reader, job);
  piece.where = reader.where();
  return piece;
}

/// True for "bare" in small or capital letters.
bool is_bare(std::string name) {
  for (char& c : name)
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
  return name == "bare";
}

}  // namespace

void read_keep_outs(TableReader& file, Job& job) {
  Names names;
  for (TableReader& reader : file.sections("keep_out", keys::kKeepOut)) {
    KeepOut keep_out;
    keep_out.name = names.read(reader);
    const std::string shape =
        only_one_of(reader,
                    {"size_mm", "diameter_mm", "outline_mm"},
                    "one of size_mm (with centre_mm), diameter_mm (with centre_mm), outline_mm");
    if (shape == "size_mm") keep_out.outline = read_rectangle(reader, kSmallestKeepOut_mm);
    if (shape == "diameter_mm") keep_out.outline = read_circle(reader);
    if (shape == "outline_mm") keep_out.outline = read_outline(reader);
    reader.finish(shape);
    keep_out.where = reader.where();
    job.keep_outs.push_back(keep_out);
  }
}

void read_layouts(TableReader& file, Job& job) {
  Names names;
  for (TableReader& reader : file.sections("layout", keys::kLayout)) {
    Layout layout;
    layout.name = names.read(reader);
    if (is_bare(layout.name))
      reader.fail("name",
                  "is " + in_quotes(layout.name) + ", the name of the panel without any sheet",
                  "any other name; the bare panel is compared without being listed");
    for (TableReader& piece : reader.sections("piece", keys::kPiece))
      layout.pieces.push_back(read_piece(piece, job));
    if (reader.has("place")) {
      if (!layout.pieces.empty())
        reader.fail("place", "stands beside [[layout.piece]]", "one of the two in a layout");
      layout.place = read_place(reader, job);
    } else if (layout.pieces.empty()) {
      reader.fail_missing("piece",
                          "at least one [[layout.piece]] under this [[layout]], or [layout.place]");
    }
    reader.finish();
    layout.where = reader.where();
    job.layouts.push_back(layout);
  }
}

}  // namespace calmplate::job
