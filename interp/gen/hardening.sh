#!/bin/sh
# SPDX-License-Identifier: MIT
# interp/gen/hardening.sh FILE compile|link COMPILER FLAGS ...: prints the flags, for objects or for programs, that make
# a fault harder to exploit, as far as this compiler and its linker have them.  FILE keeps what was found, so that the
# compiler is asked once in a build folder.
set -eu
LC_ALL=C
export LC_ALL
file=$1 wanted=$2
shift 2
print() { sed -n "s/^$wanted//p" "$file"; }
if [ -f "$file" ] && [ "$(head -n 1 "$file")" = "for $*" ]; then print && exit; fi

work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
cat >"$work/one.c" <<'END'
#include <stdio.h>
#if defined _FORTIFY_SOURCE && _FORTIFY_SOURCE != __USE_FORTIFY_LEVEL
#error "not without optimisation, or not of this level"
#endif
int main(void) { return puts(""); }
END
objects=""
programs=""
choice=""
builds() { "$@" -Werror "$work/one.c" >/dev/null 2>&1; }
# Both try $choice with all that is kept, and keep it if it works: COMPILER FLAGS ...
# shellcheck disable=SC2086
object() { builds "$@" $objects "$choice" -c -o "$work/one.o" && objects="$objects $choice"; }
# shellcheck disable=SC2086
program() { builds "$@" $objects $programs "$choice" -o "$work/one" && programs="$programs $choice"; }

for choice in -fstack-protector-strong -fstack-clash-protection; do object "$@" || :; done
for choice in -fcf-protection=full -mbranch-protection=standard; do if object "$@"; then break; fi; done
case " $* " in
*_FORTIFY_SOURCE* | *-fsanitize*) ;;                 # the person's own; sanitizers look at the plain functions
*) for choice in -D_FORTIFY_SOURCE=3 -D_FORTIFY_SOURCE=2; do if object "$@"; then break; fi; done ;;
esac
case " $* " in
*" -static"* | *" -no-pie "* | *" -fno-pi"* | *" -fno-PI"*) ;;
*) choice=-fPIE
  object "$@" || :
  choice=-pie
  program "$@" || : ;;
esac
for choice in -Wl,-z,relro -Wl,-z,now -Wl,-z,noexecstack; do program "$@" || :; done

printf 'for %s\ncompile%s\nlink%s\n' "$*" "$objects" "$programs" >"$work/found"
mkdir -p "$(dirname "$file")"
cp "$work/found" "$file.$$" && mv "$file.$$" "$file"
print
