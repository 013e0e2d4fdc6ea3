#!/usr/bin/env bash
# Checks that rooms depend on each other one way only and through public headers, that heavy
# libraries stay out of headers, and that the top folder holds what it should.
# Usage: layers.sh [FOLDER]
set -euo pipefail
cd -- "${1:-$(dirname -- "${BASH_SOURCE[0]}")/../..}"

failures=0
fail() {
  echo "$1" >&2
  failures=$((failures + 1))
}

# room: the rooms whose public headers (totebench/<room>/...) it may include, besides its own.
declare -A allowed=(
  [materials]=""
  [solver]=""
  [scenes]="materials solver"
  [studies]="materials solver scenes"
  [viz]="materials solver scenes"
  [app]="materials solver scenes studies viz"
)
declare -A folder=([materials]=materials [solver]=solver [scenes]=scenes [studies]=app/studies
  [viz]=viz [app]=app)
names="materials|solver|scenes|studies|viz|app|tests"

# Into `found`: the room that a source lies in, or that an include names.
find_room() {
  case "$1" in
    totebench/*) found="${1#totebench/}" && found="${found%%/*}" ;;
    app/studies/*) found=studies ;;
    *) found="${1%%/*}" ;;
  esac
}

while IFS=: read -r file line text; do
  find_room "$file" && room="$found"
  header="${text#*\"}"
  header="${header%%\"*}"
  find_room "$header" && other="$found"
  if [[ "$header" == totebench/* ]]; then
    [[ "$room" == "$other" || " ${allowed[$room]} " == *" $other "* ]] ||
      fail "$file:$line: $room must not include $other"
  elif [[ "$room" != "$other" ]]; then
    fail "$file:$line: $room must not include $other: what lies outside include/ is its own"
  elif [[ "$file" == "${folder[$room]}"/include/* ]]; then
    fail "$file:$line: a public header must not include a private one"
  fi
done < <(grep -rnE --include='*.?pp' "^ *#include \"(totebench/)?($names)/" \
  materials solver scenes viz app || true)

# library: the only folder whose sources may name it.
declare -A home=([vtk]=viz [cairo]=viz [CGAL/]=scenes [expat]=scenes [cholmod]=solver [CLI/]=app [pybind11/]=app [dlfcn]=viz)
for library in "${!home[@]}"; do
  while IFS=: read -r file line _; do
    [[ "$file" == "${home[$library]}"/* && "$file" != app/studies/* ]] ||
      fail "$file:$line: only ${home[$library]} may include <$library...>"
  done < <(grep -rnE --include='*.?pp' "^ *#include <$library" materials solver scenes viz app || true)
done
# Tables of results are made of JSON; their headers stay within their folder, but for the one that
# names the schemas.
tables=app/present/fields
while IFS=: read -r file line text; do
  [[ "$file" == "$tables"/* ]] || fail "$file:$line: keep this out of a header: $text"
done < <(grep -rnE --include='*.hpp' '^ *#include <(nlohmann/json\.hpp|CLI/|vtk|cairo|CGAL/|cholmod)' \
  materials solver scenes app || true)

while IFS=: read -r file line text; do
  [[ "$file" == "$tables"/* || "$text" == *schemas.hpp* ]] ||
    fail "$file:$line: only $tables may include this: $text"
done < <(grep -rnE --include='*.?pp' "^ *#include \"$tables/" materials solver scenes viz app || true)

# Studies read and write no files and say nothing: whoever runs them does.
while IFS=: read -r file line text; do
  fail "$file:$line: a study leaves files and streams to its caller: $text"
done < <(grep -rnE --include='*.?pp' '^ *#include <(fstream|filesystem|iostream|cstdio)>' app/studies || true)

known=" CMakeLists.txt CMakePresets.json DEVELOPERS.md LICENSE README.md \
materials solver scenes viz app tests build out "
for entry in *; do
  [[ "$known" == *" $entry "* ]] || fail "$entry does not belong in the top folder"
done

((failures == 0)) || exit 1
echo "Rooms depend one way."
