# SPDX-License-Identifier: MIT
# Splits a line of a table into its cells, out[1] to out[n]; returns n, or -1 where a quote is not closed.
function split_csv(line, out,    n, i, c, field, quoted) {
  n = 0; field = ""; quoted = 0
  for (i = 1; i <= length(line); i++) {
    c = substr(line, i, 1)
    if (quoted) {
      if (c == "\"" && substr(line, i + 1, 1) == "\"") { field = field c; i++ }
      else if (c == "\"") quoted = 0
      else field = field c
    } else if (c == "\"" && field == "") quoted = 1
    else if (c == ",") { out[++n] = field; field = "" }
    else field = field c
  }
  out[++n] = field
  return quoted ? -1 : n
}
