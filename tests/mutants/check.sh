#!/usr/bin/env bash
# Every fault of tests/mutants/*.list (or of the lists named) still has its text, once, in its file,
# changes it, and names tests that there are. Usage: check.sh BUILD_FOLDER [LIST...]
set -euo pipefail
build="$(cd -- "$1" && pwd)"
shift
cd -- "$(dirname -- "${BASH_SOURCE[0]}")/../.."
source tests/mutants/read.sh
(($#)) || set -- tests/mutants/*.list
read_faults "$@"

names="$(ctest --test-dir "$build" -N | sed -nE 's/^ *Test +#[0-9]+: //p')"
failures=0
fail() {
  echo "${fault_name[i]}: $1" >&2
  failures=$((failures + 1))
}
for i in "${!fault_name[@]}"; do
  file="${fault_file[i]}"
  if [[ ! -f "$file" ]]; then
    fail "there is no $file"
    continue
  fi
  n="$(times_in "${fault_old[i]}" "$file")"
  ((n == 1)) || fail "its text stands $n times in $file, not once"
  [[ "${fault_old[i]}" != "${fault_new[i]}" ]] || fail "it changes nothing"
  grep -qE -- "${fault_tests[i]}" <<<"$names" || fail "no test is called ${fault_tests[i]}"
done
((failures == 0)) || exit 1
echo "${#fault_name[@]} faults, each with its text and its tests."
