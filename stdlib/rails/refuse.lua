-- SPDX-License-Identifier: MIT
-- What is refused of a rack's rails once all of it is declared.
local record = import "model.record"
local words = import "write.words"
local plan = import "rails.plan"
local given = record.given

local function joints_of_columns(rack, refuse)
  local list, last = given(rack.rails, "expansion_joints"), 0
  for i = 1, list and #list or 0 do
    local at = list[i]
    if at <= last then
      refuse({ "rails", "expansion_joints", i }, "expansion joints must be named from the west on, each once, but " ..
          at .. " stands behind " .. last, "expansion_joints = { 3, 7 }")
    elseif at >= rack.columns then
      refuse({ "rails", "expansion_joints", i }, "there is no module beyond column " .. rack.columns ..
          " for a joint after column " .. at, "the last that can be is after column " .. rack.columns - 1)
    end
    last = at
  end
end

-- A splice lies on a rail: between the ends of a run.
local function splices_on_rails(rack, refuse)
  local list = given(rack.rails, "joints")
  for i = 1, list and #list or 0 do
    local at, on = list[i], false
    for _, run in ipairs(rack.rail_runs) do on = on or at > run.from and at < run.to end
    if not on then
      local line = rack.rail_runs[#rack.rail_runs].to
      local is, rail = words.apart(at, line)
      refuse({ "rails", "joints", i }, "a splice " .. is .. " from the west end lies " ..
          (at >= line and "beyond the rail, which is " .. rail .. " long" or "in the gap of an expansion joint"),
          "places are counted from the west end of the rails")
    end
  end
end

local function kits_make_up(rack, refuse)
  local base, extension = given(rack.rails, "base_kit"), given(rack.rails, "extension_kit")
  for _, k in ipairs { { base, "base" }, { extension, "extension" } } do
    local kit, role = k[1], k[2]
    local at = { "rails", role .. "_kit" }
    if kit and kit.role ~= role then
      refuse(at, kit.name .. " is " .. host.an(kit.role) .. " kit", nil)
    elseif kit and kit.rows ~= rack.rows then
      refuse(at, kit.name .. " is for " .. kit.rows .. (kit.rows == 1 and " row" or " rows") ..
          " of modules, the rack has " .. rack.rows, nil)
    end
  end
  if not base then return end
  local runs = rack.rail_runs
  for _, run in ipairs(runs) do
    local columns = math.tointeger(run.last_column - run.first_column + 1)
    local more = columns - base.columns
    local whose = #runs > 1 and "columns " .. math.tointeger(run.first_column) .. " to " ..
        math.tointeger(run.last_column) or "its " .. columns .. " columns"
    if more < 0 or more > 0 and not (extension and more % extension.columns == 0) then
      refuse({ "rails", extension and "extension_kit" or "base_kit" }, whose .. " are not made up of " .. base.name ..
          " (" .. base.columns .. ")" .. (extension and " and any number of " .. extension.name .. " (" ..
          extension.columns .. " each)" or " alone"), extension and "with them a run has " .. base.columns .. ", " ..
          base.columns + extension.columns .. ", " .. base.columns + 2 * extension.columns .. " ... columns" or
          'name what adds columns: extension_kit = "extension B"')
    end
  end
end

-- A limit that no run keeps to, since a module alone is longer.
local function too_short(rack, refuse)
  local limit = plan.limit(rack)
  if not limit or given(rack.rails, "expansion_joints") then return end
  local least = import("modules.models").along_the_row(rack, rack.modules) + 2 * rack.end_allowance
  if limit < least and not host.near(host.si(limit), host.si(least)) then
    local is, wanted = words.apart(limit, least)
    local at = given(rack.rails, "expansion_limit") and "expansion_limit" or "part"
    refuse({ "rails", at }, "an expansion limit of " .. is .. " is shorter than one module with its rail ends, " ..
        wanted, nil)
  end
end

local function said_twice(rack, refuse)
  local part = given(rack.rails, "part")
  if part and given(part, "expansion_limit") and given(rack.rails, "expansion_limit") then
    refuse({ "rails", "expansion_limit" }, "the row of " .. part.name .. " has an expansion limit, too",
        "leave it out here")
  end
end

return function(rack, refuse)
  said_twice(rack, refuse)
  too_short(rack, refuse)
  joints_of_columns(rack, refuse)
  splices_on_rails(rack, refuse)
  kits_make_up(rack, refuse)
end
