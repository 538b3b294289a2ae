// SPDX-License-Identifier: GPL-3.0-or-later
// The reading half of the module calmplate_vtk_io.so.
#include <vtkCellArray.h>
#include <vtkCellType.h>
#include <vtkCellTypes.h>
#include <vtkNew.h>
#include <vtkPoints.h>
#include <vtkPolyData.h>
#include <vtkUnsignedCharArray.h>
#include <vtkUnstructuredGrid.h>
#include <vtkXMLPolyDataReader.h>
#include <vtkXMLUnstructuredGridReader.h>

#include <cstdint>
#include <exception>
#include <filesystem>
#include <system_error>
#include <utility>

#include "mesh_io/child_reading.hpp"
#include "mesh_io/vtk_module.hpp"
#include "mesh_io/vtk_quiet.hpp"

namespace calmplate::mesh_io {
namespace {

void take_points(vtkPoints* points, PolygonSoup& soup) {
  if (points == nullptr) return;
  for (vtkIdType i = 0; i < points->GetNumberOfPoints(); ++i) {
    std::array<double, 3> xyz{};
    points->GetPoint(i, xyz.data());
    soup.points.push_back(xyz);
  }
}

/// A negative number becomes one that surely does not exist.
PointNumber point_number(vtkIdType id) {
  return id >= 0 && id < static_cast<vtkIdType>(kNoPoint) ? static_cast<PointNumber>(id) : kNoPoint;
}

std::vector<PointNumber> numbers_of(vtkIdList* ids) {
  std::vector<PointNumber> numbers;
  for (vtkIdType k = 0; k < ids->GetNumberOfIds(); ++k)
    numbers.push_back(point_number(ids->GetId(k)));
  return numbers;
}

void take_polygon(const std::vector<PointNumber>& polygon, PolygonSoup& soup) {
  soup.corners.insert(soup.corners.end(), polygon.begin(), polygon.end());
  soup.close_polygon();
}

void take_strip(const std::vector<PointNumber>& strip, PolygonSoup& soup) {
  for (std::size_t k = 0; k + 2 < strip.size(); ++k) {
    const std::size_t odd = k % 2;
    take_polygon({strip[k + odd], strip[k + 1 - odd], strip[k + 2]}, soup);
  }
}

/// @return false if the cells' own bookkeeping is wrong
bool take_cells(vtkCellArray* cells, bool strips, PolygonSoup& soup) {
  if (cells == nullptr) return true;
  if (!cells->IsValid()) return false;
  vtkNew<vtkIdList> ids;
  for (vtkIdType c = 0; c < cells->GetNumberOfCells(); ++c) {
    cells->GetCellAtId(c, ids);
    if (strips)
      take_strip(numbers_of(ids), soup);
    else
      take_polygon(numbers_of(ids), soup);
  }
  return true;
}

/// Far more than a mesh needs that deflate has packed into the file's bytes.
std::size_t memory_for(const char* file) {
  std::error_code fault;
  const std::uintmax_t size = std::filesystem::file_size(file, fault);
  return (std::size_t{256} << 20) + 200 * static_cast<std::size_t>(fault ? 0 : size);
}

template <typename Reader>
bool run(Reader* reader, const QuietVtk& quiet, const char* file) {
  if (reader->CanReadFile(file) == 0) return false;
  reader->SetFileName(file);
  reader->Update();
  return reader->GetErrorCode() == 0 && !quiet.complained() && reader->GetOutput() != nullptr;
}

VtkReading read_polydata(const char* file) {
  VtkReading reading;
  const QuietVtk quiet;
  vtkNew<vtkXMLPolyDataReader> reader;
  if (!run(reader.Get(), quiet, file)) return reading;
  vtkPolyData* data = reader->GetOutput();
  take_points(data->GetPoints(), reading.soup);
  reading.soup.lines_and_points =
      static_cast<std::size_t>(data->GetNumberOfLines() + data->GetNumberOfVerts());
  if (take_cells(data->GetPolys(), false, reading.soup) &&
      take_cells(data->GetStrips(), true, reading.soup))
    reading.outcome = VtkOutcome::kRead;
  return reading;
}

/// Adds one cell of an unstructured grid to the soup, or tells why not.
VtkOutcome take_cell(int type, std::vector<PointNumber> points, PolygonSoup& soup) {
  switch (type) {
    case VTK_EMPTY_CELL:
      return VtkOutcome::kRead;
    case VTK_VERTEX:
    case VTK_POLY_VERTEX:
    case VTK_LINE:
    case VTK_POLY_LINE:
      ++soup.lines_and_points;
      return VtkOutcome::kRead;
    case VTK_TRIANGLE:
    case VTK_QUAD:
    case VTK_POLYGON:
      take_polygon(points, soup);
      return VtkOutcome::kRead;
    case VTK_PIXEL:
      if (points.size() == 4) std::swap(points[2], points[3]);
      take_polygon(points, soup);
      return VtkOutcome::kRead;
    case VTK_TRIANGLE_STRIP:
      take_strip(points, soup);
      return VtkOutcome::kRead;
    case VTK_TETRA:
    case VTK_VOXEL:
    case VTK_HEXAHEDRON:
    case VTK_WEDGE:
    case VTK_PYRAMID:
    case VTK_PENTAGONAL_PRISM:
    case VTK_HEXAGONAL_PRISM:
    case VTK_CONVEX_POINT_SET:
    case VTK_POLYHEDRON:
    case VTK_QUADRATIC_TETRA:
    case VTK_QUADRATIC_HEXAHEDRON:
    case VTK_QUADRATIC_WEDGE:
    case VTK_QUADRATIC_PYRAMID:
    case VTK_LAGRANGE_TETRAHEDRON:
    case VTK_LAGRANGE_HEXAHEDRON:
    case VTK_LAGRANGE_WEDGE:
    case VTK_LAGRANGE_PYRAMID:
      return VtkOutcome::kVolumeCells;
    default:
      return VtkOutcome::kUnknownCells;
  }
}

VtkReading read_grid(const char* file) {
  VtkReading reading;
  const QuietVtk quiet;
  vtkNew<vtkXMLUnstructuredGridReader> reader;
  if (!run(reader.Get(), quiet, file)) return reading;
  vtkUnstructuredGrid* grid = reader->GetOutput();
  take_points(grid->GetPoints(), reading.soup);
  vtkCellArray* cells = grid->GetCells();
  if (cells == nullptr || cells->GetNumberOfCells() == 0) {
    reading.outcome = VtkOutcome::kRead;
    return reading;
  }
  vtkUnsignedCharArray* types = grid->GetCellTypesArray();
  if (!cells->IsValid() || types == nullptr ||
      types->GetNumberOfValues() < cells->GetNumberOfCells())
    return reading;
  vtkNew<vtkIdList> ids;
  reading.outcome = VtkOutcome::kRead;
  for (vtkIdType c = 0; c < cells->GetNumberOfCells(); ++c) {
    cells->GetCellAtId(c, ids);
    const VtkOutcome outcome = take_cell(types->GetValue(c), numbers_of(ids), reading.soup);
    if (outcome == VtkOutcome::kRead) continue;
    // The first kind that is refused is the one that is told and counted.
    if (reading.outcome == VtkOutcome::kRead) reading.outcome = outcome;
    if (reading.outcome == outcome) ++reading.cells;
  }
  return reading;
}

}  // namespace
}  // namespace calmplate::mesh_io

extern "C" __attribute__((visibility("default"))) void calmplate_vtk_io_read(
    const char* file, bool unstructured, calmplate::mesh_io::VtkReading* reading) {
  using namespace calmplate::mesh_io;
  try {
    *reading = read_in_child(file, unstructured ? read_grid : read_polydata, memory_for(file));
  } catch (const std::exception&) {
    *reading = VtkReading{};
  }
}

extern "C" __attribute__((visibility("default"))) const char* calmplate_vtk_io_version() {
  return CALMPLATE_VERSION;
}
