totebench_test(carry_test LABEL regression COST 10
  SOURCES ${CMAKE_CURRENT_SOURCE_DIR}/regression/carry_test.cpp
  LINK totebench::app)
