# SPDX-License-Identifier: GPL-3.0-or-later
# Rendering libraries. Their targets are known only in the folder that asks for them, so the folder
# of the sources and that of the tests both include this file.
find_package(
  VTK 9.1 REQUIRED
  COMPONENTS CommonCore
             CommonDataModel
             CommonTransforms
             FiltersCore
             IOImage
             IOXML
             InteractionStyle
             RenderingContext2D
             RenderingContextOpenGL2
             RenderingCore
             RenderingFreeType
             RenderingOpenGL2
             RenderingUI)
find_package(OpenGL REQUIRED COMPONENTS EGL)
