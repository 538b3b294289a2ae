// SPDX-License-Identifier: GPL-3.0-or-later
#include "window/display.hpp"

#include <X11/Xlib.h>
#include <X11/Xutil.h>
#include <X11/extensions/XTest.h>
#include <fcntl.h>
#include <signal.h>
#include <sys/prctl.h>
#include <sys/wait.h>
#include <unistd.h>

#include <chrono>
#include <fstream>
#include <stdexcept>
#include <thread>

namespace calmplate::testing {
namespace {

void rest(int milliseconds) {
  std::this_thread::sleep_for(std::chrono::milliseconds(milliseconds));
}

}  // namespace

Display::Display(int width, int height) : width_(width), height_(height) {
  start(width, height);
  connection_ = XOpenDisplay(name_.c_str());
  int event = 0, error = 0, major = 0, minor = 0;
  if (connection_ == nullptr ||
      XTestQueryExtension(connection_, &event, &error, &major, &minor) == 0)
    throw std::runtime_error("the display in memory takes no input");
}

Display::~Display() {
  if (connection_ != nullptr) XCloseDisplay(connection_);
  ::kill(server_, SIGTERM);
  ::waitpid(server_, nullptr, 0);
}

void Display::start(int width, int height) {
  int ends[2];
  if (::pipe(ends) != 0) throw std::runtime_error("no pipe");
  const std::string size = std::to_string(width) + "x" + std::to_string(height) + "x24";
  const std::string to = std::to_string(ends[1]);
  server_ = ::fork();
  if (server_ == 0) {
    ::prctl(PR_SET_PDEATHSIG, SIGKILL);
    ::close(ends[0]);
    const int nowhere = ::open("/dev/null", O_RDWR);
    for (const int stream : {0, 1, 2}) ::dup2(nowhere, stream);
    ::execlp("Xvfb",
             "Xvfb",
             "-displayfd",
             to.c_str(),
             "-screen",
             "0",
             size.c_str(),
             "-nolisten",
             "tcp",
             static_cast<char*>(nullptr));
    ::_exit(127);
  }
  ::close(ends[1]);
  std::string number;
  char c = 0;
  while (::read(ends[0], &c, 1) == 1 && c != '\n') number += c;
  ::close(ends[0]);
  if (number.empty()) throw std::runtime_error("Xvfb does not start");
  name_ = ":" + number;
}

void Display::move(double x, double y) {
  XTestFakeMotionEvent(
      connection_, -1, static_cast<int>(x + 0.5), static_cast<int>(y + 0.5), CurrentTime);
  XFlush(connection_);
}

void Display::button(int number, bool down) {
  XTestFakeButtonEvent(
      connection_, static_cast<unsigned>(number), down ? True : False, CurrentTime);
  XFlush(connection_);
}

void Display::press(const std::vector<std::string>& held, const std::string& key) {
  const auto code = [this](const std::string& name) {
    return static_cast<unsigned>(XKeysymToKeycode(connection_, XStringToKeysym(name.c_str())));
  };
  for (const std::string& name : held)
    XTestFakeKeyEvent(connection_, code(name), True, CurrentTime);
  XTestFakeKeyEvent(connection_, code(key), True, CurrentTime);
  XTestFakeKeyEvent(connection_, code(key), False, CurrentTime);
  for (auto name = held.rbegin(); name != held.rend(); ++name)
    XTestFakeKeyEvent(connection_, code(*name), False, CurrentTime);
  XSync(connection_, False);
}

void Display::drag(double x0, double y0, double x1, double y1, int steps, int step_ms) {
  move(x0, y0);
  rest(step_ms);
  button(1, true);
  for (int i = 1; i <= steps; ++i) {
    rest(step_ms);
    move(x0 + (x1 - x0) * i / steps, y0 + (y1 - y0) * i / steps);
  }
  rest(step_ms);
  button(1, false);
}

std::vector<unsigned char> Display::pixels(int x, int y, int width, int height) const {
  XImage* image = XGetImage(connection_,
                            DefaultRootWindow(connection_),
                            x,
                            y,
                            static_cast<unsigned>(width),
                            static_cast<unsigned>(height),
                            AllPlanes,
                            ZPixmap);
  if (image == nullptr) throw std::runtime_error("the screen cannot be read");
  std::vector<unsigned char> rgb;
  for (int j = 0; j < height; ++j)
    for (int i = 0; i < width; ++i) {
      const unsigned long value = XGetPixel(image, i, j);
      for (const int shift : {16, 8, 0})
        rgb.push_back(static_cast<unsigned char>(value >> shift & 0xff));
    }
  XDestroyImage(image);
  return rgb;
}

std::array<int, 3> Display::pixel(int x, int y) const {
  const std::vector<unsigned char> rgb = pixels(x, y, 1, 1);
  return {rgb[0], rgb[1], rgb[2]};
}

void Display::write_picture(const std::string& file) const {
  const std::vector<unsigned char> rgb = pixels(0, 0, width_, height_);
  std::ofstream stream(file, std::ios::binary);
  stream << "P6\n" << width_ << " " << height_ << "\n255\n";
  stream.write(reinterpret_cast<const char*>(rgb.data()), static_cast<std::streamsize>(rgb.size()));
}

}  // namespace calmplate::testing
