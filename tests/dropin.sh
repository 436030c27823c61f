#!/bin/sh
# SPDX-License-Identifier: MIT
# Domains that are dropped in: tests/dropin.sh BUILD [FLAG=VALUE ...].  Beside the library stand tests/dropin/fence and
# a large domain that tells when it is loaded; the program is built with both, from the objects of BUILD, which was made
# with these flags, and no other file is changed.
if [ $# -lt 1 ] || [ ! -x "$1/stringline" ] || [ ! -d tests/dropin ]; then
  echo 'usage: tests/dropin.sh BUILD [FLAG=VALUE ...], from the top folder of the project' >&2
  exit 2
fi
. tests/try.sh

large() { # FOLDER: 120 kinds, each with a result, a rule and a sheet
  mkdir -p "$1/large/sheets"
  {
    echo 'print "large is loaded"'
    echo 'for i = 1, 120 do'
    echo '  import("model.schema").kind { "large_" .. i, named = true, says = "large", fields = {'
    echo '    { "size", "quantity", dim = "length", required = true, example = "1ft", says = "size" } } }'
    echo 'end'
  } >"$1/large/schema.lua"
  {
    echo 'print "large is loaded"'
    echo 'for i = 1, 120 do'
    echo '  import("model.graph").result { "large_" .. i, "twice", dim = "length", says = "twice its size",'
    echo '    work = function(x) return 2 * x.size end }'
    echo 'end'
  } >"$1/large/results.lua"
  {
    echo 'print "large is loaded"'
    echo 'for i = 1, 120 do'
    echo '  import("model.rule").add { id = "R" .. 1000 + i, severity = "note", each = "large_" .. i, says = "large",'
    echo '    cite = "none", caution = "none", check = function(x) return import("model.rule").present(x.twice) end }'
    echo 'end'
  } >"$1/large/rules.lua"
  {
    echo 'print "large is loaded"'
    echo 'return { name = "large", title = "Large", kinds = { "large_7" }, whole = function(d) d:para "large" end }'
  } >"$1/large/sheets/large.lua"
}

build=$1
shift
# as_built MAKE ARGUMENTS: with the flags of BUILD
flags=$(for one in "$@"; do printf "'%s' " "$one"; done)
as_built() { eval "make -s $flags \"\$@\""; }
# program FOLDER DOMAINS: builds in FOLDER with further domains, out of the objects that there are
program() {
  rm -rf "$1"
  mkdir -p "$1"
  cp -Rp "$build/interp" "$build/gen" "$build/libstringline.a" "$build/flags" "$build/files" "$1" || return 1
  as_built BUILD="$1" STDLIB="stdlib $2" "$1/stringline"
}
large "$work/domains"
try "the program is built with both" program "$work/build" "tests/dropin $work/domains"
binary=$work/build/stringline
[ -x "$binary" ] || { tried dropin; exit 1; }

cat >"$work/bare.sline" <<'END'
job { name = "t", client = "c", stage = "permit", on = "2026-11-02" }
site { frost = 18in }
END
cat >"$work/fence.sline" <<'END'
job { name = "t", client = "c", stage = "permit", on = "2026-11-02" }
fence "goats" { length = 100ft, height = 4ft }
END
says() { # text, command ...: prints the text
  text=$1
  shift
  "$binary" "$@" >"$work/out" 2>&1
  grep -q -e "$text" "$work/out" || { cat "$work/out"; return 1; }
}
silent() { # text, command ...: does not
  ! says "$@" || { cat "$work/out"; return 1; }
}

# 100 ft / 8 ft = 12.5: 13 bays, 14 pickets
try "its kind is declared, its rule judged and broken" says 'BROKEN R901: the fence keeps goats in, fence goats' \
  run "$work/fence.sline"
try "with its caution" says 'caution: goats stand on the modules' run "$work/fence.sline"
try "a rule on what hangs on its kind is judged" says 'NOTE R902: no picket is the thirteenth, fence goats picket P14' \
  run "$work/fence.sline"
try "with another value it holds" says 'R901 *caution *the fence keeps goats in *6 ft >= 5 ft' \
  run "$work/fence.sline" --set fence.goats.height=6ft
cat >"$work/county.sline" <<'END'
authority { name = "county", read_on = "2026-11-01" }
limits { fence_height = { 3ft, cite = "county 7" }, height = { 20ft, cite = "county 4" } }
END
{ echo 'place "county"'; cat "$work/fence.sline"; } >"$work/place.sline"
try "its limit is given by a place, and judged" says "4 ft > 3 ft" \
  run "$work/place.sline"
sed 's/fence_height/fence_hight/' "$work/county.sline" >"$work/county2.sline"
sed 's/"county"/"county2"/' "$work/place.sline" >"$work/place2.sline"
try "its limit, misspelt, is found" says "did you mean 'fence_height'" check "$work/place2.sline"
try "its limit is described" says 'fence_height *most height of a fence\|^ *fence_height' describe limits
try "its sheet is in the report" says 'fence goats: 14 pickets' run "$work/fence.sline"
try "its sheet is printed" says 'fence goats: 14 pickets' sheet "$work/fence.sline" pickets
try "its sheet is listed" says '^pickets *Fence$' sheet "$work/fence.sline"
try "and in a job without a fence, with the reason" says '^pickets *Fence *withheld: no fence is declared' \
  sheet "$work/bare.sline"
try "its result is explained" says 'fence.goats.pickets = 14' explain "$work/fence.sline" fence.goats.pickets
try "its rule is explained" says 'goats stand on the modules' explain "$work/bare.sline" R901
try "its kind is described" says '^fence "NAME"' describe fence
try "a field of it is described" says 'height above the ground' describe fence.height
try "a result of it is described" says 'one every 8 ft' describe fence.pickets
try "what hangs on it is described" says '^fence.NAME.picket.NAME' describe picket
try "a misspelt word finds it" says "did you mean 'fence'?" describe fense
try "it is on the form" says 'height: height above the ground' form
try "it is in the reference" says '^### fence' reference
try "its rule is in the reference" says '^| R901 | caution | each fence' reference
try "a result that it adds to another's kind" says 'rack.east.fence_height = ' \
  explain examples/egg-farm/job.sline rack.east.fence_height
try "that result is described with the kind" says 'fence_height' describe rack
try "and is in the JSON" says '"rack.east.fence_height": {' run --format json examples/egg-farm/job.sline
try "its rule is told where it does not apply" says 'R901 (no' run examples/egg-farm/job.sline
sed 's/^fence /fense /' "$work/fence.sline" >"$work/misspelt.sline"
try "a misspelt declaration finds it" says "did you mean 'fence'?" check "$work/misspelt.sline"

try "a large domain is not loaded by a bare job" silent 'large is loaded' run "$work/bare.sline"
try "nor by a job of other domains" silent 'large is loaded' run examples/egg-farm/job.sline
try "its rules are told all the same" says 'large_120)' run examples/egg-farm/job.sline
try "it is loaded by its first word" says 'large is loaded' describe large_7

# stops FILE TEXT WHAT: a domain with this file stops the build, which says what is wrong
stops() {
  rm -rf "$work/bad"
  mkdir -p "$work/bad/odd"
  printf '%s\n' "$2" >"$work/bad/odd/$1"
  if as_built BUILD="$work/build" STDLIB="stdlib $work/bad" "$work/build/stringline" >"$work/out" 2>&1; then
    echo "the build went well"
    return 1
  fi
  cat "$work/out"
  grep -q -e "$3" "$work/out"
}
rule='severity = "note", says = "s", cite = "c", caution = "c", check = function() end }'
try "a rule on the job in a domain that is not always judged is refused" stops rules.lua \
  "import('model.rule').add { id = 'R903', $rule" 'rule R903 is judged on the job'
try "a rule on no kind is refused" stops rules.lua \
  "import('model.rule').add { id = 'R903', each = 'fense', $rule" 'rule R903: no kind fense'
try "a second rule of one id is refused" stops rules.lua \
  "import('model.rule').add { id = 'R41', each = 'rack', $rule" 'both have a rule R41'
try "a second kind of one name is refused" stops schema.lua \
  "import('model.schema').kind { 'rack', says = 's' }" 'both declare the kind rack'
try "a word that a domain does not have is refused" stops domain.lua \
  "return { always = 'perhaps', orders = 3 }" "a domain has no 'orders'"

tried dropin
