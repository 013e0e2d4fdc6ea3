set(app_dir ${PROJECT_SOURCE_DIR}/app)
set(looks_dir ${CMAKE_CURRENT_SOURCE_DIR}/unit)
totebench_test(variants_unit LABEL unit SOURCES ${looks_dir}/variants_test.cpp
               LINK totebench::scenes nlohmann_json::nlohmann_json)
totebench_test(compare_unit LABEL unit
  SOURCES ${looks_dir}/compare_test.cpp ${app_dir}/compare_study.cpp ${app_dir}/compare_report.cpp
          ${app_dir}/compare_json.cpp ${app_dir}/findings_json.cpp ${app_dir}/hang_study.cpp
          ${app_dir}/side_by_side.cpp ${app_dir}/text_table.cpp
  LINK totebench::viz nlohmann_json::nlohmann_json fmt::fmt $<TARGET_NAME_IF_EXISTS:OpenMP::OpenMP_CXX>)
totebench_test(report_unit LABEL unit
  SOURCES ${looks_dir}/report_test.cpp ${app_dir}/report_page.cpp ${app_dir}/report_model.cpp
          ${app_dir}/compare_study.cpp ${app_dir}/compare_report.cpp ${app_dir}/findings_json.cpp
          ${app_dir}/hang_report.cpp ${app_dir}/hang_study.cpp ${app_dir}/side_by_side.cpp
          ${app_dir}/text_table.cpp
  LINK totebench::viz nlohmann_json::nlohmann_json fmt::fmt
       $<TARGET_NAME_IF_EXISTS:OpenMP::OpenMP_CXX>)
totebench_test(cutlist_unit LABEL unit SOURCES ${looks_dir}/cutlist_test.cpp LINK totebench::viz)
