// SPDX-License-Identifier: GPL-3.0-or-later
#include "page/cutting.hpp"

#include "page/charts.hpp"
#include "page/format.hpp"
#include "page/html.hpp"
#include "page/json_node.hpp"
#include "page/words_fitter.hpp"

namespace calmplate::page {
namespace {

/// "2", or for a roll the length to be cut off it.
std::string to_buy(const JsonNode& sheet) {
  if (sheet.at("form").text() == "roll")
    return fill(words::kRoll, {{"length", fixed(sheet.at("roll_used_mm").level(), 0)}});
  return fixed(sheet.at("bought").number(), 0);
}

}  // namespace

std::string cutting_html(const Source& source) {
  const std::filesystem::path file = source.folder / "cutting" / "cutting.json";
  std::error_code ignored;
  if (!std::filesystem::exists(file, ignored)) return "";
  const nlohmann::json json = parsed_file(file, "cutting.json as calmplate cut writes it");
  const JsonNode root(json, file.string(), "");
  const JsonNode schema = root.at("schema");
  if (schema.text() != "calmplate-cutting") schema.fail("is another", "\"calmplate-cutting\"");
  Table table{words::kCuttingCaption,
              {words::kOption,
               words::kSheetColumn,
               words::kBuyColumn,
               root.text_or_empty("currency"),
               words::kWasteColumn,
               words::kMinutesColumn},
              {}};
  for (const JsonNode& layout : root.at("layouts").list())
    for (const JsonNode& sheet : layout.at("plan").at("sheets").list())
      table.rows.push_back({layout.at("name").text(),
                            sheet.at("sheet").text(),
                            to_buy(sheet),
                            money(sheet.level_or_nan("cost")),
                            fixed(100.0 * sheet.at("waste_share").number(), 0),
                            fixed(layout.at("minutes").number(), 0)});
  return table.rows.empty() ? "" : table_html(table) + paragraph(words::kCuttingNote, "small");
}

}  // namespace calmplate::page
