#!/usr/bin/env bash
# Every source that a comment cites as [Name1999] stands in solver/references.bib, and none stands
# there uncited.
set -euo pipefail
cd -- "$(dirname -- "${BASH_SOURCE[0]}")/../.."

known="$(grep -oE '^@[a-z]+\{[A-Za-z0-9]+' solver/references.bib | cut -d'{' -f2 | sort)"
cited="$(grep -rhoE '\[[A-Z][A-Za-z]*[0-9]{3,4}\]' --include='*.?pp' materials solver scenes viz app tests |
  tr -d '[]' | sort -u)"
failures=0
while read -r key; do
  echo "cited, but not in solver/references.bib: $key" >&2
  failures=1
done < <(comm -13 <(echo "$known") <(echo "$cited"))
while read -r key; do
  echo "in solver/references.bib, but cited nowhere: $key" >&2
  failures=1
done < <(comm -23 <(echo "$known") <(echo "$cited"))
[[ "$known" == "$(sort -u <<<"$known")" ]] || { echo "a key of solver/references.bib stands twice" >&2; failures=1; }
exit "$failures"
