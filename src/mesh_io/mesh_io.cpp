// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh_io/mesh_io.hpp"

#include <cmath>
#include <stdexcept>

#include "base/input_error.hpp"
#include "base/safe_output.hpp"
#include "mesh_io/file_checks.hpp"
#include "mesh_io/obj_reader.hpp"
#include "mesh_io/ply_reader.hpp"
#include "mesh_io/polygon_soup.hpp"
#include "mesh_io/stl_reader.hpp"
#include "mesh_io/surface_formats.hpp"
#include "mesh_io/vtk_module.hpp"

namespace calmplate::mesh_io {
namespace fs = std::filesystem;
namespace {

PolygonSoup read_with_vtk(const fs::path& file, Format format) {
  if (!ends_as_vtk_file(file)) refuse_damaged(file, format);
  VtkReading reading;
  vtk_module().read(file.c_str(), format == Format::kVtu, &reading);
  const bool one = reading.cells == 1;
  const std::string cells = std::to_string(reading.cells) + (one ? " cell" : " cells");
  switch (reading.outcome) {
    case VtkOutcome::kRead:
      break;
    case VtkOutcome::kDamaged:
      refuse_damaged(file, format);
    case VtkOutcome::kVolumeCells:
      throw base::InputError({file.string(), 0, ""},
                             "holds " + cells + " with a volume",
                             "the skin alone, as triangles, quads or polygons");
    case VtkOutcome::kUnknownCells:
      throw base::InputError(
          {file.string(), 0, ""},
          "holds " + cells + (one ? " that is" : " that are") + " not straight-sided",
          "triangles, quads or polygons");
    case VtkOutcome::kNoProcess:
      throw std::runtime_error(file.string() + ": cannot be read: no process can be started");
  }
  return reading.soup;
}

PolygonSoup read_soup(const fs::path& file, Format format) {
  if (format == Format::kVtp || format == Format::kVtu) return read_with_vtk(file, format);
  const std::string text = read_whole(file);
  PolygonSoup soup;
  const bool whole = format == Format::kStl   ? read_stl(text, soup)
                     : format == Format::kObj ? read_obj(text, soup)
                                              : read_ply(text, soup);
  if (!whole) refuse_damaged(file, format);
  return soup;
}

/// The bytes of a VTU or VTP file.
std::string vtk_text(const fs::path& file, VtkWriting writing) {
  if (!vtk_module().write(&writing))
    throw std::runtime_error(file.string() + ": cannot be written: VTK gave up");
  return writing.text;
}

void check_mesh(const panel::Mesh& mesh) {
  if (!mesh.nodes.allFinite()) throw std::invalid_argument("mesh: a coordinate is not finite");
  if (mesh.triangles.size() > 0 &&
      (mesh.triangles.minCoeff() < 0 || mesh.triangles.maxCoeff() >= mesh.nodes.rows()))
    throw std::invalid_argument("mesh: a triangle names a node that does not exist");
}

void check_fields(const std::vector<Field>& fields, Eigen::Index rows) {
  for (const Field& field : fields)
    if (field.values.rows() != rows || field.values.cols() < 1)
      throw std::invalid_argument("field " + field.name + ": has " +
                                  std::to_string(field.values.rows()) + " rows instead of " +
                                  std::to_string(rows));
}

}  // namespace

panel::Mesh read_mesh(const fs::path& file, double metres_per_unit) {
  if (!std::isfinite(metres_per_unit) || metres_per_unit <= 0.0)
    throw std::invalid_argument("metres_per_unit: must be finite and above 0");
  check_readable(file);
  const Format format = format_of(file);
  return to_mesh(read_soup(file, format), file, metres_per_unit);
}

void write_vtu(const fs::path& file,
               const panel::Mesh& mesh,
               const std::vector<Field>& node_fields,
               const std::vector<Field>& triangle_fields) {
  check_mesh(mesh);
  check_fields(node_fields, mesh.nodes.rows());
  check_fields(triangle_fields, mesh.triangles.rows());
  base::write_file_whole(file, vtk_text(file, {&mesh, &node_fields, &triangle_fields, true, {}}));
}

void write_mesh(const fs::path& file, const panel::Mesh& mesh) {
  check_mesh(mesh);
  switch (format_of(file)) {
    case Format::kVtp:
      base::write_file_whole(file, vtk_text(file, {&mesh, nullptr, nullptr, false, {}}));
      return;
    case Format::kVtu:
      write_vtu(file, mesh, {}, {});
      return;
    case Format::kStl:
      base::write_file_whole(file, stl_text(mesh));
      return;
    case Format::kPly:
      base::write_file_whole(file, ply_text(mesh));
      return;
    case Format::kObj:
      base::write_file_whole(file, obj_text(mesh));
      return;
  }
}

}  // namespace calmplate::mesh_io
