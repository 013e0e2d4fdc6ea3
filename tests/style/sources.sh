# Sourced by the checkers: prints our C++ files, one a line. Run from the top folder.
sources() {
  find materials solver scenes viz app tests \( -name '*.cpp' -o -name '*.hpp' \) | LC_ALL=C sort
}
