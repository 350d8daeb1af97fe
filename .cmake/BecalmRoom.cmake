# One CMake target a room. becalm_room(NAME SOURCES ... PUBLIC ... PRIVATE ...) makes the static library becalm_NAME, alias becalm::NAME,
# with the project's include root, warnings and optional instrumentation, and says what of it is installed: the library in
# the export set becalmTargets and the headers under include/becalm/NAME, so that #include "NAME/..." holds for others too.

add_library(becalm_warnings INTERFACE)
target_compile_options(becalm_warnings INTERFACE -Wall -Wextra -Wpedantic -Wshadow -Wconversion -Wno-sign-conversion
                       $<$<BOOL:${BECALM_WARNINGS_AS_ERRORS}>:-Werror>)
# GCC 12 takes "text" + std::string for an overlapping copy (GCC bug 105651, mended in 13).
if(CMAKE_CXX_COMPILER_ID STREQUAL "GNU" AND CMAKE_CXX_COMPILER_VERSION VERSION_LESS 13)
  target_compile_options(becalm_warnings INTERFACE -Wno-restrict)
endif()

add_library(becalm_sanitizers INTERFACE)
if(BECALM_SANITIZE)
  # GCC's manual advises against maybe-uninitialized as an error beside the sanitizers: their code raises false alarms.
  target_compile_options(becalm_sanitizers INTERFACE -Wno-maybe-uninitialized -fsanitize=address,undefined -fno-sanitize-recover=all -fno-omit-frame-pointer)
  target_link_options(becalm_sanitizers INTERFACE -fsanitize=address,undefined)
endif()

# For the tests themselves: undefined behaviour is looked for in what they test. Checks in all of GoogleTest's templates would treble
# the time that tests take to compile.
add_library(becalm_test_sanitizers INTERFACE)
if(BECALM_SANITIZE)
  target_compile_options(becalm_test_sanitizers INTERFACE -Wno-maybe-uninitialized -fsanitize=address -fno-omit-frame-pointer $<$<CONFIG:Debug>:-O0>)
  target_link_options(becalm_test_sanitizers INTERFACE -fsanitize=address,undefined)
endif()

if(BECALM_FUZZ)
  set(fuzzing -fsanitize=fuzzer-no-link,address,undefined -fno-sanitize-recover=all)
  target_compile_options(becalm_sanitizers INTERFACE ${fuzzing} -fno-omit-frame-pointer)
  target_link_options(becalm_sanitizers INTERFACE ${fuzzing})
endif()

add_library(becalm_options INTERFACE)
target_link_libraries(becalm_options INTERFACE becalm_warnings becalm_sanitizers)
if(BECALM_COVERAGE)
  # Atomic, since the pass counts from several threads.
  target_compile_options(becalm_options INTERFACE --coverage -fprofile-update=atomic)
  target_link_options(becalm_options INTERFACE --coverage)
endif()

# becalm_precompile(TARGET HEADER...) or (TARGET REUSE_FROM OTHER).
function(becalm_precompile target)
  if(ARGV1 STREQUAL "REUSE_FROM")
    target_precompile_headers(${target} ${ARGN})
  else()
    target_precompile_headers(${target} PRIVATE ${ARGN})
  endif()
  if(CMAKE_CXX_COMPILER_ID STREQUAL "GNU")
    # The standard library loses its exemption from warnings there, and GCC 12 sees a copy beyond a std::string's end where there is none.
    target_compile_options(${target} PRIVATE -Wno-array-bounds -Wno-stringop-overflow -Wno-stringop-overread)
  endif()
  if(CMAKE_CXX_COMPILER_LAUNCHER MATCHES "ccache" AND CMAKE_CXX_COMPILER_ID STREQUAL "GNU")
    target_compile_options(${target} PRIVATE -fpch-preprocess) # for ccache, which preprocesses first
  endif()
endfunction()

# What nearly every file of a room includes. With sanitizers alone: the optimised build sees to it that each file includes what it uses.
function(becalm_precompile_room target)
  if(BECALM_PCH AND BECALM_SANITIZE)
    becalm_precompile(${target} <algorithm> <array> <chrono> <cmath> <cstdint> <filesystem> <functional> <map> <memory> <numbers>
                      <optional> <set> <span> <string> <string_view> <variant> <vector> <fmt/format.h> ${ARGN})
  endif()
endfunction()

function(becalm_room name)
  cmake_parse_arguments(ROOM "" "" "SOURCES;PUBLIC;PRIVATE" ${ARGN})
  add_library(becalm_${name} STATIC ${ROOM_SOURCES})
  add_library(becalm::${name} ALIAS becalm_${name})
  set_target_properties(becalm_${name} PROPERTIES EXPORT_NAME ${name} POSITION_INDEPENDENT_CODE ON)
  target_include_directories(becalm_${name} PUBLIC $<BUILD_INTERFACE:${PROJECT_SOURCE_DIR}>
                             $<INSTALL_INTERFACE:${CMAKE_INSTALL_INCLUDEDIR}/becalm>)
  target_compile_features(becalm_${name} PUBLIC cxx_std_20)
  # A static library still needs its private libraries when somebody links it: the export names them as $<LINK_ONLY:...>,
  # and becalmConfig.cmake finds them.
  target_link_libraries(becalm_${name} PUBLIC ${ROOM_PUBLIC} PRIVATE $<BUILD_INTERFACE:becalm_options> ${ROOM_PRIVATE})
  becalm_precompile_room(becalm_${name})

  install(TARGETS becalm_${name} EXPORT becalmTargets ARCHIVE DESTINATION ${CMAKE_INSTALL_LIBDIR})
  install(DIRECTORY ${CMAKE_CURRENT_SOURCE_DIR}/ DESTINATION ${CMAKE_INSTALL_INCLUDEDIR}/becalm/${name}
          FILES_MATCHING PATTERN "*.h")
endfunction()
