#!/usr/bin/env bash
# Runs the verification tests and writes the verification book anew: README.md and pictures/ of this
# folder. Usage: book.sh [--slow] [BUILD FOLDER], by default build/release, which must be built.
# --slow also builds and runs what takes minutes (slow_*_test.cpp); its rows are kept in slow/, and
# without --slow the page shows those of the last such run.
set -euo pipefail
cd -- "$(dirname -- "${BASH_SOURCE[0]}")/../.."

slow=false
if [[ "${1:-}" == --slow ]]; then
  slow=true
  shift
fi
build="${1:-build/release}"
book="$build/verification_book"
if [[ ! -x "$book" ]]; then
  echo "$build holds no verification_book: build it first (bash .ci/build.sh release all)" >&2
  exit 2
fi
export OMP_NUM_THREADS="${OMP_NUM_THREADS:-1}"
ctest --test-dir "$build" -L verification -E VerificationBook.PageSaysWhatTheTestsFound \
  --output-on-failure --parallel 2
if $slow; then
  cmake --build "$build" --target slow_verification
  "$build/slow_verification"
fi
# Rows that are kept say at what commit they were made; "+" where the tree differs from it.
commit="$(git rev-parse --short HEAD)"
git diff --quiet HEAD -- . || commit+="+"
"$book" write "$build/verification_rows" tests/verification "$commit" "$(git log -1 --format=%as)"
"$book" summary "$build/verification_rows" tests/verification
