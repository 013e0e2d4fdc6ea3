#!/usr/bin/env bash
# layers.sh must reject each of these trees, and say where.
set -euo pipefail
here="$(cd -- "$(dirname -- "${BASH_SOURCE[0]}")" && pwd)"
tree="$(mktemp -d)"
trap 'rm -rf -- "$tree"' EXIT

mkdir -p "$tree"/{materials,solver,scenes,viz,app/studies}
bash "$here/layers.sh" "$tree" >/dev/null || { echo "the empty tree was rejected" >&2; exit 1; }

expect_rejected() { # file, its content, what the message must hold
  rm -rf -- "${tree:?}"/*
  mkdir -p "$tree"/{materials,solver,scenes,viz,app/studies}
  mkdir -p "$tree/$(dirname -- "$1")"
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

expect_rejected solver/a.cpp '#include "totebench/scenes/scene.hpp"' \
  'solver/a.cpp:1: solver must not include scenes'
expect_rejected solver/a.hpp '#include "totebench/materials/stack.hpp"' \
  'solver must not include materials'
expect_rejected materials/a.cpp '#include "totebench/solver/mesh.hpp"' \
  'materials must not include solver'
expect_rejected scenes/a.cpp '#include "totebench/viz/picture.hpp"' 'scenes must not include viz'
expect_rejected viz/a.cpp '#include "app/commands/common.hpp"' 'viz must not include app'
expect_rejected app/a.cpp '#include "tests/helper.hpp"' 'app must not include tests'
expect_rejected app/studies/rate/a.cpp '#include "totebench/viz/results.hpp"' \
  'studies must not include viz'
expect_rejected viz/a.cpp '#include "totebench/studies/hang.hpp"' 'viz must not include studies'
expect_rejected app/commands/a.cpp '#include "solver/search/newton.hpp"' \
  'what lies outside include/ is its own'
expect_rejected solver/include/totebench/solver/a.hpp '#include "solver/terms/fill_term.hpp"' \
  'a public header must not include a private one'
expect_rejected solver/a.cpp '#include <vtkNew.h>' 'only viz may include <vtk...>'
expect_rejected viz/a.cpp '#include <CGAL/Point_2.h>' 'only scenes may include <CGAL/...>'
expect_rejected app/studies/a.cpp '#include <CLI/CLI.hpp>' 'only app may include <CLI/...>'
expect_rejected app/studies/a.cpp '#include <fstream>' 'a study leaves files'
expect_rejected scenes/a.hpp '#include <nlohmann/json.hpp>' 'keep this out of a header'
expect_rejected app/present/a.hpp '#include <nlohmann/json.hpp>' 'keep this out of a header'
expect_rejected app/present/a.cpp '#include "app/present/fields/fields.hpp"' \
  'only app/present/fields may include this'
expect_rejected stray.txt 'x' 'stray.txt does not belong in the top folder'
echo "All rejected."
