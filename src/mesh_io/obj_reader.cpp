// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh_io/obj_reader.hpp"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <iterator>
#include <string_view>

#include "mesh_io/text_words.hpp"

namespace calmplate::mesh_io {
namespace {

/// First words of lines that say nothing of points and faces.
constexpr std::string_view kPassedOver[] = {
    "vt",       "vn",         "vp",        "g",      "o",     "s",      "mg",
    "mtllib",   "usemtl",     "usemap",    "maplib", "bevel", "lod",    "c_interp",
    "d_interp", "shadow_obj", "trace_obj", "ctech",  "stech", "cstype", "deg",
    "bmat",     "step",       "curv",      "curv2",  "surf",  "parm",   "trim",
    "hole",     "scrv",       "sp",        "end",    "con",   "call",   "csh"};

/// The number of a point before the first slash of a face's word, counted from 1, or below 0 from
/// the last point read. @return false if there is none
bool point_number(std::string_view word, std::size_t n_point, PointNumber& number) {
  word = word.substr(0, word.find('/'));
  std::int64_t written = 0;
  const auto [stop, fault] = std::from_chars(word.data(), word.data() + word.size(), written);
  if (fault != std::errc() || stop != word.data() + word.size() || word.empty()) return false;
  const auto count = static_cast<std::int64_t>(n_point);
  const std::int64_t from_0 = written > 0 ? written - 1 : written < 0 ? count + written : -1;
  number = from_0 >= 0 && from_0 < static_cast<std::int64_t>(kNoPoint)
               ? static_cast<PointNumber>(from_0)
               : kNoPoint;
  return true;
}

bool read_point(TextWords& words, PolygonSoup& soup) {
  std::array<double, 3> xyz{};
  for (double& x : xyz)
    if (!words.next_number(x) || !std::isfinite(x)) return false;
  soup.points.push_back(xyz);
  return true;
}

bool read_face(TextWords& words, PolygonSoup& soup) {
  while (!words.at_end()) {
    PointNumber number = kNoPoint;
    if (!point_number(words.next(), soup.points.size(), number)) return false;
    soup.corners.push_back(number);
  }
  soup.close_polygon();
  return true;
}

bool read_line(TextWords& words, PolygonSoup& soup) {
  if (words.at_end()) return true;
  const std::string_view key = words.next();
  if (key == "v") return read_point(words, soup);
  if (key == "f") return read_face(words, soup);
  if (key == "l" || key == "p") {
    ++soup.lines_and_points;
    return true;
  }
  return key.front() == '#' ||
         std::find(std::begin(kPassedOver), std::end(kPassedOver), key) != std::end(kPassedOver);
}

/// The end of the line that begins at `from`; backslashes before a line's end continue it and are
/// counted in `continued`.
const char* end_of_line(const char* from, const char* end, int& continued) {
  while (true) {
    const char* stop = std::find(from, end, '\n');
    const char* last = stop;
    while (last != from && last[-1] == '\r') --last;
    if (stop == end || last == from || last[-1] != '\\') return stop;
    ++continued;
    from = stop + 1;
  }
}

}  // namespace

bool read_obj(const std::string& text, PolygonSoup& soup) {
  const char* const end = text.data() + text.size();
  for (const char* at = text.data(); at < end;) {
    int continued = 0;
    const char* stop = end_of_line(at, end, continued);
    std::string joined;
    if (continued > 0) {
      joined.assign(at, stop);
      std::replace(joined.begin(), joined.end(), '\\', ' ');
    }
    TextWords words = continued > 0 ? TextWords(joined.data(), joined.data() + joined.size())
                                    : TextWords(at, stop);
    if (!read_line(words, soup)) return false;
    at = stop + 1;
  }
  return true;
}

}  // namespace calmplate::mesh_io
