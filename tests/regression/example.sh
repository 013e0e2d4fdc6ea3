#!/usr/bin/env bash
# Hangs one example scene and holds it against its own expectations and the schema of its result.
# usage: example.sh TOTEBENCH SCENE
set -euo pipefail
out=$(mktemp -d)
trap 'rm -rf -- "$out"' EXIT
source "$(dirname -- "${BASH_SOURCE[0]}")/../robustness/schema_check.sh"
ranges=--no-ranges # they have tests of their own, and take most of the time
[[ "$2" != */demo.json ]] || ranges=
"$1" hang "$2" --out "$out/run" --json --quiet ${ranges:+"$ranges"} > "$out/findings.json"
grep -q '"status": *"converged"' "$out/findings.json" || { echo "not converged"; exit 1; }
if grep -q '"met": *false' "$out/findings.json"; then
  echo "an expectation of $2 is not met:"
  grep -B5 '"met": *false' "$out/findings.json"
  exit 1
fi
keeps_schema findings "$out/run/findings.json"
