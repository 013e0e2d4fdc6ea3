#!/usr/bin/env bash
# totebench choose on a small tote: it chooses, says the same for any number of threads and after a
# stop, says so where nothing meets the limits, and refuses what is no choice, with nothing written.
# usage: app_choose.sh TOTEBENCH FOLDER_OF_SCENES
set -uo pipefail
program="$1"
work="$(mktemp -d)"
trap 'rm -rf -- "$work"' EXIT
source "$(dirname -- "${BASH_SOURCE[0]}")/schema_check.sh"
failures=0
fail() {
  echo "$1" >&2
  failures=$((failures + 1))
}
sed 's/"size": "40 mm"/"size": "60 mm"/; s/"load_steps": 2/"load_steps": 1/' \
  "$2/page_tote.json" >"$work/plain.json"
cd -- "$work" || exit 1
with() { # OPTIONS LIMITS [AIM]
  local choose="\"choose\": { \"aim\": \"${3:-lightest}\", \"options\": [ $1 ], \"limits\": { $2 } },"
  sed "s|\"contents\"|$choose \"contents\"|" plain.json
}
alternative() { echo "{ \"name\": \"$1\", \"price\": $2, \"change\": $3 }"; }
base='{ "name": "base", "alternatives": [ '$(alternative "2 mm" 2 '{}')', '$(alternative "4 mm" 3 '{ "base": { "thickness": "4 mm" } }')' ] }'
wall='{ "name": "stabilizer", "alternatives": [ '$(alternative "1/16 in" 5 '{ "layers": { "upper": { "2": { "material": "stabilizer_nonwoven_1p7mm" } } } }')', '$(alternative "1 mm" 4 '{}')' ] }'

with "$base, $wall" '"bottom_sag": "1 mm", "carries": "2 kg"' >choose.json
OMP_NUM_THREADS=1 "$program" choose choose.json --out one --quiet >said.out 2>said.err ||
  fail "exit code $?: $(cat said.err)"
grep -q '"status": "chosen"' one/choose.json || fail "nothing was chosen: $(cat said.out)"
grep -q "The lightest of 4 builds within the limits: base 4 mm, stabilizer 1 mm" said.out ||
  fail "another build: $(head -1 said.out)"
grep -q "What keeps lighter builds out: bottom sag (missed by 2 of the 2 lighter builds" said.out || fail "the sag does not bind: $(head -1 said.out)"
grep -q "it is no rating" said.out || fail "no caution"
for file in report.html choose.svg chosen.json; do
  [[ -s one/$file ]] || fail "$file is missing"
done
keeps_schema choose one/choose.json || fail "choose.json does not keep to its schema"
[[ ! -e one/choose.solves ]] || fail "the solves of a finished run were kept"
grep -q '"thickness": "0.004 m"' one/chosen.json || fail "chosen.json is not what was chosen"
"$program" check one/chosen.json --quiet || fail "chosen.json is no good scene"

# Stopped and taken up again, with two threads: the same choice.
export OMP_NUM_THREADS=2
"$program" choose choose.json --out again --quiet >/dev/null 2>&1 &
pid=$!
for _ in $(seq 200); do
  [[ $(wc -l 2>/dev/null <again/choose.solves || echo 0) -ge 3 ]] && break
  kill -0 "$pid" 2>/dev/null || break
  sleep 0.02
done
kill -INT "$pid" 2>/dev/null
code=0
wait "$pid" || code=$?
((code == 3 || code == 0)) || fail "a stopped run ends with $code"
if ((code == 3)); then
  [[ -s again/choose.solves && ! -e again/choose.json ]] || fail "a stop keeps no solves"
fi
"$program" choose choose.json --out again --quiet >/dev/null
cmp one/choose.json again/choose.json || fail "two threads and a stop choose differently"
export OMP_NUM_THREADS=1

# Nothing is known that would spoil a bag of this cloth without a base sheet, and that is said.
own='"areal_mass": "407 g/m2", "thickness": "0.75 mm", "tensile_stiffness_initial_warp": "24500 N/m", "tensile_stiffness_initial_weft": "9800 N/m", "poisson_ratio": 0.1, "shear_stiffness": "320 N/m", "bending_rigidity_warp": "160 uN m", "bending_rigidity_weft": "110 uN m"'
with "$wall" '"carries": "2 kg"' | sed "/^  \"base\":/d; s/\"cotton_duck_12oz\"/\"own\"/; s|^  \"straps\"|  \"materials\": { \"own\": { $own } }, \"straps\"|" >unknown.json
"$program" choose unknown.json --out unknown --quiet >said.out 2>said.err || fail "unknown strength: $(cat said.err)"
grep -q "against lasting damage, with 2 x 2 kg .* none known" said.out || fail "an unknown strength is not called so: $(cat said.out)"
grep -q "counts as undamaged: that limit was not tested" said.out || fail "nothing of the limit that was not tested"

with "$base" '"bottom_sag": "0.05 mm"' >none.json
"$program" choose none.json --out none --quiet >said.out 2>said.err || fail "no build: exit code $?"
grep -q "None of 2 builds meets the limits. The nearest miss: base 4 mm" said.out ||
  fail "no nearest miss: $(head -1 said.out)"
grep -q '"status": "none_meets_limits"' none/choose.json || fail "no status of none"
keeps_schema choose none/choose.json || fail "choose.json does not keep to its schema"
[[ ! -e none/chosen.json ]] || fail "a build was written as chosen"

# Two processes on one folder: the same answer, told once, and no build solved twice.
for i in 1 2; do "$program" choose none.json --out both --quiet --together >"told.$i" 2>&1 & done
wait
cmp none/choose.json both/choose.json || fail "two processes choose differently"
(($(cat told.* | grep -c "None of 2 builds") == 1)) || fail "two processes tell the choice $(cat told.* | grep -c 'None of 2') times"
[[ -z "$(tail -n +2 both/choose.solves | cut -d' ' -f1 | sort | uniq -d)" ]] || fail "a build was solved twice"

refuse() { # WHAT PATTERN FILE
  local code=0
  "$program" choose "$3" --out refused >said.out 2>said.err || code=$?
  ((code == 2)) || fail "$1: exit code $code, not 2"
  grep -qE -- "$2" said.err || fail "$1: nothing of \"$2\": $(cat said.err)"
  [[ -z "$(ls refused 2>/dev/null)" ]] || fail "$1: something was written"
}
refuse "nothing to choose" "nothing of what there is to choose" plain.json
refuse "a sheet" "only totes can be chosen" "$2/app_sheet.json"
((failures == 0)) || exit 1
echo "choose chooses."
