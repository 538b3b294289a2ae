// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <string>
#include <vector>

#include "cutting/laid_part.hpp"
#include "cutting/pen.hpp"
#include "panel/panel.hpp"

namespace calmplate::cutting {

/// Size of the sheets of paper in the printer.
struct Paper {
  std::string name;
  double width_mm = 0.0, height_mm = 0.0;
};

/// "A4" or "Letter". @throws std::invalid_argument for another name
Paper paper_named(const std::string& name);

/// Full-size templates, part by part, on as many pages as each takes. Pages of one part overlap by
/// kOverlap_mm and say how they join; every page has the check ruler.
/// @param job  title for the head of each page
std::vector<PageDrawing> template_tiles(const std::vector<LaidPart>& parts,
                                        const Paper& paper,
                                        const std::string& job);
constexpr double kOverlap_mm = 10.0;

/// One part on a page as large as it needs.
PageDrawing template_page(const LaidPart& part, const std::string& job);

/// The whole face of a panel at full size on one page, as the fitter sees it: rim with the names of
/// its sides, holes, what must stay free, the parts of that face with the tape's way from their
/// corners to the sides, and crosses every 100 mm from the datum.
/// @param parts  only those of the face are drawn
PageDrawing long_page(const panel::Panel& panel,
                      const std::vector<LaidPart>& parts,
                      const std::vector<NamedOutline>& keep_out,
                      bool outer_face,
                      const std::string& job);

/// The same face small, in a box on another page: parts with their numbers and corners, side names.
void draw_face_map(Pen& pen,
                   const panel::Panel& panel,
                   const std::vector<LaidPart>& parts,
                   const std::vector<NamedOutline>& keep_out,
                   bool outer_face,
                   const Eigen::Vector2d& corner,
                   const Eigen::Vector2d& size);

}  // namespace calmplate::cutting
