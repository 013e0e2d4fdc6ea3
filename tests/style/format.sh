#!/usr/bin/env bash
# Checks that every source file is formatted (clang-format 14). With --fix it formats them.
set -euo pipefail
cd -- "$(dirname -- "${BASH_SOURCE[0]}")/../.."
source tests/style/sources.sh

if ! command -v clang-format-14 >/dev/null; then
  echo "clang-format-14 is missing: run  bash .ci/install.sh --lint" >&2
  exit 1
fi
if [[ "${1:-}" == "--fix" ]]; then
  sources | xargs -d '\n' clang-format-14 -i
else
  sources | xargs -d '\n' clang-format-14 --dry-run -Werror
fi
