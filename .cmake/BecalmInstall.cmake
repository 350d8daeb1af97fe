# What `cmake --install` puts down besides the rooms themselves (see BecalmRoom.cmake) and the program (ui/cli).

install(DIRECTORY ${PROJECT_SOURCE_DIR}/data/ DESTINATION ${CMAKE_INSTALL_DATADIR}/becalm)
install(FILES LICENSE README.md DESTINATION ${CMAKE_INSTALL_DOCDIR})

set(package_folder ${CMAKE_INSTALL_LIBDIR}/cmake/becalm)
configure_package_config_file(${PROJECT_SOURCE_DIR}/.cmake/becalmConfig.cmake.in ${PROJECT_BINARY_DIR}/becalmConfig.cmake
                              INSTALL_DESTINATION ${package_folder})
# Before 1.0 a minor version may change an interface.
write_basic_package_version_file(${PROJECT_BINARY_DIR}/becalmConfigVersion.cmake COMPATIBILITY SameMinorVersion)
install(FILES ${PROJECT_BINARY_DIR}/becalmConfig.cmake ${PROJECT_BINARY_DIR}/becalmConfigVersion.cmake
        DESTINATION ${package_folder})
install(EXPORT becalmTargets NAMESPACE becalm:: DESTINATION ${package_folder})
