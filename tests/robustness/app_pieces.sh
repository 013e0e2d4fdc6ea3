#!/usr/bin/env bash
# totebench pieces: what it draws is a scene again, cut to the same sizes; what it cannot draw it
# refuses, and a scene of pieces with a wrong drawing says so. Usage: app_pieces.sh TOTEBENCH EXAMPLES
set -euo pipefail
totebench="$1" examples="$2"
out=$(mktemp -d)
trap 'rm -rf -- "$out"' EXIT
fail() {
  echo "$1"
  exit 1
}

"$totebench" pieces "$examples/sack.json" --out "$out/sack" > "$out/told"
grep -q "pieces.svg draws the pieces" "$out/told" || fail "it does not tell what it wrote"
"$totebench" check "$out/sack/pieces.json" > "$out/told"
grep -q "A bag of pattern pieces, 38.0 cm wide, 42.0 cm high" "$out/told" || fail "another sack: $(cat "$out/told")"
"$totebench" cutlist "$out/sack/pieces.json" --out "$out/cut" > "$out/told"
"$totebench" cutlist "$examples/sack.json" --out "$out/known" > "$out/known.told"
for list in told known.told; do grep -E "front and back, outer" "$out/$list" > "$out/$list.row"; done
diff "$out/told.row" "$out/known.told.row" || fail "the same sack is cut otherwise"

refused() { # WORDS ARGUMENTS...
  local words="$1" code=0
  shift
  "$totebench" "$@" > "$out/told" 2>&1 || code=$?
  [[ $code -eq 2 ]] || fail "$*: exit code $code"
  grep -q -- "$words" "$out/told" || fail "$*: not told \"$words\": $(cat "$out/told")"
}
refused "this is a sheet" pieces "$examples/sheet-strap.json" --out "$out/no"
refused "crosswise and lengthwise seams" pieces "$examples/rounded-shoulder.json" --out "$out/no"
refused "is made of pieces already" pieces "$out/sack/pieces.json" --out "$out/no"
[[ ! -e "$out/no/pieces.svg" ]] || fail "something was written all the same"
rm "$out/sack/pieces.svg"
refused "there is no file" hang "$out/sack/pieces.json" --out "$out/no"
echo "<svg width='90mm' viewBox='0 0 90 90'><path id='front' d='M0 0 L'/></svg>" > "$out/sack/pieces.svg"
refused "<path id=\"front\">: a number is missing" check "$out/sack/pieces.json"
echo "Pieces are drawn and read."
