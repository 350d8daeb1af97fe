# One CMake target a room. becalm_room(NAME src/... SOURCES ... LINK ...) makes the static library becalm_NAME, alias becalm::NAME,
# with the project's include root, warnings and optional instrumentation.

add_library(becalm_options INTERFACE)
target_compile_options(becalm_options INTERFACE -Wall -Wextra -Wpedantic -Wshadow -Wconversion -Wno-sign-conversion
                       $<$<BOOL:${BECALM_WARNINGS_AS_ERRORS}>:-Werror>)
if(BECALM_SANITIZE)
  target_compile_options(becalm_options INTERFACE -fsanitize=address,undefined -fno-sanitize-recover=all -fno-omit-frame-pointer)
  target_link_options(becalm_options INTERFACE -fsanitize=address,undefined)
endif()
if(BECALM_COVERAGE)
  target_compile_options(becalm_options INTERFACE --coverage)
  target_link_options(becalm_options INTERFACE --coverage)
endif()

function(becalm_room name)
  cmake_parse_arguments(ROOM "" "" "SOURCES;PUBLIC;PRIVATE" ${ARGN})
  add_library(becalm_${name} STATIC ${ROOM_SOURCES})
  add_library(becalm::${name} ALIAS becalm_${name})
  set_target_properties(becalm_${name} PROPERTIES EXPORT_NAME ${name} POSITION_INDEPENDENT_CODE ON)
  target_include_directories(becalm_${name} PUBLIC $<BUILD_INTERFACE:${PROJECT_SOURCE_DIR}>
                             $<INSTALL_INTERFACE:${CMAKE_INSTALL_INCLUDEDIR}/becalm>)
  target_compile_features(becalm_${name} PUBLIC cxx_std_20)
  target_link_libraries(becalm_${name} PUBLIC ${ROOM_PUBLIC} PRIVATE $<BUILD_INTERFACE:becalm_options> ${ROOM_PRIVATE})
endfunction()
