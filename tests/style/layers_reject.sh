#!/usr/bin/env bash
# layers.sh must reject each of these trees, and say where.
set -euo pipefail
here="$(cd -- "$(dirname -- "${BASH_SOURCE[0]}")" && pwd)"
tree="$(mktemp -d)"
trap 'rm -rf -- "$tree"' EXIT

expect_rejected() { # file, its content, what the message must hold
  rm -rf -- "${tree:?}"/*
  mkdir -p "$tree"/{materials,solver,scenes,viz,app}
  bash "$here/layers.sh" "$tree" >/dev/null || { echo "the empty tree was rejected" >&2; exit 1; }
  echo "$2" >"$tree/$1"
  local said
  if said="$(bash "$here/layers.sh" "$tree" 2>&1)"; then
    echo "not rejected: $1 with: $2" >&2
    exit 1
  fi
  if [[ "$said" != *"$3"* ]]; then
    echo "wrong words for $1: $said" >&2
    exit 1
  fi
}

expect_rejected solver/a.cpp '#include "scenes/scene.hpp"' 'solver/a.cpp:1: solver must not include scenes'
expect_rejected solver/a.hpp '#include "materials/stack.hpp"' 'solver must not include materials'
expect_rejected materials/a.cpp '#include "solver/mesh.hpp"' 'materials must not include solver'
expect_rejected scenes/a.cpp '#include "viz/picture.hpp"' 'scenes must not include viz'
expect_rejected viz/a.cpp '#include "app/common.hpp"' 'viz must not include app'
expect_rejected app/a.cpp '#include "tests/helper.hpp"' 'app must not include tests'
expect_rejected solver/a.cpp '#include <vtkNew.h>' 'only viz may include <vtk...>'
expect_rejected viz/a.cpp '#include <CGAL/Point_2.h>' 'only scenes may include <CGAL/...>'
expect_rejected scenes/a.hpp '#include <nlohmann/json.hpp>' 'keep this out of a header'
expect_rejected stray.txt 'x' 'stray.txt does not belong in the top folder'
echo "All rejected."
