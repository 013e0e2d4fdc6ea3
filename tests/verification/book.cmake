# The verification book: every verification test leaves its rows in book_dir, the page is made of
# them. Fixtures see to the order: empty folder, rows, page.
set(book_dir "${CMAKE_BINARY_DIR}/verification_rows")
set(book_source ${CMAKE_CURRENT_SOURCE_DIR}/verification)
add_executable(verification_book ${book_source}/book_page.cpp ${book_source}/book_compare.cpp)
totebench_options(verification_book)
target_link_libraries(verification_book PRIVATE nlohmann_json::nlohmann_json fmt::fmt)

# What the cases share.
add_library(verification_cases STATIC ${book_source}/book.cpp ${book_source}/book_picture.cpp
                                      ${book_source}/calculix.cpp ${book_source}/ccx_run.cpp
                                      ${book_source}/ccx_solids.cpp ${book_source}/sheet_case.cpp)
totebench_options(verification_cases)
target_include_directories(verification_cases PUBLIC ${book_source})
target_link_libraries(verification_cases PUBLIC totebench::scenes nlohmann_json::nlohmann_json
                                                fmt::fmt GTest::gtest)
target_compile_definitions(verification_cases PUBLIC TOTEBENCH_BOOK_DIR="${book_dir}")

# Tests that leave rows: verification_test(name source...)
function(verification_test name)
  list(TRANSFORM ARGN PREPEND ${CMAKE_CURRENT_SOURCE_DIR}/verification/ OUTPUT_VARIABLE sources)
  totebench_test(${name} LABEL verification SOURCES ${sources} LINK verification_cases
    PROPERTIES FIXTURES_SETUP book_rows FIXTURES_REQUIRED book_folder)
endfunction()

add_test(NAME VerificationBook.StartsEmpty
         COMMAND "${CMAKE_COMMAND}" -E rm -rf "${book_dir}")
add_test(NAME VerificationBook.PageSaysWhatTheTestsFound
         COMMAND verification_book check "${book_dir}" "${CMAKE_CURRENT_SOURCE_DIR}/verification")
set_tests_properties(VerificationBook.StartsEmpty VerificationBook.PageSaysWhatTheTestsFound
                     PROPERTIES LABELS verification)
set_tests_properties(VerificationBook.StartsEmpty PROPERTIES FIXTURES_SETUP book_folder)
set_tests_properties(VerificationBook.PageSaysWhatTheTestsFound
                     PROPERTIES FIXTURES_REQUIRED "book_rows;book_folder")
