# The Python package, driven by Python's own unittest. Each file prepares itself: no runner is needed.
if(NOT TARGET totebench_python)
  return()
endif()
function(python_test name file)
  add_test(NAME Python.${name} COMMAND ${Python_EXECUTABLE} -B
                                       ${CMAKE_CURRENT_SOURCE_DIR}/python/${file} ${ARGN})
  set_tests_properties(
    Python.${name}
    PROPERTIES LABELS unit SKIP_RETURN_CODE 77 TIMEOUT 300
               ENVIRONMENT "PYTHONPATH=${CMAKE_BINARY_DIR}/python;TOTEBENCH=$<TARGET_FILE:totebench>")
endfunction()

python_test(FindingsAreThoseOfTheCommands same_as_the_commands_test.py)
python_test(RatingsHaveTheirCautions rating_test.py)
python_test(ArraysAreViewsOfTheResult arrays_test.py)
python_test(StudiesAreStopped stops_test.py)
python_test(WhatIsWrongIsToldAtOnce bad_input_test.py)
python_test(TheNotebookRuns notebook_test.py ${PROJECT_SOURCE_DIR}/app/python/designer.ipynb)
python_test(StubsNameWhatThereIs stubs_test.py)
python_test(TheInstalledPackageStandsAlone install_test.py ${CMAKE_COMMAND} ${CMAKE_BINARY_DIR})
