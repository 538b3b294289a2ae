// SPDX-License-Identifier: GPL-3.0-or-later
#include "picture/coverage_picture.hpp"

#include <cmath>

#include "picture/canvas.hpp"
#include "picture/curve_chart.hpp"
#include "picture/page.hpp"
#include "picture/result_folder.hpp"
#include "picture/ticks.hpp"

namespace calmplate::picture {
namespace {

constexpr double kRowMm = 5.0;
const Colour kCurve = {0.0, 0.36, 0.68};

std::string percent(double share) { return number(100.0 * share, 0) + " %"; }

void draw_table(Canvas& canvas, const Coverage& coverage, const std::string& currency) {
  const double x = kContentLow.x;
  double y = kContentLow.y + 8.0 + kRowMm * double(coverage.points.size());
  const double right[] = {40.0, 75.0, 110.0, 150.0, 195.0};
  const std::string money = currency.empty() ? "cost" : currency;
  const std::string headings[] = {"Pieces", "Of the skin", "kg", money, "dB less than bare"};
  const Type strong{9.0, true, kBlack, Across::right, Upright::middle, 0.0};
  for (int c = 0; c < 5; ++c) canvas.text({x + right[c], y}, headings[c], strong);
  canvas.line({{x, y - 2.7}, {kContentHigh.x, y - 2.7}}, {0.35, kBlack, {}});
  y -= 0.6;
  for (std::size_t k = 0; k < coverage.points.size(); ++k) {
    y -= kRowMm;
    const CoveragePoint& p = coverage.points[k];
    const Type type{9.0, k == coverage.knee, kBlack, Across::right, Upright::middle, 0.0};
    canvas.text({x + right[0], y}, std::to_string(p.pieces), type);
    canvas.text({x + right[1], y}, percent(p.share), type);
    canvas.text({x + right[2], y}, number(p.mass_kg, 2), type);
    canvas.text({x + right[3], y}, p.cost > 0.0 ? number(p.cost, 2) : "-", type);
    canvas.text({x + right[4], y}, number(p.reduction_db, 1), type);
    if (k == coverage.knee) {
      Type left = type;
      left.across = Across::left;
      canvas.text({x + right[4] + 6.0, y}, "knee: more sheet brings less and less", left);
    }
  }
}

}  // namespace

Coverage read_coverage(const JsonReader& json) {
  Coverage out;
  out.layout = json.at("layout").text();
  out.sentence = json.at("sentence").text();
  for (const JsonReader& item : json.at("points").items()) {
    const CoveragePoint p{item.at("pieces").whole_number(),
                          item.at("share").number_at_least(0.0),
                          item.at("mass_kg").number_at_least(0.0),
                          item.at("cost").number_at_least(0.0),
                          item.at("reduction_dB").number()};
    if (!out.points.empty() && p.share < out.points.back().share)
      item.at("share").fail("is below the one before it", "shares that rise");
    out.points.push_back(p);
  }
  if (out.points.size() < 2) json.at("points").fail("has too few points", "two or more");
  const int knee = json.at("knee").whole_number();
  if (knee < 0 || static_cast<std::size_t>(knee) >= out.points.size())
    json.at("knee").fail("is not the number of a point", "0 to one under the number of points");
  out.knee = static_cast<std::size_t>(knee);
  return out;
}

RgbaImage draw_coverage(RenderWindow& window, const Results& results) {
  const Coverage& coverage = *results.coverage;
  CurveChart chart;
  chart.low = {kContentLow.x + 20.0,
               kContentLow.y + 26.0 + kRowMm * double(coverage.points.size())};
  chart.high = {kContentHigh.x - 6.0, kContentHigh.y - 6.0};
  std::vector<double> share{0.0, 100.0}, gain{0.0}, x, y;
  for (const CoveragePoint& p : coverage.points) {
    x.push_back(100.0 * p.share);
    y.push_back(p.reduction_db);
    share.push_back(x.back());
    gain.push_back(y.back());
  }
  chart.x = even_axis(share, 10);
  chart.y = even_axis(gain, 6);
  return window.draw_page([&](Canvas& canvas) {
    draw_page_frame(canvas,
                    results,
                    "What more sheet buys: \"" + coverage.layout + "\" piece by piece",
                    coverage.sentence);
    draw_left_axis(canvas, chart, "Lower than bare, dB");
    draw_bottom_axis(canvas, chart, "Share of the skin that is covered, %");
    draw_curve(canvas, chart, x, y, {0.7, kCurve, {}});
    for (std::size_t k = 0; k < x.size(); ++k) canvas.disc(chart.at(x[k], y[k]), 1.0, kCurve);
    const Point knee = chart.at(x[coverage.knee], y[coverage.knee]);
    canvas.line({{knee.x, chart.low.y}, knee}, {0.35, kBlack, {1.2, 1.2}});
    canvas.line({{chart.low.x, knee.y}, knee}, {0.35, kBlack, {1.2, 1.2}});
    canvas.disc(knee, 1.7, kBlack);
    const Type label{10.0, true, kBlack, Across::left, Upright::top, 0.0};
    canvas.text({knee.x + 3.0, knee.y - 2.0},
                "knee: " + percent(coverage.points[coverage.knee].share) + ", " +
                    number(y[coverage.knee], 1) + " dB",
                label);
    if (coverage.points.back().pieces == 1 && x.back() > 50.0) {
      Type end = label;
      end.bold = false;
      end.across = Across::right;
      const Point p = chart.at(x.back(), y.back());
      canvas.text({p.x - 2.0, p.y - 6.0}, "full cover", end);
    }
    canvas.frame(chart.low, chart.high, {0.35, kBlack, {}});
    draw_table(canvas, coverage, results.currency);
  });
}

}  // namespace calmplate::picture
