#!/usr/bin/env bash
# A sweep as a job array of Slurm, on one machine: eight tasks share the bags of one folder, one of
# them is killed, and the digits are those of one process. No part of the everyday tests: it sets up
# a Slurm of its own, as root, and takes it down again.
#   apt-get install slurm-wlm munge; bash slurm_array.sh TOTEBENCH FOLDER_OF_SCENES
set -euo pipefail
program="$(realpath -- "$1")" scene="$(realpath -- "$2")/page_tote.json"
work="$(mktemp -d)"
cd -- "$work"
chmod 755 "$work"
export SLURM_CONF="$work/slurm.conf" OMP_NUM_THREADS=1
cat >slurm.conf <<TEXT
ClusterName=bench
SlurmctldHost=$(hostname -s)
AuthType=auth/munge
SlurmUser=root
ProctrackType=proctrack/linuxproc
TaskPlugin=task/none
SelectType=select/cons_tres
SelectTypeParameters=CR_Core
StateSaveLocation=$work/state
SlurmdSpoolDir=$work/spool
SlurmctldPidFile=$work/slurmctld.pid
SlurmdPidFile=$work/slurmd.pid
SlurmctldLogFile=$work/slurmctld.log
SlurmdLogFile=$work/slurmd.log
ReturnToService=2
NodeName=$(hostname -s) CPUs=$(nproc) State=UNKNOWN
PartitionName=all Nodes=ALL Default=YES State=UP
TEXT
[[ -e /etc/munge/munge.key ]] || mungekey
mkdir -p /run/munge && chown munge: /run/munge /etc/munge/munge.key
started=()
pgrep -x munged >/dev/null || { runuser -u munge -- munged && started+=("$(pgrep -x munged)"); }
slurmctld && slurmd
trap 'kill "$(<slurmctld.pid)" "$(<slurmd.pid)" "${started[@]}" 2>/dev/null; rm -rf -- "$work"' EXIT
until sinfo -h -o %t 2>/dev/null | grep -q idle; do sleep 0.5; done

levels='"levels": ["2 mm", "2.5 mm", "3 mm", "3.5 mm", "4 mm"]'
sed 's|"contents"|"sweep": { "factors": [ { "key": "base.thickness", '"$levels"' }, { "key": "contents.mass", "levels": ["2 kg", "3 kg"] } ] }, "contents"|' "$scene" >sweep.json
"$program" sweep sweep.json --coarse --quiet --out one >/dev/null
job="$(sbatch --parsable --array=0-7 --output=said.%a --wrap "$program sweep sweep.json --coarse --quiet --out shared")"
hung() { cat shared/sweep.bags 2>/dev/null | grep -c '/coarse .* \.$' || true; }
until (($(hung) >= 2)); do sleep 0.05; done
victim="$(squeue -h -r -j "$job" -t running -o %i | head -n 1)"
scancel --signal=KILL --full "$victim"
until [[ "$(scontrol -o show job "$victim")" =~ JobState=(FAILED|CANCELLED|NODE_FAIL) ]]; do sleep 0.2; done
while squeue -h -j "$job" | grep -q .; do sleep 0.5; done
cmp one/sweep.csv shared/sweep.csv && cmp one/sweep.json shared/sweep.json
(($(cat said.* | grep -c "bags came to rest") == 1))
echo "Eight tasks, $victim ${BASH_REMATCH[1]}: $(hung) bags hung, the digits of one process, told once."
