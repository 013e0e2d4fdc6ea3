totebench_test(unit_rate LABEL unit COST 20
  SOURCES ${CMAKE_CURRENT_SOURCE_DIR}/unit/rate_attachment_test.cpp
          ${CMAKE_CURRENT_SOURCE_DIR}/unit/rate_strength_test.cpp
          ${CMAKE_CURRENT_SOURCE_DIR}/unit/rate_scatter_test.cpp
          ${CMAKE_CURRENT_SOURCE_DIR}/unit/rate_box_cross_test.cpp
          ${CMAKE_CURRENT_SOURCE_DIR}/unit/rate_bag_test.cpp
          ${CMAKE_CURRENT_SOURCE_DIR}/unit/rate_report_test.cpp
          ${PROJECT_SOURCE_DIR}/app/rate_scatter.cpp
          ${PROJECT_SOURCE_DIR}/app/rate_climb.cpp
          ${PROJECT_SOURCE_DIR}/app/rate_path.cpp
          ${PROJECT_SOURCE_DIR}/app/rate_samples_file.cpp
          ${PROJECT_SOURCE_DIR}/app/rate_report.cpp
          ${PROJECT_SOURCE_DIR}/app/rate_cautions.cpp
          ${PROJECT_SOURCE_DIR}/app/rate_json.cpp
          ${PROJECT_SOURCE_DIR}/app/text_table.cpp
          ${PROJECT_SOURCE_DIR}/app/side_by_side.cpp
  LINK totebench::viz nlohmann_json::nlohmann_json)
target_link_libraries(unit_rate PRIVATE fmt::fmt)
if(OpenMP_CXX_FOUND)
  target_link_libraries(unit_rate PRIVATE OpenMP::OpenMP_CXX)
endif()
