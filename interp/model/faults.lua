-- SPDX-License-Identifier: MIT
-- All that is wrong with what is declared, told in one run: what words and declarations raise is kept, what stands for
-- it goes on, and the end of the script raises all at once.  Loaded at the first fault.
--
-- A hole stands for a value that is wrong. It gives a hole whatever a script does with it, and whoever is given one
-- says nothing of it: what follows from a fault is no fault of its own. A record with faults is kept, so that others
-- find it; its wrong fields are holes.
local run = import "model.run"
local schema = import "model.schema"
local path_of = import "model.path"
local faults = {}

local most = 50          -- faults that are told
local longest = 10000    -- what a script does with holes: a loop that waits for one to end would never
local wide = 44          -- columns of a line to write before its comment

run.keep("found", function() return {} end)              -- what is wrong
run.keep("hosting", function() return false end)         -- the library reads, not the script
run.keep("touched", function() return 0 end)             -- how often a script had a hole in its hands

-- ---- holes --------------------------------------------------------------------------------------------------------

local function touch()
  run.touched = run.touched + 1
  if run.hosting or run.touched > longest then run.follow() end
end

local function hole()
  touch()
  return run.hole
end

local function no() touch() return false end

local hole_meta = { __name = "value that is wrong", __metatable = false, __lt = no, __le = no,
    __newindex = touch, __len = function() touch() return 0 end,
    __tostring = function() touch() return "?" end,
    __pairs = function() touch() return function() end end,
    -- Neither a list nor what `for` calls has an end that would be a hole.
    __index = function(_, key) touch() if math.type(key) ~= "integer" then return run.hole end end,
    __call = function(_, ...) touch() if (...) ~= nil or select("#", ...) == 0 then return run.hole end end }
for _, op in ipairs { "add", "sub", "mul", "div", "mod", "idiv", "unm", "pow", "concat" } do
  hole_meta["__" .. op] = hole
end

-- What reading a record gives where a run has holes: a hole, or nil where it is read as ever.
function faults.instead(rec, key)
  local def = rec.def
  if def.by[key] then return rec.faulty and rec.v[key] == nil and hole() or nil end
  local worked_out = schema.result(def, key) or def.children and def.children[key]
  if not worked_out then return nil end
  local hangs = rec.faulty and def.children and def.children[key]       -- other posts than were meant
  return (hangs or not run.hosting) and hole() or nil
end

-- ---- keeping ------------------------------------------------------------------------------------------------------

local function add(err)
  run.found[#run.found + 1] = err
  for _, other in ipairs(err.more or {}) do run.found[#run.found + 1] = other end
  err.more = nil
end

local function open_hole()
  if run.hole then return end
  run.hole = setmetatable({}, hole_meta)
  run.inside[run.hole] = { path = "?", raw = {} }        -- nobody copies it, or takes it for a table
end

-- Keeps what was raised, and gives a hole. What a script would catch itself goes on to it; hides: see gather.attempt.
function faults.keep(err, hides)
  if type(err) ~= "table" or err.class == "abort" or host.caught() then error(err, 0) end
  open_hole()
  if err.class ~= "follows" then add(err) end
  if hides and hides:find "value" then run.touched = run.touched + 1 end
  if hides and hides:find "names" and err.code ~= "D015" then run.unsure = true end   -- of two of a name one is there
  return run.hole
end

-- f(...), which reads for the library.
local function hosted(f, ...)
  local before = run.hosting
  run.hosting = true
  local good, first, second = pcall(f, ...)
  run.hosting = before
  return good, first, second
end

-- ---- one declaration ----------------------------------------------------------------------------------------------

-- How a field is written: its example where one value is as good as another, else a place for a value.
local function value_of(f)
  local t, example = f.type, f.example
  if t == "quantity" then return example or host.example(f.dim) end
  if t == "money" then return example end
  if t == "ratio" then return example or "2.5%" end
  if t == "count" then return example or "4" end
  if t == "number" then return example or "1.5" end
  if t == "flag" then return "false" end
  if t == "position" then return '"' .. example .. '"' end
  if t == "list" or t == "map" or t == "conditions" then return "{ " .. (example or "...") .. " }" end
  if t == "limit" then return "{ " .. (example or host.example(f.dim)) .. ', cite = "..." }' end
  if t == "lot" then return '{ 6, "EC-30" }' end
  if t == "group" then return f.bare and '"..."' or "{ " .. (example or f.fields[1].name .. " = ...") .. " }" end
  if t == "func" then return "function(...) ... end" end
  return '"..."'
end

local function comment_of(f)
  if f.type == "choice" then
    local few = table.move(f.choices, 1, math.min(#f.choices, 4), 1, {})
    return f.says .. ": " .. table.concat(few, ", ") .. (#f.choices > #few and ", ..." or "")
  end
  if f.type == "date" then return f.says .. ", as 2026-11-02" end
  if f.type == "wire" then return f.says .. ", as 6 AWG" end
  if f.type == "text" and f.example then return f.says .. ", as " .. f.example end
  if f.type == "ref" then
    local kinds = {}
    for i, kind in ipairs(f.of) do kinds[i] = host.an(kind) end
    return f.says .. ": the name of " .. table.concat(kinds, " or ")
  end
  return f.says
end

-- The lines that a person can write for fields that are missing. What they are of this job stays to be put in: a line
-- that is taken over as it stands gives nothing.
local function lines_of(lacks)
  local lines, width = {}, 0
  for i, l in ipairs(lacks) do
    local like = value_of(l.field)
    local shown = like:find("...", 1, true) and "" or ", like " .. like
    lines[i] = { l.field.name .. " = ...,", comment_of(l.field) .. shown }
    if #lines[i][1] <= wide then width = math.max(width, #lines[i][1]) end
  end
  for i, l in ipairs(lines) do lines[i] = string.format("%-" .. width .. "s  -- %s", l[1], l[2]) end
  return lines
end

-- The same texts, this one of them first.
local function first_of(text, list)
  local out = { text }
  for _, t in ipairs(list) do if t ~= text then out[#out + 1] = t end end
  return out
end

-- One fault for all that a declaration lacks; what tables in it lack, below the name of the table.
local function refuse_lacks(ctx, lacks)
  if not lacks[2] then return schema.refuse_missing(ctx, lacks[1].path, lacks[1].field) end
  local names, groups, by = {}, {}, {}
  for _, l in ipairs(lacks) do
    local inner = path_of.join(l.path)
    if not by[inner] then
      by[inner] = {}
      groups[#groups + 1] = inner
    end
    table.insert(by[inner], l)
  end
  if by[""] then groups = first_of("", groups) end
  local lines = {}
  for _, inner in ipairs(groups) do
    for _, l in ipairs(by[inner]) do names[#names + 1] = path_of.step(inner, l.field.name) end
    if groups[2] and inner ~= "" then lines[#lines + 1] = "-- in " .. inner .. " = { ... }:" end
    local own = lines_of(by[inner])
    table.move(own, 1, #own, #lines + 1, lines)
  end
  local s = ctx.span(groups[2] and {} or lacks[1].path)
  local n = #lacks
  host.raise { code = "D002", text = (ctx.like and "neither " .. ctx.what .. " nor " .. ctx.like .. " gives " .. n ..
          " fields: " or ctx.what .. ": " .. n .. " fields are missing: ") .. table.concat(names, ", "),
      source = s.source, line = s.line, col = s.col, len = s.len,
      help = "write, with what holds for this job in the place of the dots" .. (groups[2] and "" or groups[1] ~= "" and
          ", in " .. groups[1] .. " = { ... }" or "") .. ":", write = table.concat(lines, "\n") }
end

-- The values of a declaration that are good, and the names of its fields that are not, or nil: see gather.fields.
function faults.fields(ctx, def, raw)
  if host.caught() then return schema.fields(ctx, {}, def, raw) end
  open_hole()
  local what, wrong, meant, lacks = ctx.what, {}, {}, {}
  ctx.faults = 0

  local function note(key, err)
    ctx.faults = ctx.faults + 1
    if key ~= nil then wrong[key] = true end
    ctx.what = what                                      -- the place of a value that was put in is told in it
    if type(err) == "table" then
      faults.keep(err, false)
    elseif not run.found[1] then error(err, 0) end       -- else a check of the library's stumbled over a hole
  end

  function ctx.gather(path, f, ...)
    local depth, before = #path, ctx.faults
    local good, value, rest = pcall(f, ...)
    if good and ctx.faults == before then return value, rest end
    for i = #path, depth + 1, -1 do path[i] = nil end
    if good then return end
    local err = type(value) == "table" and value or {}
    if err.meant then meant[path_of.join(path) .. ":" .. err.meant] = true end
    note(path[1] or err.key, value)
  end

  function ctx.lacks(path, missing)
    for _, f in ipairs(missing) do
      lacks[#lacks + 1] = { path = table.move(path, 1, #path, 1, {}), field = f }
      wrong[path[1] or f.name] = true
    end
    ctx.faults = ctx.faults + 1
  end

  local good, v = hosted(schema.fields, ctx, {}, def, raw)
  if not good then note(nil, v) end
  local told = {}
  for _, l in ipairs(lacks) do
    if not meant[path_of.join(l.path) .. ":" .. l.field.name] then told[#told + 1] = l end
  end
  if told[1] then
    local _, err = pcall(refuse_lacks, ctx, told)
    note(nil, err)
  end
  ctx.gather, ctx.lacks = nil, nil
  return good and v or {}, ctx.faults > 0 and wrong or nil
end

-- The cross-checks of a record, unless it or what it names is wrong; what a paper gives is looked for in all of a job.
function faults.settle(rec, settle)
  if rec.unsettled or rec.def.paper then return end
  local before = run.touched
  local good, err = hosted(settle, rec.proxy, rec.touched)
  if not good and type(err) == "table" and run.touched == before then faults.keep(err, false) end
end

-- ---- telling ------------------------------------------------------------------------------------------------------

local function place_of(err) return err.source or 0, err.line or 0, err.col or 0 end

local function before(a, b)
  local s, l, c = place_of(a)
  local t, m, d = place_of(b)
  if s ~= t then return s < t elseif l ~= m then return l < m elseif c ~= d then return c < d end
  return a.order < b.order
end

-- By file, line and column; what a loop says at one place again and again is told once.
local function sorted(list)
  for i, err in ipairs(list) do err.order = i end
  table.sort(list, before)
  local out, at = {}, {}
  for _, err in ipairs(list) do
    local s, l, c = place_of(err)
    local key = s > 0 and table.concat({ s, l, c, err.code }, ":")
    local first = key and at[key]
    if first then first.again = (first.again or 0) + 1
    else
      out[#out + 1] = err
      if key then at[key] = err end
    end
  end
  return out
end

local function add_note(err, text)
  local notes = table.move(err.notes or {}, 1, #(err.notes or {}), 1, {})
  notes[#notes + 1] = text
  err.notes = notes
end

-- Raises all that is wrong, and what ended the script, if anything: unless a hole did.
function faults.raise(ended)
  if ended ~= nil then
    if type(ended) ~= "table" or ended.class == "abort" then error(ended, 0) end
    if ended.class ~= "follows" and (run.touched == 0 or ended.code == "L001") then add(ended) end
  end
  local list = sorted(run.found)
  for _, err in ipairs(list) do
    if err.again then
      add_note(err, err.again == 1 and "the same once more from here" or "the same " .. err.again ..
          " times more from here")
    end
  end
  if #list > most then
    add_note(list[most], "and " .. #list - most .. " more, told when these are mended")
    for i = #list, most + 1, -1 do list[i] = nil end
  end
  local first = table.remove(list, 1)
  first.more = list[1] and list or nil
  error(first, 0)
end

return faults
