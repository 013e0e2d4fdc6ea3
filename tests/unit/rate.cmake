totebench_test(unit_rate LABEL unit COST 20
  SOURCES ${CMAKE_CURRENT_SOURCE_DIR}/unit/rate_attachment_test.cpp
          ${CMAKE_CURRENT_SOURCE_DIR}/unit/rate_strength_test.cpp
          ${CMAKE_CURRENT_SOURCE_DIR}/unit/rate_scatter_test.cpp
          ${CMAKE_CURRENT_SOURCE_DIR}/unit/rate_box_cross_test.cpp
          ${CMAKE_CURRENT_SOURCE_DIR}/unit/data_scatter_test.cpp
          ${CMAKE_CURRENT_SOURCE_DIR}/unit/circumstances_test.cpp
          ${CMAKE_CURRENT_SOURCE_DIR}/unit/data_grade_test.cpp
          ${CMAKE_CURRENT_SOURCE_DIR}/unit/rate_bag_test.cpp
          ${CMAKE_CURRENT_SOURCE_DIR}/unit/rate_change_text_test.cpp
          ${CMAKE_CURRENT_SOURCE_DIR}/unit/rate_utilisation_test.cpp
          ${CMAKE_CURRENT_SOURCE_DIR}/unit/rated_mass_test.cpp
          ${CMAKE_CURRENT_SOURCE_DIR}/unit/rate_report_test.cpp
          ${CMAKE_CURRENT_SOURCE_DIR}/unit/round_off_test.cpp
          ${CMAKE_CURRENT_SOURCE_DIR}/unit/unzip_test.cpp
          ${CMAKE_CURRENT_SOURCE_DIR}/unit/wear_test.cpp
          ${CMAKE_CURRENT_SOURCE_DIR}/unit/strap_ends_test.cpp
  LINK totebench::app)
