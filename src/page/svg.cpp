// SPDX-License-Identifier: GPL-3.0-or-later
#include "page/svg.hpp"

#include <cmath>

#include "page/format.hpp"

namespace calmplate::page {
namespace {

std::string coordinate(double value) {
  std::string out = fixed(value, 1);
  if (out.size() > 2 && out.compare(out.size() - 2, 2, ".0") == 0) out.erase(out.size() - 2);
  return out;
}

}  // namespace

SvgWriter::SvgWriter(const std::string& id,
                     double width,
                     double height,
                     const std::string& title,
                     const std::string& description) {
  out_ = "<svg class=\"chart\" viewBox=\"0 0 " + coordinate(width) + " " + coordinate(height) +
         "\" role=\"img\" aria-labelledby=\"" + escaped(id) + "-t " + escaped(id) + "-d\">";
  element("title", {{"id", id + "-t"}}, escaped(title));
  element("desc", {{"id", id + "-d"}}, escaped(description));
}

void SvgWriter::element(const std::string& name,
                        const Attributes& attributes,
                        const std::string& content) {
  out_ += "<" + name;
  for (const auto& a : attributes) out_ += " " + a.first + "=\"" + escaped(a.second) + "\"";
  out_ += content.empty() ? "/>" : ">" + content + "</" + name + ">";
}

void SvgWriter::line(double x1, double y1, double x2, double y2, const std::string& css_class) {
  element("line",
          {{"class", css_class},
           {"x1", coordinate(x1)},
           {"y1", coordinate(y1)},
           {"x2", coordinate(x2)},
           {"y2", coordinate(y2)}},
          "");
}

void SvgWriter::rectangle(
    double x, double y, double width, double height, const std::string& css_class) {
  element("rect",
          {{"class", css_class},
           {"x", coordinate(x)},
           {"y", coordinate(y)},
           {"width", coordinate(width)},
           {"height", coordinate(height)}},
          "");
}

void SvgWriter::disc(double x, double y, double radius, const std::string& css_class) {
  element("circle",
          {{"class", css_class},
           {"cx", coordinate(x)},
           {"cy", coordinate(y)},
           {"r", coordinate(radius)}},
          "");
}

void SvgWriter::path(const std::vector<std::pair<double, double>>& points,
                     const std::string& css_class) {
  std::string d;
  std::vector<std::pair<double, double>> part;
  const auto end_part = [&] {
    const auto kept = thinned(part, 0.3);
    for (std::size_t i = 0; i < kept.size(); ++i)
      d += (i == 0 ? "M" : "L") + coordinate(kept[i].first) + " " + coordinate(kept[i].second);
    part.clear();
  };
  for (const auto& p : points) {
    if (std::isfinite(p.first) && std::isfinite(p.second))
      part.push_back(p);
    else
      end_part();
  }
  end_part();
  if (!d.empty()) element("path", {{"class", css_class}, {"d", d}}, "");
}

void SvgWriter::text(double x,
                     double y,
                     const std::string& words,
                     const std::string& anchor,
                     const std::string& css_class,
                     double turn_deg) {
  Attributes attributes{
      {"class", css_class}, {"x", coordinate(x)}, {"y", coordinate(y)}, {"text-anchor", anchor}};
  if (turn_deg != 0.0)
    attributes.push_back(
        {"transform",
         "rotate(" + coordinate(turn_deg) + " " + coordinate(x) + " " + coordinate(y) + ")"});
  element("text", attributes, escaped(words));
}

std::vector<std::pair<double, double>> thinned(const std::vector<std::pair<double, double>>& points,
                                               double tolerance) {
  if (points.size() < 3) return points;
  std::vector<bool> keep(points.size(), false);
  keep.front() = keep.back() = true;
  std::vector<std::pair<std::size_t, std::size_t>> open{{0, points.size() - 1}};
  while (!open.empty()) {
    const auto [from, to] = open.back();
    open.pop_back();
    const double dx = points[to].first - points[from].first;
    const double dy = points[to].second - points[from].second;
    const double length = std::hypot(dx, dy);
    double worst = tolerance;
    std::size_t at = from;
    for (std::size_t i = from + 1; i < to; ++i) {
      const double ex = points[i].first - points[from].first;
      const double ey = points[i].second - points[from].second;
      const double away = length > 0.0 ? std::abs(dx * ey - dy * ex) / length : std::hypot(ex, ey);
      if (away > worst) {
        worst = away;
        at = i;
      }
    }
    if (at == from) continue;
    keep[at] = true;
    open.push_back({from, at});
    open.push_back({at, to});
  }
  std::vector<std::pair<double, double>> out;
  for (std::size_t i = 0; i < points.size(); ++i)
    if (keep[i]) out.push_back(points[i]);
  return out;
}

}  // namespace calmplate::page
