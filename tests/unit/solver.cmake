totebench_test(solver_unit_test LABEL unit
  SOURCES ${CMAKE_CURRENT_SOURCE_DIR}/unit/solver_derivatives_test.cpp
          ${CMAKE_CURRENT_SOURCE_DIR}/unit/solver_equilibrium_test.cpp
          ${CMAKE_CURRENT_SOURCE_DIR}/unit/solver_body_test.cpp
          ${CMAKE_CURRENT_SOURCE_DIR}/unit/solver_continuation_test.cpp
          ${CMAKE_CURRENT_SOURCE_DIR}/unit/solver_term_test.cpp
          ${CMAKE_CURRENT_SOURCE_DIR}/unit/solver_loads_test.cpp
          ${CMAKE_CURRENT_SOURCE_DIR}/unit/tension_field_test.cpp
  LINK totebench::solver)
if(OpenMP_CXX_FOUND)
  target_link_libraries(solver_unit_test PRIVATE OpenMP::OpenMP_CXX)
endif()
