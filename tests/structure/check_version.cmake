# SPDX-License-Identifier: GPL-3.0-or-later
# The version of the build is the newest one of the change log.
cmake_minimum_required(VERSION 3.25)
include(${CMAKE_CURRENT_LIST_DIR}/project_files.cmake)

set(number "[0-9]+\\.[0-9]+\\.[0-9]+")
file(STRINGS ${ROOT}/CMakeLists.txt project REGEX "^project\\(")
file(STRINGS ${ROOT}/CHANGELOG.md headings REGEX "^## .*${number}")
if(NOT project MATCHES "VERSION (${number})")
  message(FATAL_ERROR "CMakeLists.txt: no version")
endif()
set(built ${CMAKE_MATCH_1})
list(GET headings 0 newest)
string(REGEX MATCH "${number}" newest "${newest}")
if(NOT built STREQUAL newest)
  complain("CMakeLists.txt says ${built}, CHANGELOG.md says ${newest}")
endif()
finish(2 "versions")
