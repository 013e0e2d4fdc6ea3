#!/usr/bin/env bash
# Are the tests awake? Puts each fault of tests/mutants/*.list into a copy of the tree, builds what
# its tests need, and runs them: one of them must fail. Copies and builds lie in build/mutants and
# are used again; a compiler launcher such as ccache (CMAKE_CXX_COMPILER_LAUNCHER) saves most of
# the time. Ends with 1 when a fault survives, cannot be built, or has lost its text.
# Usage: mutants.sh [--jobs N] [NAME...] [-- CONFIGURE OPTIONS]     N build trees, side by side
set -euo pipefail
cd -- "$(dirname -- "${BASH_SOURCE[0]}")/.."
source tests/mutants/read.sh
read_faults tests/mutants/*.list

jobs=1 wanted=() options=()
while (($#)); do
  case "$1" in
    --jobs) jobs="${2:?}" && shift ;;
    --) shift && options=("$@") && break ;;
    -*) echo "mutants.sh: no option $1; see the head of the script" >&2 && exit 2 ;;
    *) wanted+=("$1") ;;
  esac
  shift
done
[[ "$jobs" =~ ^[1-9][0-9]*$ ]] || { echo "mutants.sh: --jobs takes a number from 1" >&2; exit 2; }
for name in "${wanted[@]}"; do
  [[ " ${fault_name[*]} " == *" $name "* ]] || { echo "mutants.sh: no fault \"$name\"" >&2; exit 2; }
done
chosen=()
for i in "${!fault_name[@]}"; do
  ((${#wanted[@]} == 0)) || [[ " ${wanted[*]} " == *" ${fault_name[i]} "* ]] || continue
  chosen+=("$i")
done

work="$PWD/build/mutants"
mkdir -p "$work"
exec 9>"$work/lock"
flock -n 9 || { echo "mutants.sh: another run uses $work" >&2; exit 2; }
rm -rf -- "$work/claimed" "$work/verdicts" && mkdir -p "$work/claimed" "$work/verdicts"
cores="$(nproc 2>/dev/null || getconf _NPROCESSORS_ONLN)"
each=$((cores > jobs ? cores / jobs : 1))  # compilers of one worker
export OMP_NUM_THREADS=1

# The tree as it stands, file by file: one that is the same keeps its time, and so its objects.
copy_tree() { # to
  local file
  mkdir -p "$1"
  local -A here=()
  while IFS= read -r -d '' file; do
    here[$file]=1
    cmp -s -- "$file" "$1/$file" || { mkdir -p "$1/${file%/*}" && cp -- "$file" "$1/$file"; }
  done < <(find . \( -path ./build -o -path ./out -o -path ./.git \) -prune -o -type f -print0)
  while IFS= read -r -d '' file; do
    [[ "${here[$file]:-}" ]] || rm -- "$1/$file"
  done < <(cd -- "$1" && find . -path ./build -prune -o -type f -print0)
}

# Runs those tests of one program that ctest -R would choose, up to the first that fails.
run_tests() { # build folder, program, regex
  local names
  names="$("$1/$2" --gtest_list_tests | awk '/^[^ ]/ {suite = $1; next} {print suite $1}' |
    grep -E -- "$3" | paste -sd:)"
  [[ -n "$names" ]] || { echo "$2 has no test $3" && return 1; }
  (cd -- "$1" && timeout 600 "./$2" --gtest_fail_fast --gtest_filter="$names")
}

try() { # fault, tree, build folder: prints the verdict
  local i="$1" file="$2/${fault_file[$1]}" text failed log="$3/mutant.log"
  [[ -f "$file" && "$(times_in "${fault_old[i]}" "$file")" == 1 ]] || { echo "TEXT NOT FOUND ONCE" && return; }
  text="$(cat -- "$file" && echo .)"
  text="${text%.}"
  printf '%s' "${text%%"${fault_old[i]}"*}${fault_new[i]}${text#*"${fault_old[i]}"}" >"$file"
  if ! cmake --build "$3" --target "${fault_target[i]}" --parallel "$each" >"$log" 2>&1; then
    echo "COULD NOT BE BUILT"
  elif run_tests "$3" "${fault_target[i]}" "${fault_tests[i]}" >"$log" 2>&1; then
    echo "SURVIVED"
  else  # of a crash the test that ran last
    failed="$(sed -nE 's/^\[  FAILED  \] ([^ ,]+).*/\1/p' "$log" | head -n 1)"
    [[ -n "$failed" ]] || failed="$(sed -nE 's/^\[ RUN      \] (.*)/\1/p' "$log" | tail -n 1)"
    echo "${failed:+caught: }${failed:-TESTS COULD NOT BE RUN}"
  fi
  printf '%s' "$text" >"$file"
}

# The chosen faults that no other worker has claimed, after their tests passed without any.
worker() { # number
  # Built inside the copy, so that a compiler cache sees the same relative paths as elsewhere.
  local tree="$work/tree$1" build="$work/tree$1/build/mutant" i log="$work/tree$1.log"
  copy_tree "$tree"
  local targets target regex
  mapfile -t targets < <(for i in "${chosen[@]}"; do echo "${fault_target[i]}"; done | sort -u)
  if ! { cmake -S "$tree" -B "$build" -G Ninja -DCMAKE_BUILD_TYPE=Release "${options[@]}" &&
    cmake --build "$build" --target "${targets[@]}" --parallel "$each"; } >"$log" 2>&1; then
    tail -n 30 "$log" >&2
    echo "mutants.sh: the tree cannot be built without a fault; see $log" >&2
    return 1
  fi
  for target in "${targets[@]}"; do
    regex="$(for i in "${chosen[@]}"; do
      [[ "${fault_target[i]}" != "$target" ]] || echo "${fault_tests[i]}"
    done | sort -u | paste -sd'|')"
    run_tests "$build" "$target" "$regex" >"$log" 2>&1 && continue
    tail -n 30 "$log" >&2
    echo "mutants.sh: tests of $target do not pass without a fault; see $log" >&2
    return 1
  done
  for i in "${chosen[@]}"; do
    mkdir "$work/claimed/$i" 2>/dev/null || continue
    try "$i" "$tree" "$build" >"$work/verdicts/$i"
    printf '%-40s %s\n' "${fault_name[i]}" "$(<"$work/verdicts/$i")"
  done
}

workers=()
trap '((${#workers[@]} == 0)) || kill "${workers[@]}" 2>/dev/null || true' INT TERM
for ((k = 1; k <= jobs; ++k)); do
  worker "$k" &
  workers+=($!)
done
passed=0
for worker in "${workers[@]}"; do wait "$worker" || passed=1; done
caught=0 missed=()
for i in "${chosen[@]}"; do
  if [[ "$(cat "$work/verdicts/$i" 2>/dev/null)" == caught* ]]; then
    caught=$((caught + 1))
  else
    missed+=("${fault_name[i]}")
  fi
done
echo "$caught of ${#chosen[@]} faults caught${missed:+; not: ${missed[*]}}."
((passed == 0 && caught == ${#chosen[@]}))
