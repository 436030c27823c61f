#!/bin/sh
# SPDX-License-Identifier: MIT
# Installs into a folder of its own and uses only what is there: the command, each header alone, a client in C.
cd "$(dirname "$0")/.." || exit 1
. tests/try.sh
build=${BUILD:-build}
to=$work/to
mkdir "$to" || exit 3
prefix=/opt/stringline
strict="-std=c11 -Wall -Wextra -Wpedantic -Wconversion -Werror"
at=$to$prefix

runs_alone() { (cd / && "$at/bin/stringline" --version | grep -q '^stringline [0-9]'); }
header_alone() { # cc, header: a text of nothing else compiles
  printf '#include <stringline/%s>\nextern int nothing;\n' "$2" >"$to/alone.c"
  # shellcheck disable=SC2046,SC2086
  "$1" $strict $(flags --cflags) -c "$to/alone.c" -o "$to/alone.o"
}
flags() { flags_of stringline "$@"; }
flags_of() { # package, options
  package=$1
  shift
  PKG_CONFIG_SYSROOT_DIR=$to PKG_CONFIG_LIBDIR=$at/lib/pkgconfig pkg-config "$@" "$package"
}
client_host() { # cc: runs a script, in an empty folder of its own
  # shellcheck disable=SC2046,SC2086
  "$1" $strict $(flags_of stringline-host --cflags) tests/client/client_host.c $(flags_of stringline-host --libs) \
    -o "$to/client_host" && mkdir -p "$to/empty" && said=$(cd "$to/empty" && "$to/client_host" "$OLDPWD/examples" .) &&
    { [ -z "$said" ] || { echo "$said"; return 1; }; }
}
client() { # cc
  # shellcheck disable=SC2046,SC2086
  "$1" $strict $(flags --cflags) tests/client/client.c $(flags --libs) -o "$to/client" && "$to/client"
}
nothing_else() { # only what install is to write
  (cd "$at" && find . -type f | sed 's|^\./||' | LC_ALL=C sort) >"$to/files"
  { echo bin/stringline
    for h in include/stringline/*.h include/stringline/*.def; do echo "$h"; done
    echo lib/libstringline.a
    echo lib/libstringline_host.a
    echo lib/pkgconfig/stringline.pc
    echo lib/pkgconfig/stringline-host.pc
    echo share/man/man1/stringline.1
    echo share/bash-completion/completions/stringline
    echo share/zsh/site-functions/_stringline
    echo share/fish/vendor_completions.d/stringline.fish; } | LC_ALL=C sort | diff - "$to/files"
}
no_trace() { ! grep -q "$to" "$at"/lib/pkgconfig/*.pc; }      # DESTDIR is not where it will stand

try "make install" make -s BUILD="$build" DESTDIR="$to" PREFIX=$prefix install
try "what is installed" nothing_else
try "the command away from its sources" runs_alone
try "the pkg-config file" test "$(flags --modversion)" = "$("$at/bin/stringline" --version | sed 's/^stringline //')"
try "a pkg-config file without DESTDIR" no_trace
for cc in gcc clang; do
  for header in "$at"/include/stringline/*.h; do
    try "$cc, $(basename "$header") alone" header_alone $cc "$(basename "$header")"
  done
  try "a client built with $cc" client $cc
  try "a client that runs a script, built with $cc" client_host $cc
done
tried install
