// SPDX-License-Identifier: GPL-3.0-or-later
#include <string>

#include "job/table_data.hpp"
#include "job/table_reader.hpp"

namespace calmplate::job {

Corners TableReader::corners(
    const std::string& key, Range allowed, Range radius, double fallback_si, std::size_t least) {
  const KeyUnit unit(key);
  const std::string form = "a list of " + std::to_string(least) +
                           " points or more, each [x, y] or [x, y, corner radius] in " +
                           unit.name();
  if (!asked_and_there(key)) fail_missing(key, form);
  const toml::node& node = *data_->table->get(key);
  const auto* list = node.as_array();
  if (list == nullptr || list->size() < least) fail(key, "is " + described(node), form);
  Corners out(static_cast<Eigen::Index>(list->size()), 3);
  for (std::size_t i = 0; i < list->size(); ++i) {
    const toml::node& entry = *list->get(i);
    const base::Where at = data_->where_entry(key, i, entry);
    const auto* corner = entry.as_array();
    if (corner == nullptr || corner->size() < 2 || corner->size() > 3)
      throw base::InputError(at, "is " + described(entry), form);
    const auto row = static_cast<Eigen::Index>(i);
    out(row, 2) = fallback_si;
    for (std::size_t k = 0; k < corner->size(); ++k) {
      const toml::node& number = *corner->get(k);
      out(row, static_cast<Eigen::Index>(k)) = checked_number(
          number, {at.file, line_of(number), indexed(at.key, k)}, key, k == 2 ? radius : allowed);
    }
  }
  return out;
}

}  // namespace calmplate::job
