# SPDX-License-Identifier: MIT
# Writes docs/methods.md out of the tables and the calculations themselves:
#   LC_ALL=C awk -f interp/gen/csv.awk -f interp/gen/methods.awk interp/data/*.csv interp/calc/*.c interp/solve/*.c
# A table gives its comment, for each edition how its rows are known there, where they stand, and its sources. A
# calculation gives its first comment and every STEP: symbol, expression, citation.
function cell(s) { gsub(/\|/, "\\|", s); return s }
function base(path) { sub(/.*\//, "", path); return path }

# A list of different texts in the order in which they came.
function note(list, text) {
  if (text == "" || (list, text) in seen) return
  seen[list, text] = 1
  held[list, ++count[list]] = text
}
function joined(list, between,    i, s) {
  for (i = 1; i <= count[list]; i++) s = s (i > 1 ? between : "") held[list, i]
  return s
}

# How rows are known: "read 7, from memory 2".
function how_known(list,    i, words) {
  for (i = 1; i <= bases; i++) {
    if (based[list, i]) words = words (words == "" ? "" : ", ") basis_words[i] " " based[list, i]
  }
  return words
}
function end_table(    i) {
  if (!in_table) return
  in_table = 0
  print "### `" base(table) "`\n"
  print comment
  for (i = 1; i <= legends; i++) print (i == 1 ? "\n" : "") "- " legend[i]
  print "\n| | |\n|---|---|"
  print "| rows | " rows " |"
  for (i = 1; i <= known_columns; i++) {
    print "| " known_at[i] " | " how_known(table SUBSEP known_at[i]) \
      (count[table " in " known_at[i]] ? ": " cell(joined(table " in " known_at[i], "; ")) : "") " |"
  }
  if (!known_columns && count[table " stands"]) print "| stands in | " cell(joined(table " stands", "; ")) " |"
  if (!known_columns && how_known(table SUBSEP "") != "") print "| basis | " how_known(table SUBSEP "") " |"
  print "| sources | " cell(joined(table " source", "; ")) " |\n"
}
function begin_table() {
  end_table()
  in_table = 1; table = FILENAME; comment = ""; legends = 0; rows = 0; headed = 0; open_legend = 0; known_columns = 0
  delete column
}
# The rows of a table that all others are read by, before any of them: cells of a line by their headings.
function read_before(path, each,    line, headed, n, i) {
  while ((getline line < path) > 0) {
    if (line ~ /^(#|[ \t]*$)/) continue
    n = split_csv(line, value)
    if (!headed++) for (i = 1; i <= n; i++) { sub(/:.*/, "", value[i]); column[value[i]] = i }
    else if (each == "edition") {
      i = ++editions_of[value[column["code"]]]
      edition_of[value[column["code"]], i] = value[column["edition"]]
    }
    else keep_citation(value[column["key"]], value[column["code"]], value[column["editions"]], value[column["section"]])
  }
  close(path)
}
# Editions with one section stand together: "NEC 2017, 2020 Table 300.5".
function keep_citation(key, code, some, section,    i, edition, year, names) {
  for (i = 1; i <= editions_of[code]; i++) {
    edition = edition_of[code, i]
    year = substr(edition, length(code) + 2)
    if (some != "" && index(" " some " ", " " year " ") == 0) continue
    section_of[key, edition] = section
    names = names (names == "" ? code " " : ", ") year
  }
  cited_as[key, ++cited_in[key]] = (some == "" ? code : names) " " section
}
# A citation by its key: of one edition, or, in a formula, of the sections that its editions give.
function in_edition(key, edition) { return (key, edition) in section_of ? section_of[key, edition] : "" }
function of_key(key,    i, s) {
  for (i = 1; i <= cited_in[key]; i++) s = s (s == "" ? "" : "; ") cited_as[key, i]
  return s == "" ? "@" key : s
}
BEGIN {
  bases = split("READ TAKEN READ-2ND DERIVED PRACTICE MEMORY", basis_ids, " ")
  split("read,read in another edition,read second-hand,derived,common practice,from memory", basis_words, ",")
  for (i = 1; i <= bases; i++) basis_at[basis_ids[i]] = i
  read_before("interp/data/editions.csv", "edition")
  read_before("interp/data/citations.csv", "citation")
  print "<!-- SPDX-License-Identifier: MIT. Written by interp/gen/methods.awk; do not edit. -->"
  print "# Methods and sources\n"
  print "The numbers that a standard or the trade gives stand in the tables below. Every formula is printed as it"
  print "stands in the code, and as `stringline explain` shows it with its numbers put in.\n"
  print "Each table says for each edition how many rows were come by in which way: **read** in the standard's own text;"
  print "**read in another edition** and taken over into this one; **read second-hand** in somebody's reprint or worked"
  print "example; **derived** from others; **common practice**, which has no source; **from memory**, which nobody has"
  print "checked yet. A result that rests on anything but what was read says so on its sheet. Check it against your own"
  print "copy of the standard before you rely on it.\n"
  print "## Tables\n"
}
FILENAME ~ /\/citations\.csv$/ { next }
FNR == 1 {
  if (FILENAME ~ /\.csv$/) begin_table()
  else {
    if (!formulas) { end_table(); formulas = 1; print "## Formulas\n" }
    titled = 0; in_comment = 1; about = ""; pending = ""; delete macro
  }
}
{ sub(/\r$/, "") }

# ---- tables
FILENAME ~ /\.csv$/ && /^#/ {
  sub(/^# ?/, "")
  if (/^SPDX/) next
  if (/^\[/) { legend[++legends] = $0; open_legend = 1 }
  else if (open_legend) legend[legends] = legend[legends] " " $0
  else comment = comment (comment == "" ? "" : "\n") $0
  next
}
FILENAME ~ /\.csv$/ && /^[ \t]*$/ { next }
FILENAME ~ /\.csv$/ && /^=/ && !headed { next }
FILENAME ~ /\.csv$/ && !headed {
  headed = 1
  n = split_csv($0, name)
  for (i = 1; i <= n; i++) {
    if (name[i] ~ /:known$/) { known_at[++known_columns] = name[i]; sub(/:.*/, "", known_at[known_columns]) }
    sub(/:.*/, "", name[i])
    column[name[i]] = i
  }
  next
}
FILENAME ~ /\.csv$/ {
  split_csv($0, value)
  rows++
  note(table " source", value[column["source"]])
  for (i = 1; i <= known_columns; i++) {
    if (value[column[known_at[i]]] == "") continue
    based[table, known_at[i], basis_at[value[column[known_at[i]]]]]++
    note(table " in " known_at[i], in_edition(value[column["cite"]], known_at[i]))
  }
  if (known_columns) next
  if ("basis" in column) based[table, "", basis_at[value[column["basis"]]]]++
  stands = ""
  if ("cite" in column) stands = value[column["cite"]]
  else if ("section" in column) stands = "NFPA 70 " value[column["edition"]] ", " value[column["section"]]
  else if ("edition" in column && !("family" in column)) stands = "NFPA 70 " value[column["edition"]]
  else if ("definition" in column) stands = "definitions of the units"
  note(table " stands", stands)
  next
}

# ---- formulas
# The words behind the expression: "literal" MACRO "literal" ...; another name comes out of the table that was read.
function citation(text,    s, w) {
  while (text != "") {
    sub(/^[ \t]+/, "", text)
    if (match(text, /^"([^"\\]|\\.)*"/)) {
      w = substr(text, 2, RLENGTH - 2)
      s = s (w ~ /^@/ ? of_key(substr(w, 2)) : w)
      text = substr(text, RLENGTH + 1)
    }
    else if (match(text, /^[A-Za-z_][A-Za-z_0-9>.-]*/)) {
      w = substr(text, 1, RLENGTH); text = substr(text, RLENGTH + 1)
      s = s (w in macro ? macro[w] : "as its table says")
    } else text = substr(text, 2)
  }
  return s
}
# Cuts STEP(a, b, c, d, e) at the commas of its own depth.
function arguments(text, out,    n, i, c, depth, quoted, part) {
  n = 0; depth = 0; part = ""
  for (i = 1; i <= length(text); i++) {
    c = substr(text, i, 1)
    if (c == "\"" && substr(text, i - 1, 1) != "\\") quoted = !quoted
    if (!quoted && (c == "(" || c == "[" || c == "{")) depth++
    if (!quoted && (c == ")" || c == "]" || c == "}")) { if (depth == 0) break; depth-- }
    if (!quoted && c == "," && depth == 0) { out[++n] = part; part = "" }
    else part = part c
  }
  if (i > length(text)) return 0                    # not closed yet
  out[++n] = part
  return n
}
function trim(s) { gsub(/^[ \t]+|[ \t]+$/, "", s); gsub(/[ \t]+/, " ", s); return s }
in_comment {
  s = $0
  gsub(/^\/\*|\*\/.*$|^ \*/, "", s); s = trim(s)
  if (s != "" && s !~ /^SPDX/) about = about (about == "" ? "" : "\n") s
  if (/\*\//) in_comment = 0
  next
}
/^#define [A-Z_0-9]+ +"/ {
  w = $2; s = $0
  sub(/^#define [A-Z_0-9]+ +/, "", s); macro[w] = citation(s)
  next
}
/^#/ { next }
{
  if (pending != "") pending = pending " " trim($0)
  else if (match($0, /(^|[^A-Z_])STEP\(/)) pending = trim(substr($0, RSTART))
  else next
  while (match(pending, /STEP\(/)) {
    n = arguments(substr(pending, RSTART + 5), part)
    if (!n) next
    if (!titled) {
      titled = 1
      print (blocks++ ? "\n" : "") "### `" base(FILENAME) "`\n\n" about
      print "\n| symbol | formula | stands in |\n|---|---|---|"
    }
    symbol = trim(part[3]); expression = trim(part[4])
    print "| `" symbol "` | `" cell(expression) "` | " cell(citation(part[5])) " |"
    pending = substr(pending, RSTART + 5)
  }
  pending = ""
}
END { end_table() }
