-- SPDX-License-Identifier: MIT
-- vary, keep and seek: what a script, a place or a house file says of a sweep.  A plain run keeps the tables and what
-- they stand on, and looks only for what is plainly wrong in them; sweep.axes and sweep.goals find out what they mean.
-- Loaded when the first of them is read.
local run = import "model.run"
local build = import "model.build"
local words = {}

-- Each a list of tables in the order read: { from = its word, span(keys) = where that stands, refuse, and of vary: raw,
-- n = how long its list is, paths; of keep: paths; of seek: least, most }, paths as { path, keys } ...
run.keep("varied", function() return {} end)
run.keep("kept", function() return {} end)
run.keep("sought", function() return {} end)

local function declared(word, raw)
  local source, line = host.where()
  local mark = host.head(source, line, word)
  local at = { from = word }
  function at.span(keys, key_only) return host.span(source, mark, line, keys or {}, key_only) end
  function at.refuse(keys, code, text, help, key_only)
    local s = at.span(keys, key_only)
    host.raise { code = code, text = word .. ": " .. text, help = help, source = s.source, line = s.line, col = s.col,
        len = s.len }
  end
  return at, build.copy(raw, word)
end

-- Refuses names that the table does not have, and gaps in its list; gives how long that is.
local function shape(at, raw, names, example)
  local n = 0
  for key in next, raw do if math.type(key) == "integer" then n = n + 1 end end
  for key, value in host.sorted(raw) do
    if type(key) == "string" then
      local known = false
      for _, name in ipairs(names) do known = known or name == key end
      if not known then
        local near = host.nearest(key, names)
        at.refuse({ key }, "D001", "there is no '" .. key .. "'", near and "did you mean '" .. near .. "'?" or
            "as in " .. example, true)
      end
    elseif math.type(key) ~= "integer" or key < 1 or key > n then
      at.refuse({}, "D005", "its values count from 1, without gaps, got " .. host.describe(value) .. " at " ..
          tostring(key), "as in " .. example)
    end
  end
  return n
end

local function path_text(at, keys, value, example)
  if type(value) ~= "string" or not value:find "%S" then
    at.refuse(keys, "D003", "a path is a text, got " .. host.describe(value), "as in " .. example)
  end
  local unsafe, mend = host.unsafe(value)
  if unsafe then at.refuse(keys, "D021", "a path holds " .. unsafe, mend) end
end

-- A path, or a list of them: as a list of { path, keys }.
local function paths_of(at, keys, value, example)
  if type(value) ~= "table" or run.is_record(value) then
    path_text(at, keys, value, example)
    return { { path = value, keys = keys } }
  end
  local list = {}
  for key, one in host.sorted(value) do
    local inner = table.move(keys, 1, #keys, 1, {})
    inner[#inner + 1] = key
    if math.type(key) ~= "integer" or key ~= #list + 1 then
      at.refuse(inner, "D005", "paths are listed without names or gaps", "as in " .. example)
    end
    path_text(at, inner, one, example)
    list[key] = { path = one, keys = inner }
  end
  if not list[1] then at.refuse(keys, "D002", "no path is listed", "as in " .. example) end
  return list
end

local function needs_table(word, raw, example)
  if type(raw) == "table" and not run.is_record(raw) then return end
  local source, line = host.where()
  local s = host.word(source, line, word)
  host.raise { code = "E002", text = word .. " needs its table, got " .. host.describe(raw), help = "as in " .. example,
      source = s.source, line = s.line, col = s.col, len = s.len }
end

-- ---- vary ----------------------------------------------------------------------------------------------------------

local vary_example = 'vary { "rack.east.tilt", 25deg, 30deg }'
local range_example = 'vary { "rack.east.tilt", from = 15deg, to = 60deg, step = 1deg }'

local function values_from(at, raw, first, n, what, example)
  if n < first then at.refuse({}, "D002", "no " .. what .. " beside the declared one", "as in " .. example) end
end

local function of_csv(at, raw, n)
  for _, key in ipairs { "file", "from", "to", "step" } do
    if raw[key] ~= nil then
      at.refuse({ key }, "D005", "'" .. key .. "' does not go with csv: its rows are the values",
          'as in vary { csv = "variants.csv" }', true)
    end
  end
  if n > 0 then at.refuse({ 1 }, "D005", "values do not go with csv: its rows are the values",
      'as in vary { csv = "variants.csv" }') end
  path_text(at, { "csv" }, raw.csv, 'vary { csv = "variants.csv" }')
end

local function of_range(at, raw, n)
  if raw.from == nil or raw.to == nil then
    local has = raw.from ~= nil and "from" or raw.to ~= nil and "to" or "step"
    at.refuse({ has }, "D002", "a range has its two ends: '" .. (raw.from == nil and "from" or "to") .. "' is missing",
        "as in " .. range_example, true)
  end
  if n > 1 then
    at.refuse({ 2 }, "D005", "a range and a value beside it: " .. host.describe(raw[2]),
        "a range has no values of its own; list them all, or leave from, to and step")
  end
end

-- A table as it is kept: of a range, of values, of files, of rows.
function words.vary(raw)
  needs_table("vary", raw, vary_example)
  local at
  at, raw = declared("vary", raw)
  local n = shape(at, raw, { "from", "to", "step", "file", "csv" }, vary_example)
  if raw.csv ~= nil then of_csv(at, raw, n)
  elseif raw.file ~= nil then
    local example = 'vary { file = "plateau-county", "loup-county" }'
    path_text(at, { "file" }, raw.file, example)
    for _, key in ipairs { "from", "to", "step" } do
      if raw[key] ~= nil then at.refuse({ key }, "D005", "'" .. key .. "' does not go with file", "as in " .. example,
          true) end
    end
    values_from(at, raw, 1, n, "other file", example)
  else
    if n == 0 then at.refuse({}, "D002", "it does not say what is varied", "as in " .. vary_example) end
    at.paths = paths_of(at, { 1 }, raw[1], 'vary { { "run.west.wire", "run.east.wire" }, "8 AWG", "6 AWG" }')
    if raw.from ~= nil or raw.to ~= nil or raw.step ~= nil then of_range(at, raw, n)
    else values_from(at, raw, 2, n, "value", vary_example) end
  end
  at.raw, at.n = raw, n
  run.varied[#run.varied + 1] = at
end

-- ---- keep and seek -------------------------------------------------------------------------------------------------

local keep_example = 'keep { "job.total", "rack.east.top_edge" }'
local seek_example = 'seek { least = "job.total", most = "rack.east.lower_edge" }'

function words.keep(raw)
  needs_table("keep", raw, keep_example)
  local at
  at, raw = declared("keep", raw)
  shape(at, raw, {}, keep_example)
  at.paths = paths_of(at, {}, raw, keep_example)
  run.kept[#run.kept + 1] = at
end

function words.seek(raw)
  needs_table("seek", raw, seek_example)
  local at
  at, raw = declared("seek", raw)
  if shape(at, raw, { "least", "most" }, seek_example) > 0 then
    at.refuse({ 1 }, "D005", "it does not say whether the least or the most is sought", "as in " .. seek_example)
  end
  if raw.least == nil and raw.most == nil then at.refuse({}, "D002", "nothing is sought", "as in " .. seek_example) end
  at.least = raw.least ~= nil and paths_of(at, { "least" }, raw.least, seek_example) or {}
  at.most = raw.most ~= nil and paths_of(at, { "most" }, raw.most, seek_example) or {}
  run.sought[#run.sought + 1] = at
end

return words
