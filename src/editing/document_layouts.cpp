// SPDX-License-Identifier: GPL-3.0-or-later
#include <stdexcept>
#include <utility>

#include "editing/document.hpp"
#include "job/key_unit.hpp"

namespace calmplate::editing {
namespace {

std::string in_quotes(const std::string& text) { return "\"" + text + "\""; }

}  // namespace

/// Which other section of the job means a layout by its name; empty: none.
std::string Document::named_by(const std::string& name) const {
  if (job_->benefit_map.layout == name) return "[benefit_map]";
  if (job_->sheet_comparison.layout == name) return "[sheet_comparison]";
  for (const job::Layout& layout : job_->layouts)
    if (layout.place && layout.place->layout == name)
      return "[layout.place] of " + in_quotes(layout.name);
  return "";
}

/// Why a layout cannot be called that; empty: it can. @param except  may have the name already
std::string Document::refusal_of_name(const std::string& name, std::size_t except) const {
  for (std::size_t i = 0; i < now_.layouts.size(); ++i)
    if (i != except && now_.layouts[i].name == name)
      return "there is a layout " + in_quotes(name) + " already";
  if (job_->sheets.empty()) return "the job has no sheet to lay";
  job::WrittenPiece any;
  any.sheets = {job_->sheets.front().name};
  any.shape = job::Shape::everywhere;
  try {
    job::read_written(name, {any}, *job_);
  } catch (const base::InputError& e) {
    return e.what();
  }
  return "";
}

std::string Document::free_name(const std::string& wanted) const {
  std::string name = wanted;
  for (int i = 2;; ++i) {
    bool taken = false;
    for (const Layout& layout : now_.layouts) taken = taken || layout.name == name;
    if (!taken) return name;
    name = wanted + " " + std::to_string(i);
  }
}

Outcome Document::add_layout(const std::string& name) {
  const std::string why = refusal_of_name(name, now_.layouts.size());
  if (!why.empty()) return {why, 0};
  std::vector<Layout> layouts = now_.layouts;
  layouts.emplace_back();
  layouts.back().id = next_id_++;
  layouts.back().name = name;
  commit(std::move(layouts), "add a layout");
  return {};
}

Outcome Document::duplicate_layout(std::size_t number, const std::string& name) {
  if (layout(number).to_place) return {"a layout whose pieces are to be found has none to copy", 0};
  const std::string why = refusal_of_name(name, now_.layouts.size());
  if (!why.empty()) return {why, 0};
  std::vector<Layout> layouts = now_.layouts;
  Layout copy = layouts[number];
  copy.id = next_id_++;
  copy.name = name;
  for (auto& piece : copy.pieces) {
    auto own = std::make_shared<Laid>(*piece);
    own->id = next_id_++;
    piece = std::move(own);
  }
  layouts.push_back(std::move(copy));
  commit(std::move(layouts), "copy a layout");
  return {};
}

Outcome Document::remove_layout(std::size_t number) {
  const std::string other = named_by(layout(number).name);
  if (!other.empty()) return {other + " of the job means this layout, so it stays", 0};
  std::vector<Layout> layouts = now_.layouts;
  layouts.erase(layouts.begin() + static_cast<std::ptrdiff_t>(number));
  commit(std::move(layouts), "remove a layout");
  return {};
}

Outcome Document::rename_layout(std::size_t number, const std::string& name) {
  const std::string old = layout(number).name;
  if (name == old) return {};
  const std::string other = named_by(old);
  if (!other.empty()) return {other + " of the job means this layout by its name, so it stays", 0};
  const std::string why = refusal_of_name(name, number);
  if (!why.empty()) return {why, 0};
  std::vector<Layout> layouts = now_.layouts;
  layouts[number].name = name;
  commit(std::move(layouts), "rename a layout");
  return {};
}

}  // namespace calmplate::editing
