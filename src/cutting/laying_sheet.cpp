// SPDX-License-Identifier: GPL-3.0-or-later
#include "cutting/laying_sheet.hpp"

#include <algorithm>
#include <functional>
#include <memory>
#include <numeric>

namespace calmplate::cutting {
namespace {

using Eigen::Vector2d;

constexpr double kEdge = 14.0;
constexpr double kBody = 3.2, kLine = 4.5;
constexpr double kTable = 2.9, kTableLine = 3.9;

/// Something that stands on one page, `height` mm tall.
struct Block {
  double height = 0.0;
  std::function<void(Pen&, double top)> draw;
  bool with_next = false;  ///< never the last one on a page
  int head = -1;           ///< block that stands above this one at the top of a page
};

class Flow {
 public:
  Flow(const Paper& paper, const std::string& foot) : paper_(paper), foot_(foot) {}

  double width() const { return paper_.width_mm - 2.0 * kEdge; }

  int add(double height,
          std::function<void(Pen&, double)> draw,
          bool with_next = false,
          int head = -1) {
    blocks_.push_back({height, std::move(draw), with_next, head});
    return static_cast<int>(blocks_.size()) - 1;
  }
  void space(double height) {
    add(height, [](Pen&, double) {});
  }
  void heading(const std::string& words, double size) {
    add(
        1.7 * size,
        [=](Pen& pen, double top) {
          pen.text({kEdge, top + 1.2 * size}, words, size, Anchor::left, true);
        },
        true);
  }
  /// @param mark  stands before the first line: a number, a box to tick
  void paragraph(const std::string& words, const std::string& mark) {
    const double indent = mark.empty() ? 0.0 : 7.0;
    const auto lines = text_lines(words, kBody, width() - indent);
    add(kLine * static_cast<double>(lines.size()) + 0.8, [=](Pen& pen, double top) {
      pen.text({kEdge, top + kBody}, mark, kBody);
      for (std::size_t i = 0; i < lines.size(); ++i)
        pen.text({kEdge + indent, top + kBody + kLine * static_cast<double>(i)}, lines[i], kBody);
    });
  }

  std::vector<PageDrawing> pages() const {
    const double bottom = paper_.height_mm - kEdge - 5.0;
    std::vector<std::vector<std::pair<Block, double>>> pages(1);
    double top = kEdge;
    for (std::size_t i = 0; i < blocks_.size(); ++i) {
      // With what must not be parted from it.
      double height = blocks_[i].height;
      for (std::size_t k = i; blocks_[k].with_next && k + 1 < blocks_.size(); ++k)
        height += blocks_[k + 1].height;
      if (top + height > bottom && !pages.back().empty()) {
        pages.emplace_back();
        top = kEdge;
        if (blocks_[i].head >= 0) {
          const Block& head = blocks_[static_cast<std::size_t>(blocks_[i].head)];
          pages.back().push_back({head, top});
          top += head.height;
        }
      }
      pages.back().push_back({blocks_[i], top});
      top += blocks_[i].height;
    }
    std::vector<PageDrawing> drawn;
    for (std::size_t i = 0; i < pages.size(); ++i) {
      const std::string number =
          "page " + std::to_string(i + 1) + " of " + std::to_string(pages.size());
      drawn.push_back({paper_.width_mm,
                       paper_.height_mm,
                       [page = pages[i], number, foot = foot_, paper = paper_](Pen& pen) {
                         pen.grey(0.0);
                         for (const auto& [block, at] : page) {
                           pen.grey(0.0);
                           block.draw(pen, at);
                         }
                         pen.grey(0.3);
                         const double y = paper.height_mm - kEdge + 3.0;
                         pen.text({kEdge, y}, foot, 2.5);
                         pen.text({paper.width_mm - kEdge, y}, number, 2.5, Anchor::right);
                       }});
    }
    return drawn;
  }

 private:
  Paper paper_;
  std::string foot_;
  std::vector<Block> blocks_;
};

/// Widths of the columns: what the widest word needs at least, the rest shared by the widest texts.
std::vector<double> column_widths(const LayingWords& words, double room) {
  const std::size_t n = words.head.size();
  std::vector<double> least(n, 0.0), wish(n, 0.0);
  const auto look = [&](const std::vector<std::string>& row) {
    for (std::size_t c = 0; c < n; ++c) {
      wish[c] = std::max(wish[c], text_width(row[c], kTable, true));
      for (const std::string& word : text_lines(row[c], kTable, 0.0))
        least[c] = std::max(least[c], text_width(word, kTable, true));
    }
  };
  look(words.head);
  for (const auto& row : words.rows) look(row);
  constexpr double kBetween = 3.0;
  const double fixed =
      std::accumulate(least.begin(), least.end(), 0.0) + kBetween * static_cast<double>(n);
  const double wanted =
      std::accumulate(wish.begin(), wish.end(), 0.0) + kBetween * static_cast<double>(n);
  const double share =
      wanted > fixed ? std::clamp((room - fixed) / (wanted - fixed), 0.0, 1.0) : 0.0;
  std::vector<double> widths(n);
  for (std::size_t c = 0; c < n; ++c)
    widths[c] = least[c] + share * (wish[c] - least[c]) + kBetween;
  return widths;
}

/// @param head_row  block of the table's head; -1: this is the head
/// @return the block
int add_row(Flow& flow,
            const std::vector<std::string>& row,
            const std::vector<double>& widths,
            int head_row) {
  const bool head = head_row < 0;
  std::vector<std::vector<std::string>> cells;
  std::size_t lines = 1;
  for (std::size_t c = 0; c < row.size(); ++c) {
    cells.push_back(text_lines(row[c], kTable, widths[c] - 2.5));
    lines = std::max(lines, cells.back().size());
  }
  const double height = kTableLine * static_cast<double>(lines) + 2.4;
  const auto draw = [=](Pen& pen, double top) {
    double x = kEdge;
    for (std::size_t c = 0; c < cells.size(); ++c) {
      for (std::size_t i = 0; i < cells[c].size(); ++i)
        pen.text({x, top + 1.2 + kTable + kTableLine * static_cast<double>(i)},
                 cells[c][i],
                 kTable,
                 Anchor::left,
                 head || c == 0);
      x += widths[c];
    }
    pen.grey(head ? 0.0 : 0.7);
    pen.width(head ? 0.3 : 0.15);
    pen.line({kEdge, top + height}, {x, top + height});
  };
  return flow.add(height, draw, head, head_row);
}

}  // namespace

std::vector<PageDrawing> laying_pages(const LayingWords& words,
                                      const panel::Panel& panel,
                                      const std::vector<LaidPart>& parts,
                                      const std::vector<NamedOutline>& keep_out,
                                      const Paper& paper) {
  Flow flow(paper, words.job);
  const double width = flow.width();
  flow.heading(words.title, 6.0);
  for (const std::string& fact : words.facts) flow.paragraph(fact, "");
  for (const bool outer : {false, true}) {
    const bool used = std::any_of(
        parts.begin(), parts.end(), [&](const LaidPart& p) { return p.part.outer_face == outer; });
    if (!used) continue;
    const double height = outer ? 70.0 : 92.0;
    flow.space(2.0);
    flow.add(height, [=, &panel](Pen& pen, double top) {
      draw_face_map(pen, panel, parts, keep_out, outer, {kEdge, top}, {width, height});
    });
    flow.paragraph(
        "The " + face_text(outer) + ". Sides are named as on the flat map; hatched: keep free.",
        "");
  }
  flow.space(3.0);
  const std::vector<double> widths = column_widths(words, width);
  const int head = add_row(flow, words.head, widths, -1);
  for (const auto& row : words.rows) add_row(flow, row, widths, head);
  if (!words.warnings.empty()) {
    flow.space(2.0);
    flow.heading("Watch these", 4.2);
    for (const std::string& w : words.warnings) flow.paragraph(w, "!");
  }
  flow.space(2.0);
  flow.heading("Order of work", 4.2);
  for (std::size_t i = 0; i < words.steps.size(); ++i)
    flow.paragraph(words.steps[i], std::to_string(i + 1) + ".");
  flow.space(2.0);
  flow.heading("Cautions", 4.2);
  for (const std::string& caution : words.cautions) flow.paragraph(caution, "-");
  return flow.pages();
}

}  // namespace calmplate::cutting
