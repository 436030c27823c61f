-- SPDX-License-Identifier: MIT
-- Rules: what is judged.
--
-- rule { id = "R41", severity = "stop", each = "strings", says = "...", cite = "...", caution = "...",
--        may_waive = "nobody", applies = function(s, job) end,
--        check = function(s, job) return at_most(s.coldest_voltage, limit) end,
--        flips = function(s) return tostring(s) .. ".series" end,
--        nearest = function(s, job, passes) return { { changes = { [path] = 5 }, words = "5 in series" } } end }
--
-- and_each: a second kind that it judges one by one.
-- tells = function(s): what is worth telling of a subject beside the finding, in words, or nil.
-- flips: the input whose turning value is searched, one that the schema marks as the designer's (design = true).
-- nearest: changes that pass, each with its words, or a text: advice without a change.
local run = import "model.run"
local schema = import "model.schema"
local record = import "model.record"
local compare = import "model.compare"
local domains = import "model.domains"
local in_force = import "model.in_force"
local rule = {}

-- What a rule's check is written with.
for _, word in ipairs { "at_most", "at_least", "between", "equal_within", "present", "states", "every", "bound",
    "constructed" } do
  rule[word] = compare[word]
end

-- ---- registry ------------------------------------------------------------------------------------------------------

local severities = { stop = true, caution = true, note = true }

-- The library's own that are loaded, and by id, which loads them; those of scripts are the run's.
local standard = { by = domains.lazy "rules" }

-- Two rules of one id: the second, or the script's.
local function refuse_twice(def, first)
  local a, b = def.place or first.place, def.place and first.place
  local alike = not def.scripted == not first.scripted
  local label = b and { line = b.line, col = b.col, len = b.len, text = "first declared here" }
  host.raise { code = "R003",
      text = "rule " .. def.id .. (alike and " is declared twice" or " is one of the standard rules"),
      source = a and a.source, line = a and a.line, col = a and a.col, len = a and a.len,
      labels = b and a and b.source == a.source and { label } or nil,
      notes = b and b.source ~= a.source and { "first declared at " .. host.place(b) } or nil,
      help = "give it another id, such as H2 or J2" }
end

function rule.add(def)
  local list = def.scripted and run.rules or standard
  local first = rawget(list.by, def.id) or def.scripted and standard.by[def.id]
  if first then refuse_twice(def, first) end
  assert(severities[def.severity], def.id)
  if not def.letter then                           -- the library's have theirs from the build
    local letter, number = string.match(def.id, "^(%a+)(%d+)$")
    def.letter, def.number, def.standard = letter or def.id, tonumber(number) or 0, not def.scripted
  end
  list[#list + 1], list.by[def.id] = def, def
  run.rules_loaded, run.rules_all = nil, nil
end

-- R1 before R10 before H1: the standard rules first, then by letter and number.
local function by_id(a, b)
  if a.standard ~= b.standard then return a.standard end
  if a.letter ~= b.letter then return a.letter < b.letter end
  local x, y = a.number, b.number
  if x ~= y then return x < y end
  return a.id < b.id
end

-- Those of the library are told apart by their numbers, which sort without a comparison in Lua.
local function put_in_order(list)
  local numbers, by, others = host.room(0, #list), host.room(0, #list), {}
  for i = 1, #list do
    local def = list[i]
    local number = def.number
    if def.standard and def.letter == "R" and not by[number] then numbers[#numbers + 1], by[number] = number, def
    else others[#others + 1] = def end
  end
  table.sort(others, by_id)
  if others[1] and others[1].standard then return table.sort(list, by_id) end
  table.sort(numbers)
  for i = 1, #numbers do list[i] = by[numbers[i]] end
  table.move(others, 1, #others, #numbers + 1, list)
end

-- The rule of an id, or nil.
function rule.find(id) return run.rules.by[id] or standard.by[id] or nil end

local function gathered()
  local list = table.move(standard, 1, #standard, 1, host.room(0, #standard + #run.rules))
  return table.move(run.rules, 1, #run.rules, #list + 1, list)
end

run.keep("rules_loaded", function() return nil end)       -- both lists, until a rule comes
run.keep("rules_all", function() return nil end)

-- The rules that are loaded, and the script's, in their order.
function rule.loaded()
  if not run.rules_loaded then
    run.rules_loaded = gathered()
    put_in_order(run.rules_loaded)
  end
  return run.rules_loaded
end

-- A rule whose module has no subject here: what is told of every rule, and the rest when somebody asks.
local idle_meta = { __index = function(idle, key) return standard.by[idle.id][key] end }

local function idle(id, severity, each)
  local letter, number = string.match(id, "^(%a+)(%d+)$")
  return setmetatable({ id = id, severity = severity, each = each, and_each = false, letter = letter or id,
      number = tonumber(number) or 0, standard = true, scripted = false, place = false,
      flips_place = false }, idle_meta)
end

-- All rules of the library and of the script; modules are loaded where something that they judge is declared.
function rule.all()
  if run.rules_all then return run.rules_all end
  for _, w in ipairs(run.waivers) do local _ = rule.find(w.rule) end
  for _, m in ipairs(domains.rules()) do
    local wanted = m.always
    for _, kind in ipairs(m.kinds) do wanted = wanted or #record.all(kind) > 0 end
    if wanted then domains.load(m.module) end
  end
  local list = gathered()
  for _, m in ipairs(domains.rules()) do
    for i = 1, #m, 3 do
      if not rawget(standard.by, m[i]) then list[#list + 1] = idle(m[i], m[i + 1], m[i + 2]) end
    end
  end
  put_in_order(list)
  run.rules_all = list
  return list
end

-- Whether the job has come to that stage: rule.reached "build" is true of "build" and "as built"; if not, and why.
function rule.reached(stage)
  for _, s in ipairs(schema.kinds.job.by.stage.choices) do
    if s == stage then return true end
    if s == record.root.stage then return false, 'from stage "' .. stage .. '" on' end
  end
end

-- ---- limits: see model.in_force -----------------------------------------------------------------------------------

rule.limit, rule.has_limit, rule.wants_limit, rule.no_limit = in_force.limit, in_force.has, in_force.wanted,
    in_force.none
rule.limits_in_force, rule.limits_of_none, rule.limits_asked = in_force.list, in_force.list_none, in_force.asked

-- Who may waive it.  A rule of a script that says nothing of that is waived by whom the limits that it read let.
function rule.may_waive(def)
  return def.may_waive_unsaid and in_force.may_waive(def.id) or def.may_waive or "nobody"
end

return rule
