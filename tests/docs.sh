#!/bin/sh
# SPDX-License-Identifier: MIT
# Documents that cannot drift: what is generated is current, every example runs and prints what is shown, every file
# that is named exists, every code of a message is explained.  tests/docs.sh BINARY, from the top of the project.
# shellcheck disable=SC2016,SC2013
if [ $# -ne 1 ] || [ ! -x "$1" ] || [ ! -d docs ]; then
  echo 'usage: tests/docs.sh BINARY, from the top folder of the project' >&2
  exit 2
fi
binary=$(cd "$(dirname "$1")" && pwd)/$(basename "$1")
. tests/try.sh

# ---- what is generated ---------------------------------------------------------------------------------------------

stale() { echo 'run `make docs`'; return 1; }
reference() { "$binary" reference | diff docs/reference.md - || stale; }
methods() {
  awk -f interp/gen/csv.awk -f interp/gen/methods.awk interp/data/*.csv interp/calc/*.c interp/solve/*.c |
    diff docs/methods.md - || stale
}
report() { "$binary" run examples/egg-farm/job.sline | diff examples/egg-farm/report.txt - || stale; }
every_formula() { # one row for each STEP of the code
  steps=$(grep -ho '[^A-Z_]STEP(' interp/calc/*.c interp/solve/*.c | wc -l)
  [ "$steps" -eq "$(sed -n '/^## Formulas/,$p' docs/methods.md | grep -c '^| `')" ]
}
words() { # every word of a script's environment is described
  { sed -n '/^  words = {/,/^  }/p' interp/model/declare.lua | grep -o '[a-z_]* = ' | sed 's/ = //' | grep -v '^words$'
    sed -n '/luaL_Reg functions\[\]/,/};/p' interp/value/functions.c | grep -o '{ "[a-z_0-9]*"' | tr -d '{ "'
    sed -n '/lists\[\]\[2\]/p' interp/value/functions.c | grep -o '{ "[a-z]*"' | tr -d '{ "'
    grep -o 'file_word("[a-z]*"' stdlib/*/*.lua | sed 's/.*"\(.*\)"/\1/'
    echo calc; } | sort -u >"$work/words"
  [ "$(wc -l <"$work/words")" -gt 40 ] || return 1
  while read -r w; do "$binary" describe "$w" >/dev/null || return 1; done <"$work/words"
}
form_fits() {
  "$binary" form >"$work/form" || return 1
  ! awk 'length($0) > 80' "$work/form" | grep . && grep -q 'frost: frost depth' "$work/form"
}

try "docs/reference.md is current" reference
try "docs/methods.md is current" methods
try "examples/egg-farm/report.txt is current" report
try "docs/methods.md has every formula" every_formula
try "every word is described" words
try "the form fits on paper" form_fits

# ---- codes of messages ---------------------------------------------------------------------------------------------

# R100 and on are rules.
grep -rhoE '"([CDEFGLQSUW][0-9]|R0)[0-9]{2}"' interp stdlib --include='*.c' --include='*.lua' --include='*.re' \
  --exclude=codes.lua | tr -d '"' | sort -u >"$work/used"
grep -oE '^add\("[A-Z][0-9]{3}"' interp/write/codes.lua | grep -oE '[A-Z][0-9]{3}' | sort >"$work/explained"
same_codes() { diff "$work/used" "$work/explained"; }
try "each code in the sources is explained, and none besides" same_codes

# example CODE wrong|right: its lines
example() {
  "$binary" explain "$1" |
    awk -v part="$2" '/^  (wrong|right)/ { on = index($0, part) == 3; next } on { print substr($0, 5) }'
}
where() { "$binary" explain "$1" | sed -n 's/^  wrong, in a \(.*\):$/\1/p'; }
job='job { name = "t", client = "c", stage = "permit", on = "2026-11-02" }'

# run_example CODE wrong|right: runs it in a folder of its own, what is said on $work/said
run_example() {
  rm -rf "$work/job"
  mkdir "$work/job"
  case $(where "$1") in
    "parts file") piece='parts "list.csv"' ;;
    "price list") piece='prices "list.csv"' ;;
    "command line")
      printf '%s\ntrench "main" { length = 90ft, cover = 18in }\n' "$job" >"$work/job/job.sline"
      # shellcheck disable=SC2046
      (cd "$work/job" && "$binary" --messages gnu $(example "$1" "$2")) >"$work/said" 2>&1
      return ;;
    *) piece=$(example "$1" "$2") ;;
  esac
  example "$1" "$2" | sed '/^(nothing)$/d' >"$work/job/list.csv"
  printf '%s\n%s\n' "$job" "$piece" >"$work/job/job.sline"
  (cd "$work/job" && "$binary" --messages gnu --steps 1000000 check job.sline) >"$work/said" 2>&1
}
wrong_is_met() {
  run_example "$1" wrong
  grep -q "\[$1\]" "$work/said" || { cat "$work/said"; return 1; }
}
right_is_right() { # judged: it may lack facts, but it is no error
  run_example "$1" right
  status=$?
  [ $status -le 1 ] || { cat "$work/said"; return 1; }
}
while read -r code; do
  "$binary" explain "$code" >"$work/entry" || continue
  if grep -q '^  wrong' "$work/entry"; then try "the wrong example of $code" wrong_is_met "$code"; fi
  if grep -q '^  right' "$work/entry"; then try "the right example of $code" right_is_right "$code"; fi
done <"$work/explained"

# ---- examples in the documents -------------------------------------------------------------------------------------

# A ```console block: `$ command`, `> ` for its further lines, then what it prints. A line `...` stands for any lines.
# All blocks of a document run one after another in a copy of the examples.
transcript() { # document
  mkdir -p "$work/run/bin" "$work/run/tests/results/jobs"
  cp -R examples "$work/run/examples"
  cp -R tests/results/jobs/two-yards "$work/run/tests/results/jobs/two-yards"
  ln -s "$binary" "$work/run/bin/stringline"
  awk '/^```console$/ { on = 1; next } /^```$/ { on = 0; next } on' "$1" >"$work/blocks"
  awk -v dir="$work/run" '
    /^\$ / { n++; out = dir "/want." n; cmd = dir "/cmd." n; print substr($0, 3) > cmd; more = 1; next }
    /^>( |$)/ && more { print substr($0, 3) > cmd; next }
    n { more = 0; print > out }
    END { print n + 0 > (dir "/count") }' "$work/blocks"
  i=1
  bad=0
  count=$(cat "$work/run/count")
  while [ "$i" -le "$count" ]; do
    : >>"$work/run/want.$i"
    (cd "$work/run" && PATH=$work/run/bin:$PATH && export PATH && sh "cmd.$i") >"$work/run/got.$i" 2>&1
    if ! shown "$work/run/want.$i" "$work/run/got.$i"; then
      echo "$1: $(head -n 1 "$work/run/cmd.$i")"
      bad=$((bad + 1))
    fi
    i=$((i + 1))
  done
  rm -rf "$work/run"
  [ "$count" -gt 0 ] && [ "$bad" -eq 0 ]
}
# shown WANT GOT: the lines of WANT, in their order; without `...` nothing lies between, before or behind.  How many
# rules there are is looked past: that changes with every new rule.
shown() {
  awk '
    { sub(/[ \t]+$/, "") }
    { gsub(/[0-9]+ of [0-9]+ rules hold(: [0-9]+)?/, "(n) rules hold")
      gsub(/[0-9]+ (against a limit|as the script|by construction)/, "(n) counted") }
    NR == FNR { want[++n] = $0; next }
    { got[++m] = $0 }
    END {
      j = 1; free = 0
      for (i = 1; i <= n; i++) {
        if (want[i] == "...") { free = 1; continue }
        while (free && j <= m && got[j] != want[i]) j++
        if (j > m || got[j] != want[i]) { print "shown: " want[i]; print "printed: " got[j]; exit 1 }
        j++; free = 0
      }
      if (!free && j <= m) { print "printed besides: " got[j]; exit 1 }
    }' "$1" "$2"
}
script_shown() { # the pieces of a script that README shows stand in the example, line by line
  awk '/^```lua$/ { on = 1; next } /^```$/ { on = 0; next } on && !/^ *(\.\.\.)?$/' README.md >"$work/lines"
  [ -s "$work/lines" ] || return 1
  while IFS= read -r l; do
    grep -qxF -- "$l" examples/egg-farm/*.sline || { echo "README.md shows: $l"; return 1; }
  done <"$work/lines"
}
for document in README.md docs/tour.md docs/first-hour.md docs/house-files.md docs/footings.md; do
  try "$document: its examples print what is shown" transcript "$document"
done
try "README.md: the script shown is the example" script_shown

# ---- names and links -----------------------------------------------------------------------------------------------

named_files() { # `path` in a document: it exists, unless it is a pattern (NAME, *) or is built
  bad=0
  for path in $(grep -oE '`[A-Za-z0-9_./-]+`' "$1" | tr -d '`' | sort -u); do
    case $path in
      *NAME* | *SUBJECT* | build/* | out/* | ./* | /dev/*) continue ;;
      */* | *.md | *.sh | Makefile | LICENSE) [ -e "$path" ] || { echo "$1 names $path"; bad=1; } ;;
    esac
  done
  [ $bad -eq 0 ]
}
links() {
  bad=0
  for link in $(grep -oE '\]\([^)#]+' "$1" | sed 's/^](//' | grep -v '^http' | sort -u); do
    [ -e "$(dirname "$1")/$link" ] || { echo "$1 links to $link"; bad=1; }
  done
  [ $bad -eq 0 ]
}
for document in README.md DEVELOPERS.md docs/*.md; do
  try "$document: its links" links "$document"
done
for document in README.md DEVELOPERS.md docs/embedding.md docs/first-hour.md docs/tour.md; do
  try "$document: the files that it names" named_files "$document"
done

# ---- a program of another's ----------------------------------------------------------------------------------------

nth() { # kind of block, which one: its lines
  awk -v kind="$1" -v n="$2" '$0 == "```" kind { on = ++i == n; next } /^```$/ { on = 0; next } on' docs/embedding.md
}
embedding() { # which, libraries ...: the C of docs/embedding.md compiles and prints what is shown
  which=$1
  shift
  nth c "$which" >"$work/embed.c"
  nth text "$which" >"$work/want"
  [ -s "$work/embed.c" ] && [ -s "$work/want" ] || return 1
  "${CC:-gcc}" -std=c11 -Wall -Wextra -Wpedantic -Wconversion -Werror -Iinclude "$work/embed.c" "$@" -o "$work/embed" ||
    return 1
  "$work/embed" | diff "$work/want" -
}
libraries=$(dirname "$binary")
lua=$(pkg-config --variable=libdir lua5.4)/liblua5.4.a
lapack=$(pkg-config --variable=libdir lapack-netlib)/lapack/liblapack.a
blas=$(pkg-config --variable=libdir blas-netlib)/blas/libblas.a
try "docs/embedding.md: its first program" embedding 1 "$libraries/libstringline.a" -lm
try "docs/embedding.md: its second program" embedding 2 "$libraries/libstringline.a" -lm
try "docs/embedding.md: its third program" embedding 3 "$libraries/libstringline_host.a" "$libraries/libstringline.a" \
  "$lapack" "$blas" "$lua" -lm -ldl

tried docs
