// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <functional>
#include <memory>

#include "picture/area_image.hpp"

class vtkRenderer;

namespace calmplate::picture {

class Canvas;

/// An off-screen window on an EGL context of its own; needs no display and opens none.
/// One at a time in a process, used from one thread.
class RenderWindow {
 public:
  /// @throws std::runtime_error (one line) if no context can be had
  RenderWindow();
  ~RenderWindow();
  RenderWindow(const RenderWindow&) = delete;
  RenderWindow& operator=(const RenderWindow&) = delete;

  /// The page drawn by `draw` on white, A4 landscape at kDotsPerInch.
  /// @throws whatever `draw` throws; std::runtime_error if the driver returns no picture
  RgbaImage draw_page(const std::function<void(Canvas&)>& draw);

  /// A scene in 3-D on white.
  RgbaImage draw_scene(vtkRenderer& renderer, int width, int height);

 private:
  struct Parts;
  std::unique_ptr<Parts> parts_;
};

}  // namespace calmplate::picture
