# SPDX-License-Identifier: MIT
# To be read by a test script (`. tests/try.sh`, from the top folder of the project): a folder $work of its own, and
# try "what" COMMAND ..., which counts.  The script's last line is `tried NAME`.
# shellcheck shell=sh
set -u
LC_ALL=C
NO_COLOR=1
export LC_ALL NO_COLOR
unset STRINGLINE_PATH COLUMNS POSIXLY_CORRECT
work=$(mktemp -d) || exit 3
trap 'rm -rf "$work"' EXIT
trap 'exit 130' INT TERM
passed=0
failed=0
try() { # what, command ...
  what=$1
  shift
  if "$@" >"$work/log" 2>&1; then passed=$((passed + 1)); else
    head -n 40 "$work/log"
    echo "$what: failed"
    failed=$((failed + 1))
  fi
}
tried() { # name of the script
  echo "$1: $passed passed, $failed failed"
  [ "$failed" -eq 0 ] && [ "$passed" -gt 0 ]
}
