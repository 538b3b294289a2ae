// SPDX-License-Identifier: GPL-3.0-or-later
#include <catch2/catch.hpp>
#include <cmath>
#include <regex>

#include "page/line_chart.hpp"
#include "page/svg.hpp"

namespace calmplate::page {
namespace {

LineChart two_curves() {
  LineChart chart;
  chart.id = "c";
  chart.title = "A <title>";
  chart.description = "words";
  chart.x = even_axis("x", {0.0, 10.0}, 5);
  chart.y = even_axis("y", {0.0, 10.0}, 5);
  chart.curves = {{"low", 0, {0.0, 10.0}, {2.0, 2.0}, false},
                  {"high", 1, {0.0, 10.0}, {10.0, 10.0}, false}};
  return chart;
}

/// The first y of the path of a class.
double first_y(const std::string& svg, const std::string& css_class) {
  std::smatch match;
  const std::regex path("<path class=\"" + css_class + "\" d=\"M[0-9.]+ ([0-9.]+)");
  return std::regex_search(svg, match, path) ? std::stod(match[1]) : NAN;
}

/// The y of the grid line of a tick's number.
double tick_y(const std::string& svg, const std::string& number) {
  std::smatch match;
  const std::regex text("<text class=\"tick\" x=\"46\" y=\"([0-9.]+)\" text-anchor=\"end\">" +
                        number + "<");
  return std::regex_search(svg, match, text) ? std::stod(match[1]) - 5.0 : NAN;
}

}  // namespace

// Source: [derived] a level curve lies on the grid line of its value. Tolerance: one decimal.
TEST_CASE("a curve lies at its value on the axis", "[page][derived]") {
  const std::string svg = line_chart_svg(two_curves());
  CHECK(first_y(svg, "curve c0") == Approx(tick_y(svg, "2")).margin(0.11));
  CHECK(first_y(svg, "curve c1") == Approx(tick_y(svg, "10")).margin(0.11));
}

TEST_CASE("a chart has title and description, escaped, and names its curves", "[page]") {
  const std::string svg = line_chart_svg(two_curves());
  CHECK(svg.find("<title id=\"c-t\">A &lt;title&gt;</title><desc id=\"c-d\">words</desc>") !=
        std::string::npos);
  CHECK(svg.find(">low</text>") != std::string::npos);
  CHECK(svg.find(">high</text>") != std::string::npos);
  CHECK(line_chart_html(two_curves()).find("legend") == std::string::npos);
}

TEST_CASE("a name that has to be cut stands in full in the key", "[page]") {
  LineChart chart = two_curves();
  chart.curves[0].name = "a name that is far too long";
  const std::string html = line_chart_html(chart);
  CHECK(html.find("</svg> a name that is far too long</li>") != std::string::npos);
}

TEST_CASE("names beside curves that end together stand apart", "[page]") {
  LineChart chart = two_curves();
  for (ChartCurve& c : chart.curves) c.y = {5.0, 5.0};
  const std::string svg = line_chart_svg(chart);
  std::vector<double> y;
  const std::regex text("<text class=\"name n[0-9]\" x=\"[0-9.]+\" y=\"([0-9.]+)\"");
  for (std::sregex_iterator i(svg.begin(), svg.end(), text), end; i != end; ++i)
    y.push_back(std::stod((*i)[1]));
  REQUIRE(y.size() == 2);
  CHECK(std::abs(y[0] - y[1]) >= 16.0);
}

// Source: [derived] by hand: both ends are round and enclose the values.
TEST_CASE("axes have round numbers that enclose the values", "[page][derived]") {
  const ChartAxis axis = even_axis("", {121.3, 168.2}, 8);
  CHECK(axis.low == 120.0);
  CHECK(axis.high == 170.0);
  CHECK(axis.ticks.size() == 6);
  const ChartAxis same = even_axis("", {5.0, 5.0}, 8);
  CHECK(same.high > same.low);
  const ChartAxis none = even_axis("", {NAN}, 8);
  CHECK(none.high > none.low);
  const ChartAxis hz = frequency_axis("", 32.0, 312.0);
  CHECK(hz.ticks.front() == 40.0);
  CHECK(hz.ticks.back() == 300.0);
}

// Source: [derived] a straight line needs its ends alone; a corner of 5 stays, one of 0.1 goes.
TEST_CASE("a path keeps its corners and loses what nobody sees", "[page][derived]") {
  CHECK(thinned({{0, 0}, {1, 1}, {2, 2}, {3, 3}}, 0.3).size() == 2);
  CHECK(thinned({{0, 0}, {5, 5}, {10, 0}}, 0.3).size() == 3);
  CHECK(thinned({{0, 0}, {5, 0.1}, {10, 0}}, 0.3).size() == 2);
}

TEST_CASE("a level that does not exist breaks the curve", "[page]") {
  LineChart chart = two_curves();
  chart.curves[0].x = {0.0, 2.0, 4.0, 6.0, 8.0};
  chart.curves[0].y = {1.0, 2.0, NAN, 2.0, 1.0};
  const std::string svg = line_chart_svg(chart);
  std::smatch match;
  REQUIRE(std::regex_search(svg, match, std::regex("curve c0\" d=\"([^\"]+)\"")));
  const std::string d = match[1];
  CHECK(std::count(d.begin(), d.end(), 'M') == 2);
  CHECK(d.find("nan") == std::string::npos);
}

}  // namespace calmplate::page
