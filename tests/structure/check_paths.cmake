# SPDX-License-Identifier: GPL-3.0-or-later
# No file names a place of the machine it was written on: a home, a work or a temporary folder.
cmake_minimum_required(VERSION 3.25)
include(${CMAKE_CURRENT_LIST_DIR}/project_files.cmake)

project_files(files *.cpp *.hpp *.py *.cmake *.sh *.toml *.md *.txt *.json *.csv run)
file(GLOB top RELATIVE ${ROOT} ${ROOT}/*.md ${ROOT}/*.json ${ROOT}/CMakeLists.txt)
list(APPEND files ${top})
set(roots work tmp root home mnt media Users)
list(JOIN roots "|" roots)
foreach(file ${files})
  file(READ ${ROOT}/${file} text)
  if(text MATCHES "(^|[^A-Za-z0-9_.})/])(/(${roots})/[A-Za-z0-9_.-]*)")
    complain("${file}: names ${CMAKE_MATCH_2}")
  endif()
endforeach()
list(LENGTH files count)
finish(${count} "text files")
