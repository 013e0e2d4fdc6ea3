totebench_test(reader_unit LABEL unit
  SOURCES ${CMAKE_CURRENT_SOURCE_DIR}/unit/reader_units_test.cpp
          ${CMAKE_CURRENT_SOURCE_DIR}/unit/reader_places_test.cpp
          ${CMAKE_CURRENT_SOURCE_DIR}/unit/reader_scene_test.cpp
  LINK totebench::scenes)
