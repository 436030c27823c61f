# SPDX-License-Identifier: MIT
# Turns a table of interp/data into ROW(...) lines for C; run with -f csv.awk before it.
#   '#' lines are comments; the first other line heads the columns as name:type; types are
#   int, real, text, basis (READ READ-2ND DERIVED PRACTICE MEMORY) and note (kept out of the C).
# A row without a source (column `source`) or a basis is refused: that is what the tables are for.
# A blank int or real becomes -1 or NAN only where its column is declared int? or real?.
function die(message) { printf "%s:%d: %s\n", FILENAME, FNR, message > "/dev/stderr"; failed = 1; exit 1 }
function cells_of(line, out,    n) {
  n = split_csv(line, out)
  if (n < 0) die("a quote is not closed")
  return n
}
function c_string(s) { gsub(/\\/, "\\\\", s); gsub(/"/, "\\\"", s); return "\"" s "\"" }
BEGIN {
  basis["READ"] = "SL_READ"; basis["READ-2ND"] = "SL_SECOND_HAND"; basis["DERIVED"] = "SL_DERIVED"
  basis["PRACTICE"] = "SL_PRACTICE"; basis["MEMORY"] = "SL_MEMORY"
}
{ sub(/\r$/, "") }
/^#/ || /^[ \t]*$/ { next }
!headed && (/^=/ || /:source(,|$)/) { headed = 1; exit }      # tables.awk reads it
!headed {
  headed = 1
  columns = cells_of($0, head)

  for (i = 1; i <= columns; i++) {
    if (split(head[i], part, ":") != 2) die("column '" head[i] "' needs a type, as in area:real")
    name[i] = part[1]; type[i] = part[2]
    if (name[i] == "source") source = i
    if (type[i] == "basis") based = i
  }
  if (!source || !based) die("a table needs the columns source:text and basis:basis")
  next
}
{
  if (cells_of($0, cell) != columns) die("has another number of columns than the heading")
  if (cell[source] == "") die("no source: a value nobody can look up stays out")
  line = ""
  for (i = 1; i <= columns; i++) {
    v = cell[i]
    if (type[i] == "note") continue
    if (type[i] == "int" || (type[i] == "int?" && v != "")) {
      if (v !~ /^-?[0-9]+$/) die(name[i] " wants a whole number, got '" v "'")
    } else if (type[i] == "int?") v = "-1"
    else if (type[i] == "real" || (type[i] == "real?" && v != "")) {
      if (v !~ /^-?[0-9]*\.?[0-9]+([eE][-+]?[0-9]+)?$/) die(name[i] " wants a number, got '" v "'")
    } else if (type[i] == "real?") v = "NAN"
    else if (type[i] == "basis") {
      if (!(v in basis)) die("basis '" v "' is none of READ READ-2ND DERIVED PRACTICE MEMORY")
      v = basis[v]
    } else if (type[i] == "text") v = c_string(v)
    else die("unknown column type " type[i])
    line = line (line == "" ? "" : ", ") v
  }
  print "ROW(" line ")"
}
END { if (!failed && !headed) die("no heading") }
