// SPDX-License-Identifier: GPL-3.0-or-later
#include <iostream>

#include "picture/draw_command.hpp"

int main(int count, char** words) {
  return calmplate::picture::run_draw(
      {words + (count > 0 ? 1 : 0), words + count}, std::cout, std::cerr);
}
