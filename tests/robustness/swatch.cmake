add_test(NAME App.SwatchBecomesAMaterialThatASceneTakes
         COMMAND bash ${CMAKE_CURRENT_SOURCE_DIR}/robustness/app_swatch.sh
                 $<TARGET_FILE:totebench> ${PROJECT_SOURCE_DIR})
set_tests_properties(App.SwatchBecomesAMaterialThatASceneTakes PROPERTIES LABELS robustness)
