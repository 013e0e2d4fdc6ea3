totebench_test(sheet_verification LABEL verification
  SOURCES ${CMAKE_CURRENT_SOURCE_DIR}/verification/book.cpp
          ${CMAKE_CURRENT_SOURCE_DIR}/verification/book_picture.cpp
          ${CMAKE_CURRENT_SOURCE_DIR}/verification/sheet_case.cpp
          ${CMAKE_CURRENT_SOURCE_DIR}/verification/annulus_test.cpp
          ${CMAKE_CURRENT_SOURCE_DIR}/verification/bag_test.cpp
          ${CMAKE_CURRENT_SOURCE_DIR}/verification/cable_test.cpp
          ${CMAKE_CURRENT_SOURCE_DIR}/verification/calculix_test.cpp
          ${CMAKE_CURRENT_SOURCE_DIR}/verification/column_test.cpp
          ${CMAKE_CURRENT_SOURCE_DIR}/verification/elastica_test.cpp
          ${CMAKE_CURRENT_SOURCE_DIR}/verification/patch_test.cpp
          ${CMAKE_CURRENT_SOURCE_DIR}/verification/plate_large_test.cpp
          ${CMAKE_CURRENT_SOURCE_DIR}/verification/plate_small_test.cpp
          ${CMAKE_CURRENT_SOURCE_DIR}/verification/stitch_row_test.cpp
          ${CMAKE_CURRENT_SOURCE_DIR}/verification/shell_test.cpp
          ${CMAKE_CURRENT_SOURCE_DIR}/verification/strip_test.cpp
  LINK totebench::scenes nlohmann_json::nlohmann_json fmt::fmt
  PROPERTIES FIXTURES_SETUP book_rows FIXTURES_REQUIRED book_folder)
target_compile_definitions(sheet_verification PRIVATE TOTEBENCH_BOOK_DIR="${book_dir}")
