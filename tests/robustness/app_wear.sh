#!/usr/bin/env bash
# totebench wear on a small tote: a bag sags further the longer it is used, a carry test gets a
# verdict, and what cannot be worn is refused.
# usage: app_wear.sh TOTEBENCH FOLDER_OF_SCENES
set -euo pipefail
out=$(mktemp -d)
trap 'rm -rf -- "$out"' EXIT
source "$(dirname -- "${BASH_SOURCE[0]}")/schema_check.sh"

number() { grep -o "\"$1\": *[-0-9.e+]*" "$out/run/wear.json" | grep -o '[-0-9.e+]*$'; }

sed 's/"solve"/"use": { "uses": 20, "walk": "0 m", "loaded_hours": 8 }, "solve"/' \
  "$2/page_tote.json" | sed 's/"size": "40 mm"/"size": "60 mm"/' > "$out/scene.json"
"$1" wear "$out/scene.json" --out "$out/run" --quiet > "$out/text"
keeps_schema wear "$out/run/wear.json"
mapfile -t sag < <(number bottom_sag_m)
((${#sag[@]} == 5)) || { echo "expected new, three ages and a limp stabilizer"; exit 1; }
awk -v a="${sag[0]}" -v b="${sag[1]}" -v c="${sag[2]}" -v d="${sag[3]}" -v e="${sag[4]}" \
  'BEGIN { exit !(a < b && b < c && c < d && a < e) }' || { echo "sags: ${sag[*]}"; exit 1; }
grep -q '"result": "pass"' "$out/run/wear.json"
grep -q "Carry test of 20 uses, 0 m and 1 lift each: pass by these data" "$out/text"
grep -q "never as a life that is promised" "$out/text"
! grep -q "The load is steady" "$out/text"

set +e
"$1" wear "$2/app_sheet.json" --out "$out/sheet" 2> "$out/error"
[[ $? == 2 ]] || { echo "a sheet was worn"; exit 1; }
grep -q "a sheet is not carried" "$out/error"
sed 's/"solve"/"use": { "uses": 2.5, "walk": "-3 m" }, "solve"/' "$2/page_tote.json" > "$out/bad.json"
"$1" wear "$out/bad.json" --out "$out/bad" 2> "$out/error"
[[ $? == 2 ]] || { echo "a bad use was taken"; exit 1; }
grep -q "/use/uses" "$out/error" && grep -q "/use/walk" "$out/error"
[[ ! -e "$out/bad" ]]
