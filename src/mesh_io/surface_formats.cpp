// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh_io/surface_formats.hpp"

#include <CGAL/IO/OBJ.h>
#include <CGAL/IO/PLY.h>
#include <CGAL/IO/STL.h>
#include <CGAL/Simple_cartesian.h>

#include <locale>
#include <sstream>
#include <vector>

namespace calmplate::mesh_io {
namespace {

using Point = CGAL::Simple_cartesian<double>::Point_3;

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
