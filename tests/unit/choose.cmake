totebench_test(unit_choose LABEL unit
  SOURCES ${CMAKE_CURRENT_SOURCE_DIR}/unit/choose_search_test.cpp
          ${CMAKE_CURRENT_SOURCE_DIR}/unit/choose_reader_test.cpp
          ${CMAKE_CURRENT_SOURCE_DIR}/unit/choose_build_test.cpp
  LINK totebench::app)
