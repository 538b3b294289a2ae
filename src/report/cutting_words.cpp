// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/cutting_words.hpp"

#include <algorithm>
#include <cmath>

#include "base/units.hpp"
#include "report/summary.hpp"
#include "report/text_table.hpp"

namespace calmplate::report {
namespace {

using cutting::mm_text;

std::string count_of(int number, const std::string& thing) {
  return std::to_string(number) + " " + thing + (number == 1 ? "" : "s");
}

std::string size_words(double width_m, double length_m) {
  return mm_text(width_m) + " x " + mm_text(length_m) + " mm";
}

std::string thing_of(const cutting::SheetPlan& plan) {
  return plan.form == cutting::StockForm::roll ? "roll" : "sheet";
}

/// How good the plan is known to be.
std::string goodness(const cutting::SheetPlan& plan) {
  const std::string thing = thing_of(plan);
  if (plan.form == cutting::StockForm::roll && plan.bought == 1) {
    const std::string used = "It takes " + mm_text(plan.roll_used_m) + " mm off the roll";
    if (plan.proven) return used + ", the shortest length that straight cuts allow.";
    return used + "; the method promises no more than " + mm_text(plan.roll_bound_m) + " mm.";
  }
  if (plan.proven || plan.bought <= plan.fewest) return "No straight-cut plan needs fewer.";
  return "No plan can need fewer than " + std::to_string(plan.fewest) +
         "; the method promises fewer than " + fixed(plan.most, 1) + ".";
}

std::string side_words(const cutting::Side& side,
                       const std::vector<cutting::Part>& parts,
                       bool several) {
  switch (side.kind) {
    case cutting::Side::Kind::part:
      return "piece " + parts[static_cast<std::size_t>(side.number)].label +
             (several ? " of " + parts[static_cast<std::size_t>(side.number)].layout : "");
    case cutting::Side::Kind::cut:
      return "on to cut " + std::to_string(side.number);
    case cutting::Side::Kind::offcut:
      return "left over";
    case cutting::Side::Kind::scrap:
      return "scrap";
    case cutting::Side::Kind::nothing:
      break;
  }
  return "nothing";
}

bool any_split(const study::CutLayout& layout) {
  return std::any_of(layout.parts.begin(), layout.parts.end(), [](const cutting::LaidPart& p) {
    return p.part.was_split;
  });
}

bool any_stack(const study::CutLayout& layout) {
  return std::any_of(layout.parts.begin(), layout.parts.end(), [](const cutting::LaidPart& p) {
    return p.part.label.find('b') != std::string::npos;
  });
}

std::vector<std::string> steps_for(const study::CutLayout& layout) {
  std::vector<std::string> steps = {
      "Print the templates at 100 % and measure the 100 mm line on every page before you cut.",
      "Lay the stock with the side up that will be seen, the foil. Cut along a steel rule in the "
      "order "
      "of the plan and write each number on its piece. Outlines that are not rectangles: stick the "
      "template on and cut round it.",
      "Run the window down and up and look which parts of the skin its glass, rods and cables "
      "pass. "
      "What a piece would touch stays bare.",
      "Clean the skin: brush off dust and loose cavity wax, wipe with alcohol and a clean cloth "
      "until "
      "the cloth stays clean, and let it dry.",
      "Skin and sheet want to be above about 15 degrees C, better at room temperature. In the cold "
      "warm "
      "the skin, then the sheet, with a hot-air gun until they are hand-warm all over, never so "
      "hot that you cannot touch them.",
      "Mark corners A and B of every piece on the skin with a tape from the edges of the skin, as "
      "the "
      "table says, or tape the long template into the door.",
      "Lay from the largest piece to the smallest. Peel a hand's width off the liner, set A and B "
      "on "
      "their marks, press that edge down, then peel on as you press.",
      "Roll every piece hard from its middle outwards until it lies without bubbles and its edges "
      "are "
      "down. Prick a bubble that stays, and roll it out.",
      "Look once more: drain holes open, seams free, no sharp edge of foil where a hand or a cable "
      "goes. Run the window down and up."};
  if (any_stack(layout))
    steps.insert(
        steps.begin() + 8,
        "Pieces with a letter lie on each other: a on the skin, b on a, and so on. Roll each "
        "before the next.");
  if (any_split(layout))
    steps.insert(
        steps.begin() + 7,
        "Pieces with a point in their number are parts of one piece: lay them edge to edge "
        "without a gap, and not over each other.");
  return steps;
}

std::vector<std::string> warnings_for(const study::CutLayout& layout) {
  std::vector<std::string> warnings;
  for (const cutting::LaidPart& laid : layout.parts) {
    const cutting::Flatness& flat = laid.flatness;
    const std::string piece = "Piece " + laid.part.label + ": ";
    if (flat.lies == cutting::LiesFlat::relief_cuts) {
      const double width = std::abs(flat.cuts.front().width_m);
      warnings.push_back(piece + "the skin is crowned both ways here, so the edge is " +
                         mm_text(std::abs(flat.excess_m)) + " mm too " +
                         (flat.excess_m > 0.0 ? "long" : "short") + ". Make the " +
                         count_of(static_cast<int>(flat.cuts.size()), "relief cut") +
                         " that the template shows, from the edge inwards; " +
                         (flat.excess_m > 0.0
                              ? "take a wedge of " + mm_text(width) + " mm at the edge out of each."
                              : "each opens by " + mm_text(width) + " mm at the edge."));
    }
    if (flat.lies == cutting::LiesFlat::warning)
      warnings.push_back(piece +
                         "the skin under it is crowned both ways, as in a dish or along a swage "
                         "line, and a flat piece differs from it by up to " +
                         mm_text(flat.error_m) +
                         " mm. It will not lie flat: cut it in two at the dish or line, or warm it "
                         "well and press it in from the middle.");
  }
  if (any_split(layout))
    warnings.push_back(
        "Some pieces are larger than the stock and are laid in parts. They were computed in one "
        "piece; "
        "along the joints the foil does not pull, so in parts they do less.");
  return warnings;
}

}  // namespace

std::string stock_name(const cutting::SheetPlan& sheet, const cutting::StockPlan& stock) {
  const std::string size = ", " + size_words(stock.width_m, stock.length_m);
  const std::string number = std::to_string(stock.number);
  if (stock.kind == cutting::StockKind::offcut)
    return sheet.sheet + ": offcut " + number + " from the shelf" + size;
  return sheet.sheet + ": " + thing_of(sheet) + " " + number + " of " +
         std::to_string(sheet.bought) + size;
}

std::vector<std::string> sheet_sentences(const cutting::SheetPlan& plan,
                                         const std::string& currency) {
  std::vector<std::string> lines;
  const auto offcuts = static_cast<int>(plan.stocks.size()) - plan.bought;
  std::string buy = plan.sheet + ": ";
  if (plan.bought == 0) {
    buy += "buy nothing";
  } else {
    const cutting::StockPlan& last = plan.stocks.back();
    buy += "buy " + count_of(plan.bought, thing_of(plan)) + " of " +
           size_words(last.width_m, last.length_m);
    if (plan.price > 0.0) buy += ", " + fixed(plan.cost(), 2) + " " + currency;
  }
  if (offcuts > 0) buy += "; use " + count_of(offcuts, "offcut") + " from the shelf";
  lines.push_back(buy + ".");
  if (plan.bought > 0) lines.push_back(goodness(plan));
  std::string left;
  for (const cutting::StockPlan& stock : plan.stocks)
    for (const cutting::Box& box : stock.offcuts) {
      const bool rest = stock.kind == cutting::StockKind::roll && box.h_m > stock.width_m - 1e-6 &&
                        box.x_m + box.w_m > stock.length_m - 1e-6;
      left += (left.empty() ? "" : ", ") + std::string(rest ? "the rest of the roll, " : "") +
              size_words(box.h_m, box.w_m);
    }
  lines.push_back(
      "Waste " + fixed(100.0 * plan.area.waste(), 1) + " % of what is used up, " +
      fixed(plan.area.trimmings + plan.area.scrap + plan.area.gaps, 3) + " m2" +
      (left.empty() ? "; nothing worth keeping is left." : "; left over: " + left + "."));
  return lines;
}

std::string cut_sentence(const cutting::Cut& cut, const cutting::CutPlan& plan) {
  const bool several = plan.layouts.size() > 1;
  const bool upright = cut.axis == cutting::CutAxis::x;
  const std::string edge = upright ? "left" : "lower";
  std::string words = std::string(upright ? "upright" : "level") + ", " + mm_text(cut.at_m) +
                      " mm from the " + edge + " edge";
  if (std::abs(cut.at_m - cut.on_rest_m) > 5e-7)
    words += " (" + mm_text(cut.on_rest_m) + " mm on this rest)";
  words += ", from " + mm_text(cut.from_m) + " to " + mm_text(cut.to_m) + " mm; ";
  words += (upright ? "left: " : "below: ") + side_words(cut.low, plan.parts, several);
  words += (upright ? ", right: " : ", above: ") + side_words(cut.high, plan.parts, several);
  const double rest = (upright ? cut.rest.w_m : cut.rest.h_m) - cut.on_rest_m;
  if (cut.high.kind == cutting::Side::Kind::scrap && rest < 1e-3)
    words += " (under 1 mm: it may stay)";
  return words;
}

cutting::LayingWords laying_words(const job::Job& job, const study::CutLayout& layout) {
  cutting::LayingWords words;
  words.title = "Laying sheet, layout " + layout.name;
  words.job = job.title;
  words.facts.push_back(job.title);
  for (const cutting::SheetPlan& sheet : layout.plan.sheets)
    for (const std::string& line : sheet_sentences(sheet, job.currency))
      words.facts.push_back(line);
  words.facts.push_back(count_of(static_cast<int>(layout.parts.size()), "piece") + ", " +
                        fixed(layout.plan.laid_m2(), 3) + " m2 of sheet, about " +
                        fixed(5.0 * std::ceil(layout.minutes / 5.0), 0) +
                        " minutes to clean, cut and lay (a rule of thumb).");
  words.head = {"piece", "cut from", "size, mm", "face", "corner A", "corner B", "off by, mm"};
  for (const cutting::LaidPart& laid : layout.parts)
    words.rows.push_back({laid.part.label,
                          laid.part.sheet + ", " + laid.from,
                          mm_text(laid.part.size_m.x()) + " x " + mm_text(laid.part.size_m.y()),
                          laid.part.outer_face ? "outer" : "inner",
                          cutting::corner_text(laid.position.a),
                          cutting::corner_text(laid.position.b),
                          mm_text(laid.flatness.error_m)});
  words.steps = steps_for(layout);
  words.warnings = warnings_for(layout);
  words.cautions = cautions();
  return words;
}

}  // namespace calmplate::report
