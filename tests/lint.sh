#!/usr/bin/env bash
# The slow checks of style: format, then clang-tidy 14 over every source. With file names as
# arguments, tidy looks at those only.
set -euo pipefail
cd -- "$(dirname -- "${BASH_SOURCE[0]}")/.."
source tests/style/sources.sh

bash .ci/install.sh --lint
bash tests/style/format.sh
cmake --preset check >/dev/null

if (($#)); then
  printf '%s\n' "$@"
else
  sources | grep '\.cpp$'
fi | xargs -d '\n' -n 1 -P "$(nproc 2>/dev/null || getconf _NPROCESSORS_ONLN)" clang-tidy-14 --extra-arg=-Wno-unknown-warning-option -p build/check --quiet
