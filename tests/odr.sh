#!/usr/bin/env bash
# Links the program with link-time optimisation, where the compiler sees two types of one name that
# differ between sources (-Wodr). Takes some minutes; run it after names have moved.
set -euo pipefail
cd -- "$(dirname -- "${BASH_SOURCE[0]}")/.."

cmake -S . -B build/odr -G Ninja -DCMAKE_BUILD_TYPE=Release -DTOTEBENCH_BUILD_TESTS=OFF -DCMAKE_UNITY_BUILD=ON -DCMAKE_UNITY_BUILD_BATCH_SIZE=12 \
  -DCMAKE_CXX_FLAGS="-flto=auto -Wodr -Werror=odr -Wlto-type-mismatch" \
  -DCMAKE_CXX_FLAGS_RELEASE="-O1" >build/odr.log
cmake --build build/odr --target totebench 2>&1 | tee build/odr.out | tail -n 1
if grep -E "Wodr|Wlto-type-mismatch" build/odr.out | grep -v "^\[" >&2; then
  exit 1
fi
echo "One definition of every name."
