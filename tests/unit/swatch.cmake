totebench_test(swatch_unit LABEL unit
  SOURCES ${CMAKE_CURRENT_SOURCE_DIR}/unit/swatch_test.cpp
  LINK totebench::app)
