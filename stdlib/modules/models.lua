-- SPDX-License-Identifier: MIT
-- The models of modules that lie in the rows of a rack, how they lie, and what is refused of where its rails are.
local schema = import "model.schema"
local record = import "model.record"
local rails = import "rails.plan"
local models = {}

local given = record.given

function models.along_the_row(rack, module)
  return rack.orientation == "portrait" and module.width or module.length
end
function models.up_the_slope(rack, module)
  return rack.orientation == "portrait" and module.length or module.width
end

-- After which columns the rails are parted.
local function joints(rack)
  local list, runs = {}, rails.parted(rack) and rack.rail_runs or {}
  for k = 1, #runs - 1 do list[k] = runs[k].last_column end
  return list
end

-- The modules of a row and the gaps between them.
function models.row(rack)
  return { across = models.along_the_row(rack, rack.modules), columns = rack.columns, column_gap = rack.column_gap,
      joints = joints(rack), joint_gap = given(rack.rails, "joint_gap") or rack.column_gap }
end

-- The clamp zone on the side of a module that the rails cross: from and to, from the nearer corner.
function models.zone(rack, module)
  if rack.orientation == "portrait" then return module.clamp_zone_least, module.clamp_zone_most end
  return module.short_zone_least, module.short_zone_most
end

local function named(lot) return record.group(schema.kinds.module).by[lot.item] end

-- The lots of other models in the rows: { module, count } each.
function models.others(rack)
  local lots, list = given(rack, "with_modules"), {}
  for i = 1, lots and #lots or 0 do list[i] = { module = named(lots[i]), count = lots[i].amount } end
  return list
end

-- All of them, the rack's own first.
function models.of(rack)
  local list, own = models.others(rack), rack.module_count
  for _, x in ipairs(list) do own = own - x.count end
  table.insert(list, 1, { module = rack.modules, count = own })
  return list
end

-- ---- what is refused -----------------------------------------------------------------------------------------------

local function refuse_lots(rack, refuse)
  local lots, seen, others = given(rack, "with_modules"), { [rack.modules.name] = true }, 0
  local places = rack.module_count
  for i = 1, lots and #lots or 0 do
    local lot = lots[i]
    local module = named(lot)
    if not module then
      local names = {}
      for _, m in ipairs(record.all "module") do names[#names + 1] = m.name end
      local near = host.nearest(lot.item, names)
      refuse({ "with_modules", i }, "there is no module '" .. lot.item .. "' in the parts files",
          near and "did you mean '" .. near .. "'?" or "they have " .. table.concat(names, ", "))
    end
    if given(lot, "length") then
      refuse({ "with_modules", i }, "modules are counted, and have no length here",
          'as in { 3, "' .. lot.item .. '" }')
    end
    if seen[lot.item] then
      refuse({ "with_modules", i }, "the model " .. lot.item .. " stands there twice",
          "one lot for each model; `modules` is the model of all other places")
    end
    seen[lot.item], others = true, others + lot.amount
  end
  if others >= places then
    refuse({ "with_modules" }, others .. " modules of other models leave no place for " .. rack.modules.name ..
        ": the rack has " .. places .. " places", "fewer of them, or `modules` is one of the others")
  end
end

local function refuse_places(rack, refuse)
  local at = given(rack.rails, "at")
  if not at then return end
  if #at ~= rack.rails.lines then
    refuse({ "rails", "at" }, #at .. " places for " .. rack.rails.lines .. " rails",
        "a place for each rail, from below")
  end
  local side = models.up_the_slope(rack, rack.modules)
  for i = 1, #at do
    local ok, why = pcall(calc.rail_crossings, { side = side, rows = rack.rows, row_gap = rack.row_gap,
        at = { at[i] } })
    if not ok then
      if type(why) ~= "table" or why.code ~= "C004" then error(why, 0) end
      refuse({ "rails", "at", i }, "this rail, " .. host.format(at[i]) .. " up the slope, lies on no module",
          "under a row of modules, where their clamps hold")
    end
    if i > 1 and (at[i] <= at[i - 1] or host.near(at[i], at[i - 1])) then
      refuse({ "rails", "at", i }, "this rail lies no farther up than the one before it",
          "from below, as in 375mm, 1347mm")
    end
  end
end

function models.settled(rack, refuse)
  refuse_lots(rack, refuse)
  refuse_places(rack, refuse)
end

return models
