-- SPDX-License-Identifier: MIT
-- Axes: what `vary` of the job, its place and house, and --vary say, found out in the job that is declared.
--
-- An axis: { name, size = how many steps, the declared value with them, place = where the declared value stands or nil,
-- at = where it is varied, unit or nil, says, shapes = whether a step shapes the declarations, text(i), si(i), plan(i),
-- puts(i) = what is put into records or nil where it shapes, sets(i) = what stands behind --set, or nil where no text
-- says it, alternate(i), files(i) = files that a step reads beside those of the job, spec = all that its steps rest on,
-- as one text, notes = what a person is told of it, kind = "list", "range", "rows" or "between" }.
-- Step 0 is what is declared. An axis between two ends (kind "between") has a size, and steps, once it is drawn from:
-- drawn(n, at) gives that axis, where at(i) is the share of the way at which step i of n stands, and its part.
local run = import "model.run"
local schema = import "model.schema"
local boot = import "model.boot"
local target = import "sweep.target"
local range = import "sweep.range"
import "sweep.words"
local axes = {}

local limit = 2 ^ 53           -- variants are numbered by whole numbers up to there

local function deeper(keys, key)
  local list = table.move(keys, 1, #keys, 1, {})
  list[#list + 1] = key
  return list
end

-- ---- an axis out of its targets ------------------------------------------------------------------------------------

local function joined(list, pick, between)
  local parts, alike = {}, true
  for i, x in ipairs(list) do
    parts[i] = pick(x)
    alike = alike and parts[i] == parts[1]
  end
  return alike and parts[1] or table.concat(parts, between)
end

local function any(list, key)
  for _, x in ipairs(list) do if x[key] then return true end end
  return false
end

local kept_choices = 4096      -- of an axis, as they are asked for again and again

-- at: where it stands; targets; size; choices(i) -> a list of a choice for each target, or fewer (a cell left empty).
local function axis_of(at, targets, name, size, choices, more)
  local known = {}
  local function step(i)
    local list = known[i]
    if not list then
      list = choices(i)
      if size <= kept_choices then known[i] = list end
    end
    return list
  end
  local shapes = any(targets, "shapes")
  local first = targets[1]
  local axis = { name = name, size = size, targets = targets, at = at, shapes = shapes, notes = {}, place = first.place,
      unit = first.unit, says = joined(targets, function(t) return t.says end, "; ") }
  for key, value in next, more do axis[key] = value end
  function axis.text(i)
    if i == 0 then return joined(targets, function(t) return t.said end, " + ") end
    return axis.written and axis.written(step(i), i) or step(i)[1].text
  end
  function axis.si(i)
    if axis.kind == "rows" then return nil end
    if i == 0 then return first.si end
    return step(i)[1].si
  end
  function axis.plan(i)
    local plan = {}
    for _, c in ipairs(i > 0 and step(i) or {}) do table.move(c.plan, 1, #c.plan, #plan + 1, plan) end
    return plan
  end
  axis.puts = not shapes and function(i)
    local list = i > 0 and step(i) or {}
    if list.puts then return list.puts end
    local puts = {}
    for _, c in ipairs(list) do
      for path, value in next, c.put do puts[path] = value end
    end
    list.puts = puts
    return puts
  end or nil
  function axis.sets(i)
    local list = {}
    for _, c in ipairs(i > 0 and step(i) or {}) do
      if c.set then list[#list + 1] = c.set elseif not c.alternate then return nil end
    end
    return list
  end
  function axis.alternate(i)
    for _, c in ipairs(i > 0 and step(i) or {}) do if c.alternate then return c.alternate end end
  end
  function axis.files(i)
    local paths, script = {}, run.declared.script
    for _, f in ipairs(host.files_read()) do paths[f.path] = true end
    for _, c in ipairs(i > 0 and step(i) or {}) do
      if c.path then return axes.files_of(script, axis.plan(i), paths, c.path) end
    end
    return {}
  end
  return axis
end

-- The files that a job reads with a plan beside those that are known: { { path, sha256 } ... }.
function axes.files_of(script, plan, known)
  local whole = table.move(run.declared.plan, 1, #run.declared.plan, 1, {})
  table.move(plan, 1, #plan, #whole + 1, whole)
  return run.aside(function()
    local list = {}
    local ok, err = pcall(boot.declare, { script = script, plan = whole })
    if not ok and type(err) ~= "table" then error(err, 0) end
    for _, f in ipairs(host.files_read()) do
      if not known[f.path] then list[#list + 1] = { path = f.path, sha256 = f.sha256 } end
    end
    return list
  end)
end

-- ---- lists ---------------------------------------------------------------------------------------------------------

local function same(a, b)
  if host.is_quantity(a) and host.is_quantity(b) then return host.same(a, b) end
  return a == b or host.wire(a) and host.wire(b) and type(a) ~= "string" and host.format(a) == host.format(b) or
      type(a) == "number" and type(b) == "number" and host.near(a, b)
end

-- Whether choices are what is declared: each the value of its target, with no other tolerance.
local function as_declared(targets, list)
  for k, t in ipairs(targets) do
    if t.value == nil or not same(t.value, list[k].value) then return false end
    if list[k].text:find("+-", 1, true) or t.said:find("+-", 1, true) then
      if list[k].text ~= t.said then return false end
    end
  end
  return true
end

-- values: { { raw, keys, tolerance } ... }.
local function of_list(at, targets, name, values)
  local steps, notes, seen = {}, {}, {}
  for _, v in ipairs(values) do
    local list = {}
    for k, t in ipairs(targets) do list[k] = t.take(v.raw, at, v.keys, v.tolerance) end
    if as_declared(targets, list) then
      notes[#notes + 1] = list[1].text .. " is what is declared, and counts once"
    else
      local twice = nil
      for _, s in ipairs(steps) do twice = twice or same(s[1].value, list[1].value) and s[1].text == list[1].text and s end
      if twice then notes[#notes + 1] = list[1].text .. " stands there twice, and counts once"
      else steps[#steps + 1] = list end
    end
  end
  local texts = {}
  for i, s in ipairs(steps) do texts[i] = s[1].text end
  return axis_of(at, targets, name, #steps + 1, function(i) return steps[i] end,
      { kind = "list", notes = notes, spec = table.concat(texts, "\n") })
end

-- ---- ranges --------------------------------------------------------------------------------------------------------

local range_example = 'vary { "rack.east.tilt", from = 15deg, to = 60deg, step = 1deg }'

local function end_of(at, targets, v)
  local list = {}
  for k, t in ipairs(targets) do
    local choice = t.take(v.raw, at, v.keys, v.tolerance)
    if not choice.si then
      at.refuse(v.keys, "D003", "a range goes from one amount to another, and " .. t.name .. " is none: " .. choice.text,
          "list its values instead")
    end
    if choice.text:find("+-", 1, true) then
      at.refuse(v.keys, "D003", "an end of a range has no tolerance, got " .. choice.text, "write the amount alone")
    end
    list[k] = choice
  end
  return list
end

local function step_of(at, targets, from, to, by)
  local a, b, field = from[1].value, to[1].value, targets[1].field
  local raw = by.raw
  local wanted = host.is(a, "temperature") and "temperature difference" or nil
  local fits = host.is_quantity(a) == host.is_quantity(raw) and (type(a) == "number" and type(raw) == "number" or
      host.is_quantity(a) and (wanted and host.is(raw, wanted) or not wanted and host.same_kind(a, raw)))
  if not fits then
    at.refuse(by.keys, "D003", "the step of " .. targets[1].name .. " needs a value like " .. (wanted and "5dC" or
        to[1].text) .. ", got " .. host.describe(raw), "as in " .. range_example)
  end
  local si = host.si(raw)
  if not (si ~= 0 and si == si and math.abs(si) < math.huge) then
    at.refuse(by.keys, "D004", "a step of " .. host.format(raw) .. " leads nowhere", "as in " .. range_example)
  end
  if (host.si(b) - host.si(a)) * si < 0 then
    at.refuse(by.keys, "D004", "a step of " .. host.format(raw) .. " does not lead from " .. from[1].text .. " to " ..
        to[1].text, si < 0 and "write it without its minus" or "write it with a minus, or the lower end first")
  end
  if by.tolerance or host.is_quantity(raw) and (host.origin(raw) or {}).tolerance then
    at.refuse(by.keys, "D003", "a step has no tolerance", "write the amount alone")
  end
  if field and field.type == "count" and not math.tointeger(raw) then
    at.refuse(by.keys, "D003", "a count goes by whole numbers, got a step of " .. host.format(raw), "as in step = 1")
  end
  return raw
end

local function text_of(targets, value, at, keys)
  return targets[1].take(value, at, keys).text
end

local function by_steps(at, targets, name, from, to, by)
  local field = targets[1].field
  local share = field and field.type == "ratio"
  local count, ends = range.count(from[1].value, to[1].value, by.value)
  if count > limit then
    at.refuse(by.keys, "W001", "a range of " .. string.format("%.3g", count) .. " steps is more than can be counted",
        "take a longer step")
  end
  count = math.tointeger(count)
  local value = range.values(from[1].value, by.value, share)
  local function take(i)
    local list = {}
    for k, t in ipairs(targets) do list[k] = t.take(value(i), at, by.keys) end
    return list
  end
  local declared, first = nil, targets[1]         -- the place in the range of the declared value
  if first.si then
    local k = math.floor((first.si - from[1].si) / host.si(by.value) + 0.5)
    if k >= 0 and k < count and as_declared(targets, take(k)) then declared = k end
  end
  local notes = {}
  if declared then notes[1] = take(declared)[1].text .. " is what is declared, and counts once" end
  if not ends then
    notes[#notes + 1] = "the last is " .. take(count - 1)[1].text .. ": " .. to[1].text .. " is no whole number of steps"
        .. " away"
  end
  local size = declared and count or count + 1
  return axis_of(at, targets, name, size, function(i)
    return take(declared and i > declared and i or i - 1)
  end, { kind = "range", notes = notes,
      spec = from[1].text .. " to " .. to[1].text .. " by " .. take(0)[1].text .. " " .. string.format("%.17g",
          host.si(by.value)) .. " " .. size })
end

local function between_ends(at, targets, name, from, to)
  local a, b = from[1].value, to[1].value
  if host.si(a) == host.si(b) then
    at.refuse(at.range and at.range.to or {}, "D004", "a range from " .. from[1].text .. " to " .. to[1].text ..
        " is one value", "list it, or write another end")
  end
  local field = targets[1].field
  local value = range.between(a, b, field and field.type == "ratio")
  local spec = from[1].text .. " to " .. to[1].text
  local open = axis_of(at, targets, name, 0, function() error("not drawn yet") end, { kind = "between", spec = spec,
      from = from[1].si, to = to[1].si })
  -- The axis with n steps beside the declared one: step i stands in the i-th of n equal parts, at(i) of the way.
  function open.drawn(n, place)
    return axis_of(at, targets, name, n + 1, function(i)
      local v, list = value((i - 1) / n, i / n, place(i)), {}
      for k, t in ipairs(targets) do list[k] = t.take(v, at, at.range and at.range.from or {}) end
      return list
    end, { kind = "between", spec = spec, from = open.from, to = open.to })
  end
  return open
end

-- r: { from, to, by } of { raw, keys, tolerance }; without `by` an axis to draw from, and a count goes one by one.
local function of_range(at, targets, name, r)
  local from, to = end_of(at, targets, r.from), end_of(at, targets, r.to)
  at.range = { from = r.from.keys, to = r.to.keys }
  local by = r.by
  local field = targets[1].field
  if not by and field and field.type == "count" then
    by = { raw = to[1].value < from[1].value and -1 or 1, keys = r.to.keys }
  end
  if not by then return between_ends(at, targets, name, from, to) end
  by.value = step_of(at, targets, from, to, by)
  return by_steps(at, targets, name, from, to, by)
end

-- ---- from a script -------------------------------------------------------------------------------------------------

local function names_of(targets)
  local names = {}
  for i, t in ipairs(targets) do names[i] = t.name end
  return table.concat(names, " + ")
end

local function targets_of(at, paths)
  local list = {}
  for i, p in ipairs(paths) do list[i] = target.of(p.path, at, p.keys) end
  for i, t in ipairs(list) do
    for j = 1, i - 1 do
      if list[j].name == t.name then at.refuse(paths[i].keys, "D015", t.name .. " stands there twice", "leave one out") end
    end
    if #list > 1 and (t.name == "alternate" or t.name == "vendors" or t.name:find "^file ") then
      at.refuse(paths[i].keys, "D019", t.name .. " does not move together with inputs", "give it an axis of its own")
    end
  end
  return list
end

local of_rows

local function of_table(at)
  local raw = at.raw
  if raw.csv ~= nil then return of_rows(at, raw.csv, { "csv" }) end
  local values = {}
  local targets = raw.file ~= nil and { target.file(raw.file, at, { "file" }) } or targets_of(at, at.paths)
  for i = raw.file ~= nil and 1 or 2, at.n do values[#values + 1] = { raw = raw[i], keys = { i } } end
  if raw.from == nil then return of_list(at, targets, names_of(targets), values) end
  local function part(key) return { raw = raw[key], keys = { key } } end
  return of_range(at, targets, names_of(targets), { from = part "from", to = part "to",
      by = raw.step ~= nil and part "step" or nil })
end

-- ---- from the command line -----------------------------------------------------------------------------------------

local vary_help = 'as in --vary "rack.east.tilt=25deg, 30deg" or --vary "rack.east.tilt=15deg to 60deg by 1deg"'

local function option_at(text)
  local at = { from = "--vary " .. text, option = true }
  function at.span() return { source = 0, line = 0, col = 0, len = 0 } end
  function at.refuse(_, code, why, help)
    host.raise { code = code, text = at.from .. ": " .. why, help = help }
  end
  return at
end

local closing = { ["("] = ")", ["["] = "]", ['"'] = '"', ["'"] = "'" }

-- The parts between a mark of one byte, where it stands in no quotes and brackets; without blanks around them.
local function parted(text, mark)
  local list, from, inside = {}, 1, nil
  for i = 1, #text do
    local c = text:sub(i, i)
    local quote_of_a_foot = (c == "'" or c == '"') and text:sub(i - 1, i - 1):find "%d" and not inside
    if inside then inside = c ~= inside and inside or nil
    elseif closing[c] and not quote_of_a_foot then inside = closing[c]
    elseif c == mark then
      list[#list + 1] = text:sub(from, i - 1)
      from = i + 1
    end
  end
  list[#list + 1] = text:sub(from)
  for i, part in ipairs(list) do list[i] = part:match "^%s*(.-)%s*$" end
  return list
end

local function read_value(at, text)
  if text == "" then at.refuse({}, "U001", "a value is missing", vary_help) end
  local v, tolerance = boot.value(text, function(why) at.refuse({}, "U001", why, vary_help) end)
  return { raw = v, keys = {}, tolerance = tolerance }
end

-- "15deg to 60deg by 1deg", where these are amounts; nil of anything else.
local function range_in(at, text)
  local from, to = text:match "^(%S.-)%s+to%s+(.+)$"
  if not from then return nil end
  local stop, by = to:match "^(.-)%s+by%s+(.+)$"
  to = stop or to
  if host.literal(from) == nil or host.literal(to) == nil then return nil end
  return { from = read_value(at, from), to = read_value(at, to), by = by and read_value(at, by) or nil }
end

local function of_option(text)
  local at = option_at(text)
  local unsafe, mend = host.unsafe(text)
  if unsafe then host.raise { code = "U001", text = "--vary holds " .. unsafe, help = mend } end
  local left, right = text:match "^%s*(.-)%s*=%s*(.-)%s*$"
  if not left or left == "" then at.refuse({}, "U001", "write --vary PATH=VALUES", vary_help) end
  if right == "" then at.refuse({}, "U001", "no value behind the equal sign", vary_help) end
  if left == "csv" then return of_rows(at, boot.value(right, error), {}) end
  local paths = {}
  for i, path in ipairs(parted(left, "+")) do paths[i] = { path = path, keys = {} } end
  local targets = targets_of(at, paths)
  local r = range_in(at, right)
  if r then return of_range(at, targets, names_of(targets), r) end
  local values = {}
  for i, part in ipairs(parted(right, ",")) do
    values[i] = targets[1].name == "vendors" and { raw = part, keys = {} } or read_value(at, part)
  end
  return of_list(at, targets, names_of(targets), values)
end

-- ---- rows of a file ------------------------------------------------------------------------------------------------

local function cell_at(at, csv, cell)
  local own = { from = at.from }
  function own.span() return { source = csv.source, line = cell.line, col = cell.col, len = cell.len } end
  function own.refuse(_, code, text, help)
    host.raise { code = code, text = text, help = help, source = csv.source, line = cell.line, col = cell.col,
        len = cell.len }
  end
  return own
end

local function row_of(at, csv, columns, row)
  local list = {}
  for k, c in ipairs(columns) do
    local cell = row[k]
    if cell.text ~= "" then
      local own = cell_at(at, csv, cell)
      local v, tolerance = cell.text, nil
      if c.targets[1].name ~= "vendors" then
        v, tolerance = boot.value(cell.text, function(why) own.refuse({}, "F032", why) end)
      end
      for _, t in ipairs(c.targets) do list[#list + 1] = t.take(v, own, {}, tolerance) end
    end
  end
  return list
end

local function in_row(list)
  local parts = {}
  for i, c in ipairs(list) do parts[i] = c.set or "alternate=" .. c.text end
  return table.concat(parts, ", ")
end

function of_rows(at, name, keys)
  local path, looked = host.find(name, "")
  if not path then at.refuse(keys, "F021", name .. ": no such file", "it is looked for at " .. looked) end
  local csv = host.csv(path)
  run.named[path] = run.named[path] or { word = "vary", name = name }
  local columns, targets, taken = {}, {}, {}
  for k, cell in ipairs(csv.head) do
    local own, paths = cell_at(at, csv, cell), {}
    for i, p in ipairs(parted(cell.text, "+")) do paths[i] = { path = p, keys = {} } end
    columns[k] = { targets = targets_of(own, paths) }
    for _, t in ipairs(columns[k].targets) do
      if taken[t.name] then own.refuse({}, "D015", t.name .. " stands in two columns", "leave one of them out") end
      taken[t.name], targets[#targets + 1] = true, t
    end
  end
  if #csv.rows == 0 then at.refuse(keys, "D002", name .. " has a heading and no rows", "a row is a variant") end
  local steps, notes, seen, texts = {}, {}, {}, {}
  for _, row in ipairs(csv.rows) do
    local list = row_of(at, csv, columns, row)
    local text = in_row(list)
    if seen[text] then
      notes[#notes + 1] = "line " .. row[1].line .. " of " .. name .. (text == "" and " is what is declared" or
          " says what line " .. seen[text] .. " says") .. ", and counts once"
    else
      if text ~= "" then steps[#steps + 1], texts[#texts + 1] = list, text end
      seen[text] = row[1].line
    end
  end
  local axis = axis_of(at, targets, name, #steps + 1, function(i) return steps[i] end,
      { kind = "rows", notes = notes, spec = table.concat(texts, "\n"), says = "rows of " .. name,
          written = function(list) return in_row(list) end })
  axis.unit, axis.place = nil, { source = csv.source, line = 1, col = 1, len = 0 }
  local files = axis.files
  function axis.text(i) return i == 0 and "as declared" or in_row(steps[i]) end
  axis.files = files
  return axis
end

-- ---- all of them ---------------------------------------------------------------------------------------------------

local function refuse_shared(list)
  local by = {}
  for _, axis in ipairs(list) do
    for _, t in ipairs(axis.targets) do
      local other = by[t.name]
      if other then
        axis.at.refuse(axis.at.option and {} or { 1 }, "D015", t.name .. " is varied twice: here, and by " .. (other.at.option and
            other.at.from or "the vary at " .. host.place(other.at.span {})), "leave one of the two out")
      end
      by[t.name] = axis
    end
  end
end

-- All axes of the job that is declared. options: { vary = texts of --vary }.
function axes.of(options)
  local list, place = {}, {}
  for _, at in ipairs(run.varied) do
    list[#list + 1] = of_table(at)
    place[list[#list].name] = place[list[#list].name] or #list
  end
  for _, text in ipairs(options.vary or {}) do
    local axis = of_option(text)
    local k = place[axis.name]
    if k and not list[k].at.option then list[k] = axis
    else list[#list + 1] = axis end
  end
  refuse_shared(list)
  return list
end

return axes
