-- SPDX-License-Identifier: MIT
-- What rails, their pieces, clamps and modules of a job say of each other, drawn along the row: drawn.faults() tells
-- where they do not agree, and drawn.seen what was looked at.
local record, needs = import "model.record", import "buying.needs"
local plan, graph = import "rails.plan", import "model.graph"
local drawn = { seen = { racks = 0, spliced = 0, parted = 0, clamps = 0, changed = 0 } }

local si = host.si
local function near(a, b) return math.abs(a - b) < 1e-9 end

-- { from, to } of each module of a row, from the west end of the modules, as gap by gap they come to lie.
local function modules(r)
  local across = si(r.orientation == "portrait" and r.modules.width or r.modules.length)
  local wide, list, x = {}, {}, 0
  local runs = r.rail_runs
  for k = 1, #runs - 1 do wide[runs[k].last_column] = true end
  for c = 1, r.columns do
    list[c] = { from = x, to = x + across }
    x = x + across + si(wide[c + 0.0] and record.given(r.rails, "joint_gap") or r.column_gap)
  end
  return list
end

local function look_at(r, tell)
  local function fault(text) tell(tostring(r) .. ": " .. text) end
  local pieces = graph.try(r, "rail_pieces")
  local e, runs, mods = si(r.end_allowance), r.rail_runs, modules(r)
  if not near(mods[#mods].to, si(r.row_width)) then fault "the modules are not as long as the row" end
  for k, run in ipairs(runs) do                             -- no module lies across a joint, and each rail has its ends
    local first, last = mods[math.tointeger(run.first_column)], mods[math.tointeger(run.last_column)]
    if not near(si(run.from) - e, first.from - e) then fault("rail " .. k .. " begins elsewhere than its modules") end
    if not near(si(run.to) - e, last.to + e) then fault("rail " .. k .. " ends elsewhere than its modules") end
  end
  for _, c in ipairs(r.clamp_places.clamps) do
    local at, on = si(c.along) + e, false
    for _, run in ipairs(runs) do on = on or at >= si(run.from) and at <= si(run.to) end
    if not on then fault("a clamp sits on no rail, " .. at .. " m from the west") end
    drawn.seen.clamps = drawn.seen.clamps + 1
  end
  local mids, ends = r.columns - #runs, 2 * #runs
  if r.mid_clamps ~= r.rails.lines * mids or r.end_clamps ~= r.rails.lines * ends then fault "clamps are miscounted" end
  drawn.seen.racks = drawn.seen.racks + 1
  drawn.seen.changed = drawn.seen.changed + ((r.columns == 17 or r.rails.lines == 17) and 1 or 0)
  drawn.seen.parted = drawn.seen.parted + (#runs > 1 and 1 or 0)
  if not pieces then return end
  local i = 1
  for line = 1, r.rails.lines do                            -- end to end, each piece where the one before it ended
    for k, run in ipairs(runs) do
      local at = si(run.from)
      while pieces[i] and pieces[i].line == line and pieces[i].run == k do
        local p = pieces[i]
        if not near(si(p.from), at) or not near(si(p.to) - si(p.from), si(p.length)) then fault("piece " .. i) end
        at, i = si(p.to), i + 1
      end
      if not near(at, si(run.to)) then fault("line " .. line .. " ends short of its modules") end
    end
  end
  if i ~= #pieces + 1 then fault "there are pieces of no rail" end
  if r.splices ~= #pieces - r.rails.lines * #runs then fault "splices are miscounted" end
  if r.splices > 0 then drawn.seen.spliced = drawn.seen.spliced + 1 end
end

-- The bill has the pieces, and no others.
local function look_at_bill(tell)
  local wanted, bought = {}, {}
  for _, r in ipairs(record.all "rack") do
    local pieces = graph.try(r, "rail_pieces")
    local item = plan.item(r)
    for _, p in ipairs(pieces or {}) do wanted[item] = (wanted[item] or 0) + si(p.length) end
    for _, field in ipairs { "rafter", "beam" } do wanted[record.given(r, field) or ""] = nil end
  end
  for _, n in ipairs(needs.list()) do
    if n.how == "pieces" then
      local sum = 0
      for _, l in ipairs(n.pieces) do sum = sum + si(l) end
      bought[n.item] = sum
    end
  end
  for item, sum in host.sorted(wanted) do
    if item ~= "" and not near(sum, bought[item] or 0) then tell("the bill has another length of " .. item) end
  end
end

function drawn.faults()
  local list = {}
  local function tell(text) list[#list + 1] = text end
  for _, r in ipairs(record.all "rack") do look_at(r, tell) end
  look_at_bill(tell)
  return list
end

return drawn
