#!/usr/bin/env bash
# Sets up, builds, and hangs the demo tote. Results go to out/demo.
set -euo pipefail
cd -- "$(dirname -- "${BASH_SOURCE[0]}")/.."

bash .ci/install.sh
bash .ci/build.sh release totebench

out="out/demo"
build/release/totebench hang scenes/examples/demo.json --out "$out"

echo
echo "Results of the demo tote are in $PWD/$out:"
for file in "$out"/*; do
  case "$file" in
    *report.html) echo "  $file   (open this with a browser)" ;;
    *.png) echo "  $file   (the picture: empty and loaded)" ;;
    *findings.json) echo "  $file   (every number, SI units)" ;;
    *) echo "  $file" ;;
  esac
done
