totebench_test(materials_unit LABEL unit
  SOURCES ${CMAKE_CURRENT_SOURCE_DIR}/unit/materials_library_test.cpp
          ${CMAKE_CURRENT_SOURCE_DIR}/unit/materials_broken_library_test.cpp
          ${CMAKE_CURRENT_SOURCE_DIR}/unit/materials_stack_test.cpp
          ${CMAKE_CURRENT_SOURCE_DIR}/unit/materials_strength_test.cpp
          ${CMAKE_CURRENT_SOURCE_DIR}/unit/materials_ageing_test.cpp
          ${CMAKE_CURRENT_SOURCE_DIR}/unit/trade_words_test.cpp
  LINK totebench::materials)
