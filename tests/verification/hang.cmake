# Sheets through the study behind `totebench hang`; these leave no rows.
totebench_test(hang_verification LABEL verification
  SOURCES ${CMAKE_CURRENT_SOURCE_DIR}/verification/roof_test.cpp
          ${CMAKE_CURRENT_SOURCE_DIR}/verification/ruler_test.cpp
  LINK totebench::studies)
