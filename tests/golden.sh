#!/bin/sh
# SPDX-License-Identifier: MIT
# Reports compared byte for byte: tests/golden/NAME.cmd holds the arguments (one shell line), NAME.out what comes out,
# NAME.exit the exit status.  A golden pins our own text; it is no check of a number from outside.
# usage: tests/golden.sh BINARY [--update]
set -u
LC_ALL=C
export LC_ALL
unset STRINGLINE_PATH
binary=${1:?usage: tests/golden.sh BINARY [--update]}
update=${2:-}
case $binary in /*) ;; *) binary=$(pwd)/$binary ;; esac
cd "$(dirname "$0")/.." || exit 1
[ -x "$binary" ] || { echo "golden: no binary $binary" >&2; exit 1; }
got=$(mktemp) || exit 1
trap 'rm -f "$got"' EXIT
passed=0
failed=0
for cmd in tests/golden/*.cmd; do
  name=$(basename "$cmd" .cmd)
  want=tests/golden/$name
  eval "set -- $(cat "$cmd")"
  "$binary" "$@" >"$got" 2>&1
  status=$?
  if [ "$update" = --update ]; then
    cp "$got" "$want.out"
    echo "$status" >"$want.exit"
  fi
  if cmp -s "$got" "$want.out" && [ "$status" = "$(cat "$want.exit" 2>/dev/null)" ]; then
    passed=$((passed + 1))
    echo "ok $name"
  else
    failed=$((failed + 1))
    echo "not ok $name (exit $status, wanted $(cat "$want.exit" 2>/dev/null || echo none))"
    diff "$want.out" "$got" 2>&1 | head -n 20
  fi
done
echo "golden: $passed passed, $failed failed"
[ "$failed" -eq 0 ] && [ "$passed" -gt 0 ]
