-- SPDX-License-Identifier: MIT
-- One case of tests/results, in the host's Lua: declares the job with what the case changes in it, and tells values and
-- outcomes as plain tables.  tests/results_test.c runs it, tests/results.lua asks.
--
-- input: { literals = { text ... } } gives each as { si, dimension } or { why };
--        { library = true } gives the kinds' results and the standard rules;
--        { script, sets = { text ... }, without = { path ... }, values = { path ... }, remedies = { ["R41 strings"] =
--        true ... } } gives { values, outcomes }, with turning values and nearest changes where remedies asks for them.
local input = ...
local boot = import "model.boot"
local run, record, schema, path_of = import "model.run", boot.record, boot.schema, import "model.path"
local known = {}

-- ---- values --------------------------------------------------------------------------------------------------------

local function told(v)
  if v == nil then return nil end
  if type(v) == "number" then return { si = v, dimension = "number", text = host.format(v, nil, 12) } end
  if host.is_quantity(v) then
    local dimension, _, currency = host.unit(v)
    return { si = host.si(v), dimension = dimension, currency = currency, text = host.format(v, nil, 8) }
  end
  if type(v) == "boolean" then return { flag = v, text = tostring(v) } end
  if type(v) == "string" then return { words = v, text = v } end
  if record.inside[v] then return { group = true, text = tostring(v) } end
  local plain = type(v) ~= "table" and import("write.words").show(v)
  return plain and { words = plain, text = plain } or { group = true, text = "a whole answer" }
end

local function reason(why)
  local text, help = host.message(why)
  return { unknown = text, help = help, missing = why.path, class = host.class(why) }
end

if input.literals then
  for i, text in ipairs(input.literals) do
    local v, why, help = host.literal(text)
    known[i] = v ~= nil and told(v) or { why = why, help = help }
  end
  return known
end

-- ---- the library ---------------------------------------------------------------------------------------------------

if input.library then
  local rules, results = {}, {}
  for _, k in ipairs(schema.all()) do
    for _, r in ipairs(schema.results(k)) do
      if not (r.op or r.rows) then results[#results + 1] = k.name .. "." .. r.name end
    end
  end
  boot.declare { script = input.script, plan = {} }
  for _, r in ipairs(import("model.rule").all()) do
    if r.standard then
      rules[#rules + 1] = { id = r.id, each = r.each, applies = r.applies ~= nil, says = r.says }
    end
  end
  return { rules = rules, results = results }
end

-- ---- a job ---------------------------------------------------------------------------------------------------------

local function refuse(text, help) host.raise { code = "U001", text = text, help = help } end

-- `without PATH`: a whole declaration, a field of one, or a limit of the place and the house.
local plan, lost_limits = {}, {}
for _, path in ipairs(input.without) do
  local parts, why = path_of.parse(path)
  if not parts then refuse("without " .. path .. ": " .. why) end
  local kind = schema.kinds[parts[1]]
  if not kind then
    refuse("without " .. path .. ": nothing is called '" .. parts[1] .. "'",
        host.nearest(parts[1], schema.words()))
  end
  local at = 2
  if kind.name == "limits" then
    if not kind.by[parts[2]] then refuse("without " .. path .. ": there is no such limit") end
    lost_limits[#lost_limits + 1] = parts[2]
  else
    if parts[2] and not kind.by[parts[2]] and not kind.single then at = 3 end
    local field = kind.by[parts[at]]
    if parts[at] and not field then refuse("without " .. path .. ": " .. kind.name .. " has no field '" .. parts[at]
        .. "'", host.nearest(parts[at], schema.names(kind))) end
    if parts[at] then plan[#plan + 1] = { path = path, from = "without " .. path }
    else plan[#plan + 1] = { drop = path_of.tidy(path), from = "without " .. path } end
  end
end
for _, text in ipairs(input.sets) do plan[#plan + 1] = boot.setting(text) end

boot.declare { script = input.script, plan = plan }
for _, name in ipairs(lost_limits) do
  if not run.limits[name] then refuse("without limits." .. name .. ": the job has no such limit") end
  run.limits[name] = nil
end

local values = {}
for i, path in ipairs(input.values) do
  local ok, v = pcall(record.at, path)
  if not ok then
    if host.class(v) then values[i] = reason(v)
    else
      local text, help = host.message(v)
      values[i] = { wrong = text, help = help }
    end
  elseif v == nil then values[i] = { wrong = "nothing has the path " .. path }
  else values[i] = told(v)
  end
  if not values[i].wrong then
    -- which result it is: the kind of the record that the last key is read from
    local parts = path_of.parse(path)
    local key = table.remove(parts)
    local good, from = pcall(record.at, path_of.join(parts))
    local data = good and record.inside[from]
    if data and data.def then values[i].result = data.def.name .. "." .. tostring(key) end
  end
end

local outcomes = {}
for i, o in ipairs(boot.judge()) do
  local f, out = o.finding, { rule = o.rule.id, subject = o.subject, outcome = o.outcome }
  if f then
    out.governs, out.words = f.whose, f.words or ""
    out.value, out.limit, out.margin = told(f.value), told(f.limit), told(f.margin)
  end
  if o.why then
    local texts, paths = {}, {}
    for j, w in ipairs(o.whys) do
      local why = reason(w)
      texts[j], paths[#paths + 1] = why.unknown, why.missing
    end
    out.words, out.missing = table.concat(texts, "; "), table.concat(paths, ", ")
    out.ask = (o.why.who or "") .. ", " .. (o.why.tool or "")
  end
  out.cites = import("write.words").cite((f and f.cite and f.cite .. "; " or "") .. o.rule.cite)
  if input.remedies[out.rule .. " " .. tostring(out.subject)] then
    local whatif = import "model.whatif"
    if out.outcome == "broken" then whatif.remedy(o) else o.flip = whatif.flip(o.rule, o.proxy) end
    out.nearest = o.nearest
    if o.flip then out.flip = told(o.flip.value); out.flip.path = o.flip.path end
  end
  outcomes[i] = out
end
return { values = values, outcomes = outcomes }
