#!/usr/bin/env bash
# Checks that rooms depend on each other one way only, that heavy libraries stay out of headers,
# and that the top folder holds what it should. Usage: layers.sh [FOLDER]
set -euo pipefail
cd -- "${1:-$(dirname -- "${BASH_SOURCE[0]}")/../..}"

failures=0
fail() {
  echo "$1" >&2
  failures=$((failures + 1))
}

# room: what it may include, besides itself.
declare -A allowed=(
  [materials]=""
  [solver]=""
  [scenes]="materials solver"
  [viz]="materials solver scenes"
  [app]="materials solver scenes viz"
)
rooms="materials|solver|scenes|viz|app|tests"

for room in "${!allowed[@]}"; do
  while IFS=: read -r file line text; do
    other="${text#*\"}"
    other="${other%%/*}"
    [[ " $room ${allowed[$room]} " == *" $other "* ]] ||
      fail "$file:$line: $room must not include $other"
  done < <(grep -rnE --include='*.?pp' "^ *#include \"($rooms)/" "$room" || true)
done

# library: the only room whose sources may name it.
declare -A home=([vtk]=viz [cairo]=viz [CGAL/]=scenes [cholmod]=solver [CLI/]=app)
for library in "${!home[@]}"; do
  while IFS=: read -r file line _; do
    [[ "$file" == "${home[$library]}"/* ]] ||
      fail "$file:$line: only ${home[$library]} may include <$library...>"
  done < <(grep -rnE --include='*.?pp' "^ *#include <$library" materials solver scenes viz app || true)
done
while IFS=: read -r file line text; do
  fail "$file:$line: keep this out of a header: $text"
done < <(grep -rnE --include='*.hpp' '^ *#include <(nlohmann/json\.hpp|CLI/|vtk|cairo|CGAL/|cholmod)' \
  materials solver scenes app || true)

known=" CMakeLists.txt CMakePresets.json DEVELOPERS.md LICENSE README.md \
materials solver scenes viz app tests build out "
for entry in *; do
  [[ "$known" == *" $entry "* ]] || fail "$entry does not belong in the top folder"
done

((failures == 0)) || exit 1
echo "Rooms depend one way."
