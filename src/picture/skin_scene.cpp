// SPDX-License-Identifier: GPL-3.0-or-later
#include "picture/skin_scene.hpp"

#include <vtkActor.h>
#include <vtkCamera.h>
#include <vtkCellArray.h>
#include <vtkFeatureEdges.h>
#include <vtkFloatArray.h>
#include <vtkImageData.h>
#include <vtkLight.h>
#include <vtkNew.h>
#include <vtkPointData.h>
#include <vtkPoints.h>
#include <vtkPolyData.h>
#include <vtkPolyDataMapper.h>
#include <vtkPolyDataNormals.h>
#include <vtkProperty.h>
#include <vtkRenderer.h>
#include <vtkTexture.h>

#include <algorithm>
#include <cmath>
#include <cstring>

#include "base/units.hpp"

namespace calmplate::picture {
namespace {

using Vector = std::array<double, 3>;
constexpr int kPaintPixels = 2048;  ///< along the longer side
constexpr double kAsideDeg = 24.0;
constexpr double kAboveDeg = 16.0;

Vector sum(const Vector& a, double s, const Vector& b) {
  return {a[0] + s * b[0], a[1] + s * b[1], a[2] + s * b[2]};
}
double dot(const Vector& a, const Vector& b) { return a[0] * b[0] + a[1] * b[1] + a[2] * b[2]; }
Vector cross(const Vector& a, const Vector& b) {
  return {a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]};
}
Vector unit(const Vector& a) {
  const double size = std::sqrt(dot(a, a));
  return size > 0.0 ? Vector{a[0] / size, a[1] / size, a[2] / size} : Vector{0.0, 0.0, 1.0};
}

/// Mean directions in space of the flat map's x and y, and the side that faces outwards.
struct Directions {
  Vector x{};
  Vector y{};
  Vector out{};
};

/// For each triangle the edges in space are [t_x t_y] times the edges on the map; solved for t_x
/// and t_y and summed with the map's area as weight. Source: derived.
Directions directions_of(const ResultFields& fields) {
  Vector along{};
  Vector up{};
  for (const Triangle& t : fields.triangles) {
    const auto a = std::size_t(t[0]);
    const auto b = std::size_t(t[1]);
    const auto c = std::size_t(t[2]);
    const Vector e = sum(fields.space_m[b], -1.0, fields.space_m[a]);
    const Vector f = sum(fields.space_m[c], -1.0, fields.space_m[a]);
    const Point p{fields.flat_mm[b].x - fields.flat_mm[a].x,
                  fields.flat_mm[b].y - fields.flat_mm[a].y};
    const Point q{fields.flat_mm[c].x - fields.flat_mm[a].x,
                  fields.flat_mm[c].y - fields.flat_mm[a].y};
    const double turn = p.x * q.y - p.y * q.x < 0.0 ? -1.0 : 1.0;
    along = sum(sum(along, turn * q.y, e), -turn * p.y, f);
    up = sum(sum(up, -turn * q.x, e), turn * p.x, f);
  }
  Directions d;
  d.x = unit(along);
  d.out = unit(cross(d.x, up));
  d.y = cross(d.out, d.x);
  return d;
}

void fill_surface(vtkPolyData& surface, const ResultFields& fields, const SkinPaint& paint) {
  vtkNew<vtkPoints> points;
  vtkNew<vtkFloatArray> place;
  place->SetNumberOfComponents(2);
  const Point low = paint.low_mm();
  const Point high = paint.high_mm();
  for (std::size_t k = 0; k < fields.space_m.size(); ++k) {
    points->InsertNextPoint(fields.space_m[k].data());
    const Point& q = fields.flat_mm[k];
    place->InsertNextTuple2((q.x - low.x) / (high.x - low.x), (q.y - low.y) / (high.y - low.y));
  }
  vtkNew<vtkCellArray> cells;
  for (const Triangle& t : fields.triangles) {
    const vtkIdType ids[3] = {t[0], t[1], t[2]};
    cells->InsertNextCell(3, ids);
  }
  surface.SetPoints(points);
  surface.SetPolys(cells);
  surface.GetPointData()->SetTCoords(place);
}

void add_skin(vtkRenderer& renderer, vtkPolyData& surface, const SkinPaint& paint) {
  vtkNew<vtkPolyDataNormals> normals;
  normals->SetInputData(&surface);
  normals->SplittingOff();
  vtkNew<vtkPolyDataMapper> mapper;
  mapper->SetInputConnection(normals->GetOutputPort());
  mapper->ScalarVisibilityOff();
  // The rim line lies in the skin: the skin steps back so that it does not hide half of it.
  mapper->SetResolveCoincidentTopologyToPolygonOffset();
  mapper->SetRelativeCoincidentTopologyPolygonOffsetParameters(2.0, 2.0);
  vtkNew<vtkImageData> pixels;
  pixels->SetDimensions(paint.image().width, paint.image().height, 1);
  pixels->AllocateScalars(VTK_UNSIGNED_CHAR, 4);
  std::memcpy(pixels->GetScalarPointer(), paint.image().bytes.data(), paint.image().bytes.size());
  vtkNew<vtkTexture> texture;
  texture->SetInputData(pixels);
  texture->InterpolateOn();
  texture->MipmapOn();
  vtkNew<vtkActor> actor;
  actor->SetMapper(mapper);
  actor->SetTexture(texture);
  actor->ForceOpaqueOn();
  actor->GetProperty()->SetAmbient(0.56);
  actor->GetProperty()->SetDiffuse(0.55);
  actor->GetProperty()->SetSpecular(0.10);
  actor->GetProperty()->SetSpecularPower(18.0);
  renderer.AddActor(actor);

  vtkNew<vtkFeatureEdges> rim;
  rim->SetInputData(&surface);
  rim->BoundaryEdgesOn();
  rim->FeatureEdgesOff();
  rim->NonManifoldEdgesOff();
  rim->ManifoldEdgesOff();
  rim->ColoringOff();
  vtkNew<vtkPolyDataMapper> rim_mapper;
  rim_mapper->SetInputConnection(rim->GetOutputPort());
  rim_mapper->ScalarVisibilityOff();
  vtkNew<vtkActor> rim_actor;
  rim_actor->SetMapper(rim_mapper);
  rim_actor->GetProperty()->SetColor(0.0, 0.0, 0.0);
  rim_actor->GetProperty()->SetLineWidth(2.5F);
  rim_actor->GetProperty()->LightingOff();
  renderer.AddActor(rim_actor);
}

/// Looks along -toward with `up` upwards; the whole skin fits.
void set_camera(vtkRenderer& renderer,
                const ResultFields& fields,
                const Vector& toward,
                const Vector& up,
                double aspect) {
  const Vector right = unit(cross(up, toward));
  const Vector upright = cross(toward, right);
  double low[3] = {1e300, 1e300, 1e300};
  double high[3] = {-1e300, -1e300, -1e300};
  const Vector axes[3] = {right, upright, toward};
  for (const Vector& p : fields.space_m) {
    for (int k = 0; k < 3; ++k) {
      low[k] = std::min(low[k], dot(p, axes[k]));
      high[k] = std::max(high[k], dot(p, axes[k]));
    }
  }
  Vector centre{};
  for (int k = 0; k < 3; ++k) centre = sum(centre, 0.5 * (low[k] + high[k]), axes[k]);
  const double depth = std::max(high[2] - low[2], high[0] - low[0]);
  const Vector eye = sum(centre, 2.0 * depth, toward);
  vtkCamera* camera = renderer.GetActiveCamera();
  camera->ParallelProjectionOn();
  camera->SetFocalPoint(centre.data());
  camera->SetPosition(eye.data());
  camera->SetViewUp(upright.data());
  camera->SetClippingRange(0.5 * depth, 4.0 * depth);
  camera->SetParallelScale(0.52 * std::max(high[1] - low[1], (high[0] - low[0]) / aspect));
}

void set_lights(vtkRenderer& renderer) {
  const double places[2][3] = {{-0.8, 1.0, 0.55}, {0.5, -0.2, 1.0}};
  const double strengths[2] = {0.95, 0.40};
  for (int k = 0; k < 2; ++k) {
    vtkNew<vtkLight> light;
    light->SetLightTypeToCameraLight();
    light->SetPosition(places[k][0], places[k][1], places[k][2]);
    light->SetFocalPoint(0.0, 0.0, 0.0);
    light->SetIntensity(strengths[k]);
    renderer.AddLight(light);
  }
}

}  // namespace

SkinPaint::SkinPaint(const ResultFields& fields, const Colour& ground) : fields_(fields) {
  low_mm_ = high_mm_ = fields.flat_mm.front();
  for (const Point& p : fields.flat_mm) {
    low_mm_ = {std::min(low_mm_.x, p.x), std::min(low_mm_.y, p.y)};
    high_mm_ = {std::max(high_mm_.x, p.x), std::max(high_mm_.y, p.y)};
  }
  high_mm_ = {std::max(high_mm_.x, low_mm_.x + 1e-3), std::max(high_mm_.y, low_mm_.y + 1e-3)};
  px_per_mm_ = kPaintPixels / std::max(high_mm_.x - low_mm_.x, high_mm_.y - low_mm_.y);
  const auto pixels = [&](double mm) { return std::max(1, int(std::lround(mm * px_per_mm_))); };
  const PixelGrid all(pixels(high_mm_.x - low_mm_.x), pixels(high_mm_.y - low_mm_.y), 1.0);
  image_ = colour_area(all, ground);
}

Outlines SkinPaint::to_pixels(const Outlines& flat_mm) const {
  Outlines out = flat_mm;
  for (Outline& outline : out) {
    for (Point& p : outline) p = {(p.x - low_mm_.x) * px_per_mm_, (p.y - low_mm_.y) * px_per_mm_};
  }
  return out;
}

void SkinPaint::fill(const Outlines& flat_mm, const Colour& colour) {
  const Outlines px = to_pixels(flat_mm);
  const PixelBox box = pixel_box(px, image_.width, image_.height);
  if (box.width == 0) return;
  const PixelGrid cover = pixel_cover(moved(px, box.i, box.j), box.width, box.height);
  lay_over(image_, colour_area(cover, colour), box.i, box.j);
}

void SkinPaint::outline(const Outlines& flat_mm, double width_mm, const Colour& colour) {
  for (const Outline& outline : flat_mm) {
    for (std::size_t k = 0; k < outline.size(); ++k) {
      const Point& a = outline[k];
      const Point& b = outline[(k + 1) % outline.size()];
      const double length = std::hypot(b.x - a.x, b.y - a.y);
      if (length == 0.0) continue;
      const double ux = 0.5 * width_mm * (b.x - a.x) / length;
      const double uy = 0.5 * width_mm * (b.y - a.y) / length;
      fill({{{a.x - ux - uy, a.y - uy + ux},
             {a.x - ux + uy, a.y - uy - ux},
             {b.x + ux + uy, b.y + uy - ux},
             {b.x + ux - uy, b.y + uy + ux}}},
           colour);
    }
  }
}

void SkinPaint::field(const std::vector<double>& point_values,
                      const std::function<Colour(double)>& colour_of) {
  const Outlines points = to_pixels({fields_.flat_mm});
  const PixelGrid values =
      pixel_field(points[0], fields_.triangles, point_values, true, image_.width, image_.height);
  lay_over(
      image_, colour_field(values, PixelGrid(image_.width, image_.height, 1.0), colour_of), 0, 0);
}

RgbaImage render_skin(RenderWindow& window,
                      const ResultFields& fields,
                      const SkinPaint& paint,
                      Side side,
                      int width,
                      int height) {
  vtkNew<vtkPolyData> surface;
  fill_surface(*surface, fields, paint);
  vtkNew<vtkRenderer> renderer;
  renderer->SetBackground(1.0, 1.0, 1.0);
  renderer->AutomaticLightCreationOff();
  add_skin(*renderer, *surface, paint);
  set_lights(*renderer);
  const Directions d = directions_of(fields);
  const double aside = std::tan(base::from_degrees(kAsideDeg));
  const double above = std::tan(base::from_degrees(kAboveDeg));
  const double sign = side == Side::outside ? 1.0 : -1.0;
  const Vector facing{sign * d.out[0], sign * d.out[1], sign * d.out[2]};
  const Vector toward = unit(sum(sum(facing, -sign * aside, d.x), above, d.y));
  set_camera(*renderer, fields, toward, d.y, double(width) / height);
  return window.draw_scene(*renderer, width, height);
}

}  // namespace calmplate::picture
