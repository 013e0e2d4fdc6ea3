# Flags shared by every target of the project.
include(GNUInstallDirs)

function(totebench_options target)
  target_compile_options(${target} PRIVATE -Wall -Wextra -Wpedantic -Wshadow -Wconversion
                                           -Wno-sign-conversion)
  if(CMAKE_CXX_COMPILER_ID STREQUAL "GNU" AND CMAKE_CXX_COMPILER_VERSION VERSION_LESS 13)
    # GCC 12 sees overlapping copies in text + std::string that are not there (its bug 105651).
    target_compile_options(${target} PRIVATE -Wno-restrict)
  endif()
  # Numbers must not depend on whether the compiler fuses a multiply and an add.
  target_compile_options(${target} PRIVATE -ffp-contract=off)
  if(TOTEBENCH_WARNINGS_AS_ERRORS)
    target_compile_options(${target} PRIVATE -Werror)
  endif()
  if(TOTEBENCH_SANITIZE)
    target_compile_options(${target} PUBLIC -fsanitize=address,undefined
                                            -fno-sanitize-recover=undefined)
    target_link_options(${target} PUBLIC -fsanitize=address,undefined)
  endif()
endfunction()

# For code that only reads and says things: a third less to compile, and nothing runs slower.
function(totebench_words target)
  target_compile_options(${target} PRIVATE $<$<CONFIG:Release>:-O1>)
endfunction()

# One library per room: totebench_library(solver SOURCES ... PUBLIC deps... PRIVATE deps...)
# Its public headers lie in include/totebench/<room>; what lies beside its sources is its own.
function(totebench_library name)
  cmake_parse_arguments(ARG "" "" "SOURCES;PUBLIC;PRIVATE" ${ARGN})
  add_library(totebench_${name} STATIC ${ARG_SOURCES})
  add_library(totebench::${name} ALIAS totebench_${name})
  set_target_properties(totebench_${name} PROPERTIES EXPORT_NAME ${name}
                                                     POSITION_INDEPENDENT_CODE ON)
  target_include_directories(
    totebench_${name} PUBLIC $<BUILD_INTERFACE:${CMAKE_CURRENT_SOURCE_DIR}/include>
                             $<INSTALL_INTERFACE:${CMAKE_INSTALL_INCLUDEDIR}>
                      PRIVATE ${PROJECT_SOURCE_DIR})
  target_link_libraries(totebench_${name} PUBLIC ${ARG_PUBLIC} PRIVATE ${ARG_PRIVATE})
  target_compile_features(totebench_${name} PUBLIC cxx_std_20)
  totebench_options(totebench_${name})
endfunction()
