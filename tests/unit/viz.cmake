set(viz_dir ${CMAKE_CURRENT_SOURCE_DIR}/unit)
totebench_test(viz_unit LABEL unit
               SOURCES ${viz_dir}/viz_shapes_test.cpp ${viz_dir}/viz_text_test.cpp
                       ${viz_dir}/viz_fields_test.cpp
               LINK totebench::viz)
# What VTK wrote, VTK must read: only with VTK at hand.
if(TARGET totebench_vtk)
  find_package(VTK 9.1 REQUIRED COMPONENTS CommonCore CommonDataModel IOImage IOXML)
  totebench_test(viz_files LABEL unit
                 SOURCES ${viz_dir}/viz_files_test.cpp ${viz_dir}/viz_results_test.cpp
                 LINK totebench::viz ${VTK_LIBRARIES})
endif()
totebench_test(findings_json LABEL unit
               SOURCES ${viz_dir}/viz_findings_json_test.cpp ${viz_dir}/fields_test.cpp
                       ${viz_dir}/hang_report_test.cpp
               LINK totebench::app)
