#!/usr/bin/env bash
# Bad input: exit code 2, a clear text, nothing written. Usage: app_bad_input.sh TOTEBENCH SOURCE_DIR
set -uo pipefail
program="$1"
source_dir="$2"
work="$(mktemp -d)"
trap 'rm -rf -- "$work"' EXIT
cd -- "$work" || exit 1
failures=0

# refuse WHAT PATTERN ARGUMENTS...: the program must exit 2, say PATTERN, and print no result.
refuse() {
  local what="$1" pattern="$2" code=0
  shift 2
  "$program" "$@" >said.out 2>said.err || code=$?
  if ((code != 2)); then
    echo "$what: exit code $code, not 2" >&2
    failures=$((failures + 1))
  fi
  if ! grep -qiE -- "$pattern" said.err said.out; then
    echo "$what: nothing about \"$pattern\" in:" >&2
    cat said.err said.out >&2
    failures=$((failures + 1))
  fi
  if grep -qiE "terminate called|what\(\):|defect of ours|Segmentation" said.err said.out; then
    echo "$what: an accident shows" >&2
    cat said.err >&2
    failures=$((failures + 1))
  fi
  if [[ -e out ]]; then
    echo "$what: something was written:" >&2
    find out >&2
    rm -rf out
    failures=$((failures + 1))
  fi
}

demo="$source_dir/scenes/examples/demo.json"
refuse "no command" ".--quiet. belongs after a command, or nowhere; .totebench --help" --quiet
refuse "an option before its command" ".--quiet. belongs after a command" --quiet hang "$demo"
refuse "unknown command" "no command .hnag.; did you mean hang\? It has draft," hnag "$demo"
refuse "unknown option" "hang has no option .--untis.; did you mean --units\? .totebench hang --help" \
  hang "$demo" --untis cm
refuse "unknown option with its value" "no option .--quite.; did you mean --quiet" hang "$demo" --quite=3
refuse "an option of nothing" "has no option .--weight.; .totebench hang --help. lists" \
  hang "$demo" --weight 3
refuse "one scene too many" "no use for .second.json." hang "$demo" second.json
refuse "unknown units" "furlong" hang "$demo" --units furlong
refuse "no scene" "SCENE" hang
refuse "unknown paper" "a5" cutlist "$demo" --paper a5
refuse "unknown colour" "temperature" hang "$demo" --colour temperature
refuse "missing file" "absent.json" hang absent.json
refuse "a folder as scene" "scenes" hang "$source_dir/scenes"
printf '{"schema_version": 1, "bag": {' >broken.json
refuse "broken JSON" "broken.json:1:" hang broken.json
printf '' >empty.json
refuse "empty file" "empty.json" hang empty.json
head -c 4096 /dev/urandom >noise.json
refuse "noise" "noise.json" hang noise.json
sed 's/"material": *"[^"]*"/"material": "unobtanium"/' "$demo" >unknown.json
refuse "unknown material" "unknown.json:[0-9]+:[0-9]+: error:.*unobtanium" hang unknown.json
refuse "unknown entry" "unobtanium" materials unobtanium

sed 's/"size": *"[^"]*"/"size": "0 mm"/' "$source_dir/tests/robustness/app_sheet.json" >sheet.json
refuse "triangles of no size" "sheet.json:[0-9]+:[0-9]+: error: .*0 mm" hang sheet.json
grep -qiwE "inf|nan" said.err said.out && {
  echo "triangles of no size: no number" >&2
  cat said.err >&2
  failures=$((failures + 1))
}
sheet() {
  printf '{"schema_version": 1, "kind": "sheet", "name": "s", "sheet": {"shape": "file", "file": "%s",
    "plain": {"youngs_modulus": "1 GPa", "poisson_ratio": 0.3, "thickness": "1 mm"}},
    "supports": [{"where": "border"}], "loads": [{"kind": "gravity"}]}' "$1" >filed.json
}
sheet ""
refuse "no name of a mesh" "filed.json:[0-9]+:[0-9]+: error: no file is named" hang filed.json
sheet lies.vtp
cat >lies.vtp <<'VTP'
<?xml version="1.0"?>
<VTKFile type="PolyData" version="0.1" byte_order="LittleEndian"><PolyData>
<Piece NumberOfPoints="1000000000000" NumberOfVerts="0" NumberOfLines="0" NumberOfStrips="0"
 NumberOfPolys="1"><Points><DataArray type="Float32" NumberOfComponents="3" format="ascii">
0 0 0 1 0 0 0 1 0</DataArray></Points><Polys><DataArray type="Int64" Name="connectivity"
 format="ascii">0 1 2</DataArray><DataArray type="Int64" Name="offsets" format="ascii">3</DataArray>
</Polys></Piece></PolyData></VTKFile>
VTP
refuse "a mesh that claims too much" "filed.json:[0-9]+:[0-9]+: error: .*1e\+12 Points|no VTK|cannot be read" \
  hang filed.json
sed 's/"width": *"[^"]*"/"width": "1e309 in"/' "$demo" >vast.json
refuse "a number too large" "vast.json:[0-9]+:[0-9]+: error: .*too large" hang vast.json

# Swatches: everything wrong in one run, each with its place.
refuse "neither swatch nor worksheet" "give a swatch file" swatch
refuse "unknown worksheet" "tearing" swatch --worksheet tearing
refuse "a scene as swatch" "this is a scene, not a swatch" swatch "$demo"
swatch="$source_dir/scenes/examples/swatch/market-canvas.json"
refuse "a swatch as scene" "this is a swatch file, not a scene" hang "$swatch"
sed -e 's/"56 g"/"0 g"/' -e 's/"6.6 cm", "6.5 cm"/"6.6 ells", "21 cm"/' -e 's/"12 mm"/"-12 mm"/' \
  "$swatch" >swatch.json
refuse "an unknown unit" "swatch.json:14:[0-9]+: error: .*unknown unit \"ells\"" swatch swatch.json
refuse "an overhang beyond the strip" "swatch.json:14:[0-9]+: error: .*longer than the strip" \
  swatch swatch.json
refuse "no mass" "swatch.json:11:[0-9]+: error: mass = .0 g. is outside" swatch swatch.json
refuse "a negative extension" "swatch.json:24:[0-9]+: error: extension = .-12 mm" swatch swatch.json
refuse "four errors at once" "^4 errors" swatch swatch.json

# Output folders that cannot be written (a file in the way; a place where nobody can make one).
echo "in the way" >taken
refuse "output folder is a file" "taken is a file" hang "$demo" --out taken
refuse "output folder below a file" "cannot make the folder" hang "$demo" --out taken/below
refuse "output folder of a swatch is a file" "taken is a file" swatch "$swatch" --out taken
refuse "output folder in /proc" "cannot make the folder" hang "$demo" --out /proc/totebench
refuse "no name for the output folder" "name a folder" hang "$demo" --out ""
mkdir -p blocked/cutlist.json/in-the-way
refuse "a result that cannot be written" "cutlist.json is missing" cutlist "$demo" --out blocked
told="$(cat said.out said.err | grep -c "cutlist.json")"
((told == 1)) || {
  echo "a result that cannot be written is told of $told times" >&2
  failures=$((failures + 1))
}
[[ "$(cat taken)" == "in the way" ]] || {
  echo "the file in the way was changed" >&2
  failures=$((failures + 1))
}

# With --json errors stay off stdout, which is for results.
"$program" hang absent.json --json >said.out 2>said.err
[[ ! -s said.out && -s said.err ]] || {
  echo "--json: an error on stdout" >&2
  failures=$((failures + 1))
}

((failures == 0)) || exit 1
echo "Every bad input was refused in plain words."
