# cmake -DBUILD=... -DCONSUMER=... -DWORK=... -DGENERATOR=... -DCXX=... -P check.cmake
#
# Installs BUILD, moves the tree away (nothing in it may depend on the place it was installed to), then builds and runs the
# project in CONSUMER against it, and the installed program beside it.

function(run what)
  execute_process(COMMAND ${ARGN} RESULT_VARIABLE code OUTPUT_VARIABLE output ERROR_VARIABLE errors)
  if(NOT code EQUAL 0)
    message(FATAL_ERROR "${what} failed (${code}):\n${output}\n${errors}")
  endif()
  set(output "${output}" PARENT_SCOPE)
endfunction()

function(expect text)
  string(FIND "${output}" "${text}" at)
  if(at EQUAL -1)
    message(FATAL_ERROR "expected \"${text}\" in:\n${output}")
  endif()
endfunction()

file(REMOVE_RECURSE ${WORK})
run("installing" ${CMAKE_COMMAND} --install ${BUILD} --prefix ${WORK}/first)
file(RENAME ${WORK}/first ${WORK}/moved)

foreach(wanted bin/becalm include/becalm/src/base/units.h include/becalm/filters include/becalm/evaluators/assess.h
               share/becalm/sources.toml share/becalm/criteria share/man/man1/becalm.1 share/doc/becalm/LICENSE share/doc/becalm/README.md)
  if(NOT EXISTS ${WORK}/moved/${wanted})
    message(FATAL_ERROR "the installed tree lacks ${wanted}")
  endif()
endforeach()

# Built without a desktop, the tree is none the worse.
if(EXISTS ${WORK}/moved/bin/becalm-desktop)
  foreach(wanted share/applications/becalm.desktop share/icons/hicolor/scalable/apps/becalm.svg share/mime/packages/becalm.xml
                 share/metainfo/local.becalm.desktop.metainfo.xml share/man/man1/becalm-desktop.1)
    if(NOT EXISTS ${WORK}/moved/${wanted})
      message(FATAL_ERROR "the installed tree lacks ${wanted}")
    endif()
  endforeach()
endif()

run("configuring the consumer" ${CMAKE_COMMAND} -S ${CONSUMER} -B ${WORK}/build -G ${GENERATOR} -DCMAKE_CXX_COMPILER=${CXX}
    -DCMAKE_BUILD_TYPE=Release -DCMAKE_PREFIX_PATH=${WORK}/moved)
run("building the consumer" ${CMAKE_COMMAND} --build ${WORK}/build)
run("running the consumer" ${WORK}/build/consumer)
# g = 9.80665 m/s2 exactly [CGPM 1901]; SHA-256 of "abc" [FIPS 180-4, example B.1].
expect("g is 9.80665 m/s2; ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad")

# The example beside the program, from where it was installed.
run("configuring the example" ${CMAKE_COMMAND} -S ${WORK}/moved/share/doc/becalm/examples -B ${WORK}/example -G ${GENERATOR}
    -DCMAKE_CXX_COMPILER=${CXX} -DCMAKE_BUILD_TYPE=Release -DCMAKE_PREFIX_PATH=${WORK}/moved)
run("building the example" ${CMAKE_COMMAND} --build ${WORK}/example)
run("comparing the example with the program" ${CMAKE_COMMAND} -E env BECALM_DATA=${WORK}/moved/share/becalm
    /usr/bin/python3 ${CONSUMER}/check_example.py ${WORK}/example/judge ${WORK}/moved/bin/becalm ${WORK}/demo)

# Built with the Python module, the tree holds all of it, and it finds the data beside it.
file(GLOB module ${WORK}/moved/lib/python*/*-packages/becalm/_core.*.so)
if(PYTHON_MODULE)
  if(NOT module)
    message(FATAL_ERROR "the installed tree lacks the Python module")
  endif()
  cmake_path(GET module PARENT_PATH folder)
  cmake_path(GET folder PARENT_PATH folder)
  run("judging with the installed module" ${CMAKE_COMMAND} -E env --unset=BECALM_DATA PYTHONPATH=${folder} ${PYTHON}
      ${WORK}/moved/share/doc/becalm/examples/judge.py ${WORK}/demo/survey.toml)
  expect("running r.m.s. up to")
endif()

# A criterion that only the installed data hold, so that falling back on the source tree's would show.
file(READ ${WORK}/moved/share/becalm/criteria/iso6954-2000.toml criterion)
string(REPLACE "id = \"iso6954-2000\"" "id = \"installed-only\"" criterion "${criterion}")
file(WRITE ${WORK}/moved/share/becalm/criteria/installed-only.toml "${criterion}")
run("running the installed program" ${CMAKE_COMMAND} -E env --unset=BECALM_DATA ${WORK}/moved/bin/becalm criteria show installed-only)
expect("installed-only")
