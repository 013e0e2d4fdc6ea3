# Tests of the house itself rather than of what it computes.
set(style_dir "${CMAKE_CURRENT_SOURCE_DIR}/style")

add_test(NAME House.RoomsDependOneWay COMMAND bash "${style_dir}/layers.sh" "${PROJECT_SOURCE_DIR}")
add_test(NAME House.SourcesAreListed COMMAND bash "${style_dir}/references.sh")
add_test(NAME House.WrongDependenciesAreRejected COMMAND bash "${style_dir}/layers_reject.sh")
add_test(NAME House.InstalledLibraryServesAConsumer
         COMMAND "${CMAKE_COMMAND}" "-DBUILD=${CMAKE_BINARY_DIR}" "-DSOURCE=${style_dir}/consumer"
                 "-DWORK=${CMAKE_BINARY_DIR}/consumer" "-DCOMPILER=${CMAKE_CXX_COMPILER}" -P
                 "${style_dir}/consumer/run.cmake")
set_tests_properties(House.RoomsDependOneWay House.SourcesAreListed House.WrongDependenciesAreRejected
                     PROPERTIES LABELS unit)
add_test(NAME House.FaultsToCatchHaveTheirTextAndTests
         COMMAND bash "${CMAKE_CURRENT_SOURCE_DIR}/mutants/check.sh" "${CMAKE_BINARY_DIR}")
add_test(NAME House.FaultsThatLostTheirTextAreRejected
         COMMAND bash "${CMAKE_CURRENT_SOURCE_DIR}/mutants/check_reject.sh" "${CMAKE_BINARY_DIR}")
set_tests_properties(House.FaultsToCatchHaveTheirTextAndTests
                     House.FaultsThatLostTheirTextAreRejected PROPERTIES LABELS style)
set_tests_properties(House.InstalledLibraryServesAConsumer PROPERTIES LABELS robustness)
add_test(NAME House.ReadmeIsTrue COMMAND bash "${style_dir}/readme.sh" $<TARGET_FILE:totebench>)
set_tests_properties(House.ReadmeIsTrue PROPERTIES LABELS robustness)
