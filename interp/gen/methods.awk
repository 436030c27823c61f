# SPDX-License-Identifier: MIT
# Writes docs/methods.md out of the tables and the calculations themselves:
#   LC_ALL=C awk -f interp/gen/csv.awk -f interp/gen/methods.awk interp/data/*.csv interp/calc/*.c > docs/methods.md
# A table gives its comment, and what its columns edition, section, cite, basis and source say. A calculation gives its
# first comment and every STEP: symbol, expression, citation.
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

function end_table(    i, words) {
  if (!in_table) return
  in_table = 0
  print "### `" base(table) "`\n"
  print comment
  for (i = 1; i <= legends; i++) print (i == 1 ? "\n" : "") "- " legend[i]
  print "\n| | |\n|---|---|"
  print "| rows | " rows " |"
  print "| stands in | " cell(joined(table " stands", "; ")) " |"
  for (i = 1; i <= 5; i++) if (based[i]) words = words (words == "" ? "" : ", ") basis_words[i] " " based[i]
  print "| basis | " words " |"
  print "| sources | " cell(joined(table " source", "; ")) " |\n"
}
function begin_table() {
  end_table()
  in_table = 1; table = FILENAME; comment = ""; legends = 0; rows = 0; headed = 0; open_legend = 0
  for (i = 1; i <= 5; i++) based[i] = 0
  delete column
}
BEGIN {
  split("READ READ-2ND DERIVED PRACTICE MEMORY", basis_ids, " ")
  split("read,read second-hand,derived,common practice,from memory", basis_words, ",")
  for (i = 1; i <= 5; i++) basis_at[basis_ids[i]] = i
  print "<!-- SPDX-License-Identifier: MIT. Written by interp/gen/methods.awk; do not edit. -->"
  print "# Methods and sources\n"
  print "The numbers that a standard or the trade gives stand in the tables below. Every formula is printed as it"
  print "stands in the code, and as `stringline explain` shows it with its numbers put in.\n"
  print "Basis says how a number was come by: **read** in the standard's own text; **read second-hand** in somebody's"
  print "reprint or worked example; **derived** from others; **common practice**, which has no source; **from memory**,"
  print "which nobody has checked yet. A result that rests on anything but what was read says so on its sheet. Check it"
  print "against your own copy of the standard before you rely on it.\n"
  print "## Tables\n"
}
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
FILENAME ~ /\.csv$/ && !headed {
  headed = 1
  n = split_csv($0, name)
  for (i = 1; i <= n; i++) { sub(/:.*/, "", name[i]); column[name[i]] = i }
  next
}
FILENAME ~ /\.csv$/ {
  split_csv($0, value)
  rows++
  based[basis_at[value[column["basis"]]]]++
  note(table " source", value[column["source"]])
  stands = ""
  if ("cite" in column) stands = value[column["cite"]]
  else if ("section" in column) stands = "NFPA 70 " value[column["edition"]] ", " value[column["section"]]
  else if ("edition" in column) stands = "NFPA 70 " value[column["edition"]]
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
      s = s substr(text, 2, RLENGTH - 2)
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
