totebench_test(solver_unit_test LABEL unit
  SOURCES ${CMAKE_CURRENT_SOURCE_DIR}/unit/solver_derivatives_test.cpp
  LINK totebench::solver)
