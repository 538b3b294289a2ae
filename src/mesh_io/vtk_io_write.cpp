// SPDX-License-Identifier: GPL-3.0-or-later
// The writing half of the module calmplate_vtk_io.so.
#include <vtkCellArray.h>
#include <vtkCellData.h>
#include <vtkCellType.h>
#include <vtkDataSetAttributes.h>
#include <vtkDoubleArray.h>
#include <vtkNew.h>
#include <vtkPointData.h>
#include <vtkPoints.h>
#include <vtkPolyData.h>
#include <vtkUnstructuredGrid.h>
#include <vtkXMLPolyDataWriter.h>
#include <vtkXMLUnstructuredGridWriter.h>

#include <exception>

#include "mesh_io/mesh_io.hpp"
#include "mesh_io/vtk_module.hpp"
#include "mesh_io/vtk_quiet.hpp"

namespace calmplate::mesh_io {
namespace {

vtkSmartPointer<vtkPoints> points_of(const panel::Mesh& mesh) {
  vtkNew<vtkPoints> points;
  points->SetDataTypeToDouble();
  points->SetNumberOfPoints(mesh.nodes.rows());
  for (Eigen::Index i = 0; i < mesh.nodes.rows(); ++i)
    points->SetPoint(i, mesh.nodes(i, 0), mesh.nodes(i, 1), mesh.nodes(i, 2));
  return points;
}

vtkSmartPointer<vtkCellArray> cells_of(const panel::Mesh& mesh) {
  vtkNew<vtkCellArray> cells;
  for (Eigen::Index t = 0; t < mesh.triangles.rows(); ++t)
    cells->InsertNextCell({mesh.triangles(t, 0), mesh.triangles(t, 1), mesh.triangles(t, 2)});
  return cells;
}

void add_fields(const std::vector<Field>* fields, vtkDataSetAttributes* attributes) {
  if (fields == nullptr) return;
  for (const Field& field : *fields) {
    vtkNew<vtkDoubleArray> array;
    array->SetName(field.name.c_str());
    array->SetNumberOfComponents(static_cast<int>(field.values.cols()));
    array->SetNumberOfTuples(field.values.rows());
    for (Eigen::Index i = 0; i < field.values.rows(); ++i)
      for (Eigen::Index k = 0; k < field.values.cols(); ++k)
        array->SetComponent(i, static_cast<int>(k), field.values(i, k));
    attributes->AddArray(array);
  }
}

template <typename Writer, typename Data>
bool run(Data* data, VtkWriting& writing) {
  add_fields(writing.node_fields, data->GetPointData());
  add_fields(writing.triangle_fields, data->GetCellData());
  const QuietVtk quiet;
  vtkNew<Writer> writer;
  writer->SetInputData(data);
  writer->SetDataModeToAppended();
  writer->EncodeAppendedDataOff();
  writer->SetHeaderTypeToUInt32();
  writer->SetCompressorTypeToZLib();
  writer->WriteToOutputStringOn();
  const bool written = writer->Write() != 0 && writer->GetErrorCode() == 0 && !quiet.complained();
  writing.text = writer->GetOutputString();
  return written && !writing.text.empty();
}

bool write(VtkWriting& writing) {
  if (writing.unstructured) {
    vtkNew<vtkUnstructuredGrid> grid;
    grid->SetPoints(points_of(*writing.mesh));
    grid->SetCells(VTK_TRIANGLE, cells_of(*writing.mesh));
    return run<vtkXMLUnstructuredGridWriter>(grid.Get(), writing);
  }
  vtkNew<vtkPolyData> surface;
  surface->SetPoints(points_of(*writing.mesh));
  surface->SetPolys(cells_of(*writing.mesh));
  return run<vtkXMLPolyDataWriter>(surface.Get(), writing);
}

}  // namespace
}  // namespace calmplate::mesh_io

extern "C" __attribute__((visibility("default"))) bool calmplate_vtk_io_write(
    calmplate::mesh_io::VtkWriting* writing) {
  try {
    return calmplate::mesh_io::write(*writing);
  } catch (const std::exception&) {
    return false;
  }
}
