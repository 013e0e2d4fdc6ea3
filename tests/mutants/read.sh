# Sourced: reads the faults of tests/mutants/*.list into arrays, one entry a fault, those of one
# file together. Run from the top folder. A fault is five lines:
#   fault  NAME
#   file   PATH
#   - the exact text that is replaced, within one line of the file
#   + what replaces it (empty: nothing)
#   tests  TARGET REGEX     test program, and which of its tests must fail, as for ctest -R
# Empty lines and lines that begin with # say nothing.
fault_name=() fault_file=() fault_old=() fault_new=() fault_target=() fault_tests=()

read_faults() { # list file...
  local list line word rest number name='' file='' old='' new=''
  local -A seen=() of_file=()
  local names=() files=() olds=() news=() targets=() regexes=()
  for list in "$@"; do
    number=0
    while IFS= read -r line; do
      number=$((number + 1))
      [[ -z "$line" || "$line" == '#'* ]] && continue
      read -r word rest <<<"$line"
      case "$word" in
        fault) name="$rest" file='' old='' new='' ;;
        file) file="$rest" ;;
        -) old="${line#- }" ;;
        +) new="${line#+}" new="${new# }" ;;
        tests)
          if [[ -z "$name" || -z "$file" || -z "$old" || "$rest" != *' '* || "${seen[$name]:-}" ]]; then
            echo "$list:$number: fault \"$name\" is not whole, or stands twice" >&2
            return 1
          fi
          seen[$name]=1
          of_file[$file]+="${#names[@]} "
          names+=("$name") files+=("$file") olds+=("$old") news+=("$new")
          targets+=("${rest%% *}") regexes+=("${rest#* }")
          ;;
        *)
          echo "$list:$number: \"$word\" begins no line of a fault" >&2
          return 1
          ;;
      esac
    done <"$list"
  done
  local i
  for file in "${!of_file[@]}"; do
    for i in ${of_file[$file]}; do
      fault_name+=("${names[i]}") fault_file+=("${files[i]}") fault_old+=("${olds[i]}")
      fault_new+=("${news[i]}") fault_target+=("${targets[i]}") fault_tests+=("${regexes[i]}")
    done
  done
}

# How often a text occurs in a file.
times_in() { # text, file
  { grep -oF -- "$1" "$2" || true; } | wc -l
}
