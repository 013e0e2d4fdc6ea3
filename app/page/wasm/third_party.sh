#!/usr/bin/env bash
# Lays out in DIR what the module is compiled from besides our own sources: the sources of CHOLMOD
# and METIS as Debian has them, and a folder of headers. Usage: third_party.sh DIR
set -euo pipefail
dir="$1"
readonly SUITESPARSE=1:5.12.0+dfsg-2 METIS=5.1.0.dfsg-7 # of Debian 12
mkdir -p "$dir"
cd -- "$dir"

# The package sources of this machine, asked for sources instead of programs.
if ! compgen -G 'suitesparse-*/CHOLMOD' >/dev/null || ! compgen -G 'metis-*/libmetis' >/dev/null; then
  mkdir -p apt/parts apt/lists/partial
  for list in /etc/apt/sources.list /etc/apt/sources.list.d/*.list; do
    [[ -f "$list" ]] && sed -nE 's/^deb /deb-src /p' "$list" >"apt/parts/$(basename "$list" .list).list"
  done
  for list in /etc/apt/sources.list.d/*.sources; do
    [[ -f "$list" ]] && sed -E 's/^Types:.*/Types: deb-src/' "$list" >"apt/parts/$(basename "$list")"
  done
  apt=(apt-get -q -o Dir::Etc::SourceList=/dev/null -o "Dir::Etc::SourceParts=$PWD/apt/parts"
    -o "Dir::State::Lists=$PWD/apt/lists")
  "${apt[@]}" update
  "${apt[@]}" source "suitesparse=$SUITESPARSE" "metis=$METIS"
fi

# Headers without code of their own, by links: /usr/include as a whole would hide emscripten's.
mkdir -p include
for library in nlohmann fmt boost CGAL; do
  ln -sfn "/usr/include/$library" "include/$library"
done
for header in /usr/share/emscripten/cache/sysroot/include/compat/*intrin.h; do
  ln -sfn "$header" include/
done
# MMX, which WebAssembly has not and Eigen does not need.
[[ -f include/mmintrin.h ]] || : >include/mmintrin.h

# Eigen takes this compiler for an ancient GCC in one file.
if [[ ! -d include/Eigen ]]; then
  cp -r /usr/include/eigen3/Eigen include/Eigen.part
  sed -i 's/EIGEN_COMP_GNUC < 63/EIGEN_COMP_GNUC < 63 \&\& !defined(__wasm__)/' \
    include/Eigen.part/src/Core/arch/SSE/PacketMath.h
  mv include/Eigen.part include/Eigen
fi
