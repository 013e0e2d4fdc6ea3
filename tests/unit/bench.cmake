# The bench of the page in a browser, natively, and what of the page needs no browser.
file(GLOB bench_sources CONFIGURE_DEPENDS ${PROJECT_SOURCE_DIR}/app/page/bench/*.cpp)
totebench_test(bench_unit LABEL unit COST 30
               SOURCES ${CMAKE_CURRENT_SOURCE_DIR}/unit/bench_test.cpp ${bench_sources}
               LINK totebench::app)
find_program(NODE node)
if(NODE)
  add_test(NAME Bench.FormFollowsTheKeys
           COMMAND ${NODE} ${CMAKE_CURRENT_SOURCE_DIR}/page/form_test.js $<TARGET_FILE:totebench>)
  set_tests_properties(Bench.FormFollowsTheKeys PROPERTIES LABELS unit TIMEOUT 60)
endif()
