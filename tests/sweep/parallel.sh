#!/bin/sh
# SPDX-License-Identifier: MIT
# The recipe of docs/sweeps.md for more than one machine, with two workers on this one: shards started by GNU parallel,
# joined, the answer that of the whole.  tests/sweep/parallel.sh BINARY, from the top folder of the project.
# shellcheck disable=SC2086,SC2317
if [ $# -ne 1 ] || [ ! -x "$1" ] || [ ! -d examples ]; then
  echo 'usage: tests/sweep/parallel.sh BINARY, from the top folder of the project' >&2
  exit 2
fi
binary=$(cd "$(dirname "$1")" && pwd)/$(basename "$1")
top=$PWD
. tests/try.sh
cp -R examples/egg-farm "$work/job" && mkdir "$work/bin" "$work/home" && ln -s "$binary" "$work/bin/stringline"
PATH=$work/bin:$PATH HOME=$work/home
export PATH HOME
# The lines of the page, with the job's own name and less to do.
few="--vary rack.east.tilt=30deg --vary rack.east.lower_edge=28in --vary footing.deep.hole_depth=60in"
sed -n '/^    parallel /,/^    stringline sweep job.sline --store/p' docs/sweeps.md |
  sed "s/^ *//; s/sweep job.sline/sweep choose.sline --set job.stage=quote $few/" >"$work/recipe"
cd "$work/job" || exit 3

recipe() {
  [ "$(wc -l <"$work/recipe")" -eq 3 ] || { echo "the page has another recipe"; return 1; }
  sh "$work/recipe" >said 2>err || { cat err; return 1; }
  [ "$(tail -n +2 shards.log | cut -f 7 | tr '\n' ' ')" = "0 0 " ] || { cat shards.log; return 1; }
  [ -e s0.sweep ] && [ -e s1.sweep ]
}
same() { # the answer of the shards is that of the whole, and so is each variant
  stringline sweep choose.sline --set job.stage=quote $few --store whole.sweep >whole 2>err || { cat err; return 1; }
  stringline sweep choose.sline --set job.stage=quote $few --store all.sweep >joined 2>err || { cat err; return 1; }
  cmp whole joined || return 1
  for one in whole all; do
    stringline sweep choose.sline --set job.stage=quote $few --store "$one.sweep" --format csv >"$one.csv" || return 1
  done
  cmp whole.csv all.csv
}
try "two shards by GNU parallel, joined" recipe
try "the answer of the shards is that of the whole" same

cd "$top" || exit 3
tried parallel
