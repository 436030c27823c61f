-- SPDX-License-Identifier: MIT
-- What tests/matrix.lua asks, in the host's Lua: a job through every command, or once with a field changed.
--
-- input: { schema = true } gives the kinds that a script may declare, with their fields;
--        { commands = true, script, set = { text ... } } gives { complaints, tried, reports = { text, json, html } };
--          whole: every rule, field and result is explained; few: sheets and what is explained in two formats;
--          report = path, form: only this report is verified;
--        { script } gives { status, outcomes = text, complaints }; turn = number: a third of the sheets, in their turn.
local input = ...

-- ---- the schema ----------------------------------------------------------------------------------------------------

local function plain_field(f)
  local out = { name = f.name, type = f.type, dim = f.dim, min = f.min, max = f.max, above = f.above, axis = f.axis,
                required = f.required,
                or_text = f.or_text, example = f.example, has_default = f.default ~= nil, says = f.says,
                choices = f.type == "choice" and f.choices or nil, no_data = f.no_data, of = f.of }
  if f.fields then
    out.fields = {}
    for i, inner in ipairs(f.fields) do out.fields[i] = plain_field(inner) end
  end
  if f.item and f.item ~= f then                 -- heights may stand in heights
    f.item.name, f.item.type = f.item[1], f.item.type or f.item[2]
    out.item = plain_field(f.item)
  end
  return out
end

if input.schema then
  import "model.boot"
  local schema, kinds = import "model.schema", {}
  for _, k in ipairs(schema.all()) do
    if not k.parent then
      local fields = {}
      for i, f in ipairs(schema.all_fields(k)) do fields[i] = plain_field(f) end
      kinds[#kinds + 1] = { name = k.name, fields = fields, part = k.part, partial = k.partial }
    end
  end
  return kinds
end

-- ---- what may not be said ------------------------------------------------------------------------------------------

local complaints, tried = {}, 0
local at = ""
local function complain(...) complaints[#complaints + 1] = at .. ": " .. table.concat { ... } end

-- A message of the script's own faults or of a rule's making is no reason of anything in a whole job.
local function of_the_machinery(code) return code and (code:find "^L" or code:find "^R") and true or false end

local message, reasons = host.message, {}
host.message = function(why, ...)
  if type(why) == "table" and of_the_machinery(why.code) then reasons[why.text] = why.code end
  return message(why, ...)
end

-- Words that show the machinery or a number that is none, alone where others may hold them.
local UGLY = { "attempt to ", "traceback", ".lua:", "table: 0x", "function: 0x", "nan", "inf", "NaN", "nil" }
local function look(text, name)
  for _, words in ipairs(UGLY) do
    local whole = #words == 3 and "%f[%w]" .. words .. "%f[%W]"
    local found = string.find(text, words, 1, true)
    if found and whole then found = string.find(text, whole) end
    if found then complain(name, " prints '", string.sub(text, math.max(1, found - 30), found + 30), "'") end
  end
  for reason, code in next, reasons do
    if string.find(string.gsub(text, "%s+", " "), reason, 1, true) then complain(name, " says ", code, ": ", reason) end
  end
end

-- Calls f; an error of it is a complaint.
local function guarded(f, ...)
  local ok, a, b = pcall(f, ...)
  tried = tried + 1
  if ok then return a, b end
  if type(a) ~= "table" then complain("went wrong: ", tostring(a)) return nil end
  complain("ends in ", tostring(a.code), ": ", tostring(a.text))
end

-- ---- a field changed -----------------------------------------------------------------------------------------------

local STATUS = { [0] = true, [1] = true }

if not input.commands then
  local boot = import("host.judging").declare({ script = input.script }, {})
  local outcomes, status = import("host.judging").judge(boot)
  local o = { script = input.script, words = { input.script }, set = {}, width = 80, command = "run", format = "text" }
  local told = {}
  for i, x in ipairs(outcomes) do told[i] = x.rule.id .. " " .. tostring(x.subject) .. " " .. x.outcome end
  local text = import "write.text"
  at = "report"
  local d = guarded(import("write.report").report, outcomes, status, o)
  if d then look(text(d, o), "the page") end
  at = "form"
  d = guarded(import "write.form", outcomes)
  if d then look(text(d, o), "the form") end
  for i, s in ipairs(import("write.sheets").state(outcomes)) do
    if not input.turn or (i + input.turn) % 3 == 0 then
      at = "sheet " .. s.sheet.name
      d = guarded(import "write.sheet", outcomes, status, s.sheet.name, o)
      if d then look(text(d, o), "the sheet") end
    end
  end
  if not STATUS[status] then complain("the status is ", tostring(status)) end
  return { status = status, outcomes = table.concat(told, "\n"), complaints = complaints }
end

-- ---- every command -------------------------------------------------------------------------------------------------

local judging = import "host.judging"
local command = import "command.run"
local line = host.command_line()

-- One judged job serves all commands; explaining forgets what was worked out, so that it comes last, and what was noted
-- for one explanation serves the next.
local declare, judge = judging.declare, judging.judge
local boot, outcomes, status
function judging.declare(o, set)
  boot = boot or declare(o, set)
  return boot
end
function judging.judge(b)
  if not outcomes then outcomes, status = judge(b) end
  return outcomes, status
end

local noting = import "model.noting"
local start = noting.start
function noting.start()
  noting.start = function() end
  start()
end

local WRITERS = {}
for _, f in ipairs(line.formats) do WRITERS[f.name] = "write." .. f.name end
local FRAMES = { sarif = { '{"runs": [\n', "\n]}\n" }, tap = { "TAP version 14\n", "1..1\n" } }

local function call(name, format, words)
  at = name .. " " .. table.concat(words, " ", 2) .. " --format " .. format
  local frame = FRAMES[format] or { "", "" }
  local o = { command = name, script = input.script, words = words, set = input.set, format = format, number = 1,
              writer = WRITERS[format], width = 80, several = false, before = frame[1], after = frame[2] }
  local got, text = guarded(command, o)
  if got == nil then return nil end
  if not STATUS[got] then complain("ends with status ", tostring(got)) end
  if (text or "") == "" and format ~= "gnu" then complain "prints nothing" end
  look(text, name)
  return got, text
end

local function formats_of(c)
  local list = {}
  for _, f in ipairs(line.formats) do if c.gives >= f.holds then list[#list + 1] = f.name end end
  return list
end

local by = {}
for _, c in ipairs(line.commands) do by[c.name] = c end

-- A report that was just written must be judged the same.
if input.report then
  local got = call("verify", input.form, { input.report, input.script })
  if got ~= 0 then complain("the report of a moment ago is not confirmed: status ", tostring(got)) end
  return { complaints = complaints, tried = tried }
end

local names, reports = {}, {}
for _, name in ipairs { "test", "run", "check", "sheet" } do
  for _, format in ipairs(formats_of(by[name])) do
    local got, text = call(name, format, { input.script })
    if name == "run" and (format == "text" or format == "json" or format == "html") then reports[format] = text end
    local wanted = (name == "run" or name == "check") and status or name == "test" and 0 or got
    if got and got ~= wanted then complain("status ", got, " beside ", wanted) end
  end
end
if not outcomes then return { complaints = complaints, tried = tried, reports = reports } end
for _, s in ipairs(import("write.sheets").state(outcomes)) do names[#names + 1] = s.sheet.name end
for _, name in ipairs(names) do
  for _, format in ipairs(input.few and { "text", "json" } or formats_of(by.sheet)) do
    call("sheet", format, { input.script, name })
  end
end

for _, format in ipairs(formats_of(by.form)) do call("form", format, { input.script }) end

-- Explained in each form: a rule and a result. Where all is wanted: each rule, each field and result of the first and
-- the last record of each kind, in text and in one of the other forms in their turn.
local record, schema = import "model.record", import "model.schema"
local forms, targets = input.few and { "text", "json" } or formats_of(by.explain), {}
local function of_record(proxy)
  local data = record.inside[proxy]
  local path = data.root and "job" or data.path
  targets[#targets + 1] = path
  for _, f in ipairs(data.def.fields) do targets[#targets + 1] = record.step(path, f.name) end
  for _, r in ipairs(schema.results(data.def)) do targets[#targets + 1] = record.step(path, r.name) end
end
for _, format in ipairs(forms) do
  for _, what in ipairs { "R72", "job.total" } do call("explain", format, { input.script, what }) end
end
if input.whole then
  for _, r in ipairs(import("model.rule").all()) do targets[#targets + 1] = r.id end
  of_record(record.root)
  for _, k in ipairs(schema.all()) do
    local all = {}
    for proxy in record.each_of(k.name) do all[#all + 1] = proxy end
    if all[1] and not record.inside[all[1]].root then of_record(all[1]) end
    if all[2] then of_record(all[#all]) end
  end
  for i, what in ipairs(targets) do
    call("explain", "text", { input.script, what })
    call("explain", forms[i % #forms + 1], { input.script, what })
  end
end

return { complaints = complaints, tried = tried, reports = reports }
