#!/usr/bin/env bash
# Configures and builds one preset: build.sh PRESET TARGET [CONFIGURE OPTIONS].
set -euo pipefail
cd -- "$(dirname -- "${BASH_SOURCE[0]}")/.."

preset="$1"
target="$2"
shift 2

# A compiler job of this code takes up to about 1.5 GB: fewer jobs where memory is short.
jobs="$(nproc 2>/dev/null || getconf _NPROCESSORS_ONLN)"
if [[ -r /proc/meminfo ]]; then
  by_memory="$(awk '/MemAvailable/ {print int($2 / 1.5e6)}' /proc/meminfo)"
  ((by_memory < 1)) && by_memory=1
  ((jobs > by_memory)) && jobs=$by_memory
fi

log="build/configure.log"
mkdir -p build
if ! cmake --preset "$preset" "$@" >"$log" 2>&1; then
  cat "$log" >&2
  echo "Configuring failed. A library that is named above is missing or too old." >&2
  exit 1
fi
cmake --build --preset "$preset" --target "$target" --parallel "$jobs"
