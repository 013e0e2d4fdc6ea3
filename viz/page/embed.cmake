# Writes the parts of the report page into a C++ source, so that the program needs no files beside
# it. Usage: cmake -DDIR=viz/page -DOUT=page_assets.cpp -P embed.cmake
file(READ "${DIR}/report.css" css)
file(READ "${DIR}/viewer.bundle.js" js)
set(text "// Made from viz/page by embed.cmake.\n#include \"viz/report/page_assets.hpp\"\n\nnamespace totebench::viz {\n")
string(APPEND text "const char* const kPageStyle = R\"totebench_page(${css})totebench_page\";\n")
string(APPEND text "const char* const kPageViewer = R\"totebench_page(${js})totebench_page\";\n")
string(APPEND text "}  // namespace totebench::viz\n")
file(WRITE "${OUT}" "${text}")
