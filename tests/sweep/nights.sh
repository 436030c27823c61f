#!/bin/sh
# SPDX-License-Identifier: MIT
# Nights that go wrong, and a sweep that has the same table in the morning: power cuts, signals, shards in any order,
# more and fewer workers, variants that never end, eat all memory, or take their worker with them; and the patch of the
# best, applied.  tests/sweep/nights.sh BINARY [SEED], from the top folder of the project.
# shellcheck disable=SC2016,SC2086,SC2317
if [ $# -lt 1 ] || [ ! -x "$1" ] || [ ! -d examples ]; then
  echo 'usage: tests/sweep/nights.sh BINARY [SEED], from the top folder of the project' >&2
  exit 2
fi
binary=$(cd "$(dirname "$1")" && pwd)/$(basename "$1")
seed=${2:-20261128}
top=$PWD
. tests/try.sh
cp -R examples "$work/examples"
cd "$work" || exit 3

# random FROM TO: a whole number, the same ones for a seed
random() {
  seed=$(((seed * 1103515245 + 12345) % 2147483648))
  number=$(($1 + seed / 65536 % ($2 - $1 + 1)))
}
# begin WORDS: a sweep in a session of its own, whose number is $night; it hears signals that who starts it does not
begin() {
  setsid env --default-signal=HUP,INT,TERM "$binary" sweep "$@" >out 2>err </dev/null &
  night=$!
}
after() { sleep "$(printf '%d.%03d' $(($1 / 1000)) $(($1 % 1000)))"; }
ended() { # sets status: how the night ended
  wait "$night" 2>/dev/null
  status=$?
}
table() { "$binary" sweep "$@" --format csv; } # all variants, in the order of their numbers

egg="examples/egg-farm/choose.sline --set job.stage=quote"
some="$egg --vary rack.east.tilt=25deg,30deg --vary rack.east.lower_edge=28in --vary rack.east.post_lines.back=70%"
few="$some --vary footing.deep.hole_depth=54in,60in --vary footing.deep.hole_diameter=16in,20in"
racks="examples/wool-store/job.sline --vary rack_type.store.tilt=20deg --vary rack_type.store.modules=M400
  --vary rack_type.store.spacing=1450mm --vary footing.pier.hole_depth=1650mm"

# ---- power cuts ----------------------------------------------------------------------------------------------------

kills=0
# killed NAME WORDS: cut off again and again until it is through; its table is the one of a sweep that was left alone
killed() {
  name=$1 cuts=$2
  shift 2
  table "$@" --store "$name-whole.sweep" >"$name-whole.csv" 2>err || { cat err; return 1; }
  left=$cuts passes=0
  while [ "$left" -gt 0 ]; do
    rm -f "$name".sweep*
    while [ "$left" -gt 0 ]; do
      random 20 300
      begin "$@" --store "$name.sweep"
      after "$number"
      kill -9 -"$night" 2>/dev/null
      ended
      if [ "$status" -ne 137 ]; then break; fi
      left=$((left - 1)) kills=$((kills + 1))
    done
    table "$@" --store "$name.sweep" >"$name.csv" 2>err || { cat err; return 1; }
    cmp "$name-whole.csv" "$name.csv" || return 1
    passes=$((passes + 1))
  done
  echo "$name: $cuts cuts, $passes times to the end"
}
# What was done before a cut is done: a store loses no row from cut to cut, and comes on; a slow machine needs longer.
grows() {
  rows=0 longer=400
  for _ in 1 2 3 4 5 6; do
    begin $egg -j1 --store grows.sweep
    after "$longer"
    kill -9 -"$night" 2>/dev/null
    ended
    now=0
    if [ -e grows.sweep ]; then
      "$binary" merge --store grown.sweep grows.sweep --format json >grown 2>err || { cat err; return 1; }
      now=$(sed -n 's/^  "variants": \([0-9]*\),$/\1/p' grown)
      rm grown.sweep
    fi
    [ "$now" -ge "$rows" ] || { echo "$now rows after $rows"; return 1; }
    if [ "$now" -eq "$rows" ]; then longer=$((longer * 2)); fi
    rows=$now
  done
  [ "$rows" -gt 0 ] || { echo "no rows"; return 1; }
}
all_cut() { [ "$kills" -eq 50 ] || { echo "$kills cuts"; return 1; }; }

try "cut off while the egg farm is swept" killed some 25 $some
try "cut off while few variants are swept" killed few 15 $few
try "cut off while two racks are swept" killed racks 10 $racks -j1
try "fifty cuts" all_cut
try "what was done stays done" grows

# ---- signals -------------------------------------------------------------------------------------------------------

signalled() { # SIGNAL
  rm -f stopped.sweep
  begin $some -j2 --store stopped.sweep
  after 250
  kill -"$1" "$night"
  ended
  [ "$status" -eq 75 ] || { echo "exit $status"; cat err; return 1; }
  [ ! -e stopped.sweep-wal ] || { echo "a log is left"; return 1; }
  table $some --store stopped.sweep >stopped.csv 2>err || { cat err; return 1; }
  cmp some-whole.csv stopped.csv
}
for signal in TERM INT HUP; do try "stopped by SIG$signal, and resumed" signalled "$signal"; done

# ---- shards, workers -----------------------------------------------------------------------------------------------

# Of a shard of which no variant holds nothing is decided: it is done, and ends with 0.
shards() {
  for i in 0 1 2; do
    "$binary" sweep $few --shard "$i/3" --store "shard$i.sweep" >out 2>err || { cat err; return 1; }
  done
  for order in "0 1 2" "2 0 1"; do
    rm -f all.sweep
    for i in $order; do "$binary" merge --store all.sweep "shard$i.sweep" >out 2>err || { cat err; return 1; }; done
    "$binary" merge --store all.sweep shard1.sweep >out || return 1            # again, which changes nothing
    table $few --store all.sweep >all.csv 2>err || { cat err; return 1; }
    cmp few-whole.csv all.csv || return 1
  done
}
workers() { # name, words
  name=$1
  shift
  for j in 1 2 5; do
    rm -f jobs.sweep
    table "$@" -j$j --store jobs.sweep >jobs.csv 2>err || { cat err; return 1; }
    cmp "$name-whole.csv" jobs.csv || { echo "-j$j"; return 1; }
  done
}
try "shards joined in any order, and twice" shards
try "one worker, two and five: the egg farm" workers few $few
try "one worker, two and five: two racks" workers racks $racks

# ---- variants that do not end --------------------------------------------------------------------------------------

cat >hostile.sline <<'S'
job { name = "t", client = "c", stage = "quote", on = "2026-11-02" }
site { snow = 10psf }
local function grow() local t = {} while true do t[#t + 1] = ("x"):rep(1000000 + #t) end end
rule { id = "J1", severity = "stop", says = "s", cite = "c", caution = "d", check = function(_, job)
  local snow = job.site.snow
  if snow == 20psf then while true do end end
  if snow == 30psf then grow() end
  if snow == 40psf then error "forty is wrong" end
  return at_most(snow, 55psf)
end }
vary { "site.snow", 20psf, 30psf, 40psf, 50psf, 60psf }
keep { "site.snow" }
S
# status of each variant, in order
statuses() { sed '1d' "$1" | cut -d, -f2 | tr '\r\n' '  ' | tr -s ' ' | sed 's/ $//'; }
# has NUMBER WHY FILE: the row of that variant says so
has() { grep -q "^$1,.*,[^,]*$2[^,]*,$(printf '\r')\$" "$3" || { echo "$1 does not say: $2"; cat "$3"; return 1; }; }
hostile() {
  table hostile.sline -j2 --steps 50000000 --memory 64 --store hostile.sweep >hostile.csv 2>err ||
    { cat err; return 1; }
  [ "$(statuses hostile.csv)" = "holds steps memory error holds broken" ] || { cat hostile.csv; return 1; }
  has 1 "50 million steps" hostile.csv && has 2 "64 MiB" hostile.csv &&
    has 3 "hostile.sline:8:[0-9]*: forty is wrong" hostile.csv
}
# The worker at hand dies twice in the variant that never ends; nobody else is where it is.
worker_of() { cat "/proc/$1/task/$1/children" 2>/dev/null; }
crashed() {
  begin hostile.sline -j1 --steps 4000000000000 --memory 64 --store crashed.sweep
  died=0 last=
  for _ in $(seq 1 200); do
    worker=$(worker_of "$night" | tr -d ' ')
    if [ -n "$worker" ] && [ "$worker" != "$last" ]; then
      after 300
      if [ "$(worker_of "$night" | tr -d ' ')" = "$worker" ] && kill -9 "$worker"; then
        died=$((died + 1)) last=$worker
      fi
      [ "$died" -lt 2 ] || break
    fi
    after 20
  done
  ended
  [ "$status" -eq 0 ] || { echo "exit $status after $died deaths"; cat out err; return 1; }
  table hostile.sline -j1 --steps 4000000000000 --memory 64 --store crashed.sweep >crashed.csv 2>err ||
    { cat err; return 1; }
  [ "$(statuses crashed.csv)" = "holds crash memory error holds broken" ] || { cat crashed.csv; return 1; }
  has 1 "signal 9" crashed.csv
}
again() { # what was cut short is judged again when it is asked for; nothing else is
  table hostile.sline --retry --steps 50000000 --memory 64 --store crashed.sweep >again.csv 2>err ||
    { cat err; return 1; }
  cmp hostile.csv again.csv
}
try "loops, eats memory, raises: each a row, the rest complete" hostile
try "takes its worker with it: a row, the rest complete" crashed
try "cut short, and judged again with --retry" again

# ---- one variant ---------------------------------------------------------------------------------------------------

# The first lines, with the verdict, of --only are those of `run` with what the variant says.
only() {
  farm="examples/egg-farm/job.sline --set job.stage=quote"
  "$binary" sweep $farm --vary "alternate=six in series" --vary rack.east.tilt=30deg --only 3 >only.txt 2>err
  "$binary" run $farm --alternate "six in series" --set rack.east.tilt=30deg >run.txt 2>err
  "$binary" run $farm --set rack.east.tilt=30deg >tilted.txt 2>err
  for f in only run tilted; do sed '/^ *$/,$d' $f.txt >$f.head; done
  cmp only.head run.head || { cat only.head run.head; return 1; }
  if cmp -s run.head tilted.head; then echo "the alternate moves nothing"; return 1; fi
}
# Of a hundred thousand samples one is judged: their lists and their store leave room for the job.
many() {
  "$binary" sweep examples/egg-farm/job.sline --vary "rack.east.tilt=20deg to 40deg" --sample 100000 --memory 32 \
    --vary "rack.east.lower_edge=20in to 28in" --shard 0/100001 --store many.sweep >out 2>err || { cat err; return 1; }
  grep -q "1 of shard 0/100001" out || { cat out; return 1; }
}
try "one variant is as run has it" only
try "one of a hundred thousand samples, in little memory" many

# ---- the patch -----------------------------------------------------------------------------------------------------

answer() { # FOLDER WORDS: the page beside a script is what the sweep says
  folder=$1 script=$1/$2
  shift 2
  "$binary" sweep "$script" "$@" --store "$work/$(basename "$folder").sweep" >answer.txt 2>err || { cat err; return 1; }
  diff "$folder/answer.txt" answer.txt || { echo 'run `make docs`'; return 1; }
}
# patched FOLDER WORDS: the best is the same as its patch has it, and as its number has it
patched() {
  folder=$1
  shift
  rm -rf plain && cp -R "$folder" plain && cd plain || return 1
  "$binary" sweep "$@" --store "$work/$(basename "$folder").sweep" --format json >../best.json 2>../err ||
    { cat ../err; return 1; }
  lua5.4 "$top/tests/sweep/best.lua" patch ../best.json >../best.patch || return 1
  number=$(lua5.4 "$top/tests/sweep/best.lua" number ../best.json) || return 1
  [ "$number" -gt 0 ] || { echo "the best is as declared"; return 1; }
  # The best breaks no stop rule; a caution that it breaks ends both with 1.
  "$binary" sweep "$@" --only "$number" --format json >../only.json 2>../err || [ $? -eq 1 ] ||
    { cat ../err; return 1; }
  patch -s -p0 <../best.patch || return 1
  "$binary" run "$@" --format json >../run.json 2>../err || [ $? -eq 1 ] || { cat ../err; return 1; }
  cd .. && lua5.4 "$top/tests/sweep/best.lua" same only.json run.json
}
try "the egg farm's answer" answer examples/egg-farm choose.sline --set job.stage=quote
try "two racks' answer" answer examples/wool-store job.sline
try "the egg farm's best, patched" patched examples/egg-farm choose.sline --set job.stage=quote
try "two racks' best, patched" patched examples/wool-store job.sline

cd "$top" || exit 3
tried nights
