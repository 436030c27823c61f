#!/bin/sh
# SPDX-License-Identifier: MIT
# What the Makefile promises: `clean` removes a build folder and nothing else; changed flags build anew, unchanged ones
# do not; flags reach compiler and linker; archives are of plain code; set-up says what is missing for what.
cd "$(dirname "$0")/.." || exit 1
. tests/try.sh
built=${BUILD:-build}
unset MAKEFLAGS MFLAGS MAKELEVEL BUILD CC CFLAGS CPPFLAGS LDFLAGS SAN LTO HARDEN
one=$work/one
object=$one/interp/calc/wind.o
build() { make -s BUILD="$one" "$@"; }
made_anew() { # flags of make: the object is compiled again
  touch -d '2001-01-01' "$object" && build "$@" "$object" && [ -n "$(find "$object" -newermt '2002-01-01')" ]
}
left_alone() { # also when another file is built between, which has flags of its own
  build "$@" "$object" && old=$(stat -c %y "$object") && build "$@" "$one/interp/write/out.o" "$object" &&
    [ "$(stat -c %y "$object")" = "$old" ]
}
# A compiler that only says what it was called with.
says_flags() { # words wanted, target, flags of make
  words=$1 target=$2
  shift 2
  make -n V=1 BUILD="$one" "$@" "$one/$target" 2>&1 | grep -e ' -o ' | grep "$target" >"$work/called"
  for word in $words; do
    grep -qF -- " $word " "$work/called" || { echo "no $word in:"; cat "$work/called"; return 1; }
  done
}

try "an object" build "$object"
try "unchanged flags" left_alone
try "other CFLAGS" made_anew CFLAGS=-O1
try "the same other CFLAGS" left_alone CFLAGS=-O1
try "other CPPFLAGS" made_anew CPPFLAGS=-DNDEBUG
try "another CC" made_anew CC=clang
try "other SAN" made_anew CC=clang SAN=-fsanitize=undefined
try "other LDFLAGS" made_anew LDFLAGS=-Wl,-O1
try "flags of the command's link" says_flags "-O1 -fsanitize=undefined -Wl,-O1" stringline \
  CFLAGS=-O1 SAN=-fsanitize=undefined LDFLAGS=-Wl,-O1
try "flags of a test's link" says_flags "-O1 -fsanitize=undefined -Wl,-O1" tests/wind_test \
  CFLAGS=-O1 SAN=-fsanitize=undefined LDFLAGS=-Wl,-O1
try "flags of an object" says_flags "-O1 -DNDEBUG -Iinclude" interp/host/host.o CFLAGS=-O1 CPPFLAGS=-DNDEBUG
# Everything that is built is built with a person's flags, which stand behind those that make it harder to exploit.
for one_of in gen/embed gen/hashes gen/indexer gen/audit tests/wind_test tests/bench/bench tests/fuzz/scanner_fuzz; do
  try "LDFLAGS of $one_of" says_flags "-Wl,-O1" $one_of LDFLAGS=-Wl,-O1
done
try "LDFLAGS of a fuzz target" says_flags "-Wl,-O1 -fsanitize=fuzzer" tests/fuzz/scanner_libfuzzer CC=clang \
  LDFLAGS=-Wl,-O1
behind() { # EARLIER LATER
  sed "s/.* $1 //" "$work/called" | grep -q -e " $2 " || { cat "$work/called"; return 1; }
}
own_last() {
  says_flags -fstack-protector-strong interp/host/host.o CFLAGS=-fno-stack-protector &&
    behind -fstack-protector-strong -fno-stack-protector && says_flags -Wl,-z,now stringline LDFLAGS=-Wl,-z,lazy &&
    behind -Wl,-z,now -Wl,-z,lazy
}
unhardened() { # what stands behind the target's name is left
  for target in interp/host/host.o stringline; do
    says_flags "" "$target" "$@" && ! grep -e '-fstack-protector\|-D_FORTIFY\|-z,now' "$work/called" || return 1
  done
}
no_second_word() { # a person's own level of checks
  says_flags -D_FORTIFY_SOURCE=1 interp/host/host.o CPPFLAGS=-D_FORTIFY_SOURCE=1 &&
    ! grep -q -e '-D_FORTIFY_SOURCE=[23]' "$work/called"
}
asked_once() { # as long as the question is the same
  build "$object" && touch -d '2001-01-01' "$one/hardening" && build "$object" "$one/interp/write/out.o" &&
    [ -z "$(find "$one/hardening" -newermt '2002-01-01')" ] && build CFLAGS=-O1 "$object" &&
    [ -n "$(find "$one/hardening" -newermt '2002-01-01')" ]
}
no_compiler() { # one that does not work is said to be so by what it says itself, and nothing is kept of it
  printf '#!/bin/sh\necho "out of order" >&2\nexit 1\n' >"$work/cc" && chmod +x "$work/cc" &&
    ! build CC="$work/cc" "$object" 2>"$work/why" && grep -q 'out of order' "$work/why"
}
try "a person's flags stand last" own_last
try "HARDEN= leaves it" unhardened HARDEN=
try "HARDEN=0 leaves it" unhardened HARDEN=0
try "no checks of two levels" no_second_word
try "none without optimisation" says_flags "-O0 -fstack-clash-protection" interp/host/host.o CFLAGS=-O0
try "the compiler is asked once" asked_once
try "a compiler that does not work" no_compiler
holds() { readelf -SW "$1" | grep -q 'gnu\.\(debug\)\?lto_'; }        # code that waits for the linker's optimiser
lacks() { ! holds "$1" && ! nm "$1" | grep -q gnu_lto; }
plain_objects() { build CFLAGS='-O2 -flto' "$object" && lacks "$object"; }
host=$one/interp/host/host.o
built_with() { # holds|lacks, flags of make: the objects of the command
  how=$1
  shift
  build "$@" "$host" && $how "$host"
}
plain_archives() { # though their objects are not: of the build at hand, if it is one for the linker's optimiser
  from=$built
  if ! holds "$from/interp/host/host.o" 2>/dev/null; then
    from=$one                                                          # what is compiled need not be fast
    build -j2 CFLAGS=-O0 "$from/libstringline.a" "$from/libstringline_host.a" "$from/libstringline_sweep.a" \
      "$from/libstringline_confine.a" || return 1
  fi
  for archive in host sweep confine; do [ -e "$from/libstringline_$archive.a" ] || return 1; done
  for archive in "$from"/lib*.a; do
    if ! lacks "$archive" || ! nm "$archive" | grep -q ' T sl_'; then echo "$archive"; return 1; fi
  done
  holds "$from/interp/host/host.o" && holds "$from/interp/sweep/database.o"
}
lto_refused() { ! build LTO=1 "$@" "$host" 2>"$work/why" && grep -q 'LTO is for gcc' "$work/why"; }
try "no primitive waits for the linker's optimiser" plain_objects
try "the command's objects do" built_with holds
try "not with LTO=" built_with lacks LTO=
try "not with LTO=0" built_with lacks LTO=0
try "not with clang" built_with lacks CC=clang
try "not with sanitizers" built_with lacks SAN=-fsanitize=undefined
try "LTO with clang is refused" lto_refused CC=clang
try "LTO with sanitizers is refused" lto_refused SAN=-fsanitize=undefined
try "archives are of plain code" plain_archives
try "tests are linked file by file" says_flags "-fno-lto" tests/wind_test
try "the bench is linked as the command is" says_flags "-flto=auto" tests/bench/bench
on_path() { # a folder of a build is no compiler
  mkdir -p "$work/path/gcc" "$work/path/clang" "$work/path/make" && PATH="$work/path:$PATH" made_anew CFLAGS=-O3
}
try "folders on the PATH that are called like the tools" on_path

refused() { ! make -s BUILD="$1" clean && [ -e "$2" ]; }
touch "$work/keep"
mkdir "$work/other" "$work/home"
echo "no stamp of a build" >"$work/other/flags"
cp "$one/flags" "$work/flags"
for folder in / . .. ./tests "$work/other" "$one/interp" ""; do
  try "clean refuses '$folder'" refused "$folder" Makefile
done
cp "$one/flags" "$work/home/flags"
home() { HOME=$work/home refused "$work/home" "$work/home/flags"; }
try "clean refuses the home folder" home
above() { # a folder in which the project itself stands
  mkdir -p "$work/above/project" && cp "$one/flags" "$work/above/flags" && cp Makefile "$work/above/project" &&
    ! make -s -C "$work/above/project" BUILD=.. clean && [ -f "$work/above/project/Makefile" ]
}
try "clean refuses a folder that the project stands in" above
cleaned() { make -s BUILD="$one" clean && [ ! -e "$one" ] && make -s BUILD="$one" clean; }
try "clean removes a build folder, and is content with none" cleaned
try "clean removes nothing else" test -f "$work/keep" -a -f Makefile


# ---- set-up, on machines that lack something -----------------------------------------------------------------------

# A PATH of links, and a system of packages that is played: `machine NAME LACKS ...` makes one.
machine() {
  at=$work/$1
  shift
  mkdir -p "$at"
  for tool in sh env cat grep sed tail mktemp rm touch ls ln make gcc pkg-config re2c clang lua5.4 patch parallel \
    qpdf mutool; do
    case " $* " in *" $tool "*) ;; *) ln -s "$(command -v $tool)" "$at/$tool" ;; esac
  done
  played id "${who:-0}"
  printf '#!/bin/sh\nexit 1\n' >"$at/dpkg-query"
  printf '#!/bin/sh\nexit 1\n' >"$at/apt-cache"
  chmod +x "$at/dpkg-query" "$at/apt-cache"
}
played() { printf '#!/bin/sh\n%s\n' "echo $2" >"$at/$1" && chmod +x "$at/$1"; }
# shellcheck disable=SC2016
apt_get() { printf '#!/bin/sh\necho "noise of apt-get $1"; [ "$1" = update ] && exit\n%s\n' "$1" >"$at/apt-get" &&
  chmod +x "$at/apt-get"; }
set_up() { # status, lines wanted on both channels, arguments
  status=$1 want=$2
  shift 2
  (PATH=$at PYTHON=$at/python3 && export PATH PYTHON && sh tests/setup.sh "$@") >"$work/said" 2>&1
  got=$?
  printf '%s' "$want" | diff - "$work/said" && [ "$got" -eq "$status" ] || { echo "exit $got"; return 1; }
}
re2c='re2c: turns the scanner into C; '
machine whole
try "set-up with nothing missing says nothing" set_up 0 ""
who=1000 machine user re2c pkg-config
apt_get "exit 1"
try "set-up without root and sudo names what is missing for what" set_up 2 "pkg-config: finds the libraries; \
apt install pkg-config
${re2c}apt install re2c
liblua5.4-dev: the engine that scripts run in; apt install liblua5.4-dev
libsqlite3-dev: what the rows of sweeps are kept in; apt install libsqlite3-dev
libseccomp-dev: the filter of system calls for scripts of strangers; apt install libseccomp-dev
liblapack-dev: the equations of frames and beams; apt install liblapack-dev
libblas-dev: what those are worked with; apt install libblas-dev
libcairo2-dev: drawings as PDF and PNG; apt install libcairo2-dev
libfreetype-dev: the letters of those; apt install libfreetype-dev
"
who=1000 machine tester clang parallel
apt_get "exit 1"
try "building needs nothing that only tests need" set_up 0 ""
try "testing names what it needs besides" set_up 2 "clang: builds everything once more, and the fuzz targets; \
apt install clang
libclang-rt-14-dev: clang's sanitizers; apt install libclang-rt-14-dev
parallel: starts the shards of a sweep; apt install parallel
" check
try "readers that are not ours are named where they cannot be had" set_up 2 \
  "python3: runs what asks the readers; apt install python3
python3-ezdxf: audits DXF; apt install python3-ezdxf
gdal-bin: reads DXF; apt install gdal-bin
chromium: shows reports as HTML, and SVG; apt install chromium
" readers
machine other re2c
try "set-up of another system" set_up 2 "${re2c}install what your system calls re2c
"
machine root re2c
apt_get "ln -s $(command -v re2c) '$at/re2c'"
try "set-up installs what is missing and hides the noise" set_up 0 "installing re2c
"
machine offline re2c
apt_get "echo no such host >&2; exit 100"
try "set-up shows the noise where installing fails" set_up 2 "installing re2c
noise of apt-get update
noise of apt-get install
no such host
${re2c}apt install re2c
"
machine liar re2c
apt_get "exit 0"
try "set-up looks whether what was installed is there" set_up 2 "installing re2c
${re2c}apt install re2c
"
who=1000 machine sudoer re2c
apt_get "ln -s $(command -v re2c) '$at/re2c'"
printf '#!/bin/sh\n"$@"\n' >"$at/sudo"
chmod +x "$at/sudo"
try "set-up by sudo" set_up 0 "installing re2c
"
demo() { # few lines: what it does, the verdict, what to type
  make -s BUILD="$built" demo >"$work/said" 2>&1 && head -n 1 "$work/said" | grep -q '^building ' &&
    grep -q ' rules hold' "$work/said" && ! grep -q ' compile ' "$work/said" &&
    tail -n 1 "$work/said" | grep -q '^Next, type: ' && sh -c "$(sed -n '$s/^Next, type: //p' "$work/said")"
}
try "the demo ends with the verdict and what to type" demo

tried make
