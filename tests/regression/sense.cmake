totebench_test(sense_test LABEL regression
  SOURCES ${CMAKE_CURRENT_SOURCE_DIR}/regression/sense_test.cpp
  LINK totebench::scenes)
