totebench_test(unit_sweep LABEL unit COST 10
  SOURCES ${CMAKE_CURRENT_SOURCE_DIR}/unit/design_test.cpp
          ${CMAKE_CURRENT_SOURCE_DIR}/unit/sweep_reader_test.cpp
          ${CMAKE_CURRENT_SOURCE_DIR}/unit/sweep_report_test.cpp
          ${CMAKE_CURRENT_SOURCE_DIR}/unit/sweep_study_test.cpp
          ${CMAKE_CURRENT_SOURCE_DIR}/unit/kept_work_test.cpp
          ${CMAKE_CURRENT_SOURCE_DIR}/unit/launch_test.cpp
  LINK totebench::app)
