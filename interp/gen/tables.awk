# SPDX-License-Identifier: MIT
# Turns the tables of interp/data into C that declares itself: structs, rows in SI, and what each column is.
#   LC_ALL=C awk -v to=FOLDER -f csv.awk -f tables.awk units.csv editions.csv citations.csv OTHERS.csv ...
# writes FOLDER/tables.h and FOLDER/tables.c.
#
# '#' lines are comments. A line "=NAME:PATTERN" composes a text out of the row's cells: =name:{size} AWG {material}
# The first other line heads the columns as NAME:TYPE or NAME:TYPE UNIT. Types:
#   text               may be blank
#   int, real          blank is refused; int? and real? become -1 and NAN
#   real UNIT          a number in that unit ("in2", "psf/ft", "degC"), or in the unit of the row's column UNIT
#   unit               the unit that such a column names
#   known              NAME is an edition of editions.csv; the cell says how the row was come by in it: READ there,
#                      TAKEN over from another edition, READ-2ND, DERIVED, PRACTICE, MEMORY; blank: it does not
#                      stand there
#   basis              the same for a table that belongs to no code
#   cite               where it stands: a key of citations.csv, from which the citation of an edition is composed
#   source             who was read; a row without one is refused
#   note               for the reader of the table only
function die(message) { printf "%s:%d: %s\n", FILENAME, FNR, message > "/dev/stderr"; failed = 1; exit 1 }
function cells_of(line, out,    n) {
  n = split_csv(line, out)
  if (n < 0) die("a quote is not closed")
  return n
}
function c_string(s) { gsub(/\\/, "\\\\", s); gsub(/"/, "\\\"", s); return "\"" s "\"" }
function is_number(v) { return v ~ /^-?[0-9]*\.?[0-9]+([eE][-+]?[0-9]+)?$/ }
function id_of(edition) { gsub(/[^A-Za-z0-9]/, "_", edition); return "SL_IN_" toupper(edition) }

# "psf/ft" as a C expression of the exact factors of units.csv; `offset` is set for a temperature.
function factor_of(unit,    parts, n, i, c, atom, sign, power, expr, j) {
  offset = ""
  if (unit in factors) { offset = offsets[unit]; return factors[unit] }
  n = 0; atom = ""; sign = "*"; expr = ""
  for (i = 1; i <= length(unit) + 1; i++) {
    c = substr(unit, i, 1)
    if (c == "/" || c == "." || c == "") {
      power = 1
      if (atom != "1" && !(atom in factors) && match(atom, /[0-9]$/)) {
        power = substr(atom, RSTART); atom = substr(atom, 1, RSTART - 1)
      }
      if (atom == "1") atom = ""
      else if (!(atom in factors)) die("unit '" unit "' is made of '" atom "', which is not in units.csv")
      for (j = 1; j <= power && atom != ""; j++) {
        if (expr == "" && sign == "/") expr = "1.0"
        expr = expr (expr == "" ? "" : sign) factors[atom]
      }
      sign = c == "/" ? "/" : "*"; atom = ""
    } else atom = atom c
  }
  return expr == "" ? "1" : expr
}
function in_si(v, unit,    f) {
  if (unit == "") return v
  f = factor_of(unit)
  if (offset != "") return "(" v " + " offset ")" (f == 1 ? "" : " * " f)
  return f == 1 ? v : v " * (" f ")"
}
function composed(pattern,    out, at, key) {
  out = ""
  while (match(pattern, /\{[a-z_0-9]+\}/)) {
    key = substr(pattern, RSTART + 1, RLENGTH - 2)
    if (!(key in col)) die("the pattern names the column '" key "', which is not there")
    out = out substr(pattern, 1, RSTART - 1) cell[col[key]]
    pattern = substr(pattern, RSTART + RLENGTH)
  }
  return out pattern
}
BEGIN {
  known["READ"] = "SL_READ"; known["TAKEN"] = "SL_TAKEN_OVER"; known["READ-2ND"] = "SL_SECOND_HAND"
  known["DERIVED"] = "SL_DERIVED"; known["PRACTICE"] = "SL_PRACTICE"; known["MEMORY"] = "SL_MEMORY"
  h = to "/tables.h.new"; c = to "/tables.c"
  printf "" > h; printf "" > c
  note = "/* Made of interp/data by interp/gen/tables.awk. */"
  print note "\n#ifndef SL_TABLES_H\n#define SL_TABLES_H" > h
  print note "\n#include <math.h>\n#include <stddef.h>\n#include \"table.h\"\n" > c
}
function begin_table() {
  end_table()
  table = FILENAME; sub(/.*\//, "", table); sub(/\.csv$/, "", table)
  headed = rows = patterns = 0
  delete col
  mode = table == "units" || table == "editions" || table == "citations" ? table : "table"
  fresh = mode != "table"
}
function end_table(    i) {
  if (table == "" || failed) return
  if (!headed) die("no heading")
  if (mode == "editions") {
    print "enum sl_in_edition { SL_NO_EDITION, " edition_ids " SL_EDITIONS };" > h
    print "struct sl_citation { const char *key, *says, *in[SL_EDITIONS]; };" > h
    print "extern const struct sl_citation sl_citations[];" > h
    print "const struct sl_edition_row sl_edition_rows[] = {\n  { 0 },\n" edition_rows "  { 0 },\n};" > c
    print "const struct sl_code_row sl_code_rows[] = {" > c
    for (i = 1; i <= codes; i++) {
      print "  { " c_string(code_at[i]) ", " c_string("is no edition of " code_at[i] " that is kept here; there " \
            (code_list[code_at[i]] ~ /,/ ? "are " : "is ") code_list[code_at[i]]) " }," > c
    }
    print "  { 0 },\n};" > c
  }
  if (mode == "citations") {
    print "const struct sl_citation sl_citations[] = {" > c
    for (i = 1; i <= keys; i++) print "  { \"" key_at[i] "\", " c_string(says_of[key_at[i]]) ", { " \
                                 cite_rows[key_at[i]] " } }," > c
    print "  { 0 },\n};" > c
    print "enum { SL_CITATIONS = " keys " };\nextern const unsigned short sl_citations_by_key[];" > h
    for (i = 1; i <= keys; i++) {
      for (at = i - 1; at > 0 && key_at[by_key[at]] > key_at[i]; at--) by_key[at + 1] = by_key[at]
      by_key[at + 1] = i
    }
    print "const unsigned short sl_citations_by_key[] = {" > c
    for (i = 1; i <= keys; i++) print "  " by_key[i] - 1 "," > c
    print "};" > c
  }
  if (mode == "table" && fresh) {
    print "};" > c
    print "static const struct sl_column columns_" table "[] = {\n" column_rows "  { 0 },\n};" > c
    print "enum { SL_ROWS_OF_" table " = " rows " };" > h
    for (i = 1; i <= columns; i++) if (type[i] == "text" && width[i] > 0) {
      print "enum { SL_WIDTH_" table "_" name[i] " = " width[i] " };" > h
    }
    table_list = table_list "  { \"" table "\", columns_" table ", sl_table_" table ", " rows \
                 ", sizeof *sl_table_" table ", offsetof(struct " struct ", known) },\n"
    if (facts) fact_list = fact_list "  { sl_table_" table ", " rows " },\n"
  }
}
function member(type, name, kind, unit) {
  fields = fields "  " type name ";\n"
  column_rows = column_rows "  { \"" name "\", SL_COLUMN_" kind ", offsetof(struct " struct ", " name "), " \
                (unit == "" ? "NULL" : c_string(unit)) " },\n"
}
function head_table(    i, t) {
  sourced = based = editions = unit_col = 0
  for (i = 1; i <= columns; i++) {
    if (type[i] == "source") sourced = i
    if (type[i] == "basis") based = i
    if (type[i] != "known") continue
    editions++
    if (!(name[i] in edition_id)) die("'" name[i] "' is no edition of editions.csv")
  }
  if (!sourced || (!based && !editions) || (based && editions)) {
    die("a table needs a column of type source, and either one of type basis or some of type known")
  }
  facts = table ~ /_facts$/
  struct = facts ? "sl_fact" : "sl_table_" table
  fields = column_rows = ""
  delete width
  for (i = 1; i <= columns; i++) {
    t = type[i]
    if (t == "text" || t == "cite" || t == "unit") member("const char *", name[i], "TEXT", "")
    else if (t ~ /^int\??$/) member("int ", name[i], "INT", "")
    else if (t ~ /^real\??$/) member("double ", name[i], "REAL", unit_of[i] in col ? "" : unit_of[i])
    else if (t !~ /^(known|basis|source|note)$/) die("unknown column type '" t "'")
  }
  for (i = 1; i <= patterns; i++) member("const char *", pattern_name[i], "TEXT", "")
  if (facts) fact_table = fact_tables++
  if (facts && fields !~ /key;.*name;.*value;.*unit;.*cite;/) {
    die("a table of facts has the columns key, name, value, unit, cite in this order")
  }
  if (!facts || !fact_struct++) print "struct " struct " {\n" fields "  unsigned char known[SL_EDITIONS];\n};" > h
  print "extern const struct " struct " sl_table_" table "[];" > h
  print "const struct " struct " sl_table_" table "[] = {" > c
}
# All facts by their keys; like ones in the order of the tables.
function put_fact(key,    at) {
  for (at = fact_rows++; at > 0 && fact_key[at - 1] > key; at--) {
    fact_key[at] = fact_key[at - 1]; fact_at[at] = fact_at[at - 1]
  }
  fact_key[at] = key; fact_at[at] = "{ " fact_table ", " rows " }"
}
function put_row(    i, t, v, line, how, stands, unit) {
  if (cell[sourced] == "") die("no source: a value nobody can look up stays out")
  line = how = ""; stands = 0
  for (i = 1; i <= columns; i++) {
    t = type[i]; v = cell[i]
    if (t == "note" || t == "source") continue
    if (t == "known" || t == "basis") {
      if (v == "" && t == "known") continue
      if (!(v in known)) die("'" v "' is none of READ TAKEN READ-2ND DERIVED PRACTICE MEMORY")
      how = how "[" (t == "known" ? edition_id[name[i]] : "SL_NO_EDITION") "] = 1 + " known[v] ", "; stands++
      continue
    }
    if (t == "text") {
      if (length(v) + 1 > width[i]) width[i] = length(v) + 1
      v = c_string(v)
    } else if (t == "unit") v = c_string(v)
    else if (t == "cite") {
      if (!(v in cite_rows)) die("'" v "' is no key of citations.csv")
      v = c_string("@" v)
    } else if (t ~ /^int/) {
      if (v == "" && t == "int?") v = "-1"
      else if (v !~ /^-?[0-9]+$/) die(name[i] " wants a whole number, got '" v "'")
    } else if (v == "" && t == "real?") v = "NAN"
    else {
      if (!is_number(v)) die(name[i] " wants a number, got '" v "'")
      unit = unit_of[i]
      if (unit in col) unit = cell[col[unit]]
      v = in_si(v, unit)
    }
    line = line "." name[i] " = " v ", "
  }
  for (i = 1; i <= patterns; i++) line = line "." pattern_name[i] " = " c_string(composed(pattern[i])) ", "
  if (!stands) die("the row stands in no edition")
  print "  { " line ".known = { " how "} }," > c
  if (facts) put_fact(cell[col["key"]])
  rows++
}
function put_edition(    id, code) {
  id = id_of(cell[col["edition"]]); code = cell[col["code"]]
  if (cell[sourced] == "") die("no source: who has read that edition?")
  if (!(code in code_list)) code_at[++codes] = code
  code_list[code] = code_list[code] (code in code_editions ? ", " : "") cell[col["edition"]]
  edition_id[cell[col["edition"]]] = id
  edition_ids = edition_ids id ", "
  edition_rows = edition_rows "  { " c_string(cell[col["edition"]]) ", " c_string(cell[col["family"]]) ", " \
                 c_string(cell[col["code"]]) " },\n"
  code_editions[code] = code_editions[code] " " substr(cell[col["edition"]], length(code) + 2)
}
function put_citation(    k, code, list, n, i, year, e, words) {
  k = cell[col["key"]]; code = cell[col["code"]]; year = cell[col["editions"]]; words = cell[col["section"]]
  if (!(code in code_editions)) die("no edition of '" code "' stands in editions.csv")
  if (cell[sourced] == "") die("no source: a section nobody can look up stays out")
  if (cell[col["says"]] == "") die("nobody says what stands there")
  if (!(k in cite_rows)) { key_at[++keys] = k; cite_rows[k] = ""; says_of[k] = cell[col["says"]] }
  else if (says_of[k] != cell[col["says"]]) die("'" k "' says something else before")
  n = split(year == "" ? code_editions[code] : year, list, " ")
  for (i = 1; i <= n; i++) {
    e = code " " list[i]
    if (!(e in edition_id)) die("'" e "' is no edition of editions.csv")
    if ((k, e) in cited) die("'" k "' stands twice for " e)
    cited[k, e] = 1
    cite_rows[k] = cite_rows[k] "[" edition_id[e] "] = " c_string(e " " words) ", "
  }
}
FNR == 1 { begin_table() }
{ sub(/\r$/, "") }
/^#/ || /^[ \t]*$/ { next }
/^=/ && !headed {
  at = index($0, ":")
  pattern_name[++patterns] = substr($0, 2, at - 2); pattern[patterns] = substr($0, at + 1)
  next
}
!headed {
  headed = 1
  columns = cells_of($0, head)
  sourced = 0
  for (i = 1; i <= columns; i++) {
    at = index(head[i], ":")
    if (!at) die("column '" head[i] "' needs a type, as in area:real in2")
    name[i] = substr(head[i], 1, at - 1); type[i] = substr(head[i], at + 1); unit_of[i] = ""
    if ((at = index(type[i], " "))) { unit_of[i] = substr(type[i], at + 1); type[i] = substr(type[i], 1, at - 1) }
    col[name[i]] = i
    if (type[i] == "source") { sourced = i; fresh = 1 }
  }
  if (mode == "table" && fresh) head_table()
  next
}
mode == "table" && !fresh { next }
{
  if (cells_of($0, cell) != columns) die("has another number of columns than the heading")
  if (mode == "units") {
    if (cell[col["factor"]] != "") {
      factors[cell[col["symbol"]]] = cell[col["factor"]]; offsets[cell[col["symbol"]]] = cell[col["offset"]]
    }
  } else if (mode == "editions") put_edition()
  else if (mode == "citations") put_citation()
  else put_row()
}
END {
  if (failed) exit 1
  end_table()
  print "const struct sl_table sl_tables[] = {\n" table_list "  { 0 },\n};" > c
  if (!fact_struct) {
    print "struct sl_fact { const char *key, *name, *unit, *cite; double value;"  > h
    print "  unsigned char known[SL_EDITIONS]; };" > h
  }
  print "const struct sl_fact_list sl_fact_lists[] = {\n" fact_list "  { 0 },\n};" > c
  print "enum { SL_FACTS = " fact_rows + 0 " };" > h
  print "const struct sl_fact_place sl_facts_by_key[] = {" > c
  for (i = 0; i < fact_rows; i++) print "  " fact_at[i] "," > c
  print "  { 0, 0 },\n};" > c
  print "#endif" > h
}
