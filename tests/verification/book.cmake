# The verification book: every verification test leaves its rows in book_dir, the page is made of
# them. Fixtures see to the order: empty folder, rows, page.
set(book_dir "${CMAKE_BINARY_DIR}/verification_rows")
add_executable(verification_book ${CMAKE_CURRENT_SOURCE_DIR}/verification/book_page.cpp)
totebench_options(verification_book)
target_link_libraries(verification_book PRIVATE nlohmann_json::nlohmann_json fmt::fmt)

add_test(NAME VerificationBook.StartsEmpty
         COMMAND "${CMAKE_COMMAND}" -E rm -rf "${book_dir}")
add_test(NAME VerificationBook.PageSaysWhatTheTestsFound
         COMMAND verification_book check "${book_dir}" "${CMAKE_CURRENT_SOURCE_DIR}/verification")
set_tests_properties(VerificationBook.StartsEmpty VerificationBook.PageSaysWhatTheTestsFound
                     PROPERTIES LABELS verification)
set_tests_properties(VerificationBook.StartsEmpty PROPERTIES FIXTURES_SETUP book_folder)
set_tests_properties(VerificationBook.PageSaysWhatTheTestsFound
                     PROPERTIES FIXTURES_REQUIRED "book_rows;book_folder")
