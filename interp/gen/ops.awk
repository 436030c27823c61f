# SPDX-License-Identifier: MIT
# The lists of primitives that the files of interp/bind define, in the order that each says: SL_OPS(NAME, PLACE).
FNR == 1 { file = FILENAME; sub(/.*\//, "", file); sub(/\.c$/, "", file); files[++n] = file }
/^SL_OPS\(/ {
  split($0, part, /[(,) ]+/)
  if (part[2] != file) { print FILENAME ": SL_OPS names " part[2] ", the file is " file > "/dev/stderr"; exit bad = 1 }
  place[file] = part[3] + 0
}
END {
  if (bad) exit 1
  for (i = 1; i <= n; i++) {
    if (!(files[i] in place)) { print files[i] ".c has no SL_OPS(" files[i] ", PLACE)" > "/dev/stderr"; exit 1 }
    name = files[i]
    for (j = i - 1; j > 0 && place[files[j]] > place[name]; j--) files[j + 1] = files[j]
    files[j + 1] = name
  }
  print "/* Written by interp/gen/ops.awk. */\n#include \"bind/open.h\""
  for (i = 1; i <= n; i++) print "extern const struct sl_op sl_ops_" files[i] "[];"
  print "const struct sl_op *const sl_op_lists[] = {"
  for (i = 1; i <= n; i++) print "  sl_ops_" files[i] ","
  print "  0,\n};"
}
