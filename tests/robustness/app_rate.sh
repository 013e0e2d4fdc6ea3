#!/usr/bin/env bash
# What a rating refuses, in which words, with nothing written.
# Usage: app_rate.sh TOTEBENCH SOURCE_DIR
set -uo pipefail
program="$1"
work="$(mktemp -d)"
trap 'rm -rf -- "$work"' EXIT
cd -- "$work" || exit 1
failures=0
fail() {
  echo "$1" >&2
  failures=$((failures + 1))
}
demo="$2/scenes/examples/demo.json"
refuse() {
  local what="$1" pattern="$2" code=0
  shift 2
  "$program" "$@" --out refused >said.out 2>said.err || code=$?
  ((code == 2)) || fail "$what: exit code $code, not 2"
  grep -qE -- "$pattern" said.err said.out || fail "$what: nothing of \"$pattern\": $(cat said.err)"
  [[ -z "$(ls refused 2>/dev/null)" ]] || fail "$what: something was written"
}
refuse "a factor below 1" "below 1" rate "$demo" --factor 0.9
refuse "a factor that is no number" "number from 1" rate "$demo" --factor five
refuse "samples below none" "samples" rate "$demo" --samples -3
refuse "a sheet" "only a tote" rate "$2/tests/robustness/app_sheet.json"
sed 's/"spun_polyester_tex60"/"cotton_soft_tex350"/' "$demo" >thick.json
refuse "a thread too thick for its stitches" "thick.json:[0-9]+.*too thick" rate thick.json
sed 's/"overlap": "2 1\/2 in"/"overlap": "1 in"/' "$demo" >short.json
refuse "stitches below the strap's end" "short.json:[0-9]+.*longer than the overlap" rate short.json
sed 's/"support"/"rating": {"design_factor": 0.5}, "support"/' "$demo" >factor.json
refuse "a factor below 1 in the scene" "below 1 would rate" rate factor.json
refuse "no such file" "rate-me" rate rate-me.json

((failures == 0)) || exit 1
echo "rate refuses what it cannot rate."
