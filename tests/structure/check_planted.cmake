# SPDX-License-Identifier: GPL-3.0-or-later
# Do the checks see anything? Each gets a small tree without a fault, which it must pass, and then one
# with a fault planted, which it must refuse with the file's name.
# Runs as: cmake -DSCRATCH=<folder to write in> -P check_planted.cmake
cmake_minimum_required(VERSION 3.25)
set(here ${CMAKE_CURRENT_LIST_DIR})
set(licence "// SPDX-License-Identifier: GPL-3.0-or-later\n")

# make_tree(): a project of three files, without a fault.
function(make_tree)
  file(REMOVE_RECURSE ${SCRATCH})
  file(WRITE ${SCRATCH}/CMakeLists.txt
       "# SPDX-License-Identifier: GPL-3.0-or-later\nproject(calmplate VERSION 1.2.3)\n")
  file(WRITE ${SCRATCH}/CHANGELOG.md "# Changes\n\n## 1.2.3\n\n## 1.2.2\n")
  file(WRITE ${SCRATCH}/src/base/units.hpp "${licence}#pragma once\n")
  file(WRITE ${SCRATCH}/src/panel/mesh.hpp "${licence}#include \"base/units.hpp\"\n")
  file(WRITE ${SCRATCH}/src/shell/panel_model.hpp "${licence}#include <vector>\n")
endfunction()

function(run_check check out)
  execute_process(
    COMMAND ${CMAKE_COMMAND} -DROOT=${SCRATCH} -P ${here}/check_${check}.cmake
    RESULT_VARIABLE status
    OUTPUT_VARIABLE said
    ERROR_VARIABLE said)
  set(${out} "${said}" PARENT_SCOPE)
  set(status ${status} PARENT_SCOPE)
endfunction()

# planted(CHECK FILE TEXT WORDS): with FILE changed to TEXT the check fails and says WORDS.
function(planted check file text words)
  make_tree()
  run_check(${check} said)
  if(NOT status EQUAL 0)
    message(FATAL_ERROR "check_${check}: fails without a fault: ${said}")
  endif()
  file(WRITE ${SCRATCH}/${file} "${text}")
  run_check(${check} said)
  string(FIND "${said}" "${words}" at)
  if(status EQUAL 0 OR at EQUAL -1)
    message(FATAL_ERROR "check_${check}: did not see \"${words}\" but said: ${said}")
  endif()
  message(STATUS "check_${check}: ${words}")
endfunction()

string(REPEAT "int many;\n" 401 many_lines)
string(REPEAT "int many;\n" 201 some_lines)
# Written in two parts, or check_paths would find it here.
string(CONCAT machine "/ho" "me/someone")

planted(layers src/base/units.hpp "${licence}#include \"panel/mesh.hpp\"\n"
        "src/base/units.hpp: base may not include \"panel/mesh.hpp\"")
planted(layers src/job/job.hpp "${licence}#include \"shell/panel_model.hpp\"\n"
        "src/job/job.hpp: job may not include \"shell/panel_model.hpp\"")
planted(layers src/panel/rim.hpp "${licence}#include \"mesh.hpp\"\n"
        "src/panel/rim.hpp: includes \"mesh.hpp\", which is not a file below src")
planted(layers src/shell/skin.cpp "${licence}#include <iostream>\n"
        "src/shell/skin.cpp: <iostream> is for app,picture only")
planted(layers src/misc/any.hpp "${licence}" "the folder misc does not stand in layers.cmake")
planted(lengths src/panel/mesh.cpp "${many_lines}" "src/panel/mesh.cpp: 401 lines; allowed: 400")
planted(lengths src/panel/mesh.hpp "${some_lines}" "src/panel/mesh.hpp: 201 lines; allowed: 200")
planted(licence src/panel/mesh.hpp "#pragma once\n" "src/panel/mesh.hpp: the first line")
planted(paths src/panel/mesh.hpp "// see ${machine}/door.toml\n"
        "src/panel/mesh.hpp: names ${machine}")
planted(version CHANGELOG.md "# Changes\n\n## 1.3.0\n\n## 1.2.3\n"
        "CMakeLists.txt says 1.2.3, CHANGELOG.md says 1.3.0")
file(REMOVE_RECURSE ${SCRATCH})
