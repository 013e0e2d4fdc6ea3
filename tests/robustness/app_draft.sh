#!/usr/bin/env bash
# totebench draft writes a scene that reads, says what it is asked for, and overwrites nothing.
# usage: app_draft.sh TOTEBENCH FOLDER_OF_SCENES
set -uo pipefail
program="$1"
work="$(mktemp -d)"
trap 'rm -rf -- "$work"' EXIT
cd -- "$work" || exit 1
failures=0
fail() {
  echo "$1" >&2
  failures=$((failures + 1))
}
"$program" draft my-bag.json </dev/null >said 2>&1 || fail "exit code $?: $(cat said)"
grep -q "totebench check my-bag.json" said || fail "nothing of what comes next: $(cat said)"
grep -q '// "totebench explain bag"' my-bag.json || fail "the draft is not explained"
"$program" check my-bag.json >said 2>&1 || fail "the draft does not read: $(cat said)"
grep -q "14 in wide, 13 in high, 5 in deep" said || fail "other sizes than offered: $(cat said)"
grep -q "12 lb" said || fail "the report of a bag in inches is not in pounds: $(cat said)"

"$program" draft metric.json --units cm --width "40 cm" --load "9 kg" </dev/null >said 2>&1 ||
  fail "--units cm: exit code $?"
"$program" check metric.json >said 2>&1 || fail "the metric draft does not read: $(cat said)"
grep -q "40.0 cm wide, 33.0 cm high" said || fail "a size that was given is not in it: $(cat said)"
grep -q "9 kg" said || fail "the load that was given is not in it: $(cat said)"

refuse() { # WHAT PATTERN FILE COMMAND...
  local what="$1" pattern="$2" file="$3" code=0
  shift 3
  "$program" "$@" </dev/null >said 2>&1 || code=$?
  ((code == 2)) || fail "$what: exit code $code, not 2"
  grep -q -- "$pattern" said || fail "$what: nothing of \"$pattern\": $(cat said)"
  [[ ! -e "$file" ]] || fail "$what: something was written"
}
refuse "a width of nothing" "more than nothing" no.json draft no.json --width "0 in"
refuse "a width without a unit" "width" no.json draft no.json --width 14
refuse "a load in inches" "mass" no.json draft no.json --load "5 in"
refuse "sizes that do not go together" "error" no.json draft no.json --width "2 in"
refuse "a folder that is not there" "no.json" no/no.json draft no/no.json
before="$(cksum my-bag.json)"
refuse "a file that is there" "already" none draft my-bag.json
[[ "$(cksum my-bag.json)" == "$before" ]] || fail "a file that was there has changed"

# Comments may stand anywhere, and places stay right.
sed 's|"schema_version": 1,|/* one\n line */ "schema_version": 1, // "two": {|; s/"width": "14 in"/"wdith": "14 in"/' my-bag.json >slip.json
"$program" check slip.json >said 2>&1
line="$(grep -n '"wdith"' slip.json | cut -d: -f1)"
grep -q "slip.json:$line:.*wdith" said || fail "a slip is not found at line $line: $(cat said)"

((failures == 0)) || exit 1
echo "draft writes a scene to begin with."
