# The command line as a person meets it, driven from outside.
function(app_test name script folder)
  add_test(NAME App.${name} COMMAND bash ${CMAKE_CURRENT_SOURCE_DIR}/robustness/${script}
                                    $<TARGET_FILE:totebench> ${folder})
  set_tests_properties(App.${name} PROPERTIES LABELS robustness SKIP_RETURN_CODE 77)
endfunction()

set(own_scenes ${CMAKE_CURRENT_SOURCE_DIR}/robustness)
app_test(BadInputIsRefusedInPlainWords app_bad_input.sh ${PROJECT_SOURCE_DIR})
app_test(WhatDoesNotArriveIsTold app_output.sh ${PROJECT_SOURCE_DIR})
app_test(DrawingIsLoadedOnlyWhenNeeded app_start.sh ${PROJECT_SOURCE_DIR})
app_test(HangWritesWhatItPromises app_hang.sh ${PROJECT_SOURCE_DIR})
app_test(StoppedByCtrlCLeavesTheLastGoodState app_interrupt.sh ${PROJECT_SOURCE_DIR})
app_test(UnzipTakesAStrapEndOff app_unzip.sh ${own_scenes})
app_test(WearSagsFurtherWithUseAndJudgesCarryTests app_wear.sh ${own_scenes})
app_test(DraftWritesASceneToBeginWith app_draft.sh ${own_scenes})
app_test(PiecesAreDrawnAndRead app_pieces.sh ${PROJECT_SOURCE_DIR}/scenes/examples)
app_test(LookOpensAWindowOrSaysWhyNot app_look.sh ${own_scenes})
app_test(ResultsKeepToTheirSchemas app_schemas.sh ${own_scenes})
set_tests_properties(App.ResultsKeepToTheirSchemas PROPERTIES COST 150) # the longest begins first
