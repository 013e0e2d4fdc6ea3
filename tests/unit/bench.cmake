# The bench of the page in a browser, natively.
file(GLOB bench_sources CONFIGURE_DEPENDS ${PROJECT_SOURCE_DIR}/app/page/bench/*.cpp)
totebench_test(bench_unit LABEL unit COST 30
               SOURCES ${CMAKE_CURRENT_SOURCE_DIR}/unit/bench_test.cpp ${bench_sources}
               LINK totebench::app)
