add_test(NAME App.RateRefusesBadInput
         COMMAND bash ${CMAKE_CURRENT_SOURCE_DIR}/robustness/app_rate.sh
                 $<TARGET_FILE:totebench> ${PROJECT_SOURCE_DIR})
set_tests_properties(App.RateRefusesBadInput PROPERTIES LABELS robustness)
