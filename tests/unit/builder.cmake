totebench_test(unit_builder LABEL unit
  SOURCES ${CMAKE_CURRENT_SOURCE_DIR}/unit/builder_mesher_test.cpp
          ${CMAKE_CURRENT_SOURCE_DIR}/unit/builder_strap_test.cpp
          ${CMAKE_CURRENT_SOURCE_DIR}/unit/builder_tote_test.cpp
          ${CMAKE_CURRENT_SOURCE_DIR}/unit/model_round_off_test.cpp
          ${CMAKE_CURRENT_SOURCE_DIR}/unit/builder_geometry_errors_test.cpp
          ${CMAKE_CURRENT_SOURCE_DIR}/unit/builder_findings_test.cpp
          ${CMAKE_CURRENT_SOURCE_DIR}/unit/builder_random_test.cpp
          ${CMAKE_CURRENT_SOURCE_DIR}/unit/builder_flush_test.cpp
          ${CMAKE_CURRENT_SOURCE_DIR}/unit/builder_weight_test.cpp
          ${CMAKE_CURRENT_SOURCE_DIR}/unit/builder_stiffness_test.cpp
          ${CMAKE_CURRENT_SOURCE_DIR}/unit/builder_contents_test.cpp
  LINK totebench::scenes)
