// SPDX-License-Identifier: GPL-3.0-or-later
#include "picture/render_window.hpp"

#include <vtkContextActor.h>
#include <vtkContextItem.h>
#include <vtkContextScene.h>
#include <vtkGenericOpenGLRenderWindow.h>
#include <vtkImageData.h>
#include <vtkNew.h>
#include <vtkRenderer.h>
#include <vtkWindowToImageFilter.h>

#include <exception>
#include <stdexcept>

#include "picture/canvas.hpp"
#include "picture/egl_context.hpp"
#include "picture/vtk_messages.hpp"

namespace calmplate::picture {
namespace {

/// Hands the page's drawing function to the scene. An exception must not pass through the
/// rendering library: it is kept and thrown again afterwards.
class PageItem : public vtkContextItem {
 public:
  static PageItem* New() {
    auto* item = new PageItem;
    item->InitializeObjectBase();
    return item;
  }

  bool Paint(vtkContext2D* painter) override {
    try {
      Canvas canvas(*painter);
      draw(canvas);
    } catch (...) {
      fault = std::current_exception();
    }
    return true;
  }

  std::function<void(Canvas&)> draw;
  std::exception_ptr fault;

 protected:
  PageItem() = default;
  ~PageItem() override = default;
};

}  // namespace

struct RenderWindow::Parts {
  EglContext context;  // first in, last out: the window gives its objects back before it goes
  vtkNew<vtkGenericOpenGLRenderWindow> window;
};

RenderWindow::RenderWindow() {
  const VtkMessages unheard;
  parts_ = std::make_unique<Parts>();
  const QuietStandardError quiet;
  vtkGenericOpenGLRenderWindow& window = *parts_->window;
  window.SetOwnContext(0);
  window.SetReadyForRendering(true);
  window.SetIsCurrent(true);
  window.SetMapped(1);
  window.SetOffScreenRendering(1);
  window.SetMultiSamples(8);
  window.SetDPI(kDotsPerInch);
  window.SetSize(kPageWidthPx, kPageHeightPx);
  if (!window.InitializeFromCurrentContext()) {
    throw std::runtime_error("cannot draw: the OpenGL driver is older than 3.2");
  }
}

RenderWindow::~RenderWindow() {
  const QuietStandardError quiet;
  parts_->window->Finalize();
}

RgbaImage RenderWindow::draw_scene(vtkRenderer& renderer, int width, int height) {
  vtkGenericOpenGLRenderWindow& window = *parts_->window;
  window.SetSize(width, height);
  window.AddRenderer(&renderer);
  const QuietStandardError quiet;
  window.Render();
  vtkNew<vtkWindowToImageFilter> reader;
  reader->SetInput(&window);
  reader->SetInputBufferTypeToRGB();
  reader->ReadFrontBufferOff();
  reader->ShouldRerenderOff();
  reader->Update();
  window.RemoveRenderer(&renderer);
  vtkImageData* pixels = reader->GetOutput();
  int size[3] = {0, 0, 0};
  pixels->GetDimensions(size);
  if (size[0] != width || size[1] != height || pixels->GetNumberOfScalarComponents() != 3) {
    throw std::runtime_error("cannot draw: the OpenGL driver returned no picture");
  }
  RgbaImage image{width, height, {}};
  const auto count = std::size_t(width) * std::size_t(height);
  image.bytes.resize(4 * count);
  const auto* from = static_cast<const unsigned char*>(pixels->GetScalarPointer());
  for (std::size_t k = 0; k < count; ++k) {
    for (std::size_t c = 0; c < 3; ++c) image.bytes[4 * k + c] = from[3 * k + c];
    image.bytes[4 * k + 3] = 255;
  }
  return image;
}

RgbaImage RenderWindow::draw_page(const std::function<void(Canvas&)>& draw) {
  vtkNew<PageItem> item;
  item->draw = draw;
  vtkNew<vtkContextActor> actor;
  actor->GetScene()->AddItem(item);
  vtkNew<vtkRenderer> renderer;
  renderer->SetBackground(1.0, 1.0, 1.0);
  renderer->AddActor(actor);
  RgbaImage image = draw_scene(*renderer, kPageWidthPx, kPageHeightPx);
  if (item->fault) std::rethrow_exception(item->fault);
  return image;
}

}  // namespace calmplate::picture
