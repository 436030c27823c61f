#!/bin/sh
# SPDX-License-Identifier: MIT
# tests/hardening.sh BUILD COMPILER: what makes a fault harder to exploit, read off the command and the archives that
# were built.  What the compiler does not have is not asked for; the flags that it has stand in BUILD/hardening.
if [ $# -ne 2 ] || [ ! -x "$1/stringline" ]; then
  echo 'usage: tests/hardening.sh BUILD COMPILER, from the top folder of the project' >&2
  exit 2
fi
. tests/try.sh
build=$1 compiler=$2
command=$build/stringline
objects=$(sed -n 's/^compile//p' "$build/hardening")
programs=$(sed -n 's/^link//p' "$build/hardening")

readelf -hW "$command" >"$work/head"
readelf -lW "$command" >"$work/segments"
readelf -dW "$command" >"$work/dynamic"
objdump -d --disassemble=main "$command" >"$work/main"         # others' archives may have what ours lack
flag() { case " $objects $programs " in *" $1 "*) ;; *) return 1 ;; esac; }
says() { grep -q -e "$1" "$work/$2" || { cat "$work/$2"; return 1; }; }
says_not() { ! grep -e "$1" "$work/$2"; }

# ---- the flags -----------------------------------------------------------------------------------------------------

# Asked here by themselves: what the compiler takes must be among those that the build found.
printf '#include <string.h>\nint main(void) { return (int)strlen(""); }\n' >"$work/one.c"
found() { # FLAG: if the compiler has it
  ! "$compiler" -O2 -Werror "$1" "$work/one.c" -o "$work/one" 2>/dev/null || flag "$1"
}
for one in -fstack-protector-strong -fstack-clash-protection -fcf-protection=full -mbranch-protection=standard -fPIE \
  -pie -Wl,-z,relro -Wl,-z,now -Wl,-z,noexecstack; do
  try "$one" found "$one"
done
recorded() { grep -qF -e "$objects" "$build/flags" && grep -qF -e "$programs" "$build/flags"; }
try "they are the flags of the build" recorded

# ---- the command ---------------------------------------------------------------------------------------------------

try "it stands anywhere" says 'Type: *DYN ' head
try "as a program" says 'FLAGS_1.*PIE' dynamic
try "its tables are read-only" says '^ *GNU_RELRO ' segments
try "all of them, from the start" says '(FLAGS).*BIND_NOW\|(FLAGS_1).*NOW' dynamic
try "its stack does not run" says '^ *GNU_STACK .* RW ' segments
try "nothing is written to and runs" says_not ' RWE ' segments
try "its code is not changed when it is loaded" says_not 'TEXTREL' dynamic
# Lua, SQLite and the filter of system calls are in it: a run waits for none of them, and finds no other one.
alone() {
  grep '(NEEDED)' "$work/dynamic" | grep -v -e '\[lib\(c\|m\|dl\)\.so\|\[ld-linux' >"$work/others"
  ! grep . "$work/others"
}
try "it needs the C library alone" alone
try "it takes libraries from where the system has them" says_not 'RPATH\|RUNPATH' dynamic
guarded_command() { ! flag -fstack-protector-strong || says '__stack_chk_fail' main; }
marked_command() { ! flag -fcf-protection=full || says 'endbr64' main; }
try "guards around the stack" guarded_command
try "guarded jumps" marked_command

# The module for PDF and PNG shows one function; where it is linked of archives, it opens no library of a screen's.
readelf -dW "$build/stringline-paper.so" >"$work/module"
nm -D --defined-only "$build/stringline-paper.so" >"$work/shown"
one_function() { [ "$(wc -l <"$work/shown")" -eq 1 ] && says ' T sl_paper_write$' shown; }
no_screen() { # `archived` is empty where the linker took them
  [ ! -f "$build/archived" ] || [ -s "$build/archived" ] || says_not 'NEEDED.*lib\(cairo\|X\|xcb\)' module
}
try "the module shows one function" one_function
try "its tables are read-only, all of them from the start" says '(FLAGS).*BIND_NOW\|(FLAGS_1).*NOW' module
try "it opens no library of a screen's" no_screen
# ---- what it is made of --------------------------------------------------------------------------------------------

# Of all objects of ours: those that the command is linked of, and the archives that others link.
archives() { for a in stringline stringline_host stringline_sweep stringline_confine; do echo "$build/lib$a.a"; done; }
marked() { # each object says that its jumps are guarded; the command does not, since the C library's start code may not
  flag -fcf-protection=full || return 0
  for archive in $(archives); do
    readelf -nW "$archive" | awk -v archive="$archive" '
      /^File: / { if (name != "" && !good) { print name; bad = 1 } name = $2; good = 0 }
      /x86 feature: .*IBT.*SHSTK/ { good = 1 }
      END { if (name == "" || !good) { print name; bad = 1 } exit bad }' || return 1
  done
}
guarded() { # each archive
  for archive in $(archives); do
    nm "$archive" 2>/dev/null | grep -q ' U __stack_chk_fail' || { echo "$archive"; return 1; }
  done
}
checked() { # copies and formats
  if flag -D_FORTIFY_SOURCE=3 || flag -D_FORTIFY_SOURCE=2; then
    nm "$build/libstringline_host.a" 2>/dev/null >"$work/wanted"
    says ' U __v\?snprintf_chk' wanted && says ' U __mem[a-z]*_chk' wanted
  fi
}
movable() { # no object has addresses in its code that are known only where it stands
  for archive in $(archives); do
    readelf -rW "$archive" | awk -v archive="$archive" '
      /^Relocation section/ { code = /\.rela\.text/ }
      code && /R_X86_64_(32S?|64) / { print archive ": " $0; bad = 1 }
      END { exit bad }' || return 1
  done
}
try "jumps are guarded" marked
try "archives have guards around the stack" guarded
try "archives have checked copies and formats" checked
try "archives can be linked into a program that stands anywhere" movable

# A frame of many pages touches each of them, so that it cannot step over the page that ends the stack.
printf 'void fill(char *);\nvoid frame(void);\nvoid frame(void) { char room[100000]; fill(room); }\n' >"$work/frame.c"
touches() { # FLAGS ...
  "$compiler" -O2 "$@" -c "$work/frame.c" -o "$work/frame.o" && objdump -d "$work/frame.o" >"$work/code" &&
    grep -q 'sub *\$0x1000,%rsp\|sub.*#0x1.*lsl #12' "$work/code"
}
steps() {
  flag -fstack-clash-protection || return 0
  # shellcheck disable=SC2086
  touches $objects && ! touches -fno-stack-clash-protection
}
try "a large frame is taken page by page" steps
tried hardening
