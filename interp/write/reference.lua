-- SPDX-License-Identifier: MIT
-- The reference manual: written out of the tables that the program itself runs on.
local schema = import "model.schema"
local rule = import "model.rule"
local manual = import "write.manual"
local codes = import "write.codes"
local document = import "write.document"

local function code(text) return text == "" and "" or "`" .. text .. "`" end
local function sentence(text) return text:sub(1, 1):upper() .. text:sub(2) .. "." end

local function kind(d, def)
  d:subheading(def.name)
  d:code(manual.written(def))
  local items, where = manual.items(def), manual.where(def)
  d:para(sentence(def.says) .. (where and " " .. sentence(where) or "") ..
      (items and " Values without a name: " .. items .. "." or ""))
  if #def.fields > 0 and not def.partial then
    local rows = {}
    manual.each_field(schema.all_fields(def), def, function(path, f, _, around)
      rows[#rows + 1] = { code(path), manual.needs(f), manual.state(f), f.says, manual.known_by(f, around) or "" }
    end)
    d:table({ "field", "takes", { "", key = "stated" }, "means", "told by" }, rows)
  elseif def.partial then
    local of = def.name:gsub("_type$", "")
    d:para("Its fields are those of [" .. of .. "](#" .. of .. ").")
  end
  local results = manual.results(def)
  if #results > 0 then
    local rows = {}
    for i, r in ipairs(results) do rows[i] = { code(r.name), manual.result_dim(r) or "", manual.result_says(r) } end
    d:table({ "result", "is", "means" }, rows)
  end
  for _, k in ipairs(manual.children(def)) do
    d:para("Each has [" .. k.name .. "](#" .. k.name .. "): " .. k.says .. ".")
  end
end

local function declarations(d)
  d:heading("Declarations")
  d:para("A declaration is a word, for some a name, and a table. Every value carries its unit. What is declared can " ..
      "be read, never changed. `stringline describe KIND` prints what stands here.")
  for _, def in ipairs(schema.all()) do kind(d, def) end
end

local function rules(d)
  d:heading("Rules")
  d:para("A rule holds, is broken, is unknown (a fact is missing: never a pass), or does not apply. Broken or " ..
      "unknown stop and caution rules fail the run; at stage quote unknown ones are a list of what to find out. A " ..
      "note never fails it. {electrical}, {loads} and {building} stand for the editions that the job names.")
  local list, rows = rule.all(), {}
  table.sort(list, function(a, b) return a.number < b.number end)
  for i, r in ipairs(list) do
    local judges = r.each and "each " .. r.each .. (r.and_each and " and each " .. r.and_each or "") or "the job"
    rows[i] = { r.id, r.severity, judges:gsub("_", " "), r.says, r.cite, r.caution, r.may_waive or "nobody" }
  end
  d:table({ "rule", "severity", "judges", "says", "where it stands", "if not", "may be waived by" }, rows)
end

local function register(d)
  d:heading("What no rule judges")
  d:para("From permit on a paper must cover each of these that the job has (R74); [papers.md](papers.md) tells how. " ..
      "A subject is asked for where one of its declarations stands. What made_for names may be left out only where " ..
      "the job leaves it at its default.")
  local rows = {}
  for i, s in ipairs(import "job.register") do
    local needs = {}
    for n, path in ipairs(s.needs) do needs[n] = code(path) end
    local of = table.concat(s.each, ", ") .. (s.only and " " .. s.only or "")
    rows[i] = { '"' .. s[1] .. '"', (s.of or "") .. s.says, of, s.who,
        s.reach or table.concat(needs, ", "), s.gross and code(s.gross) or "", s.judged or
        s.by and s.by .. " where it is declared, else no rule" or "no rule" }
  end
  d:table({ "`covers`", "is", "of", "covered by", "its made_for names", "what breaks it grossly", "judged by" }, rows)
end

local function words(d)
  d:heading("Words that declare nothing")
  d:para("In a rule or after a declaration, a script may also use Lua's own words and the libraries that the " ..
      "[sandbox](sandbox.md) leaves it. How values are written is told in [language.md](language.md).")
  for _, group in ipairs(manual.words) do
    local rows = {}
    for _, w in ipairs(group[2]) do
      rows[#rows + 1] = { code(w[1]), code(w[2]), w[3] }
      for _, form in ipairs(w[4] or {}) do rows[#rows + 1] = { "", code(form[1]), form[2] } end
    end
    d:subheading(group[1])
    d:table({ "word", "as in", "does" }, rows)
  end
end

local function all_primitives(d)
  d:heading("Primitives")
  d:para("A script calls them as `calc.NAME { ... }`; what comes back is read by the names of the outputs. A list " ..
      "of tables goes in as `conductors = { { size = \"6\", count = 2 }, ... }`; one that comes back is read by " ..
      "number, `line.stations[2].offset`, and has a length, `#line.stations`. They are the C functions `sl_NAME` of " ..
      "the library ([embedding.md](embedding.md)). [methods.md](methods.md) has their formulas and sources.")
  for _, op in ipairs(primitives()) do
    local rows = {}
    manual.each_input(op.inputs, function(name, f)
      rows[#rows + 1] = { f.optional and "in, optional" or "in", code(name), manual.input(f), f.help or "" }
    end)
    manual.each_input(op.outputs, function(name, f)
      rows[#rows + 1] = { f.optional and "out, where there is one" or "out", code(name), manual.input(f),
          f.help or "" }
    end)
    d:subheading("calc." .. op.name)
    d:para(sentence(op.help))
    d:table({ { "", key = "in or out" }, "name", "is", "means" }, rows)
  end
end

local function command_form(c) return c.name .. (c.words ~= "" and " " .. c.words or "") end

local function option_form(o)
  return (o.letter ~= "" and "-" .. o.letter .. ", " or "") .. "--" .. o.name ..
      (o.value ~= "" and " " .. o.value or "")
end

local function command_line(d)
  local t, rows = host.command_line(), {}
  d:heading("Commands")
  d:para("`stringline help COMMAND` tells the same in a terminal. An option means the same wherever it stands; `--` " ..
      "ends them.")
  for i, c in ipairs(t.commands) do
    rows[i] = { code(command_form(c)), c.says .. (c.more ~= "" and ". " .. c.more or ""), code(c.example) }
  end
  d:table({ "`stringline` and", { "does", wrap = true }, "example" }, rows)
  rows = {}
  local function takers(o)
    local names = {}
    for _, c in ipairs(t.commands) do if o.of[c.name] then names[#names + 1] = c.name end end
    return #names < #t.commands and table.concat(names, ", ") or "all"
  end
  for i, o in ipairs(t.options) do
    rows[i] = { code(option_form(o)), o.says, takers(o),
        o.value ~= "" and code(o.example) or "" }
  end
  d:table({ "option", { "", key = "does", wrap = true }, { "of", wrap = true }, "example" }, rows)
  rows = {}
  for i, f in ipairs(t.formats) do
    local takers = {}
    for _, c in ipairs(t.commands) do if c.gives >= f.holds then takers[#takers + 1] = c.name end end
    rows[i] = { f.name, f.says, f.holds > 0 and table.concat(takers, ", ") or "all" }
  end
  d:table({ "format", { "", key = "is", wrap = true }, "of" }, rows)
  rows = {}
  for i, p in ipairs(t.parts) do rows[i] = { code(p.name), p.says } end
  d:table({ "`stringline reference` and", "prints" }, rows)
  rows = {}
  for i, s in ipairs(t.statuses) do rows[i] = { tostring(s.number), s.says } end
  d:table({ "exit status", "means" }, rows)
  d:para("Place, house, parts and price files are looked for in the job's folder, then in the folders of " ..
      "`STRINGLINE_PATH`, parted by colons.")
end

local function messages(d)
  d:heading("Codes of messages")
  d:para("`stringline explain CODE` shows an example of wrong and right.")
  for _, group in ipairs(codes.groups) do
    local rows = {}
    for _, e in ipairs(codes.list) do
      if e.code:sub(1, #group[1]) == group[1] then
        rows[#rows + 1] = { e.code, e.says, tostring(host.status(e.code)) }
      end
    end
    d:subheading(group[2])
    d:table({ "code", "means", "exit status" }, rows)
  end
end

return function()
  local d = document.new("reference", "Reference")
  d:head("Reference")
  d:para("[Commands](#commands), [declarations](#declarations), [rules](#rules), " ..
      "[what no rule judges](#what-no-rule-judges), [words](#words-that-declare-nothing), " ..
      "[primitives](#primitives), [codes of messages](#codes-of-messages).")
  command_line(d)
  declarations(d)
  rules(d)
  register(d)
  words(d)
  all_primitives(d)
  messages(d)
  return d
end
