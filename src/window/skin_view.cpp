// SPDX-License-Identifier: GPL-3.0-or-later
#include "window/skin_view.hpp"

#include <QVTKInteractor.h>
#include <vtkCamera.h>
#include <vtkImageData.h>
#include <vtkPointData.h>
#include <vtkPolyDataMapper.h>
#include <vtkProperty.h>
#include <vtkUnsignedCharArray.h>

#include <QKeyEvent>
#include <QMouseEvent>
#include <QTimer>
#include <QWheelEvent>
#include <algorithm>
#include <cmath>

#include "window/words.hpp"

namespace calmplate::window {
namespace {

constexpr double kAsideDegrees = 25.0, kAboveDegrees = 18.0;
constexpr double kAround = 1.08;          // the view against the skin when it is fitted
constexpr double kDegreesPerPixel = 0.4;  // of a drag that turns
constexpr double kDistance = 5.0;  // m, of the eye; parallel rays, so it only has to be outside

Eigen::Vector3d vector(const double* v) { return {v[0], v[1], v[2]}; }

}  // namespace

SkinView::SkinView(QWidget* parent) : QVTKOpenGLNativeWidget(parent) {
  setRenderWindow(window_);
  window_->SetMultiSamples(0);
  interactor()->SetInteractorStyle(nullptr);
  window_->AddRenderer(renderer_);
  renderer_->SetBackground(0.955, 0.96, 0.965);
  renderer_->GetActiveCamera()->ParallelProjectionOn();
  vtkNew<vtkPolyDataMapper> mapper;
  mapper->ScalarVisibilityOff();
  actor_->SetMapper(mapper);
  actor_->GetProperty()->SetAmbient(0.45);
  actor_->GetProperty()->SetDiffuse(0.55);
  actor_->GetProperty()->SetSpecular(0.0);
  actor_->ForceOpaqueOn();
  texture_->InterpolateOn();
  texture_->SetColorModeToDirectScalars();
  texture_->SetInputData(texels_);
  actor_->SetTexture(texture_);
  actor_->VisibilityOff();
  renderer_->AddActor(actor_);
  setFocusPolicy(Qt::StrongFocus);
  setMouseTracking(true);
  setMinimumSize(320, 240);
  setAccessibleName(words::view_name());
  setAccessibleDescription(words::view_description());
}

void SkinView::set_skin(SkinMesh& skin) {
  skin_ = &skin;
  static_cast<vtkPolyDataMapper*>(actor_->GetMapper())->SetInputData(skin.data());
  look(Look::outside);
}

void SkinView::set_texture(const QImage& image) {
  vtkNew<vtkUnsignedCharArray> array;
  array->SetNumberOfComponents(4);
  // VTK reads the texels only; the array's interface knows no const.
  array->SetArray(const_cast<unsigned char*>(image.constBits()), image.sizeInBytes(), 1);
  texels_->SetDimensions(image.width(), image.height(), 1);
  texels_->GetPointData()->SetScalars(array);
  texels_->Modified();
  actor_->VisibilityOn();
  render_soon();
}

void SkinView::render_soon() {
  if (render_waits_) return;
  render_waits_ = true;
  QTimer::singleShot(0, this, [this] {
    render_waits_ = false;
    if (isVisible()) window_->Render();
  });
}

void SkinView::changed() {
  renderer_->ResetCameraClippingRange();
  render_soon();
  if (on_view_changed) on_view_changed();
}

void SkinView::look(Look from) {
  if (skin_ == nullptr) return;
  vtkCamera* camera = renderer_->GetActiveCamera();
  const bool inside = from == Look::inside || from == Look::inside_aslant;
  const Eigen::Vector3d eye =
      skin_->middle() + (inside ? -kDistance : kDistance) * skin_->outward();
  const Eigen::Vector3d up = skin_->up();
  camera->SetFocalPoint(skin_->middle().data());
  camera->SetPosition(eye.data());
  camera->SetViewUp(up.data());
  if (from == Look::outside_aslant || from == Look::inside_aslant) {
    camera->Azimuth(kAsideDegrees);
    camera->Elevation(kAboveDegrees);
  }
  fitted_ = true;
  fit();
}

/// The skin's bounding box on the plane of the view fills it.
void SkinView::fit() {
  if (skin_ == nullptr || height() == 0) return;
  vtkCamera* camera = renderer_->GetActiveCamera();
  const Eigen::Vector3d sight = vector(camera->GetDirectionOfProjection());
  const Eigen::Vector3d up = vector(camera->GetViewUp());
  const Eigen::Vector3d right = sight.cross(up).normalized();
  const Eigen::Vector3d upright = right.cross(sight).normalized();
  const panel::Nodes& nodes = skin_->panel().mesh.nodes;
  const Eigen::VectorXd x = nodes * right, y = nodes * upright;
  const double wide = x.maxCoeff() - x.minCoeff(), high = y.maxCoeff() - y.minCoeff();
  const Eigen::Vector3d middle = 0.5 * (x.maxCoeff() + x.minCoeff()) * right +
                                 0.5 * (y.maxCoeff() + y.minCoeff()) * upright +
                                 skin_->middle().dot(sight) * sight;
  const Eigen::Vector3d eye = middle - kDistance * sight;
  camera->SetFocalPoint(middle.data());
  camera->SetPosition(eye.data());
  camera->SetParallelScale(0.5 * kAround * std::max(high, wide * height() / width()));
  changed();
}

void SkinView::turn(double right_deg, double up_deg) {
  vtkCamera* camera = renderer_->GetActiveCamera();
  camera->Azimuth(-right_deg);
  camera->Elevation(up_deg);
  camera->OrthogonalizeViewUp();
  fitted_ = false;
  changed();
}

void SkinView::pan(double right_px, double up_px) {
  vtkCamera* camera = renderer_->GetActiveCamera();
  const Eigen::Vector3d sight = vector(camera->GetDirectionOfProjection());
  const Eigen::Vector3d up = vector(camera->GetViewUp());
  const Eigen::Vector3d right = sight.cross(up).normalized();
  const Eigen::Vector3d by = -m_per_px() * (right_px * right + up_px * up);
  const Eigen::Vector3d eye = vector(camera->GetPosition()) + by;
  const Eigen::Vector3d focus = vector(camera->GetFocalPoint()) + by;
  camera->SetPosition(eye.data());
  camera->SetFocalPoint(focus.data());
  fitted_ = false;
  changed();
}

void SkinView::zoom(double factor) {
  vtkCamera* camera = renderer_->GetActiveCamera();
  camera->SetParallelScale(std::clamp(camera->GetParallelScale() / factor, 0.02, 5.0));
  fitted_ = false;
  changed();
}

bool SkinView::from_inside() const {
  if (skin_ == nullptr) return false;
  return vector(renderer_->GetActiveCamera()->GetDirectionOfProjection()).dot(skin_->outward()) >
         0.0;
}

double SkinView::m_per_px() const {
  return 2.0 * renderer_->GetActiveCamera()->GetParallelScale() / std::max(1, height());
}

std::pair<Eigen::Vector3d, Eigen::Vector3d> SkinView::sight(const QPoint& pixel) const {
  vtkCamera* camera = renderer_->GetActiveCamera();
  const Eigen::Vector3d along = vector(camera->GetDirectionOfProjection());
  const Eigen::Vector3d up = vector(camera->GetViewUp());
  const Eigen::Vector3d right = along.cross(up).normalized();
  const Eigen::Vector3d upright = right.cross(along).normalized();
  const Eigen::Vector3d through =
      vector(camera->GetFocalPoint()) + m_per_px() * ((pixel.x() + 0.5 - 0.5 * width()) * right -
                                                      (pixel.y() + 0.5 - 0.5 * height()) * upright);
  return {through - kDistance * along, through + kDistance * along};
}

Eigen::Vector2d SkinView::flat_at(const QPoint& pixel) const {
  const auto [from, towards] = sight(pixel);
  return skin_ == nullptr ? Eigen::Vector2d(0.0, 0.0) : skin_->meet_anyway(from, towards);
}

QPointF SkinView::pixel_of(const Eigen::Vector2d& flat) const {
  if (skin_ == nullptr) return {};
  vtkCamera* camera = renderer_->GetActiveCamera();
  const Eigen::Vector3d along = vector(camera->GetDirectionOfProjection());
  const Eigen::Vector3d right = along.cross(vector(camera->GetViewUp())).normalized();
  const Eigen::Vector3d upright = right.cross(along).normalized();
  const Eigen::Vector3d from = skin_->to_space(flat) - vector(camera->GetFocalPoint());
  return {0.5 * width() + from.dot(right) / m_per_px(),
          0.5 * height() - from.dot(upright) / m_per_px()};
}

/// The toolkit between Qt and VTK gets what it needs for its window, and no input: mouse and keys
/// have their own meaning here.
bool SkinView::event(QEvent* event) {
  switch (event->type()) {
    case QEvent::MouseButtonPress:
    case QEvent::MouseButtonRelease:
    case QEvent::MouseButtonDblClick:
    case QEvent::MouseMove:
    case QEvent::Wheel:
    case QEvent::KeyPress:
    case QEvent::KeyRelease:
      return QOpenGLWidget::event(event);
    default:
      return QVTKOpenGLNativeWidget::event(event);
  }
}

void SkinView::mousePressEvent(QMouseEvent* event) {
  last_ = event->pos();
  if (event->button() == Qt::LeftButton && on_press) on_press(flat_at(event->pos()));
}

void SkinView::mouseMoveEvent(QMouseEvent* event) {
  const QPoint by = event->pos() - last_;
  last_ = event->pos();
  const bool shift = event->modifiers().testFlag(Qt::ShiftModifier);
  if (event->buttons().testFlag(Qt::LeftButton)) {
    if (on_drag) on_drag(flat_at(event->pos()));
  } else if (event->buttons().testFlag(Qt::MiddleButton) ||
             (shift && event->buttons().testFlag(Qt::RightButton))) {
    pan(by.x(), -by.y());
  } else if (event->buttons().testFlag(Qt::RightButton)) {
    turn(kDegreesPerPixel * by.x(), kDegreesPerPixel * by.y());
  } else if (on_hover) {
    on_hover(flat_at(event->pos()));
  }
}

void SkinView::mouseReleaseEvent(QMouseEvent* event) {
  if (event->button() == Qt::LeftButton && on_release) on_release(flat_at(event->pos()));
}

void SkinView::wheelEvent(QWheelEvent* event) {
  zoom(std::pow(1.15, event->angleDelta().y() / 120.0));
}

void SkinView::keyPressEvent(QKeyEvent* event) {
  if (on_key && on_key(event)) return;
  QWidget::keyPressEvent(event);
}

void SkinView::resizeEvent(QResizeEvent* event) {
  QVTKOpenGLNativeWidget::resizeEvent(event);
  if (fitted_)
    fit();
  else
    changed();
}

/// Tab goes from piece to piece, and after the last one to the next part of the window.
bool SkinView::focusNextPrevChild(bool next) {
  if (on_tab && on_tab(!next)) return true;
  return QVTKOpenGLNativeWidget::focusNextPrevChild(next);
}

}  // namespace calmplate::window
