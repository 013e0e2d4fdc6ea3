totebench_test(laminate_verification LABEL verification
  SOURCES ${CMAKE_CURRENT_SOURCE_DIR}/verification/laminate_test.cpp
          ${CMAKE_CURRENT_SOURCE_DIR}/verification/book.cpp
  LINK totebench::materials nlohmann_json::nlohmann_json
  PROPERTIES FIXTURES_SETUP book_rows FIXTURES_REQUIRED book_folder)
target_compile_definitions(laminate_verification PRIVATE TOTEBENCH_BOOK_DIR="${book_dir}")
