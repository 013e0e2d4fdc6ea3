set(looks_dir ${CMAKE_CURRENT_SOURCE_DIR}/unit)
totebench_test(variants_unit LABEL unit SOURCES ${looks_dir}/variants_test.cpp
               LINK totebench::scenes nlohmann_json::nlohmann_json)
totebench_test(compare_unit LABEL unit SOURCES ${looks_dir}/compare_test.cpp LINK totebench::app)
totebench_test(report_unit LABEL unit SOURCES ${looks_dir}/report_test.cpp LINK totebench::app)
totebench_test(cutlist_unit LABEL unit SOURCES ${looks_dir}/cutlist_test.cpp LINK totebench::viz)
find_package(ZLIB)
if(TARGET totebench_pdf AND ZLIB_FOUND)  # to look into the PDF
  totebench_test(print_tiles LABEL unit SOURCES ${looks_dir}/print_tiles_test.cpp
                 LINK totebench::viz ZLIB::ZLIB)
endif()
