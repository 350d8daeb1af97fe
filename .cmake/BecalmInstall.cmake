# What `cmake --install` puts down besides the rooms themselves (see BecalmRoom.cmake) and the program (ui/cli).

# What is for a desktop and for man goes to their own places (below, and ui/desktop).
install(DIRECTORY ${PROJECT_SOURCE_DIR}/data/ DESTINATION ${CMAKE_INSTALL_DATADIR}/becalm
        PATTERN desktop EXCLUDE PATTERN icons EXCLUDE PATTERN man EXCLUDE)
configure_file(${PROJECT_SOURCE_DIR}/data/man/becalm.1.in becalm.1 @ONLY)
install(FILES ${PROJECT_BINARY_DIR}/becalm.1 DESTINATION ${CMAKE_INSTALL_MANDIR}/man1)
install(FILES LICENSE README.md DESTINATION ${CMAKE_INSTALL_DOCDIR})
install(DIRECTORY ${PROJECT_SOURCE_DIR}/ui/example/ DESTINATION ${CMAKE_INSTALL_DOCDIR}/examples)

set(package_folder ${CMAKE_INSTALL_LIBDIR}/cmake/becalm)
configure_package_config_file(${PROJECT_SOURCE_DIR}/.cmake/becalmConfig.cmake.in ${PROJECT_BINARY_DIR}/becalmConfig.cmake
                              INSTALL_DESTINATION ${package_folder})
# Before 1.0 a minor version may change an interface.
write_basic_package_version_file(${PROJECT_BINARY_DIR}/becalmConfigVersion.cmake COMPATIBILITY SameMinorVersion)
install(FILES ${PROJECT_BINARY_DIR}/becalmConfig.cmake ${PROJECT_BINARY_DIR}/becalmConfigVersion.cmake
        DESTINATION ${package_folder})
install(EXPORT becalmTargets NAMESPACE becalm:: DESTINATION ${package_folder})
