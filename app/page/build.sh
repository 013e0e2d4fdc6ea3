#!/usr/bin/env bash
# Builds the bench on a page: out/page/index.html, one file that holds all it needs and asks for
# nothing. Uses Debian's emscripten (Debian 12) and npm; the first build takes some ten minutes of
# processor time, later ones what has changed. Usage: bash app/page/build.sh
set -euo pipefail
cd -- "$(dirname -- "${BASH_SOURCE[0]}")/../.."
house="$PWD"
work="$house/build/page"
mkdir -p "$work" out/page

packages=(emscripten node-acorn cmake ninja-build dpkg-dev libeigen3-dev nlohmann-json3-dev libfmt-dev
  libcgal-dev libboost-dev)
missing=()
for package in "${packages[@]}"; do
  status="$(dpkg-query -W -f='${db:Status-Status}\n' "$package" 2>/dev/null | head -n 1 || true)"
  [[ "$status" == installed ]] || missing+=("$package")
done
command -v npm >/dev/null || missing+=(npm)
if ((${#missing[@]})); then
  echo "Installing: ${missing[*]}"
  as_root=()
  ((EUID == 0)) || as_root=(sudo)
  "${as_root[@]}" env DEBIAN_FRONTEND=noninteractive apt-get update -q
  "${as_root[@]}" env DEBIAN_FRONTEND=noninteractive \
    apt-get install -q -y --no-install-recommends "${missing[@]}"
fi

# Debian's emscripten looks for its JavaScript parser here, and newer Nodes have a fetch of their own
# that it stumbles over.
bash app/page/wasm/third_party.sh "$work/third_party"
(
  export NODE_PATH=/usr/share/nodejs NODE_OPTIONS=--no-experimental-fetch
  cmake -G Ninja -S app/page/wasm -B "$work/wasm" -DCMAKE_BUILD_TYPE=Release \
    -DCMAKE_TOOLCHAIN_FILE=/usr/share/emscripten/cmake/Modules/Platform/Emscripten.cmake \
    -DHOUSE_DIR="$house" -DTHIRD_PARTY_DIR="$work/third_party" >"$work/configure.log" 2>&1 ||
    { cat "$work/configure.log" >&2 && exit 1; }
  nice -n 5 cmake --build "$work/wasm" --target bench --parallel "${JOBS:-$(nproc)}"
)
bash app/page/bundle.sh "$work/npm"
node app/page/assemble.js "$work" out/page/index.html
