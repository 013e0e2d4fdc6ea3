#!/usr/bin/env bash
# Tests the bench on a page in headless Chromium: a person's path from a bag to its printed pattern,
# wrong inputs, stopping, memory, no request to anywhere, accessibility, and that bags hang in the
# page as the program hangs them.
# Usage: run.sh TOTEBENCH [--firefox] [--only PART...] [--examples [NAME...]] [--pictures DIR]
# --firefox does in Firefox what its protocol allows: all but memory, keys and accessibility.
# --only runs some of the parts: path wrong stop many keys beside lesson rate axe examples.
# --examples hangs every example in both, or those named, which takes long; without it the demo and
# three sheets.
# --pictures leaves pictures of the page there, at three widths, light and dark.
# Needs out/page/index.html (bash app/page/build.sh), Python and a browser; not part of ctest.
set -euo pipefail
here="$(cd -- "$(dirname -- "${BASH_SOURCE[0]}")" && pwd)"
house="$(cd -- "$here/../.." && pwd)"
[[ -f "$house/out/page/index.html" ]] || {
  echo "There is no out/page/index.html; build it with: bash app/page/build.sh" >&2
  exit 2
}
export OMP_NUM_THREADS=1
exec python3 "$here/page_test.py" "$@"
