#!/bin/sh
# SPDX-License-Identifier: MIT
# What a report was made from: no output overwrites what was read, hashes are those of sha256sum, and verify tells what
# has changed.  tests/identity.sh BINARY, from the top of the project.
# shellcheck disable=SC2317
if [ $# -ne 1 ] || [ ! -x "$1" ] || [ ! -d examples ]; then
  echo 'usage: tests/identity.sh BINARY, from the top folder of the project' >&2
  exit 2
fi
binary=$(cd "$(dirname "$1")" && pwd)/$(basename "$1")
top=$PWD
. tests/try.sh

# A copy of the example to work on, as the current folder.
fresh() {
  rm -rf "$work/run"
  mkdir -p "$work/run/sub" && cp -R "$top/examples/egg-farm" "$work/run/farm" && cd "$work/run" || exit 3
}
stringline() { "$binary" "$@"; }
ends() { # status, command ...
  wanted=$1
  shift
  "$@"
  got=$?
  [ "$got" -eq "$wanted" ] || { echo "exit $got, wanted $wanted: $*"; return 1; }
}
says() { # words, command ...: what is printed, on one line
  words=$1
  shift
  "$@" >"$work/said" 2>&1
  tr '\n' ' ' <"$work/said" | tr -s ' ' | grep -qF -- "$words" || { cat "$work/said"; echo "wanted: $words"; return 1; }
}

# ---- an output never takes the place of a file that was read -------------------------------------------------------

keeps() { # status, file, command ...: both names are told, and the file stays as it was
  wanted=$1 file=$2
  shift 2
  sha256sum "$file" >"$work/before"
  ends "$wanted" "$@" >"$work/said" 2>&1 || { cat "$work/said"; return 1; }
  cat "$work/said"
  sha256sum -c "$work/before" && grep -q "'$file'.*same file\|same file.*'$file'" "$work/said" &&
    [ -z "$(find . -name '*.tmp')" ]
}
kept_from() { # file, output, option ...
  file=$1 output=$2
  shift 2
  fresh
  case $output in
    hard) ln "$file" hard ;;
    soft) ln -s "$PWD/$file" soft ;;
    sub/twice) ln -s ../soft sub/twice && ln -s "$file" soft ;;
  esac
  keeps 2 "$file" stringline run farm/job.sline -o "$output" "$@" && grep -qF "'$output'" "$work/said"
}
made() { # output, option ...
  output=$1
  shift
  fresh
  ends 0 stringline run farm/job.sline -o "$output" "$@" && grep -q '^This report' "$output"
}
used_file() {
  fresh
  sed -i '1i use "racks"' farm/job.sline
  echo 'return 5' >farm/racks.sline
  keeps 2 farm/racks.sline stringline check farm/job.sline -o farm/racks.sline
}
shared_place() {
  fresh
  mkdir shared && mv farm/plateau-county.sline shared/
  STRINGLINE_PATH=$PWD/shared
  export STRINGLINE_PATH
  keeps 2 "$PWD/shared/plateau-county.sline" stringline run farm/job.sline -o sub/../shared/plateau-county.sline
  result=$?
  unset STRINGLINE_PATH
  return $result
}
caught() { # what a script catches is refused when the report is written
  fresh
  printf 'return 5\n' >farm/extra.sline
  echo 'pcall(function() use "extra" end)' >>farm/job.sline
  keeps 2 farm/extra.sline stringline run farm/job.sline -o farm/extra.sline "$@"
}
explained() {
  fresh
  keeps 2 farm/job.sline stringline explain farm/job.sline R41 -o farm/job.sline
}
verified() {
  fresh
  stringline run farm/job.sline -o report.txt &&
    keeps 2 report.txt stringline verify report.txt farm/job.sline -o ./report.txt
}
to_stdout() { # a pipe, a file, a device
  fresh
  stringline run farm/job.sline >plain && stringline run farm/job.sline -o /dev/stdout | cmp - plain &&
    stringline run farm/job.sline -o /dev/stdout >again && cmp again plain &&
    ends 0 stringline run farm/job.sline -o /dev/null &&
    stringline run farm/job.sline -o /dev/stdout --untrusted | cmp - plain
}
for option in "" --untrusted; do
  # shellcheck disable=SC2086
  {
    try "the script itself $option" kept_from farm/job.sline farm/job.sline $option
    try "the script, spelt otherwise $option" kept_from farm/job.sline ./sub/../farm/./job.sline $option
    try "a hard link to the script $option" kept_from farm/job.sline hard $option
    try "a symbolic link to the script $option" kept_from farm/job.sline soft $option
    try "a link to a link $option" kept_from farm/job.sline sub/twice $option
    try "the place file $option" kept_from farm/plateau-county.sline farm/plateau-county.sline $option
    try "the house file, by a hard link $option" kept_from farm/two-ridges.sline hard $option
    try "a parts file $option" kept_from farm/parts/clamps.csv farm/parts/clamps.csv $option
    try "a price list $option" kept_from farm/prices/sawtail-lumber.csv soft $option
    try "with an alternate, which reads twice $option" kept_from farm/job.sline hard --alternate "six in series" $option
    try "a file whose reading the script catches $option" caught $option
    try "a new file $option" made new.txt $option
    try "a report beside the script $option" made farm/report.txt $option
  }
done
try "a file that is used" used_file
try "a place file of STRINGLINE_PATH" shared_place
try "explain" explained
try "the report that is verified" verified
try "to standard output" to_stdout

# ---- hashes: sha256sum says the same -------------------------------------------------------------------------------

fact() { sed -n "s|^$1  *\([0-9a-f]*\).*|\1|p" "$work/run/report.txt"; }
short() { cut -c 1-12; }
fresh
stringline run farm/job.sline -o report.txt
stringline run farm/job.sline --format json -o report.json
tables_hash() { [ "$(fact tables)" = "$(cd "$top" && sha256sum interp/data/*.csv | sha256sum | short)" ]; }
rules_hash() {
  [ "$(fact rules)" = "$(cd "$top" && find stdlib -name '*.lua' | sort | xargs sha256sum | sha256sum | short)" ]
}
files_hash() { # in the order of reading
  (cd farm && sha256sum job.sline plateau-county.sline two-ridges.sline parts/modules.csv parts/clamps.csv \
    prices/sawtail-lumber.csv prices/gap-creek-electric.csv) | short >want
  sed -n '/^script/,/^prices/p; /^prices/p' report.txt | awk '!seen[$0]++ { print $2 }' | diff want - &&
    (cd farm && sha256sum job.sline) | cut -c 1-64 | grep -qf - report.json
}
a_mark_counts() { # a byte order mark, which the language passes over, is a part of the file
  fresh
  { printf '\357\273\277'; cat farm/job.sline; } >farm/marked.sline
  stringline run farm/marked.sline -o report.txt && [ "$(fact script)" = "$(sha256sum farm/marked.sline | short)" ]
}
text_seal() {
  [ "$(sed -n 's/^This report: sha256 //p' report.txt)" = "$(sed '$d' report.txt | sha256sum | short)" ]
}
json_seal() {
  [ "$(sed -n 's/^  "seal": "\(.*\)"$/\1/p' report.json)" = \
    "$(sed '/^  "seal"/,$d' report.json | sha256sum | cut -c 1-64)" ]
}
no_machine() { # of an absolute path the last name; nothing of the folders between
  stringline run "$PWD/farm/job.sline" >absolute.txt
  sed '1,/^Made from/d' absolute.txt >block
  grep -q '^script.* job.sline$' block && ! grep -qF "$PWD" block
}
the_same_everywhere() { # the folder in which it is run is not in it
  (cd farm && stringline run job.sline) >here.txt
  mkdir -p other && cp -R farm/* other/ && (cd other && stringline run job.sline) >there.txt
  cmp here.txt there.txt
}
try "the hash of the tables" tables_hash
try "the hash of the rules" rules_hash
try "the hashes of the files" files_hash
try "the seal of a text" text_seal
try "the seal of JSON" json_seal
try "no path of a machine" no_machine
try "the same wherever it is run" the_same_everywhere
try "a byte order mark is hashed" a_mark_counts

# ---- verify --------------------------------------------------------------------------------------------------------

same="the same verdict today"
another="ANOTHER VERDICT today"
reported() { # option ...: report.txt, report.json and check.json beside the script
  fresh
  stringline run farm/job.sline -o farm/report.txt "$@"
  stringline run farm/job.sline --format json -o farm/report.json "$@"
  stringline check farm/job.sline --format json -o farm/check.json "$@"
  [ -s farm/report.txt ] && [ -s farm/report.json ] && [ -s farm/check.json ]
}
each_report() { # status, words, words: the verdict, and what has changed
  for r in report.txt report.json check.json; do
    says "$2" ends "$1" stringline verify "farm/$r" || return 1
    says "$3" ends "$1" stringline verify "farm/$r" || return 1
  done
}
unchanged() { reported "$@" && each_report 0 "$same." "All of it is the same."; }
changed_alike() {
  reported && echo '# a remark' >>farm/prices/sawtail-lumber.csv &&
    each_report 0 "$same." "changed prices prices/sawtail-lumber.csv" && ! grep -q gap-creek "$work/said"
}
changed_script() {
  reported && echo '-- a remark' >>farm/job.sline && each_report 0 "$same." "changed script farm/job.sline"
}
changed_verdict() {
  reported && sed -i 's/cover = 18in/cover = 12in/' farm/job.sline &&
    each_report 1 "$another." "changed script farm/job.sline" &&
    says "R57 run['array to shed'] holds broken" stringline verify farm/report.json &&
    says "R57 run['array to shed'] not judged broken" stringline verify farm/check.json
}
mended() { # another setting written into the report: it holds with that one
  reported --set trench.main.cover=12in &&
    sed -i 's/^\(set  *[0-9a-f]*  trench.main.cover=\)12in/\124in/' farm/report.txt &&
    says "ANOTHER VERDICT today, but the report was edited" ends 1 stringline verify farm/report.txt &&
    says "today: Egg farm, eight modules - permit, judged on 2026-11-02: 63 of 64" stringline verify farm/report.txt
}
gone() {
  reported && rm farm/prices/gap-creek-electric.csv &&
    each_report 1 "NO VERDICT today." "gone prices prices/gap-creek-electric.csv" &&
    says "cannot read farm/prices/gap-creek-electric.csv" stringline verify farm/report.txt
}
left_out() {
  reported && sed -i '/gap-creek/d' farm/job.sline &&
    each_report 1 "$another." "no longer read prices prices/gap-creek-electric.csv"
}
new() {
  reported && echo 'return 5' >farm/more.sline && echo 'use "more"' >>farm/job.sline &&
    each_report 0 "$same." "new use more.sline"
}
other_program() {
  reported && sed -i 's/^stringline .*/stringline  0.0.9/; s/^tables .*/tables      0123456789ab/' farm/report.txt &&
    says "0.0.9 then, $("$binary" --version | sed 's/.* //') today stringline changed tables" \
      ends 1 stringline verify farm/report.txt
}
edited() {
  reported && sed -i 's/172.9 V/102.9 V/' farm/report.txt &&
    sed -i 's/"text": "172.9 V"/"text": "102.9 V"/' farm/report.json &&
    sed -i 's/Odessa/Odette/' farm/check.json &&
    each_report 1 "$same, but the report was edited." "its last line does not fit"
}
longer() { # something stands behind the end
  reported && echo 'and more' >>farm/report.txt && says "edited" ends 1 stringline verify farm/report.txt
}
unsealed() {
  reported && sed -i '/^This report/d' farm/report.txt && says "it has no seal" ends 0 stringline verify farm/report.txt
}
mailed() { # other line ends, blanks behind lines
  reported && sed -i 's/$/  \r/' farm/report.txt farm/report.json farm/check.json &&
    each_report 0 "$same." "All of it is the same"
}
coloured() { # as a terminal's log has it
  reported && sed -i "1s/.*/$(printf '\033')[1;32m&$(printf '\033')[0m/" farm/report.txt &&
    says "$same." ends 0 stringline verify farm/report.txt
}
lies_elsewhere() { # the path in the report is seen from the current folder; else the script is named
  reported && mv farm/report.txt sub/ && says "$same." ends 0 stringline verify sub/report.txt &&
    cd sub && ends 3 stringline verify report.txt && says "$same." ends 0 stringline verify report.txt ../farm/job.sline
}
the_unchanged_one() { # of two scripts of that name the one that it was made from
  reported && mkdir out && mv farm/report.txt out/ && sed 's/cover = 18in/cover = 2in/' farm/job.sline >out/job.sline &&
    says "$same." ends 0 stringline verify out/report.txt
}
shared() {
  fresh
  mkdir shared && mv farm/plateau-county.sline shared/
  STRINGLINE_PATH=$PWD/shared
  export STRINGLINE_PATH
  stringline run farm/job.sline -o farm/report.txt
  says "$same." ends 0 stringline verify farm/report.txt &&
    grep -q '^place  *[0-9a-f]*  plateau-county.sline$' farm/report.txt
  result=$?
  unset STRINGLINE_PATH
  says "gone place plateau-county.sline" ends 1 stringline verify farm/report.txt && return $result
}
not_ours() { # status 2
  fresh
  : >empty
  printf '{"stringline": 1}' >little.json
  head -c 3000 "$binary" >bytes
  stringline run farm/job.sline | sed '/^Made from/,$d' >half.txt
  for f in empty little.json bytes half.txt farm/job.sline; do
    says "is no report of stringline" ends 2 stringline verify $f || return 1
  done
}
narrow() { # wrapped at few columns, as a paragraph and as a table; blanks in names and values
  fresh
  cp farm/prices/sawtail-lumber.csv "farm/prices/the yard  behind the old mill.csv"
  sed -i 's|prices/sawtail-lumber|prices/the yard  behind the old mill|' farm/job.sline
  stringline run farm/job.sline --set "job.client=Odessa  Pruitt of  the long farm road" \
    --set "run['array to shed'].along_wall=9ft" -o farm/wide.txt
  says "$same." ends 0 stringline verify farm/wide.txt
  awk '/^Made from/ { on = 1 } !on || length < 34 { print; next }
    { line = ""; n = split($0, word, / /)
      for (i = 1; i <= n; i++) {
        if (length(line " " word[i]) > 34 && word[i] != "") { print line; line = "                        " word[i] }
        else line = i == 1 ? word[i] : line " " word[i]
      }
      print line }' farm/wide.txt | sed '/^This report/d' >farm/narrow.txt
  grep -q '^  *.x20behind' farm/narrow.txt || return 1
  says "it has no seal" ends 0 stringline verify farm/narrow.txt &&
    says "All of it is the same." stringline verify farm/narrow.txt
}
html() { # the browser's page; also with its lines run together, where no seal can fit
  reported
  stringline run farm/job.sline --on 2026-11-03 --set "job.client=\`Odessa\` & <others>" --format html \
    -o farm/report.html
  says "$same." ends 0 stringline verify farm/report.html &&
    says "All of it is the same." stringline verify farm/report.html &&
    tr '\n' ' ' <farm/report.html >farm/run-together.html &&
    says "$same, but the report was edited" ends 1 stringline verify farm/run-together.html &&
    sed -i 's/172.9 V/102.9 V/' farm/report.html && says "edited" ends 1 stringline verify farm/report.html &&
    stringline run farm/job.sline --format html -o farm/report.html && echo '<p>more</p>' >>farm/report.html &&
    says "edited" ends 1 stringline verify farm/report.html
}
long_words() { # longer than a line: they are broken where no blank is
  fresh
  long=prices/a-long-name-without-any-blank-and-then_some_more_of_it-in-one-piece.csv
  cp farm/prices/sawtail-lumber.csv farm/$long
  sed -i "s|prices/sawtail-lumber.csv|$long|" farm/job.sline
  stringline run farm/job.sline \
    --set "run['array to shed'].make_up_each_end=3.000000000000000000000000000000000000000000001ft" \
    --set "job.client=Odessa  Pruitt of the long farm road that leads over the hill" -o farm/report.txt
  says "$same." ends 0 stringline verify farm/report.txt &&
    says "All of it is the same." stringline verify farm/report.txt &&
    sed -i 's/Odessa/Odette/; /^This report/d' farm/report.txt &&
    says "the report was edited" ends 1 stringline verify farm/report.txt
}
as_json() {
  reported && stringline verify farm/report.txt --format json | grep -q '"same": true' &&
    sed -i 's/cover = 18in/cover = 12in/' farm/job.sline &&
    stringline verify farm/report.json --format json | grep -q '"today": "broken"'
}
untrusted() { reported && says "$same." ends 0 stringline verify farm/report.txt --untrusted; }
example() { (cd "$top" && ends 0 "$binary" verify examples/egg-farm/report.txt); }
# Bytes changed, cut, doubled: some answer, never a crash, and never longer than a second.
mangled() {
  reported
  for r in report.txt report.json check.json; do
    lua5.4 - "farm/$r" 40 <<'END' || return 1
local path, count = arg[1], tonumber(arg[2])
local text = io.open(path, "rb"):read("a")
math.randomseed(7)
for i = 1, count do
  local t, n = text, math.random(1, 6)
  for _ = 1, n do
    local at, len = math.random(#t), math.random(0, 40)
    local how = math.random(4)
    if i % 2 == 0 then at = math.random(math.max(1, #t - 1200), #t) end
    if how == 1 then t = t:sub(1, at - 1) .. string.char(math.random(0, 255)) .. t:sub(at + 1)
    elseif how == 2 then t = t:sub(1, at - 1) .. t:sub(at + len)
    elseif how == 3 then t = t:sub(1, at + len) .. t:sub(at)
    else t = t:sub(1, at) .. ("{[<\"\\\n"):sub(math.random(6)) .. t:sub(at + 1) end
  end
  local out = assert(io.open(path .. ".mangled." .. i, "wb"))
  out:write(t)
  out:close()
end
END
    i=1
    while [ $i -le 40 ]; do
      timeout 20 "$binary" verify "farm/$r.mangled.$i" >"$work/said" 2>&1
      status=$?
      if [ $status -gt 3 ] || grep -q 'attempt to\|stack traceback\|report_reader\|json_reader' "$work/said"; then
        cat "$work/said"
        echo "exit $status for mangled $r, number $i"
        return 1
      fi
      i=$((i + 1))
    done
  done
}
# The house changes its mind: a job that holds to the version of before keeps its verdict, another one does not.
versioned() {
  fresh
  sed -i '1i version "2026-03"' farm/two-ridges.sline
  sed -i 's/^house .*/house { "two-ridges", version = "2026-03" }/' farm/job.sline
  ends 0 stringline run farm/job.sline -o report.txt && grep -q '^version  *2026-03  *house two-ridges$' report.txt
}
changed_house() { sed -i 's/2026-03/2026-07/; s/{ 18in, cite/{ 48in, cite/' farm/two-ridges.sline; }
held() {
  versioned && cp farm/two-ridges.sline farm/two-ridges.2026-03.sline && changed_house &&
    says 'the same verdict today' stringline verify report.txt farm/job.sline &&
    says 'two-ridges.2026-03.sline' stringline verify report.txt farm/job.sline &&
    sed -i 's/^house .*/house "two-ridges"/' farm/job.sline &&
    says 'ANOTHER VERDICT' stringline verify report.txt farm/job.sline &&
    says '2026-03 then, 2026-07 today version house two-ridges' stringline verify report.txt farm/job.sline
}
lost() {
  versioned && changed_house &&
    says 'no version 2026-03 of house two-ridges is there' stringline verify report.txt farm/job.sline
}
try "unchanged" unchanged
try "unchanged, with a setting" unchanged --set trench.main.cover=12in --set "run['array to shed'].wire=4 AWG"
try "unchanged, on another day" unchanged --on 2026-11-20
try "unchanged, an alternate" unchanged --alternate "six in series"
try "a file changed, the verdict did not" changed_alike
try "the script changed, the verdict did not" changed_script
try "another verdict" changed_verdict
try "a report with another setting written into it" mended
try "a file is gone" gone
try "a file is no longer read" left_out
try "a file is new" new
try "another program, other tables" other_program
try "an edited report" edited
try "words behind the end" longer
try "a report without its seal" unsealed
try "line ends and blanks" mailed
try "colours" coloured
try "a report that lies elsewhere" lies_elsewhere
try "the unchanged script goes first" the_unchanged_one
try "files of STRINGLINE_PATH" shared
try "a job that holds to a version" held
try "a version that is not kept" lost
try "no report" not_ours
try "wrapped at few columns" narrow
try "HTML" html
try "words longer than a line" long_words
try "verify in JSON" as_json
try "verify, untrusted" untrusted
try "the example's own report" example
try "mangled reports" mangled

tried identity
