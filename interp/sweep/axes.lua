-- SPDX-License-Identifier: MIT
-- Axes: what `vary` of the job, its place and house, and --vary say, found out in the job that is declared.
--
-- An axis: { name, size = how many steps, the declared value with them, place = where the declared value stands or
-- nil, at = where it is varied, unit or nil, says, shapes = whether a step shapes the declarations, text(i), si(i),
-- plan(i), puts(i) = what is put into records or nil where it shapes, sets(i) = what stands behind --set, or nil where
-- no text says it, alternate(i), files(i) = { path, sha256 } of what a step reads beside the files of the job, nil
-- where none can, spec = all that its steps rest on, as one text, notes = what a person is told of it, kind = "list",
-- "range", "rows" or "between" }.
-- Step 0 is what is declared. An axis between two ends (kind "between") has a size, and steps, once it is drawn from:
-- drawn(n, at) gives that axis, where at(i) is the share of the way at which step i of n stands, and its part.
local run = import "model.run"
local boot = import "model.boot"
local written = import "model.written"
local target = import "sweep.target"
local axis = import "sweep.axis"
local range = import "sweep.range"
local option = import "sweep.option"
import "sweep.words"
local axes = {}

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
      if list[j].name == t.name then
        at.refuse(paths[i].keys, "D015", t.name .. " stands there twice", "leave one out")
      end
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
  if raw.from == nil then return axis.list(at, targets, names_of(targets), values) end
  local function part(key) return { raw = raw[key], keys = { key } } end
  return range.axis(at, targets, names_of(targets), { from = part "from", to = part "to",
      by = raw.step ~= nil and part "step" or nil })
end

-- ---- from the command line ---------------------------------------------------------------------------------------

local function of_option(text)
  local at = option.at(text)
  local unsafe, mend = host.unsafe(text)
  if unsafe then host.raise { code = "U001", text = "--vary holds " .. unsafe, help = mend } end
  local left, right = text:match "^%s*(.-)%s*=%s*(.-)%s*$"
  if not left or left == "" then at.refuse({}, "U001", "write --vary PATH=VALUES", option.help) end
  if right == "" then at.refuse({}, "U001", "no value behind the equal sign", option.help) end
  if left == "csv" then return of_rows(at, boot.file(right), {}) end
  local paths = {}
  for i, path in ipairs(option.parted(left, "+")) do paths[i] = { path = path, keys = {} } end
  local targets = targets_of(at, paths)
  local r = option.range(at, right)
  if r then return range.axis(at, targets, names_of(targets), r) end
  local values = {}
  for i, part in ipairs(option.parted(right, ",")) do
    values[i] = targets[1].name == "vendors" and { raw = part, keys = {} } or
        option.value(at, part, targets[1].field)
  end
  return axis.list(at, targets, names_of(targets), values)
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
        local function refuse(why) own.refuse({}, "F032", why) end
        boot.value(cell.text, refuse)
        v, tolerance = written.value(cell.text, c.targets[1].field, refuse)
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
  if not path then target.refuse_missing(looked, at, keys) end
  local csv = host.csv(path)
  run.named[path] = run.named[path] or { word = "vary", name = name }
  local columns, targets, taken = {}, {}, {}
  for k, cell in ipairs(csv.head) do
    local own, paths = cell_at(at, csv, cell), {}
    for i, p in ipairs(option.parted(cell.text, "+")) do paths[i] = { path = p, keys = {} } end
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
  local own = axis.of(at, targets, name, #steps + 1, function(i) return steps[i] end,
      { kind = "rows", notes = notes, spec = table.concat(texts, "\n"), says = "rows of " .. name })
  own.unit, own.place = nil, { source = csv.source, line = 1, col = 1, len = 0 }
  function own.text(i) return i == 0 and "as declared" or in_row(steps[i]) end
  return own
end

-- ---- all of them ---------------------------------------------------------------------------------------------------

local function refuse_shared(list)
  local by = {}
  for _, own in ipairs(list) do
    for _, t in ipairs(own.targets) do
      local other = by[t.name]
      if other then
        own.at.refuse(own.at.option and {} or { 1 }, "D015", t.name .. " is varied twice: here, and by " ..
            (other.at.option and other.at.from or "the vary at " .. host.place(other.at.span {})),
            "leave one of the two out")
      end
      by[t.name] = own
    end
  end
end

-- One alternate at a time: --alternate leaves none to vary.
local function refuse_alternate(list, chosen)
  for _, own in ipairs(list) do
    for _, t in ipairs(own.targets) do
      if t.name == "alternate" then
        own.at.refuse(own.at.option and {} or { 1 }, "U006", "alternates are varied, and --alternate " .. chosen ..
            " chooses one", "leave one of the two out")
      end
    end
  end
end

-- All axes of the job that is declared. options: { vary = texts of --vary, alternate = that of --alternate }.
function axes.of(options)
  local list, place = {}, {}
  for _, at in ipairs(run.varied) do
    list[#list + 1] = of_table(at)
    place[list[#list].name] = place[list[#list].name] or #list
  end
  for _, text in ipairs(options.vary or {}) do
    local own = of_option(text)
    local k = place[own.name]
    if k and not list[k].at.option then list[k] = own
    else list[#list + 1] = own end
  end
  refuse_shared(list)
  if options.alternate then refuse_alternate(list, options.alternate) end
  return list
end

return axes
