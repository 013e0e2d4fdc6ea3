totebench_test(motion_verification LABEL verification
  SOURCES ${CMAKE_CURRENT_SOURCE_DIR}/verification/motion_test.cpp
  LINK totebench::solver)
