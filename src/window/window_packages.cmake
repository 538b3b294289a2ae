# SPDX-License-Identifier: GPL-3.0-or-later
# Libraries of the window. Their targets are known only in the folder that asks for them, so the
# folder of the sources and that of the tests both include this file.
find_package(
  VTK 9.1 REQUIRED
  COMPONENTS CommonCore
             CommonDataModel
             FiltersCore
             GUISupportQt
             RenderingCore
             RenderingOpenGL2)
find_package(Qt5 5.15 REQUIRED COMPONENTS Widgets)
