totebench_test(laminate_verification LABEL verification
  SOURCES ${CMAKE_CURRENT_SOURCE_DIR}/verification/laminate_test.cpp
  LINK totebench::materials)
