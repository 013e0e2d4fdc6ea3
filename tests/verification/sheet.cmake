totebench_test(sheet_verification LABEL verification
  SOURCES ${CMAKE_CURRENT_SOURCE_DIR}/verification/sheet_case.cpp
          ${CMAKE_CURRENT_SOURCE_DIR}/verification/elastica_test.cpp
  LINK totebench::scenes)
