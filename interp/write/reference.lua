-- SPDX-License-Identifier: MIT
-- The reference manual, in Markdown: written out of the tables that the program itself runs on.
local schema = import "model.schema"
local rule = import "model.rule"
local manual = import "write.manual"
local codes = import "write.codes"

local out

local function line(...) out[#out + 1] = table.concat { ... } end

-- A cell: no line breaks, and a bar is no border.
local function cell(text) return ((text or ""):gsub("\n", " "):gsub("|", "\\|")) end
local function code(text) return text == "" and "" or "`" .. text .. "`" end

local function row(...)
  local cells = table.pack(...)
  for i = 1, cells.n do cells[i] = cell(cells[i]) end
  line("| ", table.concat(cells, " | "), " |")
end

local function head(...)
  row(...)
  line(("|---"):rep(select("#", ...)), "|")
end

local function sentence(text) return text:sub(1, 1):upper() .. text:sub(2) .. "." end

local function kind(def)
  line("### ", def.name)
  line()
  line("    ", manual.written(def))
  line()
  line(sentence(def.says))
  local where = manual.where(def)
  if where then line(sentence(where)) end
  local items = manual.items(def)
  if items then line("Values without a name: ", items, ".") end
  if #def.fields > 0 and not def.partial then
    line()
    head("field", "takes", "", "means", "told by")
    manual.each_field(def.fields, def, function(path, f, _, around)
      row(code(path), manual.needs(f), manual.state(f), f.says, manual.known_by(f, around))
    end)
  elseif def.partial then
    line("Its fields are those of [rack](#rack).")
  end
  local results = manual.results(def)
  if #results > 0 then
    line()
    head("result", "is", "means")
    for _, r in ipairs(results) do row(code(r.name), manual.result_dim(r), r.says) end
  end
  for _, k in ipairs(manual.children(def)) do
    line()
    line("Each has [", k.name, "](#", k.name, "): ", k.says, ".")
  end
  line()
end

local function declarations()
  line("## Declarations")
  line()
  line("A declaration is a word, for some a name, and a table. Every value carries its unit. What is declared can be")
  line("read, never changed. `stringline describe KIND` prints what stands here.")
  line()
  for _, def in ipairs(schema.order) do kind(def) end
end

local function rules()
  line("## Rules")
  line()
  line("A rule holds, is broken, is unknown (a fact is missing: never a pass), or does not apply. Broken or unknown")
  line("stop and caution rules fail the run; at stage quote unknown ones are a list of what to find out. A note never")
  line("fails it. {electrical}, {loads} and {building} stand for the editions that the job names.")
  line()
  head("rule", "severity", "judges", "says", "where it stands", "if not", "may be waived by")
  local list = rule.all()
  table.sort(list, function(a, b) return a.number < b.number end)
  for _, r in ipairs(list) do
    local judges = r.each and "each " .. r.each:gsub("_", " ") or "the job"
    row(r.id, r.severity, judges, r.says, r.cite, r.caution, r.may_waive or "nobody")
  end
  line()
end

local function words()
  line("## Words that declare nothing")
  line()
  line("In a rule or after a declaration, a script may also use Lua's own words and the libraries that the")
  line("[sandbox](sandbox.md) leaves it. How values are written is told in [language.md](language.md).")
  line()
  for _, group in ipairs(manual.words) do
    line("### ", group[1])
    line()
    head("word", "as in", "does")
    for _, w in ipairs(group[2]) do row(code(w[1]), code(w[2]), w[3]) end
    line()
  end
end

local function all_primitives()
  line("## Primitives")
  line()
  line("A script calls them as `calc.NAME { ... }`; what comes back is read by the names of the outputs. They are the")
  line("C functions `sl_NAME` of the library ([embedding.md](embedding.md)). [methods.md](methods.md) has their")
  line("formulas and sources.")
  line()
  for _, op in ipairs(primitives()) do
    line("### calc.", op.name)
    line()
    line(sentence(op.help))
    line()
    head("", "name", "is", "means")
    for _, f in ipairs(op.inputs) do
      row(f.optional and "in, optional" or "in", code(f.name), manual.input(f), f.help)
    end
    for _, f in ipairs(op.outputs) do row("out", code(f.name), manual.input(f), f.help) end
    line()
  end
end

local commands = {
  { "run SCRIPT", "judges the job and prints its report" },
  { "check SCRIPT", "judges only: broken and unknown rules" },
  { "sheet SCRIPT [NAME]", "one sheet whole; without a name, their list" },
  { "explain SCRIPT WHAT", "a rule (R41), a result (rack.east.top_edge) or an input: worked sheet and sources" },
  { "explain CODE", "the code of a message (Q003)" },
  { "describe [NAME]", "a declaration, one of its fields, a primitive, a word; without a name, all" },
  { "form", "a blank site-visit form: each fact, who can tell it, with which tool" },
  { "reference", "this manual" },
  { "units", "the units, and those that are refused" },
}
local options = {
  { "--set PATH=VALUE", "puts in another value for this run, as in --set rack.east.tilt=30deg; may be repeated" },
  { "--alternate NAME", "runs an alternate of the script" },
  { "--on DATE", "the day judged, as in 2026-11-02" },
  { "--format human, gnu or json", "of messages and reports" },
  { "-o, --output FILE", "writes the report to a file: whole, or not at all" },
  { "--no-color", "no colour; nor is there any with NO_COLOR set, or where there is no terminal" },
  { "--untrusted", "runs the script in a process of its own that can do nothing but compute" },
  { "--steps N, --memory MiB", "limits of the script" },
  { "--help, --version", "tell about the program" },
}
local statuses = {
  { "0", "all stop and caution rules hold or are waived (at stage quote: or are unknown)" },
  { "1", "one is broken or unknown" },
  { "2", "an error in the script or on the command line" },
  { "3", "a file could not be read or written, or a limit was reached" },
}

local function command_line()
  line("## Commands")
  line()
  head("`stringline` and", "does")
  for _, c in ipairs(commands) do row(code(c[1]), c[2]) end
  line()
  head("option", "")
  for _, o in ipairs(options) do row(code(o[1]), o[2]) end
  line()
  head("exit status", "means")
  for _, s in ipairs(statuses) do row(s[1], s[2]) end
  line()
  line("Place, house, parts and price files are looked for in the job's folder, then in the folders of")
  line("`STRINGLINE_PATH`, parted by colons.")
  line()
end

local function messages()
  line("## Codes of messages")
  line()
  line("`stringline explain CODE` shows an example of wrong and right.")
  for _, group in ipairs(codes.groups) do
    line()
    line("### ", group[2])
    line()
    head("code", "means")
    for _, e in ipairs(codes.list) do
      if e.code:sub(1, #group[1]) == group[1] then row(e.code, e.says) end
    end
  end
end

return function()
  out = {}
  for _, m in ipairs { "site", "structure", "electrical" } do import(m .. ".rules") end
  line("<!-- SPDX-License-Identifier: MIT. Written by `stringline reference`; do not edit. -->")
  line("# Reference")
  line()
  line("[Commands](#commands), [declarations](#declarations), [rules](#rules), [words](#words-that-declare-nothing),")
  line("[primitives](#primitives), [codes of messages](#codes-of-messages).")
  line()
  command_line()
  declarations()
  rules()
  words()
  all_primitives()
  messages()
  return table.concat(out, "\n") .. "\n"
end
