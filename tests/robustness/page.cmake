find_package(Python3 COMPONENTS Interpreter)
if(Python3_FOUND)
  add_test(NAME Page.TurnsSlidesReadsAndPrintsInABrowser
           COMMAND ${Python3_EXECUTABLE} ${CMAKE_CURRENT_SOURCE_DIR}/robustness/page_browser.py
                   $<TARGET_FILE:totebench> ${CMAKE_CURRENT_SOURCE_DIR}/robustness/page_tote.json)
  set_tests_properties(Page.TurnsSlidesReadsAndPrintsInABrowser
                       PROPERTIES LABELS robustness SKIP_RETURN_CODE 77 TIMEOUT 300)
endif()

# Needs npm and its registry; skipped, and saying so, where they are not there.
add_test(NAME Page.BundleIsWhatItsSourcesMake
         COMMAND bash ${PROJECT_SOURCE_DIR}/viz/page/bundle.sh --check)
set_tests_properties(Page.BundleIsWhatItsSourcesMake
                     PROPERTIES LABELS robustness SKIP_RETURN_CODE 77 TIMEOUT 300)
