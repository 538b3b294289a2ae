// SPDX-License-Identifier: GPL-3.0-or-later
#include "window/graphics.hpp"

#include <QVTKOpenGLNativeWidget.h>

#include <QOffscreenSurface>
#include <QOpenGLContext>
#include <QSurfaceFormat>
#include <cstdio>
#include <cstdlib>
#include <stdexcept>

namespace calmplate::window {
namespace {

bool started = false;

/// Qt says what is wrong on several lines and aborts. Before it has started, the only thing that
/// can be wrong is the display; after that its warnings are of no use to a person.
void take_message(QtMsgType type, const QMessageLogContext&, const QString& text) {
  if (type != QtFatalMsg) return;
  if (started)
    std::fprintf(stderr, "calmplate: %s\n", text.toUtf8().constData());
  else
    std::fputs(
        "calmplate: the window needs a display, and none can be opened "
        "(DISPLAY or WAYLAND_DISPLAY); calmplate run needs none\n",
        stderr);
  std::_Exit(1);
}

}  // namespace

std::unique_ptr<QApplication> start_graphics(int& argc, char** argv) {
  qInstallMessageHandler(take_message);
  QSurfaceFormat format = QVTKOpenGLNativeWidget::defaultFormat();
  format.setSamples(0);
  format.setSwapInterval(0);
  QSurfaceFormat::setDefaultFormat(format);
  QCoreApplication::setAttribute(Qt::AA_EnableHighDpiScaling);
  auto application = std::make_unique<QApplication>(argc, argv);
  QApplication::setApplicationName("calmplate");
  QApplication::setApplicationVersion(CALMPLATE_VERSION);
  QOffscreenSurface surface;
  surface.create();
  QOpenGLContext context;
  if (!context.create() || !context.makeCurrent(&surface))
    throw std::runtime_error(
        "the display has no OpenGL 3.2, which the window needs; Mesa's software "
        "driver has it (Debian's libgl1-mesa-dri)");
  context.doneCurrent();
  started = true;
  return application;
}

}  // namespace calmplate::window
