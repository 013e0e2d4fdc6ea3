totebench_test(bad_scene LABEL robustness
  SOURCES ${CMAKE_CURRENT_SOURCE_DIR}/robustness/bad_scene_test.cpp
          ${CMAKE_CURRENT_SOURCE_DIR}/robustness/bad_scene_file_test.cpp
  LINK totebench::scenes)
