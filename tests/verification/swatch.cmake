totebench_test(swatch_verification LABEL verification
  SOURCES ${CMAKE_CURRENT_SOURCE_DIR}/verification/swatch_test.cpp
  LINK totebench::scenes)
