#!/usr/bin/env bash
# Every command that solves or cuts, on every example, held against the JSON Schema of its result.
# What takes longer than SECONDS is stopped as by Ctrl-C; what it says then keeps to its schema too.
# It takes long, so it is run by hand:
#
#   every_output.sh [-t SECONDS] [-j JOBS] [-o COMMANDS] [-w FOLDER] TOTEBENCH [EXAMPLE...]
#   every_output.sh -c FOLDER
#
#   -t  longest run of a command (default 60)     -w  only run, and leave all that is said in FOLDER
#   -j  runs side by side (default 1)             -c  only hold a FOLDER made so against the schemas
#   -o  only these commands: "unzip carry"
#
# Exit code 1 where something does not keep to its schema, or ends in no way that it may.
set -uo pipefail
here="$(cd -- "$(dirname -- "${BASH_SOURCE[0]}")" && pwd)"
examples="$here/../../scenes/examples"
commands=(hang stand rate carry wear unzip strap-ends compare choose sweep cutlist swatch)
declare -A schema_of=([hang]=findings [rate]=rating [compare]=comparison [strap-ends]=strap_ends)
limit=60 jobs=1 folder="" run=true judge=true
while getopts "t:j:o:w:c:" option; do
  case "$option" in
    t) limit="$OPTARG" ;;
    j) jobs="$OPTARG" ;;
    o) read -ra commands <<<"$OPTARG" ;;
    w) folder="$OPTARG" judge=false ;;
    c) folder="$OPTARG" run=false ;;
    *) exit 2 ;;
  esac
done
shift $((OPTIND - 1))

# Which commands take an example.
takes() { # COMMAND SCENE
  local kind
  kind="$(grep -m1 -o '"kind": *"[a-z]*"' "$2")"
  case "$1" in
    swatch) [[ "$kind" == *'"swatch"' ]] ;;
    hang) [[ "$kind" != *'"swatch"' ]] ;;
    choose | sweep) grep -q "^  \"$1\"" "$2" ;;
    *) [[ "$kind" == *'"tote"' ]] ;;
  esac
}

# Leaves NAME.COMMAND.json, .said, and .code with the exit code and whether it was asked to stop.
run_one() { # COMMAND SCENE
  local scene="$2" to more=() code=0 start=$SECONDS asked=false
  to="$folder/$(basename -- "$scene" .json).$1"
  [[ "$1" == rate ]] && more=(--samples 2)
  if [[ "$1" == compare ]] && ! grep -q '^  "variants"' "$scene"; then
    more=("$examples/lesson-1-fusible.json")
    [[ "$(basename -- "$scene")" == lesson-1-* ]] && more=("$examples/lesson-2-stabilizer.json")
  fi
  # In the foreground the signal reaches the program once; twice would end it without an answer.
  timeout --foreground --preserve-status -s INT -k 300 "$limit" \
    "$program" "$1" "$scene" "${more[@]}" --json --out "$to.out" >"$to.json" 2>"$to.said" || code=$?
  rm -rf -- "$to.out"
  ((SECONDS - start >= limit)) && asked=true
  echo "$code $asked" >"$to.code"
}

# The word for one result; what is wrong with it goes to stderr.
judged() { # COMMAND NAME
  local to="$folder/$2.$1" code asked faults
  [[ -s "$to.code" ]] || { echo "-" && return; }
  read -r code asked <"$to.code"
  if [[ "$code" != 0 && "$code" != 3 ]]; then
    echo "$2, $1: exit code $code: $(tail -1 "$to.said")" >&2
    echo FAILED
  elif [[ "$code" == 3 && ! -s "$to.json" ]]; then
    $asked && echo "stopped" || echo "no answer"
  elif ! faults="$(keeps_schema "${schema_of[$1]:-$1}" "$to.json" 2>&1)"; then
    echo "$2, $1: $faults" >&2
    echo FAILED
  elif [[ "$code" == 0 ]]; then
    echo "kept"
  else
    $asked && echo "stopped, kept" || echo "no answer, kept"
  fi
}

if $run; then
  [[ $# -ge 1 ]] || { sed -n '2,14p' "${BASH_SOURCE[0]}" && exit 2; }
  program="$(realpath -- "$1")"
  shift
  scenes=("$@")
  ((${#scenes[@]})) || scenes=("$examples"/*.json "$examples"/swatch/*.json)
  for file in "$program" "${scenes[@]}"; do
    [[ -f "$file" ]] || { echo "there is no $file" >&2 && exit 2; }
  done
  if [[ -z "$folder" ]]; then
    folder="$(mktemp -d)"
    trap 'rm -rf -- "$folder"' EXIT
  fi
  mkdir -p -- "$folder"
  export program folder limit examples OMP_NUM_THREADS="${OMP_NUM_THREADS:-1}"
  export -f run_one
  for scene in "${scenes[@]}"; do
    for command in "${commands[@]}"; do
      takes "$command" "$scene" && printf '%s\0%s\0' "$command" "$scene"
    done
  done | xargs -0 -r -n 2 -P "$jobs" bash -c 'run_one "$@"' run_one
fi
$judge || exit 0

source "$here/schema_check.sh"
[[ -n "$schema_python" ]] || {
  echo "skipped: python3-jsonschema is missing"
  exit 77
}
failures=0
printf '%-20s' example
printf ' %-15s' "${commands[@]}"
printf '\n'
for name in $(basename -a -- "$folder"/*.code | sed 's/\.[a-z-]*\.code$//' | sort -u); do
  printf '%-20s' "$name"
  for command in "${commands[@]}"; do
    word="$(judged "$command" "$name")"
    [[ "$word" == FAILED ]] && failures=$((failures + 1))
    printf ' %-15s' "$word"
  done
  printf '\n'
done
echo "-: does not take it; stopped: said no more than that; no answer: ended without one of itself"
((failures == 0))
