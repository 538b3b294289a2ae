// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh_io/surface_formats.hpp"

#include <CGAL/IO/OBJ.h>
#include <CGAL/IO/PLY.h>
#include <CGAL/IO/STL.h>
#include <CGAL/Simple_cartesian.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <cstring>
#include <locale>
#include <sstream>
#include <vector>

namespace calmplate::mesh_io {
namespace {

using Point = CGAL::Simple_cartesian<double>::Point_3;
constexpr std::size_t kStlHead = 84;  // 80 bytes of any text and the count
constexpr std::size_t kStlFacet = 50;

bool is_binary_stl(const std::string& text) {
  if (text.size() < kStlHead) return false;
  std::uint32_t count = 0;
  std::memcpy(&count, text.data() + 80, sizeof(count));
  return text.size() == kStlHead + kStlFacet * static_cast<std::size_t>(count);
}

/// CGAL keeps the corners in a map, which a coordinate that is no number would put out of order.
/// @return false if there is one, having put it into the soup for the message
bool stl_is_finite(const std::string& text, PolygonSoup& soup) {
  for (std::size_t at = kStlHead; at < text.size(); at += kStlFacet)
    for (std::size_t corner = 0; corner < 3; ++corner) {
      std::array<float, 3> xyz{};
      std::memcpy(xyz.data(), text.data() + at + 12 * (corner + 1), sizeof(xyz));
      if (std::all_of(xyz.begin(), xyz.end(), [](float x) { return std::isfinite(x); })) continue;
      soup.points.resize((at - kStlHead) / kStlFacet * 3 + corner + 1);
      soup.points.back() = {xyz[0], xyz[1], xyz[2]};
      soup.polygons.assign(1, {0, 0, 0});
      return false;
    }
  return true;
}

void take_points(const std::vector<Point>& points, PolygonSoup& soup) {
  for (const Point& p : points) soup.points.push_back({p.x(), p.y(), p.z()});
}

std::istringstream stream_of(const std::string& text) {
  std::istringstream stream(text);
  stream.imbue(std::locale::classic());
  return stream;
}

/// True if every word of an OBJ face line after "f" starts with the number of a point.
bool is_face_line(const std::string& line) {
  std::istringstream words(line);
  std::string word;
  words >> word;
  while (words >> word) {
    const std::string number = word.substr(0, word.find('/'));
    const std::size_t sign = number.rfind('-', 0) == 0 ? 1 : 0;
    if (number.size() == sign || number.size() > 10 ||
        number.find_first_not_of("0123456789", sign) != std::string::npos)
      return false;
  }
  return true;
}

/// CGAL's reader knows no line elements, no tabs in faces and no continued lines: takes them out.
/// @return false if a face line is wrong
bool simplify_obj(std::string text, std::string& simple, PolygonSoup& soup) {
  for (std::size_t at = text.find('\\'); at != std::string::npos; at = text.find('\\', at + 1)) {
    const std::size_t end = text.find_first_not_of('\r', at + 1);
    if (end == std::string::npos || text[end] != '\n') continue;
    std::fill(text.begin() + static_cast<std::ptrdiff_t>(at),
              text.begin() + static_cast<std::ptrdiff_t>(end + 1),
              ' ');
  }
  std::replace(text.begin(), text.end(), '\t', ' ');
  std::istringstream lines(text);
  for (std::string line; std::getline(lines, line);) {
    std::istringstream words(line);
    std::string key;
    words >> key;
    if (key == "f" && !is_face_line(line)) return false;
    if (key == "l" || key == "p")
      ++soup.lines_and_points;
    else
      simple += line + '\n';
  }
  return true;
}

struct CgalSoup {
  std::vector<Point> points;
  std::vector<std::vector<int>> triangles;
};

CgalSoup cgal_soup(const panel::Mesh& mesh) {
  CgalSoup soup;
  for (Eigen::Index i = 0; i < mesh.nodes.rows(); ++i)
    soup.points.emplace_back(mesh.nodes(i, 0), mesh.nodes(i, 1), mesh.nodes(i, 2));
  for (Eigen::Index t = 0; t < mesh.triangles.rows(); ++t)
    soup.triangles.push_back({mesh.triangles(t, 0), mesh.triangles(t, 1), mesh.triangles(t, 2)});
  return soup;
}

std::ostringstream output(bool binary) {
  std::ostringstream stream;
  stream.imbue(std::locale::classic());
  stream.precision(17);
  if (binary) CGAL::IO::set_binary_mode(stream);
  return stream;
}

}  // namespace

bool read_stl(const std::string& text, PolygonSoup& soup) {
  const bool binary = is_binary_stl(text);
  if (binary && !stl_is_finite(text, soup)) return true;
  if (!binary) {
    const std::size_t start = text.find_first_not_of(" \t\r\n");
    if (start == std::string::npos || text.compare(start, 5, "solid") != 0) return false;
  }
  // A binary file's head may say "solid" as well, and CGAL would then try it as text.
  std::istringstream stream = stream_of(binary ? std::string(80, '-') + text.substr(80) : text);
  std::vector<Point> points;
  const bool whole = CGAL::IO::read_STL(stream, points, soup.polygons);
  take_points(points, soup);
  return whole;
}

bool read_obj(const std::string& text, PolygonSoup& soup) {
  std::string simple;
  if (!simplify_obj(text, simple, soup)) return false;
  std::istringstream stream = stream_of(simple);
  std::vector<Point> points;
  const bool whole = CGAL::IO::read_OBJ(stream, points, soup.polygons);
  take_points(points, soup);
  // Having understood every line, CGAL may still refuse faces that are missing or name no point;
  // those have messages of their own.
  return whole || stream.eof();
}

std::string stl_text(const panel::Mesh& mesh) {
  const CgalSoup soup = cgal_soup(mesh);
  std::ostringstream stream = output(true);
  CGAL::IO::write_STL(stream, soup.points, soup.triangles);
  return stream.str();
}

std::string ply_text(const panel::Mesh& mesh) {
  const CgalSoup soup = cgal_soup(mesh);
  std::ostringstream stream = output(true);
  CGAL::IO::write_PLY(stream, soup.points, soup.triangles);
  return stream.str();
}

std::string obj_text(const panel::Mesh& mesh) {
  const CgalSoup soup = cgal_soup(mesh);
  std::ostringstream stream = output(false);
  CGAL::IO::write_OBJ(stream, soup.points, soup.triangles);
  return stream.str();
}

}  // namespace calmplate::mesh_io
