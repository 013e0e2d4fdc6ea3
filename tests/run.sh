#!/usr/bin/env bash
# Sets up, builds, and runs every test. Arguments go to ctest, e.g. tests/run.sh -L unit.
# With CI=true it also treats warnings as errors and checks the format of the sources.
set -euo pipefail
cd -- "$(dirname -- "${BASH_SOURCE[0]}")/.."

if [[ "${CI:-}" == true ]]; then
  bash .ci/install.sh --lint
  bash tests/style/format.sh
  bash .ci/build.sh release all -DTOTEBENCH_WARNINGS_AS_ERRORS=ON
else
  bash .ci/install.sh
  bash .ci/build.sh release all
fi

# Tests run side by side, so each keeps to one thread unless it asks for more itself.
# (Counted first: nproc heeds OMP_NUM_THREADS.)
jobs="$(nproc 2>/dev/null || getconf _NPROCESSORS_ONLN)"
export OMP_NUM_THREADS="${OMP_NUM_THREADS:-1}"
ctest --preset release --parallel "$jobs" "$@"
build/release/verification_book summary build/release/verification_rows tests/verification
