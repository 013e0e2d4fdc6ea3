verification_test(sheet_verification annulus_test.cpp bag_test.cpp cable_test.cpp calculix_test.cpp friction_test.cpp
  column_test.cpp contents_test.cpp elastica_test.cpp film_test.cpp patch_test.cpp plate_large_test.cpp plate_small_test.cpp ring_test.cpp
  stitch_row_test.cpp shell_test.cpp strip_test.cpp sze_test.cpp water_test.cpp)
