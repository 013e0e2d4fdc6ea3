#!/usr/bin/env bash
# What the commands write keeps to its JSON Schema, whole and stopped halfway, and the schemas refuse
# what does not. Results of other tests are held against theirs there.
# usage: app_schemas.sh TOTEBENCH FOLDER_OF_SCENES
set -uo pipefail
program="$1"
work="$(mktemp -d)"
trap 'rm -rf -- "$work"' EXIT
source "$(dirname -- "${BASH_SOURCE[0]}")/quick_tote.sh"
source "$(dirname -- "${BASH_SOURCE[0]}")/schema_check.sh"
[[ -n "$schema_python" ]] || {
  echo "skipped: python3-jsonschema is missing"
  exit 77
}
failures=0
fail() {
  echo "$1" >&2
  failures=$((failures + 1))
}
quick_tote "$2" >"$work/tote.json"
sed 's/"size": "40 mm"/"size": "8 mm"/; s/"load_steps": 2/"load_steps": 40/' "$2/page_tote.json" >"$work/slow.json"
sed 's/"thickness": "2 mm"/"thickness": "4 mm"/; s/"page test"/"stiffer"/' "$work/tote.json" >"$work/stiffer.json"
cd -- "$work" || exit 1

writes() { # NAME COMMAND...
  local name="$1"
  shift
  "$program" "$@" --json --quiet --out out >"$name.json" 2>said || fail "$*: exit code $?: $(cat said)"
  keeps_schema "$name" "$name.json" || fail "$* does not keep to $name.schema.json"
  rejects_faults "$name" "$name.json" || fail "$name.schema.json lets faults pass"
}
writes findings hang tote.json
writes stand stand tote.json
writes rating rate tote.json --samples 2
writes carry carry tote.json --cadence 180 --damping 0.3 # short and soon at rest
writes comparison compare tote.json stiffer.json
writes strap_ends strap-ends tote.json
writes cutlist cutlist tote.json

stopped() { # NAME COMMAND
  rm -f said # of the command before: it would be taken for this one's
  "$program" "$2" slow.json --json --out stopped >"stopped-$1.json" 2>said &
  local pid=$!
  for _ in $(seq 600); do
    [[ -s said ]] && break # the first progress line: it is solving
    kill -0 "$pid" 2>/dev/null || break
    sleep 0.1
  done
  kill -INT "$pid"
  local code=0
  wait "$pid" || code=$?
  ((code == 3)) || fail "$2, stopped: exit code $code, not 3"
  keeps_schema "$1" "stopped-$1.json" || fail "$2, stopped, does not keep to $1.schema.json"
}
stopped findings hang
stopped stand stand
stopped rating rate
stopped unzip unzip
stopped strap_ends strap-ends

((failures == 0)) || exit 1
echo "Results keep to their schemas."
