// SPDX-License-Identifier: GPL-3.0-or-later
#include "picture/result_fields.hpp"

#include <vtkCellData.h>
#include <vtkDataArray.h>
#include <vtkNew.h>
#include <vtkPointData.h>
#include <vtkUnstructuredGrid.h>
#include <vtkXMLUnstructuredGridReader.h>

#include <cmath>

#include "base/input_error.hpp"
#include "picture/vtk_messages.hpp"

namespace calmplate::picture {
namespace {

constexpr const char* kFlatMap = "flat_map_mm";

[[noreturn]] void fail(const std::string& file,
                       const std::string& key,
                       const std::string& wrong,
                       const std::string& allowed) {
  throw base::InputError({file, 0, key}, wrong, allowed);
}

std::map<std::string, std::vector<double>> scalar_fields(vtkFieldData& data, vtkIdType count) {
  std::map<std::string, std::vector<double>> fields;
  for (int k = 0; k < data.GetNumberOfArrays(); ++k) {
    vtkDataArray* array = data.GetArray(k);
    if (array == nullptr || array->GetName() == nullptr) continue;
    if (array->GetNumberOfComponents() != 1 || array->GetNumberOfTuples() != count) continue;
    std::vector<double>& field = fields[array->GetName()];
    field.reserve(std::size_t(count));
    for (vtkIdType i = 0; i < count; ++i) field.push_back(array->GetComponent(i, 0));
  }
  return fields;
}

void read_points(vtkUnstructuredGrid& grid, ResultFields& fields) {
  const vtkIdType count = grid.GetNumberOfPoints();
  vtkDataArray* flat = grid.GetPointData()->GetArray(kFlatMap);
  if (flat == nullptr || flat->GetNumberOfComponents() < 2 || flat->GetNumberOfTuples() != count) {
    fail(fields.file, kFlatMap, "is missing", "a point array of x, y, 0 in mm");
  }
  for (vtkIdType i = 0; i < count; ++i) {
    std::array<double, 3> p{};
    grid.GetPoint(i, p.data());
    const Point q{flat->GetComponent(i, 0), flat->GetComponent(i, 1)};
    if (!std::isfinite(p[0] + p[1] + p[2] + q.x + q.y)) {
      fail(fields.file, "point " + std::to_string(i), "is not finite", "finite coordinates");
    }
    fields.space_m.push_back(p);
    fields.flat_mm.push_back(q);
  }
}

void read_triangles(vtkUnstructuredGrid& grid, ResultFields& fields) {
  for (vtkIdType c = 0; c < grid.GetNumberOfCells(); ++c) {
    vtkIdType count = 0;
    const vtkIdType* points = nullptr;
    grid.GetCellPoints(c, count, points);
    if (grid.GetCellType(c) != VTK_TRIANGLE || count != 3) {
      fail(fields.file, "cell " + std::to_string(c), "is not a triangle", "triangles");
    }
    Triangle triangle{};
    for (std::size_t k = 0; k < 3; ++k) {
      if (points[k] < 0 || points[k] >= grid.GetNumberOfPoints()) {
        fail(fields.file, "cell " + std::to_string(c), "names a point that is not there", "");
      }
      triangle[k] = int(points[k]);
    }
    fields.triangles.push_back(triangle);
  }
}

const std::vector<double>& find(const std::map<std::string, std::vector<double>>& fields,
                                const std::string& file,
                                const std::string& name,
                                const std::string& allowed) {
  const auto found = fields.find(name);
  if (found == fields.end()) fail(file, name, "is missing", allowed);
  return found->second;
}

}  // namespace

const std::vector<double>& ResultFields::point_field(const std::string& name) const {
  return find(point_fields, file, name, "a point array of one component");
}

const std::vector<double>& ResultFields::cell_field(const std::string& name) const {
  return find(cell_fields, file, name, "a cell array of one component");
}

ResultFields read_fields(const std::filesystem::path& file) {
  ResultFields fields;
  fields.file = file.string();
  std::error_code ignored;
  if (!std::filesystem::is_regular_file(file, ignored)) {
    fail(fields.file, "", "cannot be read", "a file written by calmplate");
  }
  VtkMessages messages;
  vtkNew<vtkXMLUnstructuredGridReader> reader;
  reader->SetFileName(fields.file.c_str());
  reader->Update();
  vtkUnstructuredGrid* grid = reader->GetOutput();
  if (reader->GetErrorCode() != 0 || grid == nullptr || messages.any()) {
    fail(fields.file, "", "cannot be read as a VTU file", "a file written by calmplate");
  }
  if (grid->GetNumberOfCells() == 0 || grid->GetNumberOfPoints() == 0) {
    fail(fields.file, "", "holds no triangles", "a file written by calmplate");
  }
  read_points(*grid, fields);
  read_triangles(*grid, fields);
  fields.point_fields = scalar_fields(*grid->GetPointData(), grid->GetNumberOfPoints());
  fields.cell_fields = scalar_fields(*grid->GetCellData(), grid->GetNumberOfCells());
  return fields;
}

}  // namespace calmplate::picture
