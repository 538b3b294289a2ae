// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <sys/types.h>

#include <array>
#include <string>
#include <vector>

struct _XDisplay;

namespace calmplate::testing {

/// A display in memory with mouse and keyboard of its own. What it is told to press and move
/// reaches programs as a person's hand would: through the display's input, not through the program.
class Display {
 public:
  /// @throws std::runtime_error if Xvfb does not start
  Display(int width, int height);
  ~Display();
  Display(const Display&) = delete;
  Display& operator=(const Display&) = delete;

  const std::string& name() const { return name_; }  ///< as DISPLAY has it

  void move(double x, double y);  ///< the pointer, in pixels of the screen
  void button(int number, bool down);
  /// One key with others held: press({"Control_L"}, "s"). Names are those of X.
  void press(const std::vector<std::string>& held, const std::string& key);
  void press(const std::string& key) { press({}, key); }
  /// The left button from one point to another in a number of steps, some milliseconds apart.
  void drag(double x0, double y0, double x1, double y1, int steps, int step_ms = 15);

  std::array<int, 3> pixel(int x, int y) const;  ///< red, green, blue
  /// The screen as it is now, as PPM.
  void write_picture(const std::string& file) const;

 private:
  void start(int width, int height);
  std::vector<unsigned char> pixels(int x, int y, int width, int height) const;
  int width_ = 0, height_ = 0;
  pid_t server_ = -1;
  std::string name_;
  _XDisplay* connection_ = nullptr;
};

}  // namespace calmplate::testing
