// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>

#include "report/cutting_words.hpp"
#include "report/summary.hpp"
#include "report/text_table.hpp"

namespace calmplate::report {
namespace {

constexpr std::size_t kWidth = 96;

/// A numbered entry whose further lines stand under its first word.
std::string entry(const std::string& mark, const std::string& words, const std::string& indent) {
  std::string text = wrapped(words, kWidth, indent + std::string(mark.size() + 1, ' '));
  const std::size_t at = indent.size();
  return text.replace(at, mark.size(), mark);
}

std::string plan_text(const job::Job& job, const cutting::CutPlan& plan) {
  std::string text;
  for (const cutting::SheetPlan& sheet : plan.sheets) {
    for (const std::string& line : sheet_sentences(sheet, job.currency))
      text += wrapped(line, kWidth, "  ");
    for (const cutting::StockPlan& stock : sheet.stocks) {
      text += "\n  " + stock_name(sheet, stock) + "\n";
      if (stock.cuts.empty()) text += "    no cut: one piece fills it\n";
      for (const cutting::Cut& cut : stock.cuts)
        text += entry(std::to_string(cut.number) + ".", cut_sentence(cut, plan), "    ");
    }
    text += "\n";
  }
  if (plan.sheets.size() > 1 && plan.priced && plan.cost > 0.0)
    text += "  In all " + fixed(plan.cost, 2) + " " + job.currency + ".\n\n";
  return text;
}

std::string place_table(const cutting::LayingWords& words) {
  std::string text;
  for (const auto& row : words.rows) {
    text += "  piece " + row[0] + ": " + row[2] + " mm, " + row[3] + " face, " + row[1] + "\n";
    text += "    A " + row[4] + "; B " + row[5] + "; length off by up to " + row[6] + " mm\n";
  }
  return text;
}

}  // namespace

std::string cutting_text(const job::Job& job, const study::CutStudy& study) {
  std::string text = job.title + "\n\n";
  text += wrapped(
      "Cutting plans are seen from the side that is seen when laid, the stock's length from left "
      "to "
      "right. Distances are in mm; \"level\" is along the length, \"upright\" across it.",
      kWidth,
      "");
  for (const study::CutLayout& layout : study.layouts) {
    const cutting::LayingWords words = laying_words(job, layout);
    text += "\nLayout \"" + layout.name + "\"\n\n";
    text += wrapped(words.facts.back(), kWidth, "  ") + "\n";
    text += plan_text(job, layout.plan);
    text += "  Where the pieces lie: distances of corners along the skin from its sides\n";
    text += place_table(words);
    for (const std::string& w : words.warnings) text += entry("!", w, "  ");
  }
  if (study.together) {
    text += "\nAll layouts together on common stock\n\n";
    text += plan_text(job, *study.together);
  }
  text += "\nOrder of work\n";
  // The steps of the layout that needs most.
  std::vector<std::string> steps;
  for (const study::CutLayout& layout : study.layouts) {
    const auto these = laying_words(job, layout).steps;
    if (these.size() > steps.size()) steps = these;
  }
  for (std::size_t i = 0; i < steps.size(); ++i)
    text += entry(std::to_string(i + 1) + ".", steps[i], "  ");
  text += "\nCautions\n";
  for (const std::string& caution : cautions()) text += entry("-", caution, "  ");
  return text;
}

}  // namespace calmplate::report
