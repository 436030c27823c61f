-- SPDX-License-Identifier: MIT
-- What a maker's table says of a ground screw or a driven post: the rows of its model in the parts files, and which of
-- them holds for a post where it stands.
local record = import "model.record"
local memo = import "model.memo"
local feet = import "structure.feet"
local logs = import "screws.logs"
local words = import "write.words"
local tables = {}

local given = record.given

-- The rows of a model, in the order of the files.
local function rows_of(model)
  return memo.remember(record.inside[record.root], "rows of the model " .. model, function()
    local list = {}
    for _, row in ipairs(record.all "anchor") do if row.model == model then list[#list + 1] = row end end
    return list
  end)
end

-- "anchors.csv:5 (T4-2), load tables of 2026-01": where a row stands, what it is called there, and where it is from.
function tables.cite(row)
  local at = string.match(host.place(record.inside[row].at), "^(.-:%d+)") or "a parts file"
  local sheet = given(row, "data_sheet")
  return "maker's table of " .. row.model .. ", " .. at .. " (" .. row.name .. ")" .. (sheet and ", " .. sheet or "")
end

-- Whether the table of its model is asked what a post's screw, or it driven, holds along itself: where nothing of this
-- job tells it, neither torque nor a pull.
function tables.along(post)
  local f = feet.footing(post)
  if given(f, "model") == nil or #logs.pulls(f) > 0 then return false end
  if feet.kind(f) ~= "screw" then return true end
  local log = logs.of(post)
  return given(f, "torque") == nil and not (log and given(log, "torque"))
end

-- ---- which rows hold -----------------------------------------------------------------------------------------------

local function beyond(footing, text)
  host.raise { code = "C005", class = "range", text = "the maker's table of " .. footing.model .. ", " ..
      string.match(host.place(record.inside[rows_of(footing.model)[1]].at), "^(.-):%d+") .. ", " .. text }
end

local function missing(path, text, who, tool)
  host.raise { code = "D010", class = "missing", path = path, text = text, who = who, tool = tool }
end

-- Only an allowable force is one: by how much another is to be divided is its maker's to say.
local function allowable(row)
  if row.level ~= "ultimate" then return row end
  missing(tostring(row) .. ".level", tables.cite(row) .. " has the force at which it failed in a test, and by how " ..
      "much that is to be divided is its maker's to say: the allowable force is wanted", "maker of the screw",
      "the maker's table of allowable loads")
end

-- Whether a row is for the soil of the place; second: whether only the blows, which nobody gave, would tell.
local function fits_soil(row, soil)
  local class, blows, there = given(row, "soil"), given(row, "blows"), given(soil, "blows")
  if class and class ~= soil.class then return false end
  if blows and not there then return false, true end
  return not blows or there >= blows
end

-- Those of the rows that have a field and hold for a post: its soil, and how deep it is driven.
local function fitting(post, field, what)
  local f, list, unasked, in_soil, deepest = feet.footing(post), {}, false, false, nil
  local soil, depth = record.root.site.soil, logs.tip(post)
  local any = false
  for _, row in ipairs(rows_of(f.model)) do
    if given(row, field) then
      any = true
      local fits, blows = fits_soil(row, soil)
      unasked = unasked or blows
      if fits then
        in_soil = true
        local least = given(row, "depth")
        if not least or depth >= least then list[#list + 1] = row
        elseif not deepest or least < deepest then deepest = least end
      end
    end
  end
  if list[1] then return list end
  if not any then beyond(f, "does not say " .. what) end
  if in_soil then
    beyond(f, "begins " .. words.show(deepest) .. " deep, and it is " .. words.show(depth) .. " deep at " ..
        tostring(post))
  end
  if unasked then
    missing("site.soil.blows", "the maker's table of " .. f.model .. " goes by the blows of the penetration test, " ..
        "and those of the place are not given", "engineer", "a penetration test where the screws stand")
  end
  local there = given(soil, "blows")
  beyond(f, "has no row for " .. soil.class .. (there and " of " .. there .. " blows" or ""))
end

-- Each row that holds is the maker's word: of several that which gives most counts.
local function most(list, field)
  local best = list[1]
  for _, row in ipairs(list) do if row[field] > best[field] then best = row end end
  return allowable(best)
end

-- ---- what it holds -------------------------------------------------------------------------------------------------

-- The row for what pushes a post so high above the ground: of a load as high, or higher.
function tables.sideways(post, height)
  local list, highest = {}, nil
  for _, row in ipairs(fitting(post, "sideways", "what it takes sideways")) do
    local at = row.load_at
    if at >= height or host.near(host.si(at), host.si(height)) then list[#list + 1] = row end
    if not highest or at > highest then highest = at end
  end
  if not list[1] then
    beyond(feet.footing(post), "ends with a load " .. words.show(highest) .. " above the ground, and what pushes " ..
        tostring(post) .. " acts " .. words.show(height) .. " above it")
  end
  return most(list, "sideways")
end

function tables.pull(post) return most(fitting(post, "pull", "what pulls it may bear along itself"), "pull") end
function tables.push(post) return most(fitting(post, "push", "what may press it"), "push") end

-- ---- what is refused -----------------------------------------------------------------------------------------------

function tables.settle(footing, refuse)
  if #rows_of(footing.model) > 0 then return end
  local names, seen = {}, {}
  for _, row in ipairs(record.all "anchor") do
    if not seen[row.model] then seen[row.model], names[#names + 1] = true, row.model end
  end
  local near = host.nearest(footing.model, names)
  refuse({ "model" }, "no maker's table lists the model " .. footing.model, near and "did you mean '" .. near .. "'?" or
      names[1] and "the tables have " .. import("model.util").list(names) or
      'a parts file whose first heading is anchor has it: parts "anchors.csv"')
end

return tables
