#!/bin/sh
# SPDX-License-Identifier: MIT
# Installs what building needs and is not there, on Debian or Ubuntu; with `check` what testing needs besides, with
# `readers` what reads drawings and pages that is not ours.  Where it may not or cannot, it says which package is
# missing for what, a line each, and ends with 2.
set -eu
found() { command -v "$1" >/dev/null 2>&1; }
compiler=${CC:-gcc}
compiler=${compiler%% *}
headers() { # of C
  if found "$compiler"; then echo '#include <stdio.h>' | "$compiler" -E -x c - >/dev/null 2>&1
  else [ -e /usr/include/stdio.h ]; fi
}
library() { # name that pkg-config knows, package: its archive is there
  if found pkg-config; then [ -e "$(pkg-config --variable=libdir "$1" 2>/dev/null)/lib${1#lib}.a" ]
  else dpkg-query -W -f='${Status}' "$2" 2>/dev/null | grep -q 'install ok installed'; fi
}
solver() { # a part of the netlib: its own archive is there
  if found pkg-config; then [ -e "$(pkg-config --variable=libdir "$1-netlib" 2>/dev/null)/$1/lib$1.a" ]
  else dpkg-query -W -f='${Status}' "lib$1-dev" 2>/dev/null | grep -q 'install ok installed'; fi
}
shared() { # name that pkg-config knows, package: a module of ours is linked with it
  if found pkg-config; then pkg-config --exists "$1"
  else dpkg-query -W -f='${Status}' "$2" 2>/dev/null | grep -q 'install ok installed'; fi
}
sanitizers() { found clang && ls "$(clang -print-resource-dir)"/lib/*/libclang_rt.asan*.a >/dev/null 2>&1; }
# A package of no version where the release has one, else that of Debian 12's clang.
sanitizers_package() {
  if apt-cache show libclang-rt-dev >/dev/null 2>&1; then echo libclang-rt-dev; else echo libclang-rt-14-dev; fi
}

packages=""
missing=""                                           # a line each: package: what for
need() { # package, what for, a command that ends well where it is there
  package=$1 what=$2
  shift 2
  if "$@"; then return; fi
  packages="$packages $package"
  missing="$missing$package: $what
"
}
python=${PYTHON:-/usr/bin/python3}                   # the system's: one that comes first on the PATH may lack modules
module() { [ -x "$python" ] && "$python" -c "import $1" >/dev/null 2>&1; }
look() { # build|check|readers
  packages=""
  missing=""
  need gcc "compiles the program" found "$compiler"
  need libc6-dev "the headers of C" headers
  need make "builds it" found make
  need pkg-config "finds the libraries" found pkg-config
  need re2c "turns the scanner into C" found re2c
  need liblua5.4-dev "the engine that scripts run in" library lua5.4 liblua5.4-dev
  need libsqlite3-dev "what the rows of sweeps are kept in" library sqlite3 libsqlite3-dev
  need libseccomp-dev "the filter of system calls for scripts of strangers" library libseccomp libseccomp-dev
  need liblapack-dev "the equations of frames and beams" solver lapack
  need libblas-dev "what those are worked with" solver blas
  need libcairo2-dev "drawings as PDF and PNG" shared cairo-ft libcairo2-dev
  need libfreetype-dev "the letters of those" shared freetype2 libfreetype-dev
  if [ "$1" = readers ]; then
    need python3 "runs what asks the readers" [ -x "$python" ]
    need python3-ezdxf "audits DXF" module ezdxf
    need gdal-bin "reads DXF" found ogrinfo
    need chromium "shows reports as HTML, and SVG" found chromium
  fi
  [ "$1" = check ] || return 0
  [ "$compiler" = gcc ] || need gcc "builds what is tested" found gcc
  need clang "builds everything once more, and the fuzz targets" found clang
  need "$(sanitizers_package)" "clang's sanitizers" sanitizers
  need lua5.4 "runs the tests that are scripts" found lua5.4
  need libcmocka-dev "the test programs are linked with it" pkg-config --exists cmocka
  need patch "puts changes into the jobs of tests" found patch
  need parallel "starts the shards of a sweep" found parallel
  need qpdf "looks PDF drawings through" found qpdf
  need mupdf-tools "reads what is drawn in them" found mutool
}
stop() { # how to install one
  printf '%s' "$missing" | while IFS= read -r line; do echo "$line; $1 ${line%%:*}"; done >&2
  exit 2
}

for=${1:-build}
look "$for"
[ -n "$missing" ] || exit 0
found apt-get || stop "install what your system calls"
as_root=""
if [ "$(id -u)" != 0 ]; then
  found sudo || stop "apt install"
  as_root=sudo
fi

echo "installing$packages"
log=$(mktemp)
trap 'rm -f "$log"' EXIT
install() {
  $as_root apt-get update -qq || return
  look "$for"
  # shellcheck disable=SC2086
  $as_root env DEBIAN_FRONTEND=noninteractive apt-get install -y -qq --no-install-recommends $packages
}
install >"$log" 2>&1 || tail -n 20 "$log" >&2
look "$for"
[ -z "$missing" ] || stop "apt install"
