// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <QVTKOpenGLNativeWidget.h>
#include <vtkActor.h>
#include <vtkGenericOpenGLRenderWindow.h>
#include <vtkImageData.h>
#include <vtkNew.h>
#include <vtkRenderer.h>
#include <vtkTexture.h>

#include <Eigen/Core>
#include <QImage>
#include <QPoint>
#include <functional>

#include "window/skin_mesh.hpp"

namespace calmplate::window {

/// Where the skin is looked at from.
enum class Look {
  outside,         ///< straight on, true to scale
  inside,          ///< straight on from inside
  outside_aslant,  ///< a little from the side and from above
  inside_aslant
};

/// The skin in 3-D. Mouse positions become places on the flat map; the left button is for pieces,
/// the others and the wheel move the view.
class SkinView : public QVTKOpenGLNativeWidget {
 public:
  explicit SkinView(QWidget* parent = nullptr);

  /// @param skin  must outlive this widget; shown with set_texture from then on
  void set_skin(SkinMesh& skin);
  /// @param image  RGBA; must stay as it is, and where it is, until the next call
  void set_texture(const QImage& image);
  void look(Look from);
  void turn(double right_deg, double up_deg);
  void pan(double right_px, double up_px);
  void zoom(double factor);
  bool from_inside() const;
  double m_per_px() const;                              ///< of the screen, on the plane of the skin
  Eigen::Vector2d flat_at(const QPoint& pixel) const;   ///< m; beyond the rim in the mean plane
  QPointF pixel_of(const Eigen::Vector2d& flat) const;  ///< in this widget
  void render_soon();

  // What the window listens to.
  std::function<void(const Eigen::Vector2d&)> on_press, on_drag, on_release, on_hover;
  std::function<bool(QKeyEvent*)> on_key;      ///< true: taken
  std::function<bool(bool backwards)> on_tab;  ///< true: another piece is selected now
  std::function<void()> on_view_changed;

 protected:
  bool event(QEvent* event) override;
  void mousePressEvent(QMouseEvent* event) override;
  void mouseMoveEvent(QMouseEvent* event) override;
  void mouseReleaseEvent(QMouseEvent* event) override;
  void wheelEvent(QWheelEvent* event) override;
  void keyPressEvent(QKeyEvent* event) override;
  void resizeEvent(QResizeEvent* event) override;
  bool focusNextPrevChild(bool next) override;

 private:
  void fit();
  void changed();
  std::pair<Eigen::Vector3d, Eigen::Vector3d> sight(const QPoint& pixel) const;

  SkinMesh* skin_ = nullptr;
  vtkNew<vtkGenericOpenGLRenderWindow> window_;
  vtkNew<vtkRenderer> renderer_;
  vtkNew<vtkActor> actor_;
  vtkNew<vtkTexture> texture_;
  vtkNew<vtkImageData> texels_;
  QPoint last_;
  bool fitted_ = true;  ///< the whole skin fills the view, also after the window's size changed
  bool render_waits_ = false;
};

}  // namespace calmplate::window
