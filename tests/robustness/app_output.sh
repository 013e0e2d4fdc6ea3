#!/usr/bin/env bash
# Results that do not arrive, folders that are shared, files that lie: what is promised holds or the
# exit code says so. Usage: app_output.sh TOTEBENCH SOURCE_DIR
set -uo pipefail
program="$1"
demo="$2/scenes/examples/demo.json"
work="$(mktemp -d)"
trap 'rm -rf -- "$work"' EXIT
cd -- "$work" || exit 1
failures=0
fail() {
  echo "$1" >&2
  failures=$((failures + 1))
}

# Standard output that takes nothing.
if [[ -w /dev/full ]]; then
  for arguments in "check $demo" "materials" "explain" "cutlist $demo --json --out full" "--help"; do
    code=0
    # shellcheck disable=SC2086
    "$program" $arguments >/dev/full 2>said.err || code=$?
    ((code == 2)) || fail "$arguments to a full output: exit code $code, not 2"
    grep -q "standard output could not be written" said.err || fail "$arguments: no word of it"
  done
fi
code=0
"$program" cutlist "$demo" --json --out closed >&- 2>said.err || code=$?
((code == 2)) || fail "closed output: exit code $code, not 2"
for file in closed/*; do
  [[ "$file" == */cutlist.svg || "$file" == */cutlist.pdf || "$file" == */cutlist.json ]] ||
    fail "closed output: $file"
done

# Where the time went stands on the terminal on request, and never in the way of JSON.
sheet="$2/scenes/examples/sheet-strap.json"
"$program" hang "$sheet" --profile --out profile >told.txt 2>/dev/null
grep -q "^  stage .*unknowns.*contact, s" told.txt && grep -q "^meshing [0-9.]* s" told.txt ||
  fail "--profile: no table of stages"
"$program" hang "$sheet" --profile --json --quiet --out profile >told.json 2>told.err
grep -q "^meshing" told.err && ! grep -q "^meshing" told.json || fail "--profile in the way of --json"
grep -q '"assembly_s"' told.json || fail "--json without the times of the stages"

# Two runs into one folder.
for _ in 1 2 3; do
  "$program" cutlist "$demo" --out shared >/dev/null 2>one.err &
  one=$!
  "$program" cutlist "$demo" --out shared >/dev/null 2>other.err &
  other=$!
  wait "$one" || fail "a run beside another: $(cat one.err)"
  wait "$other" || fail "a run beside another: $(cat other.err)"
  if [[ -e shared/cutlist.pdf ]]; then
    [[ "$(head -c 5 shared/cutlist.pdf)" == "%PDF-" ]] || fail "the PDF has no beginning"
    tail -c 10 shared/cutlist.pdf | grep -q "%%EOF" || fail "the PDF has no end"
  fi
done
[[ -z "$(find shared -name '.*.part')" ]] || fail "temporary files stay"

# Names in other scripts have folders of their own.
sed 's/"name": *"[^"]*"/"name": "Сумка для рынка"/' "$demo" >one.json
sed 's/"name": *"[^"]*"/"name": "帆布袋"/' "$demo" >two.json
sed 's/"name": *"[^"]*"/"name": "!?"/' "$demo" >three.json
for scene in one two three; do
  "$program" cutlist "$scene.json" >/dev/null 2>&1 || fail "cutlist of $scene.json"
done
for folder in out/Сумка-для-рынка out/帆布袋 out/three; do
  [[ -s "$folder/cutlist.svg" ]] || fail "no $folder: $(ls out)"
done

((failures == 0)) || exit 1
echo "What does not arrive is told, and what is shared stays whole."
