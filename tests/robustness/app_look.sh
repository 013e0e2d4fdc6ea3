#!/usr/bin/env bash
# totebench look: says what to do where there is no display, opens its window where there is one.
# usage: app_look.sh TOTEBENCH FOLDER_OF_SCENES
set -euo pipefail
out=$(mktemp -d)
trap 'rm -rf -- "$out"' EXIT

set +e
for display in "" ":4711"; do
  DISPLAY="$display" "$1" look "$2/page_tote.json" --out "$out/run" --quiet 2> "$out/error"
  [[ $? == 2 ]] || { echo "no display, and yet no error"; exit 1; }
  grep -q "there is no display" "$out/error" && grep -q "look --film" "$out/error" || exit 1
done
"$1" look "$2/app_sheet.json" --out "$out/run" --quiet 2> "$out/error"
[[ $? == 2 ]] || { echo "a sheet was looked at"; exit 1; }
"$1" hang "$2/app_sheet.json" --colour force --out "$out/run" --quiet 2> "$out/error"
[[ $? == 2 ]] && grep -q -- "--colour is for totes" "$out/error" ||
  { echo "a sheet was coloured"; exit 1; }
"$1" look "$2/page_tote.json" --json --out "$out/run" > "$out/said" 2> "$out/error"
[[ $? == 2 && ! -s "$out/said" ]] && grep -q "hang --json" "$out/error" ||
  { echo "look took --json"; exit 1; }
set -e

command -v xvfb-run > /dev/null || { echo "no Xvfb: the window was not tried"; exit 77; }
TOTEBENCH_LOOK=once xvfb-run -a -s "-screen 0 1280x1200x24" \
  "$1" look "$2/page_tote.json" --out "$out/run" --quiet
