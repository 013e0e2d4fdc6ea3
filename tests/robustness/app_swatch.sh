#!/usr/bin/env bash
# A swatch from file to scene: the material is written, a scene takes it, pages can be printed.
# Usage: app_swatch.sh TOTEBENCH SOURCE_DIR
set -euo pipefail
program="$1"
source_dir="$2"
work="$(mktemp -d)"
trap 'rm -rf -- "$work"' EXIT
source "$(dirname -- "${BASH_SOURCE[0]}")/schema_check.sh"
cd -- "$work"
fail() {
  echo "$1" >&2
  exit 1
}

"$program" swatch "$source_dir/scenes/examples/swatch/tray-plastic.json" --json >said.json 2>said.err
[[ "$(head -c 1 said.json)" == "{" ]] && grep -q '"status": "converged"' said.json ||
  fail "--json: no result on stdout"
keeps_schema swatch said.json || fail "swatch.json does not keep to its schema"
head -n 3 said.err | grep -q "^tray plastic: bent, it is" || fail "no sentence first"
material="out/tray-plastic/tray_plastic.material.json"
[[ -s "$material" && -s out/tray-plastic/swatch.json ]] || fail "files are missing"
grep -q '"not measured: that of hdpe_sheet' "$material" || fail "what was not measured is not marked"

# The lines it says to write into a scene, in a scene beside the material.
cp "$material" .
use="$(grep '"materials":' said.err)"
sed -e "s|\"units\":|${use#  } \"units\":|" -e 's/"hdpe_sheet"/"tray_plastic"/' \
  "$source_dir/scenes/examples/sheet-base.json" >scene.json
"$program" check scene.json >checked || fail "a scene does not take it: $(cat checked)"
grep -q "tray_plastic\|tray plastic" checked || fail "the scene does not use it: $(cat checked)"

"$program" swatch --worksheet all >printed
for test in mass overhang droop loop stretch gap; do
  tail -n 1 "out/worksheets/$test.svg" | grep -q "</svg>" || fail "the page for $test is not whole"
done
echo "From ruler and scale to a scene."
