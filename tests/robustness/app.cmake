# The command line as a person meets it, driven from outside.
add_test(NAME App.BadInputIsRefusedInPlainWords
         COMMAND bash ${CMAKE_CURRENT_SOURCE_DIR}/robustness/app_bad_input.sh
                 $<TARGET_FILE:totebench> ${PROJECT_SOURCE_DIR})
add_test(NAME App.DrawingIsLoadedOnlyWhenNeeded
         COMMAND bash ${CMAKE_CURRENT_SOURCE_DIR}/robustness/app_start.sh
                 $<TARGET_FILE:totebench>)
add_test(NAME App.HangWritesWhatItPromises
         COMMAND bash ${CMAKE_CURRENT_SOURCE_DIR}/robustness/app_hang.sh
                 $<TARGET_FILE:totebench> ${PROJECT_SOURCE_DIR})
add_test(NAME App.StoppedByCtrlCLeavesTheLastGoodState
         COMMAND bash ${CMAKE_CURRENT_SOURCE_DIR}/robustness/app_interrupt.sh
                 $<TARGET_FILE:totebench> ${PROJECT_SOURCE_DIR})
set_tests_properties(
  App.BadInputIsRefusedInPlainWords App.DrawingIsLoadedOnlyWhenNeeded App.HangWritesWhatItPromises
  App.StoppedByCtrlCLeavesTheLastGoodState PROPERTIES LABELS robustness)
