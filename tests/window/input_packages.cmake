# SPDX-License-Identifier: GPL-3.0-or-later
# A display's own mouse and keyboard, for tests and benchmarks that drive the window.
find_package(X11 REQUIRED COMPONENTS Xtst)
if(NOT TARGET calmplate_test_input)
  add_library(calmplate_test_input INTERFACE)
  target_link_libraries(calmplate_test_input INTERFACE X11::X11 X11::Xtst)
endif()
