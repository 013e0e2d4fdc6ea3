totebench_test(carry_test LABEL regression COST 10
  SOURCES ${CMAKE_CURRENT_SOURCE_DIR}/regression/carry_test.cpp
          ${PROJECT_SOURCE_DIR}/app/carry_study.cpp
          ${PROJECT_SOURCE_DIR}/app/hang_study.cpp
          ${PROJECT_SOURCE_DIR}/app/side_by_side.cpp
  LINK totebench::viz totebench::scenes fmt::fmt)
if(OpenMP_CXX_FOUND)
  target_link_libraries(carry_test PRIVATE OpenMP::OpenMP_CXX)
endif()
