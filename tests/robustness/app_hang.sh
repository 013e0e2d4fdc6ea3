#!/usr/bin/env bash
# A small sheet through the front door: what is printed and what is written.
# Usage: app_hang.sh TOTEBENCH SOURCE_DIR
set -uo pipefail
program="$1"
scene="$2/tests/robustness/app_sheet.json"
work="$(mktemp -d)"
trap 'rm -rf -- "$work"' EXIT
source "$(dirname -- "${BASH_SOURCE[0]}")/schema_check.sh"
cd -- "$work" || exit 1
failures=0
fail() {
  echo "$1" >&2
  failures=$((failures + 1))
}

"$program" hang "$scene" >said.out 2>said.err || fail "exit code $? for a good scene: $(cat said.err)"
head -1 said.out | grep -qE "^.*at rest under its load; it moved by up to [0-9.]+ cm\.$" ||
  fail "the first line is not the plain sentence: $(head -1 said.out)"
[[ -d "out/app-test" ]] || fail "no folder out/app-test"
for name in findings.json report.html scene.resolved.json sheet.vtu steps.pvd; do
  [[ -s "out/app-test/$name" ]] || fail "no $name"
done
grep -q "moved by up to" out/app-test/report.html || fail "the page does not begin with the sentence"
[[ -s out/app-test/sheet.png ]] || grep -q "no way to draw" said.out || fail "no sheet.png and no reason"
find out -name '*.part' | grep . && fail "a temporary file was left"

"$program" hang "$scene" --json --out again >said.json 2>said.err || fail "--json: exit code $?"
cmp -s said.json again/findings.json || fail "--json does not print findings.json"
for key in schema_version status newton_iterations residual_relative relative_error probes cautions; do
  grep -q "\"$key\"" said.json || fail "findings.json has no $key"
done
grep -q '"status": "converged"' said.json || fail "not converged"
keeps_schema findings said.json || fail "findings.json does not keep to its schema"

"$program" hang "$scene" --quiet --units in --out third >said.out 2>said.err || fail "--quiet: exit $?"
[[ ! -s said.err ]] || fail "--quiet still talks on stderr: $(cat said.err)"
grep -q " in\." said.out || fail "--units in does not show inches"

# The resolved scene gives the same result.
"$program" hang again/scene.resolved.json --json --quiet --out fourth >fourth.json 2>/dev/null ||
  fail "the resolved scene does not run"
timeless() { grep -vE '"(seconds|[a-z_]+_s)"' "$1"; } # without what the clock said
diff <(timeless said.json) <(timeless fourth.json) >/dev/null ||
  fail "the resolved scene gives another result"

((failures == 0)) || exit 1
echo "hang writes what it promises."
