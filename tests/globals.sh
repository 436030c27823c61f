#!/bin/sh
# SPDX-License-Identifier: MIT
# tests/globals.sh BUILD: no file of interp keeps anything that can be written to between calls.  What a run knows is in
# its state (interp/host/state.h), so that states stand side by side.  Ends with `globals: N passed, N failed`.
set -u
LC_ALL=C
export LC_ALL
build=${1:?folder of a build}
passed=0
failed=0

# "file symbol" a line, with the reason why it may stay.  There is none.
allowed=''

# Writable objects of an object file: all but the tables that the loader relocates and then locks.
writable() {
  nm -f sysv "$1" | awk -F '|' '
    { gsub(/ /, ""); section = $7 }
    section ~ /^\.data\.rel\.ro/ { next }
    section ~ /^\.(data|bss|tdata|tbss)/ || section == "*COM*" { if ($4 ~ /OBJECT|TLS/) print $1 }'
}

# The test can fail: an object file with one of each kind.
work=$(mktemp -d) || exit 1
trap 'rm -rf "$work"' EXIT
cat >"$work/kept.c" <<'END'
static int counter = 3, nothing;
static const char *word = "x";
static const char *const words[] = { "x", "y" };
extern int count(void);
int shared = 1, common;
_Thread_local int apart;
int count(void) {
  static int calls;
  int n = *word;
  word = words[calls & 1];
  return n + counter++ + nothing++ + calls++ + apart++;
}
END
"${CC:-gcc}" -O2 -fPIC -fcommon -c "$work/kept.c" -o "$work/kept.o" || exit 1
writable "$work/kept.o" >"$work/found"
if [ "$(wc -l <"$work/found")" -eq 7 ]; then passed=$((passed + 1)); else
  echo "globals: of the seven that a file keeps, found:" && cat "$work/found"
  failed=$((failed + 1))
fi

for object in "$build"/interp/*/*.o "$build"/interp/*.o; do
  [ -f "$object" ] || continue
  name=${object#"$build"/}
  bad=0
  for symbol in $(writable "$object"); do
    case $allowed in *"$name $symbol"*) continue ;; esac
    echo "globals: $name keeps '$symbol': put it into the run's state"
    bad=1
  done
  if [ $bad -eq 0 ]; then passed=$((passed + 1)); else failed=$((failed + 1)); fi
done
[ $passed -gt 40 ] || { echo "globals: only $passed files in $build"; failed=$((failed + 1)); }
echo "globals: $passed passed, $failed failed"
[ $failed -eq 0 ]
