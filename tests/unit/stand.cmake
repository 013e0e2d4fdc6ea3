totebench_test(unit_stand LABEL unit COST 20
  SOURCES ${CMAKE_CURRENT_SOURCE_DIR}/unit/stand_test.cpp
  LINK totebench::app)
