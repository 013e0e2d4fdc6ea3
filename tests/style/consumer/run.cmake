# Installs the build in BUILD to a fresh prefix and builds the consumer in SOURCE against it alone.
# cmake -DBUILD=... -DSOURCE=... -DWORK=... -DCOMPILER=... -P run.cmake
file(REMOVE_RECURSE "${WORK}")
set(steps
    "${CMAKE_COMMAND}|--install|${BUILD}|--prefix|${WORK}/prefix"
    "${CMAKE_COMMAND}|-G|Ninja|-S|${SOURCE}|-B|${WORK}/build|-DCMAKE_PREFIX_PATH=${WORK}/prefix|-DCMAKE_CXX_COMPILER=${COMPILER}|-DCMAKE_BUILD_TYPE=Release"
    "${CMAKE_COMMAND}|--build|${WORK}/build"
    "${WORK}/build/strip"
    "${WORK}/build/bag|${WORK}/prefix/share/totebench/materials"
    "${WORK}/prefix/bin/totebench|--version"
    "${WORK}/prefix/bin/totebench|check|${WORK}/prefix/share/totebench/examples/demo.json")
foreach(step IN LISTS steps)
  string(REPLACE "|" ";" command "${step}")
  execute_process(COMMAND ${command} OUTPUT_VARIABLE said ERROR_VARIABLE said RESULT_VARIABLE code)
  message(STATUS "${command}\n${said}")
  if(NOT code EQUAL 0)
    message(FATAL_ERROR "failed (${code}): ${command}")
  endif()
endforeach()
