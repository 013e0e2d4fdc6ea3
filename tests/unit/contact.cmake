totebench_test(unit_contact LABEL unit
  SOURCES ${CMAKE_CURRENT_SOURCE_DIR}/unit/contact_barrier_test.cpp
          ${CMAKE_CURRENT_SOURCE_DIR}/unit/contact_body_test.cpp
          ${CMAKE_CURRENT_SOURCE_DIR}/unit/contact_detection_test.cpp
          ${CMAKE_CURRENT_SOURCE_DIR}/unit/contact_surface_test.cpp
          ${CMAKE_CURRENT_SOURCE_DIR}/unit/contact_term_test.cpp
  LINK totebench::solver)
if(OpenMP_CXX_FOUND)
  target_link_libraries(unit_contact PRIVATE OpenMP::OpenMP_CXX)
endif()
totebench_test(unit_tote_contact LABEL unit
  SOURCES ${CMAKE_CURRENT_SOURCE_DIR}/unit/tote_contact_test.cpp
  LINK totebench::scenes)
