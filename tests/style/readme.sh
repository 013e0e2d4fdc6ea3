#!/usr/bin/env bash
# Checks that what README.md and scenes/guide.md say is so: the scene passes `totebench check`, the
# commands and the files they name exist, result keys are in the schema, exit codes hold, and the
# README stays short. Usage: readme.sh PATH_OF_TOTEBENCH
set -euo pipefail
program="$1"
cd -- "$(dirname -- "${BASH_SOURCE[0]}")/../.."
work="$(mktemp -d)"
trap 'rm -rf -- "$work"' EXIT

failures=0
fail() {
  echo "README.md: $1" >&2
  failures=$((failures + 1))
}

awk '/^```json/ {inside = 1; next} /^```/ {inside = 0} inside' README.md >"$work/scene.json"
[[ -s "$work/scene.json" ]] || fail "holds no scene"
"$program" check "$work/scene.json" >"$work/said" 2>&1 || {
  cat "$work/said" >&2
  fail "its scene does not pass check"
}
if grep -q warning: "$work/said"; then
  cat "$work/said" >&2
  fail "its scene raises a warning"
fi

"$program" --help >"$work/help"
commands="$(grep -ohE '(`|^ +)totebench [a-z-]+' README.md scenes/guide.md | awk '{print $NF}' | sort -u)"
[[ -n "$commands" ]] || fail "names no command"
for command in $commands; do
  grep -qE "^ +$command( |$)" "$work/help" || fail "totebench has no command \"$command\""
done
for named in $(grep -ohE 'scenes/[a-z/]+[a-z0-9/*-]+\.json' README.md scenes/guide.md | sort -u); do
  compgen -G "$named" >/dev/null || fail "there is no $named"
done
(($(wc -l <README.md) <= 150)) || fail "is longer than 150 lines"

keys="$(awk '/^\| key \|/ {inside = 1; next} !/^\|/ {inside = 0} inside' scenes/guide.md |
  cut -d'|' -f2,3 | grep -oE '`[a-zA-Z_.]+(\[\])?`' | tr -d '`[]' | tr '.' '\n' | sort -u)"
[[ -n "$keys" ]] || fail "names no result key"
for key in $keys; do
  grep -q "\"$key\"" scenes/findings.schema.json || fail "findings.schema.json does not know \"$key\""
done

code=0
"$program" check "$work/no such scene.json" >/dev/null 2>&1 || code=$?
((code == 2)) || fail "a missing scene gives exit code $code, not 2"
code=0
"$program" hang >/dev/null 2>&1 || code=$?
((code == 2)) || fail "a wrong command line gives exit code $code, not 2"

((failures == 0)) || exit 1
echo "README.md says what is so."
