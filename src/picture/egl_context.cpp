// SPDX-License-Identifier: GPL-3.0-or-later
#include "picture/egl_context.hpp"

#include <EGL/egl.h>
#include <EGL/eglext.h>
#include <fcntl.h>
#include <unistd.h>

#include <cstdio>
#include <cstdlib>
#include <stdexcept>
#include <string>

namespace calmplate::picture {
namespace {

[[noreturn]] void fail(const std::string& what) {
  throw std::runtime_error("cannot draw: " + what +
                           " (needs libegl1, libegl-mesa0 and libgl1-mesa-dri)");
}

EGLDisplay open_display() {
  EGLDisplay display = EGL_NO_DISPLAY;
  const auto get_display = reinterpret_cast<PFNEGLGETPLATFORMDISPLAYEXTPROC>(
      eglGetProcAddress("eglGetPlatformDisplayEXT"));
  if (get_display != nullptr) {
    display = get_display(EGL_PLATFORM_SURFACELESS_MESA, EGL_DEFAULT_DISPLAY, nullptr);
  }
  if (display == EGL_NO_DISPLAY) fail("EGL has no surfaceless platform");
  if (eglInitialize(display, nullptr, nullptr) != EGL_TRUE) fail("EGL does not start");
  return display;
}

EGLContext open_context(EGLDisplay display) {
  // No surface is asked for: everything is drawn into framebuffer objects.
  const EGLint wanted[] = {EGL_SURFACE_TYPE, 0, EGL_RENDERABLE_TYPE, EGL_OPENGL_BIT, EGL_NONE};
  EGLConfig config = nullptr;
  EGLint found = 0;
  if (eglBindAPI(EGL_OPENGL_API) != EGL_TRUE) fail("EGL has no desktop OpenGL");
  if (eglChooseConfig(display, wanted, &config, 1, &found) != EGL_TRUE || found < 1) {
    fail("EGL has no fitting configuration");
  }
  const EGLint version[] = {EGL_CONTEXT_MAJOR_VERSION,
                            3,
                            EGL_CONTEXT_MINOR_VERSION,
                            2,
                            EGL_CONTEXT_OPENGL_PROFILE_MASK,
                            EGL_CONTEXT_OPENGL_CORE_PROFILE_BIT,
                            EGL_NONE};
  const EGLContext context = eglCreateContext(display, config, EGL_NO_CONTEXT, version);
  if (context == EGL_NO_CONTEXT) fail("EGL offers no OpenGL 3.2 context");
  return context;
}

}  // namespace

QuietStandardError::QuietStandardError() {
  std::fflush(stderr);
  saved_ = dup(STDERR_FILENO);
  const int nowhere = open("/dev/null", O_WRONLY | O_CLOEXEC);
  if (nowhere >= 0) {
    dup2(nowhere, STDERR_FILENO);
    close(nowhere);
  }
}

QuietStandardError::~QuietStandardError() {
  std::fflush(stderr);
  if (saved_ >= 0) {
    dup2(saved_, STDERR_FILENO);
    close(saved_);
  }
}

EglContext::EglContext() {
  setenv("LIBGL_ALWAYS_SOFTWARE", "1", 1);
  setenv("GALLIUM_DRIVER", "llvmpipe", 1);
  const QuietStandardError quiet;
  display_ = open_display();
  try {
    context_ = open_context(display_);
    if (eglMakeCurrent(display_, EGL_NO_SURFACE, EGL_NO_SURFACE, context_) != EGL_TRUE) {
      eglDestroyContext(display_, context_);
      fail("EGL cannot make its context current");
    }
  } catch (...) {
    eglTerminate(display_);
    throw;
  }
}

EglContext::~EglContext() {
  const QuietStandardError quiet;
  eglMakeCurrent(display_, EGL_NO_SURFACE, EGL_NO_SURFACE, EGL_NO_CONTEXT);
  eglDestroyContext(display_, context_);
  eglTerminate(display_);
}

}  // namespace calmplate::picture
