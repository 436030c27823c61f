#!/bin/sh
# SPDX-License-Identifier: MIT
# run.sh MINUTES [TARGET ...]: goes on looking with libFuzzer and sanitizers, all targets together for so many minutes,
# a process on each core.  What widens a corpus is kept in build/fuzz/corpus, what is found in build/fuzz/found.
set -eu
cd "$(dirname "$0")/../.."
minutes=$1
shift
case $minutes in ''|*[!0-9]*|0) echo "run.sh: MINUTES is a whole number from 1, got '$minutes'" >&2; exit 2 ;; esac
if [ $# -eq 0 ]; then set -- tests/fuzz/*_fuzz.c; fi
build=${BUILD:-build}/fuzz
cores=${JOBS:-$(getconf _NPROCESSORS_ONLN)}

programs=
targets=
for one in "$@"; do
  target=$(basename "${one%_fuzz.c}")
  targets="$targets $target"
  [ -f "tests/fuzz/${target}_fuzz.c" ] || { echo "run.sh: there is no tests/fuzz/${target}_fuzz.c" >&2; exit 2; }
  programs="$programs $build/tests/fuzz/${target}_libfuzzer"
done
# shellcheck disable=SC2086
make -s -j"$cores" BUILD="$build" CC="$(command -v clang)" CFLAGS="-O1 -g" \
  SAN="-fsanitize=fuzzer-no-link,address,undefined -fno-sanitize-recover=all" $programs

# As many turns for each target as fill the cores to the end; each starts from what those before it kept.
turns=1
while [ $(($# * turns % cores)) -ne 0 ]; do turns=$((turns + 1)); done
seconds=$((minutes * 60 * cores / ($# * turns)))
[ "$seconds" -gt 0 ] || seconds=1
log=$build/log
rm -rf "$log"
mkdir -p "$log" "$build/found"
echo "$# targets, $turns turns of $seconds s each, $cores side by side"
turn() { # TARGET TURN
  target=$1 out=$log/$1.$2
  mkdir -p "$build/corpus/$target"
  set -- -dict="tests/fuzz/$target.dict" "$build/corpus/$target" "tests/fuzz/corpus/$target"
  "$build/tests/fuzz/${target}_libfuzzer" -max_total_time="$seconds" -timeout=60 -rss_limit_mb=2048 \
    -print_final_stats=1 -artifact_prefix="$build/found/$target-" "$@" >"$out" 2>&1 || case $? in
      72) ;;                                         # stopped by who started it
      *) echo "exit $?, see $out" | tee -a "$out" ;;
    esac
}
lane() { # which: every so many turns are its own
  number=0
  for turn in $(seq "$turns"); do
    for name in $targets; do
      if [ $((number % cores)) -eq "$1" ]; then turn "$name" "$turn"; fi
      number=$((number + 1))
    done
  done
}
for core in $(seq 0 $((cores - 1))); do lane "$core" & done
trap : INT                                           # what was done until then is told
wait || :

found=0
printf '%-12s %12s %9s %9s %9s\n' target runs runs/s features findings
for target in $targets; do
  # shellcheck disable=SC2016
  awk -v target="$target" '
    /^stat::number_of_executed_units/ { runs += $2 }
    / ft: / { for (i = 1; i < NF; i++) if ($i == "ft:" && $(i + 1) > features) features = $(i + 1) }
    /^Done [0-9]+ runs in [0-9]+ second/ { seconds += $5; done_runs += $2 }
    /^exit [0-9]+, see / { findings++ }
    /Test unit written to / { sub(/.*written to /, ""); paths = paths "\n  again: " program " " $0 }
    END {
      printf "%-12s %12d %9d %9d %9d%s\n", target, runs, done_runs / (seconds ? seconds : 1), features, findings, paths
      exit findings > 0
    }' program="$build/tests/fuzz/${target}_libfuzzer" "$log/$target".* || found=1
done
exit $found
