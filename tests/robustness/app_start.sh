#!/usr/bin/env bash
# The program itself must not be linked with the drawing libraries: they cost more start-up time
# than `check` needs. Usage: app_start.sh TOTEBENCH
set -uo pipefail
program="$1"
libraries="$(ldd "$program")" || exit 1
if grep -iE "libvtk|libEGL|libGL\b|libX11|libcairo|libmpi" <<<"$libraries"; then
  echo "totebench is linked with the drawing libraries" >&2
  exit 1
fi
"$program" --version | grep -qE '^[0-9]+\.[0-9]+\.[0-9]+$' || exit 1
for command in hang check explain materials; do
  "$program" --help | grep -qE "^ +$command( |$)" || {
    echo "no command $command" >&2
    exit 1
  }
  "$program" "$command" --help | grep -q -- --units || {
    echo "$command does not take the common options" >&2
    exit 1
  }
done
