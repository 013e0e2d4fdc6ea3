# Install rules for the libraries with headers, the data, and find_package(totebench). The command,
# the drawing module and the material library are installed where they are made.
include(CMakePackageConfigHelpers)

set(package_dir "${CMAKE_INSTALL_LIBDIR}/cmake/totebench")
set(data_dir "${CMAKE_INSTALL_DATADIR}/totebench")

# What the libraries are built on, a consumer has to find again.
set(TOTEBENCH_LINKS "")
foreach(room materials solver scenes viz studies)
  install(TARGETS totebench_${room} EXPORT totebenchTargets
          ARCHIVE DESTINATION "${CMAKE_INSTALL_LIBDIR}")
  get_target_property(links totebench_${room} LINK_LIBRARIES)
  list(APPEND TOTEBENCH_LINKS ${links})
  get_target_property(folder totebench_${room} SOURCE_DIR)
  install(DIRECTORY "${folder}/include/" DESTINATION "${CMAKE_INSTALL_INCLUDEDIR}")
endforeach()

install(DIRECTORY scenes/examples/ DESTINATION "${data_dir}/examples")
install(DIRECTORY scenes/ DESTINATION "${data_dir}/schema"
        FILES_MATCHING PATTERN "*.schema.json" PATTERN "examples" EXCLUDE)
# The bench on a page, where it has been built (app/page/build.sh).
install(FILES out/page/index.html DESTINATION "${data_dir}/page" OPTIONAL)
install(FILES LICENSE README.md scenes/guide.md DESTINATION "${CMAKE_INSTALL_DOCDIR}")

foreach(dependency CGAL CHOLMOD EXPAT OpenMP)
  set(TOTEBENCH_USES_${dependency} OFF)
  if(TOTEBENCH_LINKS MATCHES "${dependency}::")
    set(TOTEBENCH_USES_${dependency} ON)
  endif()
endforeach()

install(EXPORT totebenchTargets NAMESPACE totebench:: DESTINATION "${package_dir}")
configure_package_config_file(
  .cmake/totebenchConfig.cmake.in "${CMAKE_BINARY_DIR}/package/totebenchConfig.cmake"
  INSTALL_DESTINATION "${package_dir}" PATH_VARS data_dir)
write_basic_package_version_file("${CMAKE_BINARY_DIR}/package/totebenchConfigVersion.cmake"
                                 COMPATIBILITY SameMinorVersion)
install(FILES "${CMAKE_BINARY_DIR}/package/totebenchConfig.cmake"
              "${CMAKE_BINARY_DIR}/package/totebenchConfigVersion.cmake"
              .cmake/FindCHOLMOD.cmake DESTINATION "${package_dir}")
