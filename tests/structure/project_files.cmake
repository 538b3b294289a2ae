# SPDX-License-Identifier: GPL-3.0-or-later
# What the checks of this folder share. Each runs as: cmake -DROOT=<folder of the project> -P check.cmake

# project_files(OUT PATTERN...): files below ROOT in the folders of the project that match, sorted,
# as paths from ROOT. Build trees and results are no part of it.
function(project_files out)
  set(found)
  foreach(folder src tests benchmarks meshes docs .ci)
    set(patterns)
    foreach(pattern ${ARGN})
      list(APPEND patterns ${ROOT}/${folder}/${pattern})
    endforeach()
    file(GLOB_RECURSE here RELATIVE ${ROOT} ${patterns})
    list(APPEND found ${here})
  endforeach()
  list(FILTER found EXCLUDE REGEX "/__pycache__/")
  list(SORT found)
  set(${out} ${found} PARENT_SCOPE)
endfunction()

# complain(TEXT): notes a fault.
function(complain text)
  message(NOTICE "${text}")
  set_property(GLOBAL APPEND PROPERTY faults "x")
endfunction()

# finish(COUNT WHAT): ends the check, with failure if a fault was noted or if nothing was looked at.
function(finish count what)
  get_property(faults GLOBAL PROPERTY faults)
  list(LENGTH faults faults)
  if(count EQUAL 0)
    message(FATAL_ERROR "no ${what} below ${ROOT}")
  elseif(faults GREATER 0)
    message(FATAL_ERROR "${faults} faults in ${count} ${what}")
  endif()
  message(STATUS "${count} ${what} looked at, no fault")
endfunction()
