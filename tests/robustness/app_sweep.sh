#!/usr/bin/env bash
# totebench sweep on a small tote: it tells every bag, the same for any number of threads and
# processes, after a stop and after a process that was killed; and refuses what is no sweep, with
# nothing written. rate and choose share their pieces in the same way.
# usage: app_sweep.sh TOTEBENCH FOLDER_OF_SCENES
set -uo pipefail
program="$1"
work="$(mktemp -d)"
trap 'rm -rf -- "$work"' EXIT
source "$(dirname -- "${BASH_SOURCE[0]}")/quick_tote.sh"
source "$(dirname -- "${BASH_SOURCE[0]}")/schema_check.sh"
export OMP_NUM_THREADS=1
failures=0
fail() {
  echo "$1" >&2
  failures=$((failures + 1))
}
quick_tote "$2" >"$work/plain.json"
cd -- "$work" || exit 1
with() { sed "s|\"contents\"|\"sweep\": { $1 }, \"contents\"|" plain.json; }
thickness='{ "key": "base.thickness", "levels": ["2 mm", "4 mm"] }'
with "\"factors\": [ $thickness, { \"key\": \"contents.mass\", \"levels\": [\"2 kg\", \"3 kg\"] } ]" >sweep.json
command=("$program" sweep sweep.json --coarse --quiet)
bags_in() { # FOLDER
  local n
  n="$(grep -c '/coarse .* \.$' "$1/sweep.bags" 2>/dev/null)"
  echo "${n:-0}"
}

"${command[@]}" --out one >said.out 2>said.err || fail "exit code $?: $(cat said.err)"
grep -q "4 of 4 bags came to rest; bottom sag from" said.out || fail "no sentence: $(head -1 said.out)"
grep -q "no rating" said.out || fail "no caution"
for file in report.html sweep.svg sweep.csv sweep.json; do
  [[ -s one/$file ]] || fail "$file is missing"
done
(($(wc -l <one/sweep.csv) == 5)) || fail "sweep.csv has not a row a bag"
keeps_schema sweep one/sweep.json || fail "sweep.json does not keep to its schema"
if [[ -n "$schema_python" ]]; then
  rejects_faults sweep one/sweep.json || fail "sweep.schema.json lets faults pass"
fi

# A wider sweep hangs only what is new, and a re-run nothing, to the same digits.
cp -r one wider
with "\"factors\": [ $thickness, { \"key\": \"contents.mass\", \"levels\": [\"2 kg\", \"3 kg\", \"4 kg\"] } ]" >wider.json
"$program" sweep wider.json --coarse --out wider --quiet >/dev/null || fail "a wider sweep fails"
(($(bags_in wider) == 6)) || fail "a wider sweep hung $(bags_in wider) bags in all, not 6"
(($(wc -l <wider/sweep.csv) == 7)) || fail "a wider sweep tells not all"

same() { # FOLDER WHAT
  cmp -s one/sweep.csv "$1/sweep.csv" || fail "$2: another sweep.csv"
  cmp -s one/sweep.json "$1/sweep.json" || fail "$2: another sweep.json"
  (($(bags_in "$1") == 4)) || fail "$2: $(bags_in "$1") bags were hung, not 4"
}

# Stopped and taken up again, with two threads.
until_hung() { # FOLDER BAGS PID
  for _ in $(seq 500); do
    (($(bags_in "$1") >= $2)) && return
    kill -0 "$3" 2>/dev/null || return
    sleep 0.02
  done
}
"${command[@]}" --out stopped >said.out 2>&1 &
pid=$!
until_hung stopped 1 "$pid"
kill -INT "$pid" 2>/dev/null
code=0
wait "$pid" || code=$?
((code == 3)) || fail "a stopped run ends with $code"
grep -q "Stopped on request with [1-3] of 4 bags hung, which are kept" said.out || fail "a stop says: $(cat said.out)"
[[ ! -e stopped/sweep.csv ]] || fail "a stopped run wrote results"
OMP_NUM_THREADS=2 "${command[@]}" --out stopped >/dev/null || fail "a stopped run does not go on"
same stopped "two threads and a stop"

# Several processes on one folder: the work is done once and told once.
together() { # FOLDER COUNT
  local pids=() i
  for i in $(seq "$2"); do
    "${command[@]}" --together --out "$1" >"told.$i" 2>&1 &
    pids+=($!)
  done
  for i in "${pids[@]}"; do
    wait "$i" || fail "$1: a process ends with $?: $(cat told.*)"
  done
  (($(cat told.* | grep -c "bags came to rest") == 1)) || fail "$1: told $(cat told.* | grep -c 'bags came to rest') times"
  rm -f told.*
}
together two 2
same two "two processes"
mkdir four && stale="four/.sweep.csv.$(uname -n).999999.part" elsewhere="four/.sweep.csv.another-machine.999999.part"
echo "not whole" | tee "$stale" >"$elsewhere"
printf 'totebench 0 swept bags 0\nstale 1 .\n' >four/sweep.bags # of another version
together four 4
same four "four processes"
[[ ! -e $stale ]] || fail "what a run that is gone left half written stays"
[[ -e $elsewhere ]] || fail "what a run of another machine may be writing was removed"
"${command[@]}" --together --out four >said.out || fail "a last call fails"
grep -q "4 of 4 bags came to rest" said.out || fail "a last call does not tell"
same four "a last call"

# One is killed while it hangs a bag: the other does that bag again, and so does a later run.
for others in with without; do
  "${command[@]}" --together --out "killed-$others" >/dev/null 2>&1 &
  victim=$!
  until_hung "killed-$others" 1 "$victim"
  if [[ $others == with ]]; then
    "${command[@]}" --together --out killed-with >said.out 2>&1 &
    other=$!
  fi
  kill -KILL "$victim"
  wait "$victim" 2>/dev/null
  (($(bags_in "killed-$others") < 4)) || fail "it was killed too late to tell anything"
  if [[ $others == with ]]; then
    wait "$other" || fail "the other process ends with $?: $(cat said.out)"
  else
    printf 'half a li' >>killed-without/sweep.bags # as one that is killed while it writes leaves it
    "${command[@]}" --out killed-without >/dev/null || fail "a later run fails"
  fi
  same "killed-$others" "one process killed, $others others"
done

# mpirun starts processes and turns sharing on; it passes no messages.
if command -v mpirun >/dev/null && mpirun --allow-run-as-root --oversubscribe -n 2 true 2>/dev/null; then
  mpirun --allow-run-as-root --oversubscribe -n 4 "$program" sweep sweep.json --coarse --quiet --out mpi >said.out 2>said.err ||
    fail "mpirun: exit code $?: $(cat said.err)"
  (($(grep -c "bags came to rest" said.out) == 1)) || fail "mpirun: told $(grep -c 'bags came to rest' said.out) times"
  same mpi "four processes of mpirun"
else
  echo "mpirun is not here, or cannot start: not tried"
fi

# The samples of a rating, by one process and by two.
rating=("$program" rate plain.json --samples 2 --no-changes --quiet)
"${rating[@]}" --out rated >/dev/null || fail "rate: exit code $?"
for i in 1 2; do "${rating[@]}" --out rated2 --together >"told.$i" 2>&1 & done
wait
untimed() { sed '/_s":\|"seconds"/d' "$1/rating.json"; }
cmp -s <(untimed rated) <(untimed rated2) || fail "two processes rate differently"
(($(cat told.* | grep -c "No lifting device") == 1)) || fail "a rating is told $(cat told.* | grep -c 'No lifting device') times"
(($(grep -c '/2/1/[01] ' rated2/rating.samples) == 2)) || fail "samples were solved twice"
[[ ! -e rated/rating.samples ]] || fail "the samples of a finished run were kept"

refuse() { # WHAT PATTERN FILE
  local code=0
  "$program" sweep "$3" --out refused >said.out 2>said.err || code=$?
  ((code == 2)) || fail "$1: exit code $code, not 2"
  grep -qE -- "$2" said.err || fail "$1: nothing of \"$2\": $(cat said.err)"
  [[ -z "$(ls refused 2>/dev/null)" ]] || fail "$1: something was written"
}
refuse "nothing to sweep over" "nothing of what to sweep over" plain.json
refuse "a sheet" "only totes can be swept" "$2/app_sheet.json"
with '"factors": [ { "key": "base.thicknes", "levels": ["1 mm"] } ]' >slip.json
refuse "a slip" 'slip.json:[0-9]+:[0-9]+: error: unknown key "thicknes" in "base"' slip.json
grep -q 'did you mean "base.thickness"' said.err || fail "no cure of a slip"
# Where no two values go together there are rows that say why, and exit code 3.
with '"factors": [ { "key": "straps.spacing", "levels": ["26 cm", "25.5 cm"] }, { "key": "bag.width", "levels": ["28 cm"] } ]' |
  sed 's/"length": "32 cm"/"length": "40 cm"/; s/"size": "120 mm"/"size": "100 mm"/' >none.json
code=0
"$program" sweep none.json --out none --quiet >said.out 2>said.err || code=$?
((code == 3)) || fail "no bag that can be made: exit code $code, not 3: $(cat said.err)"
grep -q "0 of 2 bags came to rest, 2 cannot be made" said.out || fail "no bag that can be made: $(head -1 said.out)"
(($(grep -c ',impossible,"the strap ends lie ' none/sweep.csv) == 2)) || fail "a bag that cannot be made does not say why"
keeps_schema sweep none/sweep.json || fail "sweep.json does not keep to its schema"
((failures == 0)) || exit 1
echo "sweep sweeps."
