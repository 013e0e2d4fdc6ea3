#!/usr/bin/env bash
# Installs what the build needs and is not there yet (Debian 12, Ubuntu 24.04), or says what to
# install by hand. Usage: install.sh [--lint]   (--lint: the format and tidy checkers as well)
set -euo pipefail

packages=(
  g++ cmake ninja-build
  libeigen3-dev      # dense and sparse matrices
  nlohmann-json3-dev # scene files and results
  libcli11-dev       # the command line
  libfmt-dev         # text
  libsuitesparse-dev # sparse Cholesky
  libopenblas-dev    # and the dense kernels below it
  libcgal-dev        # meshing of panels
  libexpat1-dev      # drawings of pattern pieces
  libvtk9-dev        # 3-D files and pictures
  libcairo2-dev      # patterns as PDF
  libegl-dev libgl1-mesa-dri # drawing with no display
  xvfb xauth         # drawing with no display, the other way
  fonts-dejavu-core  # letters in pictures
  libgtest-dev       # tests
  pybind11-dev python3-dev python3-numpy # the Python package
)
# The test that opens a report page in a browser is skipped where there is none. Ubuntu has Chromium
# only as a snap, which a container cannot run.
if [[ "${CI:-}" == true ]] && grep -qs '^ID=debian' /etc/os-release; then
  packages+=(chromium python3)
fi
# Results are held against their schemas where there is a validator.
if [[ "${CI:-}" == true ]]; then
  packages+=(python3 python3-jsonschema)
fi
# The test that bundles the page's script anew is skipped where there is no npm.
if [[ "${CI:-}" == true ]] && ! command -v npm >/dev/null; then
  packages+=(nodejs npm)
fi
if [[ "${1:-}" == "--lint" ]]; then
  packages+=(clang-format-14 clang-tidy-14)
fi

say_by_hand() {
  cat >&2 <<'TEXT'
The build needs these, with headers:
  a C++20 compiler (g++ 12, clang 14 or newer), CMake 3.25 or newer, Ninja
  Eigen 3.4, nlohmann_json 3.11, CLI11 2, fmt 9 or newer, CGAL 5.5 or newer, Expat 2.4, VTK 9.1 or
  newer, EGL, Cairo (optional: no patterns as PDF without), SuiteSparse CHOLMOD with a fast BLAS such as
  OpenBLAS (optional: slower without), GoogleTest (for the tests), and Xvfb where pictures cannot
  be drawn without a display; for Python: pybind11 2.10 or newer, Python 3.9 with headers, NumPy.
TEXT
}

if ! command -v dpkg-query >/dev/null || ! command -v apt-get >/dev/null; then
  missing_tools=()
  for tool in c++ cmake ninja; do
    command -v "$tool" >/dev/null || missing_tools+=("$tool")
  done
  if ((${#missing_tools[@]})); then
    echo "This system has no apt-get, and these tools are missing: ${missing_tools[*]}" >&2
    say_by_hand
    exit 1
  fi
  exit 0 # CMake names any library that is missing.
fi

missing=()
for package in "${packages[@]}"; do
  status="$(dpkg-query -W -f='${db:Status-Status}\n' "$package" 2>/dev/null | head -n 1 || true)"
  [[ "$status" == installed ]] || missing+=("$package")
done
((${#missing[@]})) || exit 0

as_root=()
if ((EUID != 0)); then
  if ! command -v sudo >/dev/null; then
    echo "Missing packages, and neither root nor sudo is here to install them. Run as root:" >&2
    echo "  apt-get update && apt-get install --no-install-recommends ${missing[*]}" >&2
    echo "Should your system not know these names:" >&2
    say_by_hand
    exit 1
  fi
  as_root=(sudo)
fi
echo "Installing: ${missing[*]}"
"${as_root[@]}" env DEBIAN_FRONTEND=noninteractive apt-get update -q
if ! "${as_root[@]}" env DEBIAN_FRONTEND=noninteractive \
  apt-get install -q -y --no-install-recommends "${missing[@]}"; then
  echo "apt-get could not install everything." >&2
  say_by_hand
  exit 1
fi
