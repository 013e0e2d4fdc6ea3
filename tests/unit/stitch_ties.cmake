totebench_test(unit_stitch_ties LABEL unit
  SOURCES ${CMAKE_CURRENT_SOURCE_DIR}/unit/stitch_ties_test.cpp
  LINK totebench::scenes)
