totebench_test(unit_things LABEL unit
  SOURCES ${CMAKE_CURRENT_SOURCE_DIR}/unit/things_test.cpp
  LINK totebench::studies)
