#!/bin/sh
# SPDX-License-Identifier: MIT
# Every test: builds with gcc, clang and sanitizers; runs all suites of each; scripts, messages, documents; what the
# library may call; a client of the installed headers; the fuzz corpus.  Ends with `N passed, N failed`.
set -u
LC_ALL=C
export LC_ALL
cd "$(dirname "$0")/.." || exit 1
build=${BUILD:-build}
log=$build/log
mkdir -p "$log"
passed=0
failed=0

# pass N, fail N "what"
pass() { passed=$((passed + $1)); }
fail() {
  failed=$((failed + $1))
  echo "FAILED: $2"
}

# count "text" file: the numbers in front of a text, summed
count() {
  awk -v what="$1" '{ for (i = 2; i <= NF; i++) if ($i ~ "^" what ",?$") n += $(i - 1) } END { print n + 0 }' "$2"
}

compile() { # name, folder, make arguments
  name=$1 folder=$2
  shift 2
  echo "building with $name"
  if make -s -j2 BUILD="$folder" "$@" all test-programs "$folder/tests/fuzz/scanner_fuzz" >"$log/build-$name" 2>&1; then
    pass 1
    return 0
  fi
  tail -n 40 "$log/build-$name"
  fail 1 "build with $name"
  return 1
}

# suites NAME FOLDER each|whole: runs every program of a build; counts its tests, or the program as one
suites() {
  for program in "$2"/tests/*_test "$2"/tests/outside/*_test; do
    if [ ! -f "$program" ] || [ ! -x "$program" ]; then continue; fi
    source=${program#"$2"/}.c
    [ -f "$source" ] || continue                     # its source is gone
    out=$log/$1-$(basename "$program")
    "$program" >"$out" 2>&1
    status=$?
    good=$(sed -n 's/^\[  PASSED  \] \([0-9]*\) test.*/\1/p' "$out" | awk '{ n += $1 } END { print n + 0 }')
    bad=$(sed -n 's/^\[  FAILED  \] \([0-9]*\) test.*/\1/p' "$out" | awk '{ n += $1 } END { print n + 0 }')
    if [ $status -ne 0 ] || [ "$bad" -ne 0 ] || [ "$good" -eq 0 ]; then
      grep -v -e '^\[ RUN ' -e '^\[       OK' "$out" | tail -n 60
      [ "$bad" -gt 0 ] || bad=1
      if [ "$3" = each ]; then pass "$good"; else bad=1; fi
      fail "$bad" "$1 $(basename "$program") (exit $status)"
    elif [ "$3" = each ]; then pass "$good"
    else pass 1
    fi
  done
}

# script NAME COMMAND ...: ends with `name: N passed, N failed`
script() {
  name=$1
  shift
  if [ ! -x "$1" ]; then
    fail 1 "$1 is not there"
    return
  fi
  "$@" >"$log/$name" 2>&1
  status=$?
  good=$(count passed "$log/$name")
  bad=$(count failed "$log/$name")
  pass "$good"
  if [ $status -ne 0 ] || [ "$bad" -ne 0 ] || [ "$good" -eq 0 ]; then
    tail -n 60 "$log/$name"
    [ "$bad" -gt 0 ] || bad=1
    fail "$bad" "$name"
  else
    echo "$name: $good passed"
  fi
}

# once NAME COMMAND ...: a command that must end well
once() {
  name=$1
  shift
  if "$@" >"$log/$name" 2>&1; then pass 1; else
    tail -n 60 "$log/$name"
    fail 1 "$name"
  fi
}

# The library computes: nothing in it prints, allocates, or knows Lua.  Only these are called from outside it.
library_calls() {
  nm "$build/libstringline.a" | awk '
    $1 == "U" { wanted[$2] = 1 }
    NF == 3 { defined[$3] = 1 }
    NF == 3 && $2 ~ /[A-Z]/ && $3 !~ /^sl_/ { print "libstringline.a defines " $3; bad = 1 }
    END {
      n = split("mem[a-z]+ str[a-z]+ a?(sin|cos|tan)h? atan2 sincos exp log log10 pow sqrt cbrt hypot floor ceil " \
                "round trunc fabs fmin fmax fmod __stack_chk_fail _GLOBAL_OFFSET_TABLE_", ok, " ")
      for (name in wanted) {
        if (name in defined) continue
        fine = 0
        for (i = 1; i <= n; i++) if (name ~ ("^" ok[i] "$")) fine = 1
        if (name ~ /^str(dup|ndup)$/ || !fine) { print "libstringline.a calls " name; bad = 1 }
      }
      exit bad
    }'
}

replay() { "$1/tests/fuzz/scanner_fuzz" tests/fuzz/corpus/scanner/*; }

compile gcc "$build" && {
  suites gcc "$build" each
  echo "gcc: $passed passed, $failed failed"
  script golden tests/golden.lua "$build/stringline"
  script errors tests/errors.lua "$build/stringline"
  script properties tests/properties.lua "$build/stringline" 40
  script docs tests/docs.sh "$build/stringline"
  script install tests/install.sh
  once library-calls library_calls
  once fuzz-corpus replay "$build"
}
compile clang "$build/clang" CC=clang && suites clang "$build/clang" whole
compile sanitizers "$build/asan" CC=clang CFLAGS="-O1 -g" \
  SAN="-fsanitize=address,undefined -fno-sanitize-recover=all" && {
  suites sanitizers "$build/asan" whole
  once sanitizers-fuzz-corpus replay "$build/asan"
  once sanitizers-example "$build/asan/stringline" run examples/egg-farm/job.sline
}
echo "$passed passed, $failed failed"
[ "$failed" -eq 0 ]
