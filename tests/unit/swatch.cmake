totebench_test(swatch_unit LABEL unit
  SOURCES ${CMAKE_CURRENT_SOURCE_DIR}/unit/swatch_test.cpp
          ${PROJECT_SOURCE_DIR}/app/swatch_report.cpp ${PROJECT_SOURCE_DIR}/app/text_table.cpp
  LINK totebench::viz nlohmann_json::nlohmann_json fmt::fmt)
