// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

#include "job/read_sections.hpp"

/// [layout.place]: a layout whose pieces the program is to find.
namespace calmplate::job {
namespace {

constexpr Range kShare{0.1, 100.0};         // %
constexpr Range kArea{1e-3, 20.0};          // m2
constexpr Range kMass{1e-3, 100.0};         // kg
constexpr Range kCost{0.01, 1e6};           // the job's currency
constexpr Range kSheetCount{0.05, 1000.0};  // stock sheets
constexpr Range kPieces{1.0, 200.0};        // pieces
constexpr Range kSpacing{10.0, 500.0};      // mm
constexpr Range kGap{0.0, 200.0};           // mm
constexpr Range kMargin{0.0, 300.0};        // mm
constexpr Range kAngle{-180.0, 180.0};      // degrees
constexpr Range kSide{20.0, 5000.0};        // mm
constexpr Range kWeight{0.001, 1000.0};     // no unit

std::vector<std::string> names_of(const std::vector<sheet::Sheet>& sheets) {
  std::vector<std::string> out;
  for (const sheet::Sheet& s : sheets) out.push_back(s.name);
  return out;
}

void read_sheets_to_place(TableReader& reader, const Job& job, PlaceInput& place) {
  if (reader.has("sheet") && reader.has("sheets"))
    reader.fail("sheets", "stands beside sheet", "one of the two");
  const std::vector<std::string> names = names_of(job.sheets);
  std::vector<std::size_t> chosen;
  if (reader.has("sheets"))
    chosen = reader.words("sheets", names, "sheet", 1, false);
  else
    chosen = {reader.word("sheet", names, "sheet")};
  for (const std::size_t i : chosen) {
    const sheet::Sheet& sheet = job.sheets[i];
    const char* key = reader.has("sheets") ? "sheets" : "sheet";
    if (!reader.has("sizes_mm") && !(sheet.stock_width_m > 0.0))
      reader.fail(key,
                  "has " + in_quotes(sheet.name) + ", whose stock size is not known",
                  "sizes_mm here, or stock_width_mm and stock_length_mm in its [[sheet]]");
    for (const Eigen::Vector2d& size : place.sizes_m) {
      const double longer = size.maxCoeff(), shorter = size.minCoeff();
      const double stock_longer = std::max(sheet.stock_width_m, sheet.stock_length_m);
      const double stock_shorter = std::min(sheet.stock_width_m, sheet.stock_length_m);
      if (stock_longer > 0.0 &&
          (longer > stock_longer * 1.000001 || shorter > stock_shorter * 1.000001))
        reader.fail("sizes_mm",
                    "has a piece of " + plain_number(1e3 * size.x()) + " x " +
                        plain_number(1e3 * size.y()) + " mm, larger than a sheet of " +
                        in_quotes(sheet.name),
                    "up to " + plain_number(1e3 * sheet.stock_width_m) + " x " +
                        plain_number(1e3 * sheet.stock_length_m) + " mm, either way round");
    }
    place.sheets.push_back(sheet.name);
  }
}

void read_limits(TableReader& reader, const Job& job, PlaceInput& place) {
  const auto limit = [&](const char* key, Range range) -> std::optional<double> {
    if (!reader.has(key)) {
      reader.number_or(key, range, range.low);
      return std::nullopt;
    }
    return reader.number(key, range);
  };
  place.share = limit("share_percent", kShare);
  place.area_m2 = limit("area_m2", kArea);
  place.mass_kg = limit("mass_kg", kMass);
  place.cost = limit("cost", kCost);
  place.sheet_count = limit("sheet_count", kSheetCount);
  const double pieces = reader.number_or("pieces", kPieces, 200.0);
  if (pieces != std::floor(pieces))
    reader.fail("pieces", "is " + plain_number(pieces), "a whole number from 1 to 200");
  place.pieces = static_cast<int>(pieces);
  if (!place.share && !place.area_m2 && !place.mass_kg && !place.cost && !place.sheet_count &&
      !reader.has("pieces"))
    throw base::InputError(
        reader.where(),
        "has no limit",
        "at least one of share_percent, area_m2, mass_kg, cost, sheet_count, pieces");
  for (const std::string& name : place.sheets) {
    const sheet::Sheet& s = job.sheet_named(name);
    if (place.cost && !(s.price_per_sheet > 0.0 && s.stock_width_m > 0.0))
      reader.fail("cost",
                  "cannot be held: the price or stock size of " + in_quotes(name) + " is not known",
                  "price_per_sheet, stock_width_mm and stock_length_mm in its [[sheet]]");
    if (place.sheet_count && !(s.stock_width_m > 0.0))
      reader.fail("sheet_count",
                  "cannot be held: the stock size of " + in_quotes(name) + " is not known",
                  "stock_width_mm and stock_length_mm in its [[sheet]]");
  }
}

void read_goals(TableReader& reader, const Job& job, PlaceInput& place) {
  const std::vector<std::string> known = {
      "velocity", "radiated power", "worst third octave", "worst point"};
  if (reader.has("goals")) {
    place.goals.clear();
    for (const std::size_t i : reader.words("goals", known, "goal", 1, false))
      place.goals.emplace_back(static_cast<Goal>(i), 1.0);
  }
  if (reader.has("weights")) {
    const std::vector<double> weights = reader.numbers("weights", kWeight);
    if (weights.size() != place.goals.size())
      reader.fail("weights",
                  "has " + std::to_string(weights.size()) +
                      (weights.size() == 1 ? " number for " : " numbers for ") +
                      std::to_string(place.goals.size()) + " goals",
                  "one for each of goals");
    for (std::size_t i = 0; i < weights.size(); ++i) place.goals[i].second = weights[i];
  }
  for (const auto& [goal, weight] : place.goals) {
    if (goal == Goal::radiated && !job.woofer)
      reader.fail("goals", "has \"radiated power\", but there is no [woofer]", "[woofer] too");
  }
}

}  // namespace

PlaceInput read_place(TableReader& layout, const Job& job) {
  TableReader reader = layout.required_section("place", keys::kPlace);
  PlaceInput place;
  if (reader.has("sizes_mm"))
    for (const Eigen::Vector2d& size : reader.pairs("sizes_mm", kSide))
      place.sizes_m.push_back(size);
  place.free_sizes = reader.flag_or("free_sizes", false);
  read_sheets_to_place(reader, job, place);
  read_limits(reader, job, place);
  if (reader.has("angles_deg")) place.angles_rad = reader.numbers("angles_deg", kAngle);
  place.face =
      reader.choice_or<Face>("face", {{"inner", Face::inner}, {"outer", Face::outer}}, Face::inner);
  place.spacing_m = reader.number_or("spacing_mm", kSpacing, 50.0);
  place.gap_m = reader.number_or("gap_mm", kGap, 5.0);
  place.margin_m = reader.number_or("margin_mm", kMargin, 10.0);
  read_goals(reader, job, place);
  enum class Judged { one, mean, worst };
  const Judged judged = reader.choice_or<Judged>(
      "temperatures",
      {{"one", Judged::one}, {"mean", Judged::mean}, {"worst", Judged::worst}},
      Judged::one);
  place.sweep = judged != Judged::one;
  place.worst = judged == Judged::worst;
  enum class Over { no, mean, worst };
  const Over over = reader.choice_or<Over>(
      "unknowns", {{"no", Over::no}, {"mean", Over::mean}, {"worst", Over::worst}}, Over::no);
  place.over_unknowns = over != Over::no;
  place.worst = place.worst || over == Over::worst;
  if (reader.has("layout")) {
    std::vector<std::string> layouts;
    for (const Layout& l : job.layouts)
      if (!l.place) layouts.push_back(l.name);
    place.layout = layouts[reader.word("layout", layouts, "layout above this one")];
  }
  reader.finish();
  return place;
}

}  // namespace calmplate::job
