#!/usr/bin/env bash
# Ctrl-C during a long solve: exit code 3, the last good state written, no headline numbers.
# Usage: app_interrupt.sh TOTEBENCH SOURCE_DIR
set -uo pipefail
program="$1"
work="$(mktemp -d)"
trap 'rm -rf -- "$work"' EXIT
source "$(dirname -- "${BASH_SOURCE[0]}")/schema_check.sh"
cd -- "$work" || exit 1
# A mesh far finer than it need be, so that there is time to press the keys.
sed 's/"size": "1 cm"/"size": "0.7 mm"/; s/"load_steps": 3/"load_steps": 40/' \
  "$2/tests/robustness/app_sheet.json" >slow.json

"$program" hang slow.json --out result >said.out 2>said.err &
pid=$!
for _ in $(seq 600); do
  [[ -s said.err ]] && break  # the first progress line: it is solving
  kill -0 "$pid" 2>/dev/null || break
  sleep 0.1
done
kill -INT "$pid"
code=0
wait "$pid" || code=$?

failures=0
fail() {
  echo "$1" >&2
  cat said.out said.err >&2
  failures=$((failures + 1))
}
((code == 3)) || fail "exit code $code, not 3"
grep -q "Stopped on request" said.out || fail "does not say that it was stopped"
grep -q '"status": "not_converged"' result/findings.json || fail "findings.json calls it converged"
grep -q '"interrupted": true' result/findings.json || fail "findings.json does not tell of the stop"
keeps_schema findings result/findings.json || fail "findings.json does not keep to its schema"
[[ -s result/sheet.vtu ]] || fail "the last good state was not written"
[[ ! -e result/sheet.png ]] || fail "a picture was drawn, which takes seconds"
grep -q "sheet.png is missing: stopped on request" said.out || fail "no word of the picture"

# Whenever it comes, also while results are written: nothing to look at without its numbers.
for tenths in 1 2 3 4 5 6 8 10 15; do
  "$program" hang "$2/tests/robustness/app_sheet.json" --out "early$tenths" >said.out 2>said.err &
  pid=$!
  sleep "$((tenths / 10)).$((tenths % 10))"
  kill -INT "$pid" 2>/dev/null
  wait "$pid"
  for file in sheet.vtu steps.pvd sheet.png report.html; do
    [[ ! -e "early$tenths/$file" || -s "early$tenths/findings.json" ]] ||
      fail "stopped after $tenths tenths of a second: $file without findings.json"
  done
done
((failures == 0)) || exit 1
echo "Ctrl-C stops cleanly."
