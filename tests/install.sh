#!/bin/sh
# SPDX-License-Identifier: MIT
# Installs into a folder of its own, with blanks in its name, and uses only what is there: the command, each header
# alone, a client in C, documents.  What is uninstalled leaves all as it was.
cd "$(dirname "$0")/.." || exit 1
. tests/try.sh
build=${BUILD:-build}
to="$work/to this"
mkdir "$to" || exit 3
prefix="/opt/string line"
strict="-std=c11 -Wall -Wextra -Wpedantic -Wconversion -Werror"
at=$to$prefix

runs_alone() { (cd / && "$at/bin/stringline" --version | grep -q '^stringline [0-9]'); }
header_alone() { # cc, header: a text of nothing else compiles
  printf '#include <stringline/%s>\nextern int nothing;\n' "$2" >"$to/alone.c"
  eval "$1 $strict $(flags --cflags) -c '$to/alone.c' -o '$to/alone.o'"
}
headers_together() { # cc: no name stands for two things
  (cd "$at/include" && for header in stringline/*.h; do echo "#include <$header>"; done) >"$to/together.c"
  echo "extern int nothing;" >>"$to/together.c"
  eval "$1 $strict $(flags_of stringline-host --cflags) -c '$to/together.c' -o '$to/together.o'"
}
flags() { flags_of stringline "$@"; }
flags_of() { # package, options
  package=$1
  shift
  PKG_CONFIG_SYSROOT_DIR=$to PKG_CONFIG_LIBDIR=$at/lib/pkgconfig pkg-config "$@" "$package"
}
client_host() { # cc: runs a script, in an empty folder of its own
  eval "$1 $strict $(flags_of stringline-host --cflags) tests/client/client_host.c" \
    "$(flags_of stringline-host --libs) -o '$to/client_host'" && mkdir -p "$to/empty" &&
    said=$(cd "$to/empty" && "$to/client_host" "$OLDPWD/examples" .) &&
    { [ -z "$said" ] || { echo "$said"; return 1; }; }
}
client() { # cc
  eval "$1 $strict $(flags --cflags) tests/client/client.c $(flags --libs) -o '$to/client'" && "$to/client"
}
nothing_else() { # only what install is to write
  (cd "$at" && find . -type f | sed 's|^\./||' | LC_ALL=C sort) >"$to/files"
  { echo bin/stringline
    echo libexec/stringline/stringline-paper.so
    echo libexec/stringline/DejaVuSansCondensed.ttf
    echo share/doc/stringline/DejaVu-LICENSE
    for h in include/stringline/*.h include/stringline/*.def; do echo "$h"; done
    echo lib/libstringline.a
    echo lib/libstringline_host.a
    echo lib/pkgconfig/stringline.pc
    echo lib/pkgconfig/stringline-host.pc
    for page in README.md DEVELOPERS.md LICENSE docs/*.md docs/*.svg $(find examples -type f ! -path '*/out/*'); do
      [ ! -e "$page" ] || echo "share/doc/stringline/$page"
    done
    echo share/man/man1/stringline.1
    echo share/bash-completion/completions/stringline
    echo share/zsh/site-functions/_stringline
    echo share/fish/vendor_completions.d/stringline.fish; } | LC_ALL=C sort | diff - "$to/files"
}
doc=share/doc/stringline
links() { # what a document points to is there
  for page in README.md docs/tour.md; do
    grep -oE '\]\([^)#]+' "$at/$doc/$page" | sed 's/^](//' | grep -v '^http' | while read -r link; do
      [ -e "$(dirname "$at/$doc/$page")/$link" ] || { echo "$page: $link"; exit 1; }
    done || return 1
  done
}
example() { (cd "$at/$doc/examples/egg-farm" && "$at/bin/stringline" check job.sline | grep -q 'rules hold'); }
drawing() { # by the module that was installed, with its font
  (cd "$at/$doc/examples/egg-farm" && "$at/bin/stringline" draw job.sline side -o "$to/side.pdf") &&
    head -c 5 "$to/side.pdf" | grep -q '%PDF-'
}
man_page() { grep -q '^\.TH ' "$at/share/man/man1/stringline.1"; }
no_trace() { ! grep -q "$to" "$at"/lib/pkgconfig/*.pc; }      # DESTDIR is not where it will stand

try "make install" make -s BUILD="$build" DESTDIR="$to" PREFIX="$prefix" install
try "what is installed" nothing_else
try "the command away from its sources" runs_alone
try "documents point to what is there" links
try "an installed example" example
try "a drawing as PDF" drawing
try "the manual page" man_page
try "the pkg-config file" test "$(flags --modversion)" = "$("$at/bin/stringline" --version | sed 's/^stringline //')"
try "a pkg-config file without DESTDIR" no_trace
for cc in gcc clang; do
  for header in "$at"/include/stringline/*.h; do
    try "$cc, $(basename "$header") alone" header_alone $cc "$(basename "$header")"
  done
  try "$cc, all headers together" headers_together $cc
  try "a client built with $cc" client $cc
  try "a client that runs a script, built with $cc" client_host $cc
done

# ---- uninstalled ---------------------------------------------------------------------------------------------------

tree() { (cd "$1" && find . -printf '%y %m %p\n' | LC_ALL=C sort); }
leaves_all() { # of a system where others have installed
  there="$work/a system"
  mkdir -p "$there$prefix/bin" "$there$prefix/libexec" "$there$prefix/lib/pkgconfig" "$there$prefix/share/man/man1" \
    "$there$prefix/share/bash-completion/completions" "$there$prefix/share/zsh/site-functions" \
    "$there$prefix/share/fish/vendor_completions.d" "$there$prefix/share/doc/stringline-of-others" \
    "$there$prefix/include" && touch "$there$prefix/bin/another" "$there$prefix/share/man/man1/another.1" &&
    tree "$there" >"$work/before" && make -s BUILD="$build" DESTDIR="$there" PREFIX="$prefix" install &&
    ! tree "$there" | cmp -s - "$work/before" &&
    make -s BUILD="$build" DESTDIR="$there" PREFIX="$prefix" uninstall && tree "$there" | diff "$work/before" -
}
leaves_others() { # what others put into its folders stays, and an empty folder of theirs
  mkdir "$at/$doc/notes" && touch "$at/$doc/docs/of-mine" "$at/include/stringline/mine.h" &&
    make -s BUILD="$build" DESTDIR="$to" PREFIX="$prefix" uninstall &&
    [ "$(cd "$at" && find . -type f | LC_ALL=C sort | tr '\n' ' ')" = \
      "./include/stringline/mine.h ./$doc/docs/of-mine " ] && [ -d "$at/$doc/notes" ] && [ ! -e "$at/$doc/examples" ]
}
try "uninstall leaves all as it was" leaves_all
try "uninstall leaves what others put there" leaves_others
try "uninstall where nothing is" make -s BUILD="$build" DESTDIR="$work/nowhere" PREFIX="$prefix" uninstall
tried install
