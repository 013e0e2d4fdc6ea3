# Too slow for every run: book.sh --slow builds and runs it.
set(slow_sources slow_calculix_test.cpp slow_coverage_test.cpp slow_drape_test.cpp slow_sensitivity_test.cpp slow_sze_test.cpp)
list(TRANSFORM slow_sources PREPEND ${CMAKE_CURRENT_SOURCE_DIR}/verification/)
add_executable(slow_verification EXCLUDE_FROM_ALL ${slow_sources})
totebench_options(slow_verification)
target_link_libraries(slow_verification PRIVATE verification_cases totebench::app totebench_test_support
                                                GTest::gtest_main)
