#!/usr/bin/env bash
# check.sh must reject each of these faults, and say why. Usage: check_reject.sh BUILD_FOLDER
set -euo pipefail
here="$(cd -- "$(dirname -- "${BASH_SOURCE[0]}")" && pwd)"
list="$(mktemp)"
trap 'rm -f -- "$list"' EXIT

expect_rejected() { # file, text, replacement, tests, what the message must hold
  printf 'fault  one\nfile   %s\n- %s\n+ %s\ntests  %s\n' "$1" "$2" "$3" "$4" >"$list"
  local said
  if said="$(bash "$here/check.sh" "$build" "$list" 2>&1)"; then
    echo "not rejected: $5" >&2
    exit 1
  fi
  [[ "$said" == *"$5"* ]] || { echo "wrong words, not \"$5\": $said" >&2; exit 1; }
}
build="$1"
tests='unit House.'
expect_rejected tests/mutants/no.cpp a b "$tests" 'one: there is no tests/mutants/no.cpp'
expect_rejected tests/mutants/read.sh 'text that was lost' b "$tests" 'one: its text stands 0 times'
expect_rejected tests/mutants/read.sh 'local' b "$tests" 'times in tests/mutants/read.sh, not once'
expect_rejected tests/mutants/read.sh 'times_in() {' 'times_in() {' "$tests" 'one: it changes nothing'
expect_rejected tests/mutants/read.sh 'times_in() {' b 'unit NoSuchTest' 'one: no test is called NoSuchTest'
expect_rejected tests/mutants/read.sh 'times_in() {' b 'unit' 'fault "one" is not whole'
echo "All rejected."
