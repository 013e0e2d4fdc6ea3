set(support_dir ${CMAKE_CURRENT_SOURCE_DIR}/support)
totebench_test(one_judge LABEL robustness COST 30
  SOURCES ${CMAKE_CURRENT_SOURCE_DIR}/robustness/one_judge_test.cpp
          ${support_dir}/random_tote.cpp ${support_dir}/random_sheet.cpp
  LINK totebench::scenes)
