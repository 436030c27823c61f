-- SPDX-License-Identifier: MIT
-- What tests/whatif.lua asks, in the host's Lua: what may be changed in a job; the job judged with a change, declared
-- with it or with it put in.
--
-- input: { script, inputs = true } gives { { path, edges = { "path=value" ... }, bad = { the same ... } } ..., files }:
--          each input, and what is put in; bad: what no declaration takes; files: the scripts that it is made from;
--        { script, set = { "path=value" ... }, remedies } gives { outcomes } or { refusal }: declared with these;
--        { script, changes = { { "path=value" ... } ... }, forced, remedies } gives { base, nothing, after, reaches,
--          variants = { the same ... } }: declared once, each change put in, in this order; reaches: whether by the
--          notes the same rests on each input as before.
-- outcomes: { [number] = { key, text } ... }, all that an outcome says, every number of it as its bits; brief: what
-- `check` tells a program of those that are broken or unknown.
local input = ...
local boot = import "model.boot"
local written = import "model.written"
local schema = import "model.schema"
local record = import "model.record"
local rule = import "model.rule"
local judge = import "model.judge"
local memo = import "model.memo"
local compare = import "model.compare"
local variants = import "model.variants"
local anew = import "model.anew"
local inputs = import "model.inputs"
local inside = record.inside

-- ---- all that an outcome says --------------------------------------------------------------------------------------

local OWN = { rule = true, proxy = true, remedied = true, kept = true, rests = true }   -- told otherwise, or no words

local plain

local function amount(v)
  local dim, unit, currency = host.unit(v)
  return ("%a %s %s %s"):format(host.si(v), dim, unit, currency)
end

-- A reason: its words as a page has them too.
local function reason(err, seen)
  local text, help = host.message(err)
  local list = { "page=" .. tostring(text) .. " | " .. tostring(help) }
  for k, v in host.sorted(err) do
    if k == "source" then
      if v ~= 0 then list[#list + 1] = "at=" .. host.place(err) end
    elseif k ~= "line" and k ~= "col" and k ~= "len" and k ~= "trace" then
      list[#list + 1] = tostring(k) .. "=" .. plain(v, seen)
    end
  end
  return "error{" .. table.concat(list, "; ") .. "}"
end

function plain(v, seen)
  if type(v) == "number" then return math.type(v) == "integer" and ("%d"):format(v) or ("%a"):format(v) end
  if type(v) == "string" then return ("%q"):format(v) end
  if host.is_quantity(v) then return amount(v) end
  if host.wire(v) then return "wire " .. host.format(v) end
  if type(v) ~= "table" then return type(v) == "boolean" and tostring(v) or type(v) end
  local held = compare.held(v)
  if held then v = held end
  seen = seen or {}
  if seen[v] then return "again" end
  seen[v] = true
  local text
  local d = inside[v]
  if d and d.v then text = "record " .. tostring(v)
  elseif d and d.list then
    local list = {}
    for i = 1, #v do list[i] = plain(v[i], seen) end
    text = "list{" .. table.concat(list, "; ") .. "}"
  elseif d then text = "set " .. tostring(d.path or d.def and d.def.name)
  elseif rawget(v, "code") and rawget(v, "text") then text = reason(v, seen)
  elseif rawget(v, "source") and rawget(v, "line") and rawget(v, "col") then
    text = v.source ~= 0 and "at " .. host.place(v) or "nowhere"
  else
    local list = {}
    for k, x in host.sorted(v) do
      if not OWN[k] then list[#list + 1] = (math.type(k) and "" or tostring(k) .. "=") .. plain(x, seen) end
    end
    text = "{" .. table.concat(list, "; ") .. "}"
  end
  seen[v] = nil
  return text
end

local function whole(o)
  local cites = memo.cites(o.rests or 0)
  table.sort(cites)                                  -- their order is that in which they were first met
  local list = { "from memory=" .. plain(cites) }
  for k, v in host.sorted(o) do
    if not OWN[k] then list[#list + 1] = k .. "=" .. plain(v) end
  end
  return table.concat(list, "\n  ")
end

local function in_brief(o)
  local f, unknown = o.finding or {}, {}
  for i, why in ipairs(o.whys or {}) do unknown[i] = host.message(why) end
  local row = { o.rule.id, o.subject or "", o.outcome }
  for _, name in ipairs { "value", "limit", "margin" } do
    local v = f[name]
    if host.is_quantity(v) then v = host.si(v) end
    row[#row + 1] = type(v) == "number" and ("%.15g"):format(v) or v ~= nil and tostring(v) or "-"
  end
  row[#row + 1] = f.words or "-"
  row[#row + 1] = table.concat(unknown, "; ")
  return table.concat(row, " | ")
end

local function told(outcomes, remedies)
  local list, brief = {}, {}
  if remedies then
    local whatif = import "model.whatif"
    for _, o in ipairs(outcomes) do if o.outcome == "broken" then whatif.remedy(o) end end
  end
  for i, o in ipairs(outcomes) do
    list[i] = { variants.key(o), whole(o) }
    if o.outcome == "broken" or o.outcome == "unknown" then brief[#brief + 1] = in_brief(o) end
  end
  return { outcomes = list, brief = table.concat(brief, "\n") }
end

-- A refusal, without the words in front that say by whom the value was put in: "--set site.frost=9m: ", or
-- "site.frost = 9 m: ".
local function refused(err, set)
  if type(err) ~= "table" then return { refusal = tostring(err), brief = "" } end
  local text = err.text
  for _, s in ipairs(set) do
    local from, path = "--set " .. s .. ": ", s:match "^(.-)=" .. " = "
    local put = path .. s:match '=["]?(.-)["]?$' .. ": "
    if text:sub(1, #from) == from then text = text:sub(#from + 1)
    elseif text:sub(1, #put) == put then text = text:sub(#put + 1)
    elseif text:sub(1, #path) == path then text = text:sub(text:find(": ", #path, true) + 2) end
  end
  return { refusal = ("[%s] %s (%s)"):format(err.code, text, tostring(err.help)), brief = "[" .. err.code .. "]" }
end

-- ---- declared with a change ----------------------------------------------------------------------------------------

local function declared(set)
  local plan = {}
  for i, text in ipairs(set) do plan[i] = boot.setting(text) end
  boot.declare { script = input.script, plan = plan }
  return judge.all(rule.all())
end

if input.set then
  local ok, outcomes = pcall(declared, input.set)
  if not ok then return refused(outcomes, input.set) end
  return told(outcomes, input.remedies)
end

-- ---- what may be changed -------------------------------------------------------------------------------------------

local WIRES = { "14 AWG", "12 AWG", "10 AWG", "8 AWG", "6 AWG", "4 AWG", "2 AWG", "1/0 AWG", "4/0 AWG", "250 kcmil",
                "6 mm2" }

-- A number as a script writes it, in the unit in which the value stands.
local function amount_text(like, si)
  local q = host.is_quantity(like) and host.like(like, si)
  if not q then return ("%.17g"):format(si) end
  local _, unit = host.unit(like)
  local text = host.format(q, unit, 15):gsub(" (%S+%*%S+)$", "[%1]")           -- 1500[lbf*ft]
  return text:gsub("(%d),(%d)", "%1%2"):gsub("[ ]", "")
end

local function amounts(f, v)
  local list = {}
  local function put(si) list[#list + 1] = amount_text(v, si) end
  local si = host.is_quantity(v) and host.si(v) or v
  local range = (f.max or 10) - (f.min or f.above or 0)
  local point = host.is_quantity(v) and host.is(v, "temperature")
  local steps = point and { -0.25, 0.25, -9, 21 } or si == 0 and { 1e-3 * range, -1e-3 * range, 0.1 * range }
      or { si * 1e-3, -si * 1e-3, si * 3e-10, si * 0.37, -si * 0.45, si * 2.3, -si * 0.9 }
  for _, step in ipairs(steps) do
    local x = si + step
    if not (f.min and x < f.min or f.above and x <= f.above or f.max and x > f.max) then put(x) end
  end
  if f.min and si ~= f.min then put(f.min) end
  if f.max and si ~= f.max then put(f.max) end
  local bad = {}
  if f.max then bad[1] = amount_text(v, f.max + math.abs(f.max) * 1e-3 + 1e-3) end
  if f.above then bad[#bad + 1] = amount_text(v, f.above) end
  return list, bad
end

local function quoted(list, but)
  local out = {}
  for _, x in ipairs(list) do if x ~= but then out[#out + 1] = '"' .. x .. '"' end end
  return out
end

local function names_of(kinds)
  local names = {}
  for _, kind in ipairs(kinds) do
    for _, r in ipairs(record.all(kind)) do names[#names + 1] = inside[r].name end
  end
  return names
end

local edges = {}
function edges.count(f, v)
  local list, least, most = {}, f.min or 0, f.max or v * 4
  for _, n in ipairs { v - 1, v + 1, v + 3, least, most } do
    if n ~= v and n >= least and n <= most then list[#list + 1] = ("%d"):format(n) end
  end
  return list, { ("%d"):format(least - 1) }
end
edges.quantity, edges.ratio, edges.number, edges.money = amounts, amounts, amounts, amounts
function edges.flag(_, v) return { tostring(not v) } end
function edges.choice(f, v)
  local list, others = {}, quoted(f.choices, v)
  for i = 1, #others, #others // 5 + 1 do list[#list + 1] = others[i] end
  if f.no_data then list[#list + 1] = 'no_data("a code of elsewhere")' end
  return list, { '"none of these"' }
end
function edges.date(_, v)
  local beside = v:sub(1, 8) .. (v:sub(9) == "01" and "02" or "01")
  return quoted({ beside, "2001-01-31", "2049-12-01" }, v), { '"2026-02-30"' }
end
function edges.position(f)
  local sides = { latitude = { "12.5 N", "61 N", "33 S" }, longitude = { "5 E", "120 W" },
      declination = { "11 E", "3 W" } }
  return quoted(sides[f.axis])
end
function edges.wire(_, v) return quoted(WIRES, host.format(v)) end
local function name_of(v) return inside[v] and inside[v].name or v end        -- a type has names not looked up yet
function edges.ref(f, v) return quoted(names_of(f.of), name_of(v)) end
function edges.part(f, v) return quoted(names_of { f.of }, name_of(v)) end
function edges.text(f, v)
  local list = quoted({ "Another 7", f.example ~= v and f.example or nil }, v)
  return list
end

-- Calls f(path, field, value or nil) for each input that a change may name: what is declared, and the scalar fields
-- beside it that nobody gave.
local function each_input(f)
  local function visit(path, field, v)
    local d = inside[v]
    if d and d.list then
      for i, x in ipairs(d.list) do visit(record.step(path, i), field.item, x) end
    elseif d and d.names then
      for _, k in ipairs(d.names) do visit(record.step(path, k), field.item, d.map[k]) end
    elseif d and d.group then
      for _, g in ipairs(d.def.fields) do visit(record.step(path, g.name), g, d.v[g.name]) end
    elseif field then f(path, field, v) end
  end
  for _, proxy in ipairs(import("model.run").records) do
    local rec = inside[proxy]
    for _, g in ipairs(schema.all_fields(rec.def)) do
      if g.type ~= "conditions" then visit(record.step(rec.path, g.name), g, rec.v[g.name]) end
    end
  end
end

if input.inputs then
  boot.declare { script = input.script }
  host.style { us = true, fraction = 0 }
  local list = {}
  each_input(function(path, f, v)
    f.type = f.type or f[2]
    local values, bad = {}, {}
    if v ~= nil and edges[f.type] then values, bad = edges[f.type](f, v) end
    if v == nil and f.type ~= "ref" and f.type ~= "part" and f.type ~= "list" and f.type ~= "map" and f.example and
        f.type ~= "group" and f.type ~= "limit" then
      values = { host.literal(f.example) ~= nil and f.example or '"' .. f.example .. '"' }
    elseif v == nil and f.type == "choice" then values = quoted { f.choices[1], f.choices[#f.choices] } end
    for i, text in ipairs(values) do values[i] = path .. "=" .. text end
    for i, text in ipairs(bad or {}) do bad[i] = path .. "=" .. text end
    if values[1] then list[#list + 1] = { path = path, edges = values, bad = bad or {} } end
  end)
  for _, limits in host.sorted(import("model.run").limits) do
    for _, l in ipairs(limits) do
      local path = import("model.in_force").path(l)
      local si = host.is_quantity(l.value) and host.si(l.value) or l.value
      list[#list + 1] = { path = path, bad = {},
          edges = { path .. "=" .. amount_text(l.value, si * 0.7), path .. "=" .. amount_text(l.value, si * 1.03) } }
    end
  end
  list.files = {}
  for _, f in ipairs(host.files_read()) do
    local name = f.path:match "([^/]+)%.sline$"
    if name then table.insert(list.files, name .. ".sline") end
  end
  return list
end

-- ---- a change put in -----------------------------------------------------------------------------------------------

-- The value as a declaration takes it: { path, value }.
local function checked(text)
  local s = boot.setting(text)
  if s.path:find ":%d+:%d+$" or import("model.path").is_limit(s.path) then return s.path, s.value end
  local _, at = record.input(s.path)
  local f = record.field_at(at or s.path)
  local proxy, rest = record.locate(at or s.path)
  return at or s.path, inputs.checked({ owner = proxy, keys = rest, field = f, path = at or s.path },
      (written.value(s.text, f)))
end

local function put_in(set)
  local changes = {}
  host.style { us = true, fraction = 0 }               -- as a declaration prints what it refuses
  for _, text in ipairs(set) do
    local path, value = checked(text)
    changes[path] = value
  end
  return changes
end

local function style()
  local us = record.root.units == "US"
  host.style { us = us, fraction = us and record.given(record.root, "lengths") ~= "decimal" and 16 or 0 }
end

boot.declare { script = input.script }
local rules = rule.all()
local out = { base = told(judge.all(rules)), variants = {} }

local function as_texts(told_)
  local by = {}
  for _, o in ipairs(told_.outcomes) do by[o[1]] = o[2] end
  return by
end
local base = as_texts(out.base)

-- An outcome that is another than the base's, though by the notes it does not rest on what was changed.
local function unreached(path, now)
  if anew.shapes(path) then return nil end
  local reached = variants.reached(path)
  local texts = as_texts(now)
  for key, text in host.sorted(base) do
    if texts[key] and texts[key] ~= text and not reached[key] then return key end
  end
end

local function put(set)
  local ok, changes = pcall(put_in, set)
  style()
  if not ok then return refused(changes, set) end
  local went, outcomes, why = pcall(variants.judge, changes, rules)
  if not went then why = "went wrong: " .. (type(outcomes) == "table" and outcomes.text or tostring(outcomes)) end
  if not went or not outcomes then return refused(why, set) end
  local now = told(outcomes)
  local path = #set == 1 and next(changes)
  if path and not input.forced then now.unreached = unreached(path, now) end
  return now
end

-- What rests on each input that is changed alone, as a text.
local function all_reached()
  local list, seen = {}, {}
  for _, set in ipairs(input.changes) do
    local ok, changes = pcall(put_in, set)
    style()
    local path = ok and #set == 1 and next(changes)
    if path and not seen[path] and not anew.shapes(path) then
      seen[path] = true
      local keys = {}
      for key in host.sorted(variants.reached(path)) do keys[#keys + 1] = key end
      list[#list + 1] = path .. ": " .. table.concat(keys, ", ")
    end
  end
  return table.concat(list, "\n")
end

if input.forced then variants.forced(true) else variants.base(rules) end
local reached = not input.forced and all_reached()
out.nothing = told((variants.judge({}, rules)))
for i, set in ipairs(input.changes) do out.variants[i] = put(set) end
out.after = told(judge.all(rules), input.remedies)
out.reaches = not reached or reached == all_reached()
return out
