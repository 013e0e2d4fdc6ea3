# Every example scene runs and meets its own expectations. Those of limp bags, which fold for a
# minute and more, only with `ctest -C slow`.
file(GLOB example_scenes CONFIGURE_DEPENDS ${PROJECT_SOURCE_DIR}/scenes/examples/*.json
     ${PROJECT_SOURCE_DIR}/scenes/examples/pieces/*.json)
set(slow_examples
    carry-test-125
    carry-test-300
    crescent
    gathered
    gusset-grain
    lesson-1-fusible
    lift-test-20
    pleated
    quilted-pocket
    rounded-shoulder
    sack
    suede
    which-base)
foreach(scene ${example_scenes})
  get_filename_component(scene_name ${scene} NAME_WE)
  set(configurations)
  if(scene_name IN_LIST slow_examples)
    set(configurations CONFIGURATIONS slow)
  endif()
  add_test(NAME Example.${scene_name} ${configurations}
           COMMAND bash ${CMAKE_CURRENT_SOURCE_DIR}/regression/example.sh $<TARGET_FILE:totebench>
                   ${scene})
  set_tests_properties(Example.${scene_name} PROPERTIES LABELS regression TIMEOUT 900 COST 50)
endforeach()
