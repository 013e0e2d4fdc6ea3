# Finds SuiteSparse CHOLMOD and offers it as CHOLMOD::CHOLMOD.
#
# SuiteSparse 7 brings CMake files of its own, version 5 (Debian 12) brings none, so both ways are
# tried. Sets CHOLMOD_FOUND and, for version 5, CHOLMOD_VERSION (of CHOLMOD, not of SuiteSparse).
include(FindPackageHandleStandardArgs)

if(TARGET CHOLMOD::CHOLMOD)
  set(CHOLMOD_FOUND TRUE)
  return()
endif()

find_package(CHOLMOD CONFIG QUIET)
foreach(target SuiteSparse::CHOLMOD SuiteSparse::CHOLMOD_static)
  if(TARGET ${target} AND NOT TARGET CHOLMOD::CHOLMOD)
    add_library(CHOLMOD::CHOLMOD INTERFACE IMPORTED)
    set_target_properties(CHOLMOD::CHOLMOD PROPERTIES INTERFACE_LINK_LIBRARIES ${target})
  endif()
endforeach()
if(TARGET CHOLMOD::CHOLMOD)
  find_package_handle_standard_args(CHOLMOD CONFIG_MODE)
  return()
endif()

find_path(CHOLMOD_INCLUDE_DIR cholmod.h PATH_SUFFIXES suitesparse)
find_library(CHOLMOD_LIBRARY cholmod)
mark_as_advanced(CHOLMOD_INCLUDE_DIR CHOLMOD_LIBRARY)

if(CHOLMOD_INCLUDE_DIR)
  set(CHOLMOD_VERSION "")
  foreach(header cholmod_core.h cholmod.h)
    if(CHOLMOD_VERSION OR NOT EXISTS "${CHOLMOD_INCLUDE_DIR}/${header}")
      continue()
    endif()
    set(parts "")
    foreach(part MAIN SUB SUBSUB)
      file(STRINGS "${CHOLMOD_INCLUDE_DIR}/${header}" line
           REGEX "^#define CHOLMOD_${part}_VERSION +[0-9]+" LIMIT_COUNT 1)
      if(line MATCHES "([0-9]+)[^0-9]*$")
        list(APPEND parts ${CMAKE_MATCH_1})
      endif()
    endforeach()
    list(JOIN parts "." CHOLMOD_VERSION)
  endforeach()
endif()

find_package_handle_standard_args(
  CHOLMOD
  REQUIRED_VARS CHOLMOD_LIBRARY CHOLMOD_INCLUDE_DIR
  VERSION_VAR CHOLMOD_VERSION)

if(CHOLMOD_FOUND)
  add_library(CHOLMOD::CHOLMOD UNKNOWN IMPORTED)
  set_target_properties(
    CHOLMOD::CHOLMOD PROPERTIES IMPORTED_LOCATION "${CHOLMOD_LIBRARY}"
                                INTERFACE_INCLUDE_DIRECTORIES "${CHOLMOD_INCLUDE_DIR}")
endif()
