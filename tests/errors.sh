#!/bin/sh
# SPDX-License-Identifier: MIT
# Broken scripts and files, each against the message that a person gets: tests/errors.sh BINARY [--update] [NAME ...]
#
# tests/errors/NAME.sline or NAME/job.sline is checked; NAME.err holds what is wanted on standard error, NAME.exit the
# status. A first line `-- args: ...` adds words to the command line. Where rules are judged (exit 0, 1) NAME.err ends
# with the paragraphs of the report that begin with the words of a line `-- show: ...`.
# What is wanted must itself be good: place, caret and help, save for the names listed below.
# --update writes the wanted files anew: read what changed before you keep it.
set -u
LC_ALL=C
export LC_ALL
unset NO_COLOR
here=tests/errors
STRINGLINE_PATH=$here/shared:examples/egg-farm
export STRINGLINE_PATH
usage() { echo 'usage: tests/errors.sh BINARY [--update] [NAME ...], from the top folder of the project' >&2; exit 2; }
if [ $# -lt 1 ] || [ ! -x "$1" ] || [ ! -d "$here" ]; then usage; fi
binary=$1
shift
update=false
[ "${1-}" = --update ] && { update=true; shift; }
work=$(mktemp -d) || exit 3
trap 'rm -rf "$work"' EXIT
trap 'exit 130' INT TERM

# No place in a script: what the command line said, or what is nowhere in a script.
placeless=$(sed -n 's/^placeless  *\([^ ]*\) .*/\1/p' "$here/exceptions")
# Nothing can be surely suggested.
helpless=$(sed -n 's/^helpless  *\([^ ]*\) .*/\1/p' "$here/exceptions")

listed() { case "
$2
" in *"
$1
"*) return 0 ;; esac; return 1; }

# What is wrong with a message itself; nothing if it is good.
lint() {                                  # NAME FILE STATUS
  grep -q 'attempt to \|\[C\]\|stack traceback\|_K\[\|upvalue' "$2" && echo "shows the machinery"
  grep -q '=model\.\|=host\.\|\.results\|\.rules:\|\.schema:\|=parts\.' "$2" && echo "shows a chunk of the library"
  [ -s "$2" ] || echo "says nothing"
  case $3 in 0 | 1) return ;; esac
  if listed "$1" "$placeless"; then
    grep -q '^ *--> ' "$2" && echo "has a place, but exceptions says that it has none"
  else
    grep -q '^ *--> ' "$2" || echo "has no place"
    grep -q '^ *| .*[\^]' "$2" || grep -q '^ *--> [^:]*$' "$2" || echo "has no caret"
  fi
  if listed "$1" "$helpless"; then
    grep -q '^ *= help: ' "$2" && echo "has help, but exceptions says that it has none"
  else
    # an example or a bound in the message itself is help enough
    grep -q '^ *= help: \|(like \| is one of .*; got \| must be \| must lie between ' "$2" || echo "has no help"
  fi
}

run_case() {                              # NAME SCRIPT
  first=$(head -n 1 "$2" 2>/dev/null | tr -d '\r')
  case $first in '-- args: '*) args=${first#-- args: } ;; *) args= ;; esac
  show=$(sed -n 's/^-- show: //p' "$2")
  eval "set -- \"\$1\" \"\$2\" $args"
  name=$1 script=$2
  shift 2
  "$binary" check "$script" "$@" >"$work/out" 2>"$work/err" </dev/null
  status=$?
  cat "$work/err" >"$work/got"
  if [ $status -lt 2 ]; then
    awk -v "what=$show" 'BEGIN { RS = ""; ORS = "\n" } index($0, what) == 1' "$work/out" >>"$work/got"
  fi
  want=$here/$name.err
  if $update; then
    cp "$work/got" "$want"
    echo "$status" >"$here/$name.exit"
  fi
  : >"$work/why"
  if [ ! -f "$want" ] || [ ! -f "$here/$name.exit" ]; then
    echo "has no golden message" >"$work/why"
  else
    wanted=$(cat "$here/$name.exit")
    [ "$status" = "$wanted" ] || echo "exit $status, wanted $wanted" >>"$work/why"
    cmp -s "$want" "$work/got" || { echo "another message:"; diff "$want" "$work/got"; } >>"$work/why"
    lint "$name" "$want" "$wanted" >>"$work/why"
  fi
  if [ -s "$work/why" ]; then
    echo "not ok $name"
    sed 's/^/    /' "$work/why"
    failed=$((failed + 1))
  else
    echo "ok $name"
    passed=$((passed + 1))
  fi
}

passed=0 failed=0
for script in "$here"/*.sline "$here"/*/job.sline; do
  [ -f "$script" ] || continue
  name=${script#"$here"/}
  name=${name%.sline}
  name=${name%/job}
  if [ $# -gt 0 ]; then
    chosen=false
    for one in "$@"; do [ "$one" = "$name" ] && chosen=true; done
    $chosen || continue
  fi
  run_case "$name" "$script"
done
echo "errors: $passed passed, $failed failed"
[ "$failed" = 0 ] && [ "$passed" -gt 0 ]
