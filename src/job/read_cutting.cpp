// SPDX-License-Identifier: GPL-3.0-or-later
#include <cmath>
#include <string>
#include <vector>

#include "base/units.hpp"
#include "job/read_sections.hpp"

namespace calmplate::job {
namespace {

constexpr Range kGap{0.0, 20.0};                // mm
constexpr Range kSmallestOffcut{10.0, 2000.0};  // mm
constexpr Range kOffcutSide{10.0, 100000.0};    // mm
constexpr Range kOffcutCount{1.0, 100.0};

}  // namespace

cutting::StockInput read_stock(TableReader& sheet) {
  using cutting::Direction;
  using cutting::StockForm;
  cutting::StockInput stock;
  stock.form = sheet.choice_or<StockForm>(
      "stock_form", {{"sheet", StockForm::sheet}, {"roll", StockForm::roll}}, StockForm::sheet);
  stock.direction = sheet.choice_or<Direction>(
      "stock_direction",
      {{"none", Direction::none}, {"along", Direction::along}, {"up", Direction::up}},
      Direction::none);
  return stock;
}

void read_cutting(TableReader& file, Job& job) {
  if (auto reader = file.section("cutting", keys::kCutting)) {
    cutting::CuttingInput& input = job.cutting;
    input.gap_m = reader->number_or("gap_mm", kGap, base::to_mm(input.gap_m));
    input.smallest_offcut_m = reader->number_or(
        "smallest_offcut_mm", kSmallestOffcut, base::to_mm(input.smallest_offcut_m));
    input.split = reader->flag_or("split", input.split);
    reader->finish();
  }
  std::vector<std::string> names;
  for (const sheet::Sheet& sheet : job.sheets) names.push_back(sheet.name);
  for (TableReader& reader : file.sections("offcut", keys::kOffcut)) {
    cutting::OffcutInput offcut;
    offcut.sheet = names[reader.word("sheet", names, "sheet")];
    offcut.size_m = reader.point("size_mm", kOffcutSide);
    const double count = reader.number_or("count", kOffcutCount, 1.0);
    if (count != std::round(count))
      reader.fail("count", "is " + plain_number(count), "a whole number from 1 to 100");
    offcut.count = static_cast<int>(count);
    reader.finish();
    offcut.where = reader.where();
    job.cutting.offcuts.push_back(offcut);
  }
}

}  // namespace calmplate::job
