// SPDX-License-Identifier: GPL-3.0-or-later
#include "picture/isolines.hpp"

#include <vtkCellArray.h>
#include <vtkContourFilter.h>
#include <vtkDoubleArray.h>
#include <vtkNew.h>
#include <vtkPointData.h>
#include <vtkPoints.h>
#include <vtkPolyData.h>
#include <vtkStripper.h>

#include <cmath>
#include <stdexcept>

namespace calmplate::picture {
namespace {

void fill_surface(vtkPolyData& surface,
                  const std::vector<Point>& points,
                  const std::vector<Triangle>& triangles,
                  const std::vector<double>& values) {
  vtkNew<vtkPoints> corners;
  corners->SetDataTypeToDouble();
  vtkNew<vtkDoubleArray> scalars;
  for (std::size_t k = 0; k < points.size(); ++k) {
    corners->InsertNextPoint(points[k].x, points[k].y, 0.0);
    scalars->InsertNextValue(std::isnan(values[k]) ? 0.0 : values[k]);
  }
  vtkNew<vtkCellArray> cells;
  for (const Triangle& t : triangles) {
    const vtkIdType ids[3] = {t[0], t[1], t[2]};
    double sum = 0.0;
    for (const vtkIdType id : ids) sum += values[std::size_t(id)];
    if (!std::isnan(sum)) cells->InsertNextCell(3, ids);
  }
  surface.SetPoints(corners);
  surface.SetPolys(cells);
  surface.GetPointData()->SetScalars(scalars);
}

}  // namespace

std::vector<Isoline> isolines(const std::vector<Point>& points,
                              const std::vector<Triangle>& triangles,
                              const std::vector<double>& values,
                              const std::vector<double>& levels) {
  if (values.size() != points.size()) throw std::invalid_argument("isolines: number of values");
  vtkNew<vtkPolyData> surface;
  fill_surface(*surface, points, triangles, values);
  std::vector<Isoline> lines;
  for (const double level : levels) {
    vtkNew<vtkContourFilter> contour;
    contour->SetInputData(surface);
    contour->SetValue(0, level);
    vtkNew<vtkStripper> joined;
    joined->SetInputConnection(contour->GetOutputPort());
    joined->SetMaximumLength(1000000);
    joined->JoinContiguousSegmentsOn();
    joined->Update();
    vtkPolyData* out = joined->GetOutput();
    vtkCellArray* cells = out->GetLines();
    cells->InitTraversal();
    vtkIdType count = 0;
    const vtkIdType* ids = nullptr;
    while (cells->GetNextCell(count, ids) != 0) {
      Isoline line{level, {}};
      for (vtkIdType k = 0; k < count; ++k) {
        const double* p = out->GetPoint(ids[k]);
        line.points.push_back({p[0], p[1]});
      }
      if (line.points.size() > 1) lines.push_back(line);
    }
  }
  return lines;
}

double length_of(const std::vector<Point>& line) {
  double length = 0.0;
  for (std::size_t k = 0; k + 1 < line.size(); ++k) {
    length += std::hypot(line[k + 1].x - line[k].x, line[k + 1].y - line[k].y);
  }
  return length;
}

Point label_place(const std::vector<Point>& line) {
  const std::size_t count = line.size();
  const std::size_t reach = count / 12 + 1;
  std::size_t best = count / 2;
  double best_slope = 2.0;
  for (std::size_t k = count / 5; k + count / 5 < count; ++k) {
    const Point& a = line[k >= reach ? k - reach : 0];
    const Point& b = line[std::min(k + reach, count - 1)];
    const double length = std::hypot(b.x - a.x, b.y - a.y);
    const double slope = length > 0.0 ? std::abs(b.y - a.y) / length : 2.0;
    if (slope < best_slope) {
      best_slope = slope;
      best = k;
    }
  }
  return line[best];
}

}  // namespace calmplate::picture
