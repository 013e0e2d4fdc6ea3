#!/usr/bin/env bash
# Hangs one example scene and holds it against its own expectations.
# usage: example.sh TOTEBENCH SCENE
set -euo pipefail
out=$(mktemp -d)
trap 'rm -rf -- "$out"' EXIT
"$1" hang "$2" --out "$out/run" --json --quiet > "$out/findings.json"
grep -q '"status": *"converged"' "$out/findings.json" || { echo "not converged"; exit 1; }
if grep -q '"met": *false' "$out/findings.json"; then
  echo "an expectation of $2 is not met:"
  grep -B5 '"met": *false' "$out/findings.json"
  exit 1
fi
test -s "$out/run/findings.json"
