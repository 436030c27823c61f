#!/bin/sh
# SPDX-License-Identifier: MIT
# Every test: builds with gcc, clang and sanitizers; runs all suites of gcc's and of the sanitizers'; scripts, messages,
# documents; what the library may call; a client of the installed headers; the fuzz corpus.  Ends with `N passed, N
# failed`.  MEASURE=1: and before it the seconds of processor time that each part took, the dearest first.
set -u
LC_ALL=C
export LC_ALL
cd "$(dirname "$0")/.." || exit 1
build=${BUILD:-build}
clang=$(command -v clang)                            # by its path: a folder of that name may stand before it
jobs=${JOBS:-$(getconf _NPROCESSORS_ONLN 2>/dev/null || echo 2)}
LANES=$jobs
export LANES
log=$build/log
mkdir -p "$log"
rm -f "$log"/*.exit "$log"/*.times                    # what did not run has not ended well
passed=0
failed=0
stages=4
stage=0
export stages

# One line that says what goes on: rewritten in place on a terminal.
progress() { # what
  stage=$((stage + 1))
  line="[$stage/$stages] $1"
  if [ -t 1 ]; then printf '\r\033[K%s   (%s passed, %s failed)' "$line" "$passed" "$failed"; else echo "$line"; fi
}
clear_line() { if [ -t 1 ]; then printf '\r\033[K'; fi; }

pass() { passed=$((passed + $1)); }
fail() { # N "what" [file that shows it]
  failed=$((failed + $1))
  clear_line
  if [ $# -gt 2 ]; then tail -n 60 "$3"; fi
  echo "FAILED: $2"
}

# build NAME FOLDER MAKE ARGUMENTS: to a log and a status
build() {
  of=$1 folder=$2
  shift 2
  begin "build-$of" "$@" BUILD="$folder"
}
# status_of NAME: how it ended; what never ran did not end well
status_of() { cat "$log/$1.exit" 2>/dev/null || echo 255; }
built() { # NAME: whether its build ended well
  if [ "$(status_of "build-$1")" -eq 0 ]; then
    pass 1
    return 0
  fi
  fail 1 "build with $1" "$log/build-$1"
  return 1
}

# Suites of whole jobs that take long: they stand first in a queue.
heavy="origin starved sweep_patch whatif reuse scale results variants paths flips document margins fields anew matrix"
heavy="$heavy properties workers flat sweep_store"
# What they ask is answered by Lua, whoever compiled the host: these run once, with the sanitizers, where most is
# noticed.  gcc's command is held to the goldens, the pages that take long, random jobs and the whole matrix.
once="anew document fields sweep_store matrix results"
# What is no suite of gcc's: these, and three that run whole besides.
left="whatif reuse properties $once"
# Pages that take as long as hundreds of others, most of it in Lua: of gcc's command; all others of the sanitizers'.
pages_long=$(echo tests/pages/long-*.case)
for one in templates compare suggestions; do pages_long="$pages_long tests/pages/$one.case"; done
pages_short=$(for one in tests/pages/*.case; do
  case " $pages_long " in *" $one "*) ;; *) echo "$one" ;; esac
done | paste -s -d ' ' -)
# What runs without sanitizers: figures, which their memory makes other ones, and patches of whole jobs, which are Lua.
figures="flat scale sweep_patch"

# programs FOLDER [LEFT OUT]: its test programs, the slowest first, without those whose source is gone
programs() {
  left_out=${2:-}
  for one in $heavy; do
    case " $left_out " in *" $one "*) continue ;; esac
    if [ -x "$1/tests/${one}_test" ]; then echo "$1/tests/${one}_test"; fi
  done
  for source in tests/*_test.c tests/outside/*_test.c; do
    name=$(basename "${source%_test.c}")
    case " $heavy " in *" $name "*) continue ;; esac
    if [ -x "$1/${source%.c}" ]; then echo "$1/${source%.c}"; fi
  done
}

# suites NAME FOLDER [LEFT OUT]: its test programs as lines of a queue
suites() { programs "$2" "${3:-}" | while read -r program; do echo "$1-$(basename "$program") \"$program\""; done; }
# judged NAME FOLDER each|whole [LEFT OUT]: counts the tests of what ran, or each program as one
judged() {
  programs "$2" "${4:-}" >"$log/programs"
  while read -r program; do
    out=$log/$1-$(basename "$program")
    status=$(status_of "$1-$(basename "$program")")
    good=$(sed -n 's/^\[  PASSED  \] \([0-9]*\) test.*/\1/p' "$out" | awk '{ n += $1 } END { print n + 0 }')
    bad=$(sed -n 's/^\[  FAILED  \] \([0-9]*\) test.*/\1/p' "$out" | awk '{ n += $1 } END { print n + 0 }')
    if [ "$status" -ne 0 ] || [ "$bad" -ne 0 ] || [ "$good" -eq 0 ]; then
      grep -v -e '^\[ RUN ' -e '^\[       OK' "$out" >"$log/why"
      [ "$bad" -gt 0 ] || bad=1
      if [ "$3" = each ]; then pass "$good"; else bad=1; fi
      fail "$bad" "$1 $(basename "$program") (exit $status)" "$log/why"
    elif [ "$3" = each ]; then pass "$good"
    else pass 1
    fi
  done <"$log/programs"
}

# begin NAME COMMAND ...: runs a command, its output, status and times to files
begin() {
  name=$1
  shift
  (
    "$@" >"$log/$name" 2>&1
    echo $? >"$log/$name.exit"
    times >"$log/$name.times"
  )
}
# queue: runs what stands on its lines, NAME COMMAND ..., as many at a time as there are cores, in their order: the
# longest first, so that no core waits for the last
queue() {
  # shellcheck disable=SC2016
  stage=$stage xargs -L 1 -P "$jobs" sh -c '
    [ ! -t 1 ] || printf "\r\033[K[%s/%s] %s" "$stage" "$stages" "$1"
    out=$0/$1
    shift
    "$@" >"$out" 2>&1
    echo $? >"$out.exit"
    times >"$out.times"' "$log"
}
# measured: the seconds of each part, by itself and by what it started
measured() {
  for one in "$log"/*.times; do
    tr 'ms' '  ' <"$one" | awk -v name="$(basename "${one%.times}")" '
      { sum += 60 * ($1 + $3) + $2 + $4 }
      END { printf "%8.2f  %s\n", sum, name }'
  done | sort -rn | awk '{ sum += $1; print } END { printf "%8.2f  in all\n", sum }'
}
# count passed|failed FILE: from the line `name: N passed, N failed`
count() { sed -n "s/^[a-z-]*: .*[^0-9]*\b\([0-9][0-9]*\) $1\b.*/\1/p" "$2" | tail -n 1 | grep . || echo 0; }
# counted NAME each|whole: what a script said that ends with `name: N passed, N failed`
counted() {
  status=$(status_of "$1")
  good=$(count passed "$log/$1")
  bad=$(count failed "$log/$1")
  if [ "$2" = each ]; then pass "$good"; elif [ "$status" -eq 0 ]; then pass 1; fi
  if [ "$status" -ne 0 ] || [ "$bad" -ne 0 ] || [ "$good" -eq 0 ]; then
    if [ "$bad" -eq 0 ] || [ "$2" = whole ]; then bad=1; fi
    fail "$bad" "$1" "$log/$1"
  fi
}
ended() { # NAME: what was begun must have ended well
  if [ "$(status_of "$1")" -eq 0 ]; then pass 1; else fail 1 "$1" "$log/$1"; fi
}

# The library computes: nothing in it prints, allocates, or knows Lua.  Only these are called from outside it.
library_calls() {
  nm "$build/libstringline.a" | awk '
    $1 == "U" { wanted[$2] = 1 }
    NF == 3 { defined[$3] = 1 }
    NF == 3 && $2 ~ /[A-Z]/ && $3 !~ /^(sl_|xerbla_$)/ { print "libstringline.a defines " $3; bad = 1 }
    END {
      n = split("mem[a-z]+ str[a-z]+ a?(sin|cos|tan)h? atan2 sincos exp log log10 pow sqrt cbrt hypot floor ceil " \
                "round trunc fabs fmin fmax fmod dpbtf2_ dpbtrs_ " \
                "__(mem|str)[a-z]+_chk __stack_chk_fail _GLOBAL_OFFSET_TABLE_", ok, " ")
      for (name in wanted) {
        if (name in defined) continue
        fine = 0
        for (i = 1; i <= n; i++) if (name ~ ("^" ok[i] "$")) fine = 1
        if (name ~ /^str(dup|ndup)$/ || !fine) { print "libstringline.a calls " name; bad = 1 }
      }
      exit bad
    }'
}

# Fuzz targets whose inputs take long: they run most of them as gcc builds them, and some, others, under the sanitizers.
dear="jobs messages"                                  # of which each stands in the queue below
targets=$(for source in tests/fuzz/*_fuzz.c; do basename "${source%_fuzz.c}"; done)
# fuzz NAME FOLDER: as lines of a queue, the seeds of each target and the inputs made from them, the same ones each
# time; a target is one test
fuzz() {
  for target in $targets; do
    count=20000
    case " $dear " in *" $target "*) count="1500 --seed 2" ;; esac
    echo "$1-$target \"$2/tests/fuzz/${target}_fuzz\" --count $count"
  done
}

# What else is built is built meanwhile, by whatever core has nothing else to do; of its debug information a report
# wants lines alone.
progress "gcc: build"
build gcc "$build" make -s -j"$jobs" all test-programs
plainly="-O2 -g1"
# A hundred programs are linked with the sanitizers, in half the time where this linker is there.
linker=$(if command -v ld.lld >/dev/null; then echo "-fuse-ld=lld -Wl,--threads=1"; fi)
{
  build clang "$build/with-clang" nice -n 15 make -s -j"$jobs" CC="$clang" CFLAGS="$plainly" all \
    "$build/with-clang/libstringline_sweep.a" "$build/with-clang/libstringline_confine.a"
  build sanitizers "$build/with-sanitizers" nice -n 15 make -s -j"$jobs" CC="$clang" CFLAGS="-O1 -g1" \
    LDFLAGS="$linker" SAN="-fsanitize=address,undefined -fno-sanitize-recover=all" all test-programs
} &
builds=$!

built gcc && {
  scripts="command-line expect errors golden new outside editions first-job folders by-hand draw draw-alike draw-set"
  long="nights properties pages-long matrix-fields whatif reuse matrix-commands"
  alone="docs csv-page rack-picture sheets identity output install make tree numbers register"
  alone="$alone words plain parallel mutate files hardening"
  progress "gcc: tests"
  # starved-whole: memory refused at every point; it, whatif and reuse run so, not among the suites
  {
    cat <<Q
matrix-fields "$build/tests/matrix_test" fields
properties "$build/tests/properties_test" 40
nights tests/sweep/nights.sh "$build/stringline"
fuzz-jobs "$build/tests/fuzz/jobs_fuzz" --count 20000
pages-long tests/pages.lua "$build/stringline" $pages_long
whatif "$build/tests/whatif_test" whole
fuzz-messages "$build/tests/fuzz/messages_fuzz" --count 20000
reuse "$build/tests/reuse_test" whole
matrix-commands "$build/tests/matrix_test" commands
starved-whole "$build/tests/starved_test" whole "check broken.sline"
Q
    for one in $scripts; do echo "$one tests/$(echo "$one" | tr - _).lua \"$build/stringline\""; done
    suites gcc "$build" "$left"
  } >"$log/lines-gcc"
  queue <"$log/lines-gcc" &
  tests=$!
  begin docs tests/docs.sh "$build/stringline"
  begin csv-page tests/csv_page.lua "$build/stringline"
  begin rack-picture tests/rack_picture.lua
  begin sheets tests/sheets.lua "$build/stringline"
  begin identity tests/identity.sh "$build/stringline"
  begin output tests/output.lua "$build/stringline"
  begin install tests/install.sh
  begin make tests/make.sh
  begin tree tests/tree.lua
  begin numbers tests/numbers.lua
  begin register tests/register.lua "$build/stringline"
  begin words tests/words.lua "$build/stringline"
  begin plain tests/plain.lua "$build/stringline"
  begin parallel tests/sweep/parallel.sh "$build/stringline"
  begin mutate tests/mutate/selftest.lua
  begin files tests/files.lua "$build/stringline"
  begin hardening tests/hardening.sh "$build" gcc
  begin library-calls library_calls
  begin globals tests/globals.sh "$build"
  wait "$tests"
  judged gcc "$build" each "$left"
  for one in $scripts $long $alone globals; do counted "$one" each; done
  for one in $dear; do counted "fuzz-$one" whole; done
  for one in starved-whole library-calls; do ended "$one"; done
}

progress "clang, sanitizers: build"
wait "$builds"
with_clang=$build/with-clang sanitized=$build/with-sanitizers
scripts="golden errors outside"
plain="golden outside"
if built clang; then clang_built=yes; else clang_built=; fi
if built sanitizers; then sanitizers_built=yes; else sanitizers_built=; fi
{
  if [ "$clang_built" ]; then echo "dropin tests/dropin.sh \"$with_clang\" CC=\"$clang\" \"CFLAGS=$plainly\""; fi
  if [ "$sanitizers_built" ]; then
    echo "pages tests/pages.lua \"$sanitized/stringline\" $pages_short"      # once, where most is noticed
    for one in $scripts; do echo "sanitizers-$one tests/$one.lua \"$sanitized/stringline\""; done
    fuzz sanitizers-fuzz "$sanitized"                                        # once, where most is noticed
    suites sanitizers "$sanitized" "$figures"
  fi
  if [ "$clang_built" ]; then
    # Every suite is compiled by clang with the sanitizers; without them its command says the same, byte for byte.
    for one in $plain; do echo "clang-$one tests/$one.lua \"$with_clang/stringline\""; done
    echo "clang-hardening tests/hardening.sh \"$with_clang\" \"$clang\""
  fi
} >"$log/lines"
progress "clang, sanitizers: tests"
queue <"$log/lines"
if [ "$clang_built" ]; then
  for one in $plain hardening; do counted "clang-$one" whole; done
  counted dropin each
fi
if [ "$sanitizers_built" ]; then
  judged sanitizers "$sanitized" whole "$figures"
  for one in $scripts; do counted "sanitizers-$one" whole; done
  counted pages each
  for target in $targets; do counted "sanitizers-fuzz-$target" whole; done
fi
clear_line
if [ "${MEASURE:-}" ]; then measured; fi
echo "$passed passed, $failed failed"
[ "$failed" -eq 0 ]
