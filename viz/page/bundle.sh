#!/usr/bin/env bash
# Makes viewer.bundle.js, the script that turns the bag on the report page, from viewer/ and the
# library three in the versions of package-lock.json. Needs npm with Node 18 or newer, and its
# registry. Usage: bundle.sh [--check]
# --check writes nothing. It ends with 1 where viewer.bundle.js is not what its sources make, and
# with 77 where npm or the registry is not there to tell.
set -euo pipefail
cd -- "$(dirname -- "${BASH_SOURCE[0]}")"
readonly CANNOT_TELL=77

check=false
[[ "${1:-}" == --check ]] && check=true

work="$(mktemp -d)"
trap 'rm -rf -- "$work"' EXIT
cannot() {
  echo "viz/page/bundle.sh: $1" >&2
  if $check; then
    echo "Skipped: nothing was compared." >&2
    exit $CANNOT_TELL
  fi
  exit 1
}

command -v npm >/dev/null || cannot "npm is missing (package npm)"
major="$(node -p 'process.versions.node.split(".")[0]')"
((major >= 18)) || cannot "Node $major is too old; 18 or newer is needed"

cp -r package.json package-lock.json .npmrc viewer "$work"
if ! (cd "$work" && npm ci --fetch-retries=1 --fetch-retry-mintimeout=1000 --fetch-timeout=15000) >"$work/said" 2>&1; then
  cat "$work/said" >&2
  if grep -qE 'ENOTFOUND|EAI_AGAIN|ECONN(REFUSED|RESET|ABORTED)|E?TIMED?OUT|E(NET|HOST)UNREACH|ERR_SOCKET|EPROTO|E40[137]|E5[0-9][0-9]' "$work/said"; then
    cannot "the registry of npm does not answer"
  fi
  echo "viz/page/bundle.sh: npm could not install what package-lock.json lists" >&2
  exit 1
fi

(
  cd "$work"
  version="$(node -p 'require("./node_modules/three/package.json").version')"
  banner="/*! Made by viz/page/bundle.sh from viz/page/viewer/, which is part of totebench
(GPL-3.0-or-later), and from three.js $version, whose licence is this:

$(cat node_modules/three/LICENSE)
*/"
  node_modules/.bin/esbuild viewer/main.js --bundle --minify --format=iife --target=es2020 \
    --charset=ascii --legal-comments=none --banner:js="$banner" --log-level=warning --outfile=made.js
  # It is put into a script element, inside CDATA for readers of XML. Between the brackets of code a
  # blank means nothing.
  sed -i 's/]]>/]] >/g' made.js
  if grep -qiE '</script|<!--|totebench_page' made.js; then
    echo "viz/page/bundle.sh: the bundle holds what may not stand inside a script element" >&2
    exit 1
  fi
)

if $check; then
  cmp "$work/made.js" viewer.bundle.js && echo "The bundle is what its sources make." && exit 0
  echo "viz/page/viewer.bundle.js is not what its sources make. Run  bash viz/page/bundle.sh" >&2
  exit 1
fi
cp "$work/made.js" viewer.bundle.js
echo "viz/page/viewer.bundle.js: $(wc -c <viewer.bundle.js) bytes"
