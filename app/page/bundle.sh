#!/usr/bin/env bash
# Bundles src/ and checks its types. Needs npm with Node 18 or newer and, the first time, its
# registry. Usage: bundle.sh WORK   (makes WORK/page.js and WORK/worker.js)
set -euo pipefail
here="$(cd -- "$(dirname -- "${BASH_SOURCE[0]}")" && pwd)"
house="$(cd -- "$here/../.." && pwd)"
work="$(mkdir -p "$1" && cd -- "$1" && pwd)"

version() { node -p "require('$1/package.json').dependencies.three"; }
[[ "$(version "$here")" == "$(version "$house/viz/page")" ]] || {
  echo "app/page/package.json and viz/page/package.json name different versions of three" >&2
  exit 1
}
# What the lock file names, once.
lock="$(sha256sum <"$here/package-lock.json")"
if [[ "$(cat "$work/installed" 2>/dev/null)" != "$lock" ]]; then
  cp "$here/package.json" "$here/package-lock.json" "$here/.npmrc" "$work"
  (cd "$work" && npm ci --silent --fetch-retries=2)
  echo "$lock" >"$work/installed"
fi

export NODE_PATH="$work/node_modules"
"$work/node_modules/.bin/tsc" -p "$here/tsconfig.json"
bundle=("$work/node_modules/.bin/esbuild" --bundle --minify --format=iife --target=es2022
  --charset=ascii --legal-comments=none --log-level=warning --loader:.json=text)
banner="/*! totebench (GPL-3.0-or-later) with three.js, whose licence is this:

$(cat "$work/node_modules/three/LICENSE")
*/"
"${bundle[@]}" --banner:js="$banner" "$here/src/main.js" --outfile="$work/page.js"
"${bundle[@]}" "$here/src/worker.js" --outfile="$work/worker.js"
