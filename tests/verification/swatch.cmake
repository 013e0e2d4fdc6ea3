verification_test(swatch_verification swatch_test.cpp ageing_test.cpp)
target_link_libraries(swatch_verification PRIVATE totebench::viz)
