# Every example scene runs and meets its own expectations.
file(GLOB example_scenes CONFIGURE_DEPENDS ${PROJECT_SOURCE_DIR}/scenes/examples/*.json
     ${PROJECT_SOURCE_DIR}/scenes/examples/pieces/*.json)
list(FILTER example_scenes EXCLUDE REGEX gathered) # folds for minutes
foreach(scene ${example_scenes})
  get_filename_component(scene_name ${scene} NAME_WE)
  add_test(NAME Example.${scene_name}
           COMMAND bash ${CMAKE_CURRENT_SOURCE_DIR}/regression/example.sh $<TARGET_FILE:totebench>
                   ${scene})
  set_tests_properties(Example.${scene_name} PROPERTIES LABELS regression TIMEOUT 900 COST 50)
endforeach()
