totebench_test(sheet_test LABEL unit
  SOURCES ${CMAKE_CURRENT_SOURCE_DIR}/unit/sheet_chart_test.cpp
          ${CMAKE_CURRENT_SOURCE_DIR}/unit/sheet_mesh_test.cpp
          ${CMAKE_CURRENT_SOURCE_DIR}/unit/sheet_file_test.cpp
          ${CMAKE_CURRENT_SOURCE_DIR}/unit/sheet_build_test.cpp
  LINK totebench::scenes)
