totebench_test(pieces_unit LABEL unit SOURCES ${CMAKE_CURRENT_SOURCE_DIR}/unit/pieces_test.cpp
               LINK totebench::studies)
