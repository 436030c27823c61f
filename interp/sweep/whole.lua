-- SPDX-License-Identifier: MIT
-- All that a judged job says, as lines of text, every number as its bits: two jobs with the same lines are the same
-- job, however they were declared.  Where something stands in a file is not in them.
local run = import "model.run"
local schema = import "model.schema"
local record = import "model.record"
local graph = import "model.graph"
local memo = import "model.memo"
local compare = import "model.compare"
local whole = {}

local inside, step = record.inside, record.step

local plain

local function amount(v)
  local dim, _, currency = host.unit(v)
  return ("%a %s %s"):format(host.si(v), dim, currency)
end

local function entries(list, with_names)
  local parts = {}
  for k, x in host.sorted(list) do
    if k ~= "n" then parts[#parts + 1] = (with_names and tostring(k) .. "=" or "") .. x end
  end
  return "{" .. table.concat(parts, "; ") .. "}"
end

-- Of an error what a person reads.
local function reason(err)
  local text = host.message(err)
  return "unknown [" .. tostring(err.code) .. "] " .. tostring(text)
end

local function table_text(v, seen)
  local d, list = inside[v], {}
  if d and d.v and not d.group then return "record " .. d.path end
  if not d and rawget(v, "code") and rawget(v, "text") then return reason(v) end
  if not d and rawget(v, "source") and rawget(v, "line") then return "a place" end
  for k, x in next, d and (d.list or d.map or d.v) or v do list[k] = plain(x, seen) end
  return entries(list, not (d and d.list))
end

function plain(v, seen)
  if type(v) == "number" then return ("%a"):format(v) end
  if type(v) == "string" then return ("%q"):format(v) end
  if host.is_quantity(v) then return amount(v) end
  if host.wire(v) then return "wire " .. host.format(v) end
  if type(v) ~= "table" then return type(v) == "boolean" and tostring(v) or type(v) end
  v = compare.held(v) or v
  if seen[v] then return "again" end
  seen[v] = true
  local text = table_text(v, seen)
  seen[v] = nil
  return text
end

-- Lines: { key, text } ...
local function declared(lines)
  local function add(path, value)
    local d = inside[value]
    if d and d.list then for i, x in ipairs(d.list) do add(step(path, i), x) end
    elseif d and d.names then for _, k in ipairs(d.names) do add(step(path, k), d.map[k]) end
    elseif d and d.group then
      for _, g in ipairs(d.def.fields) do if d.v[g.name] ~= nil then add(step(path, g.name), d.v[g.name]) end end
    else
      local told = run.told[path]
      local o = host.is_quantity(value) and host.origin(value)
      local tolerance = run.tolerances[path] or o and o.tolerance
      lines[#lines + 1] = { path, plain(value, {}) .. (tolerance and " +- " .. plain(tolerance, {}) or "") ..
          (told and " " .. told.how .. " " .. tostring(told.by) or "") }
    end
  end
  for _, proxy in ipairs(run.records) do
    local rec = inside[proxy]
    for _, f in ipairs(rec.def.partial and {} or schema.all_fields(rec.def)) do
      if rec.v[f.name] ~= nil then add(step(rec.path, f.name), rec.v[f.name]) end
    end
  end
  for name, limits in host.sorted(run.limits) do
    for _, l in ipairs(limits) do
      lines[#lines + 1] = { "limits." .. l.role .. "." .. l.file .. "." .. name, plain(l.value, {}) .. " " ..
          tostring(l.cite) }
    end
  end
end

local function results(lines)
  local function unknown(path, why) lines[#lines + 1] = { path, reason(why) } end
  record.each_record(function(proxy)
    local rec = inside[proxy]
    for _, def in ipairs(schema.results(rec.def)) do
      if not def.op and not graph.none(proxy, def) then
        local value, why = graph.try(proxy, def.name)
        local path = step(rec.root and "job" or rec.path, def.name)
        if value ~= nil then lines[#lines + 1] = { path, plain(value, {}) }
        elseif why then unknown(path, why) end
      end
    end
  end, unknown)
end

local OWN = { rule = true, proxy = true, remedied = true, kept = true, rests = true, subject = true }

local function outcome_text(o)
  local cites, list = memo.cites(o.rests or 0), {}
  table.sort(cites)
  for k, v in next, o do if not OWN[k] then list[k] = plain(v, {}) end end
  list["from memory"] = plain(cites, {})
  return entries(list, true)
end

-- Of the run at hand, judged: { { key, text } ... } in the order declared.
function whole.lines(outcomes)
  local lines = {}
  declared(lines)
  results(lines)
  for _, o in ipairs(outcomes) do
    lines[#lines + 1] = { "rule " .. o.rule.id .. " on " .. tostring(o.subject or "the job"), outcome_text(o) }
  end
  return lines
end

-- The key of the first line in which the two differ, and what each has there; nil where they are the same.
function whole.difference(a, b)
  for i = 1, math.max(#a, #b) do
    local x, y = a[i], b[i]
    if not x or not y or x[1] ~= y[1] or x[2] ~= y[2] then
      local same_key = x and y and x[1] == y[1]
      return x and x[1] or y[1], x and x[2], same_key and y[2] or nil
    end
  end
end

return whole
