#!/usr/bin/env bash
# totebench unzip on a small tote with few stitches an end: files, words, refusals.
# usage: app_unzip.sh TOTEBENCH FOLDER_OF_SCENES
set -euo pipefail
out=$(mktemp -d)
trap 'rm -rf -- "$out"' EXIT
source "$(dirname -- "${BASH_SOURCE[0]}")/schema_check.sh"

sed 's/"spacing": "12 cm"/"spacing": "12 cm", "attachment": { "pattern": "rows", "rows": 2, "length": "24 mm", "stitch_length": "9 mm" }/' \
  "$2/page_tote.json" | sed 's/"size": "40 mm"/"size": "100 mm"/' > "$out/scene.json"
"$1" unzip "$out/scene.json" --out "$out/run" --quiet > "$out/text"
for file in report.html unzip.json unzip.svg unzip_order.svg unzip.pvd; do
  [[ -s "$out/run/$file" ]] || { echo "$file is missing"; exit 1; }
done
keeps_schema unzip "$out/run/unzip.json"
grep -q "the first stitch of" "$out/text"
grep -q "set free" "$out/text"
grep -q "lifting device" "$out/text"
listed=$(grep -o 'file="[^"]*"' "$out/run/unzip.pvd" | cut -d'"' -f2)
for file in $listed; do [[ -s "$out/run/$file" ]] || { echo "$file is missing"; exit 1; }; done
breaks=$(grep -c '"below_first_row_m"' "$out/run/unzip.json")
fastenings=$(grep -o '"fastenings_of_end": *[0-9]*' "$out/run/unzip.json" | grep -o '[0-9]*$')
((breaks >= fastenings && fastenings >= 4)) || { echo "$breaks breaks of $fastenings"; exit 1; }

code=0
"$1" unzip "$2/app_sheet.json" --out "$out/sheet" 2> "$out/error" || code=$?
((code == 2)) || { echo "a sheet was unzipped"; exit 1; }
grep -q "a sheet has no straps" "$out/error"
[[ ! -e "$out/sheet/unzip.json" ]]
