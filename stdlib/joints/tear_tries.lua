-- SPDX-License-Identifier: MIT
-- What would keep the wood around bolts and lag screws whole: rows that lie across the grain, in the middle of members.
local record = import "model.record"
local on = import "joints.on"
local members = import "joints.members"
local given = record.given

local deep_of = {
  leg = function(_, rack) return members.leg(rack).depth end,
  rafter = function(joint, rack)
    local m = members.rafter(rack)
    return members.way(joint, rack) == "through" and m.breadth or m.depth
  end,
  rail = function(joint, rack)
    local m = members.rail(rack)
    local through = members.way(joint, rack) == "through"
    return through ~= (m.flat or false) and m.breadth or m.depth
  end,
  post = function(_, rack) return members.post(rack).depth end,
  brace = function(joint, rack) return members.brace(rack, members.braces(joint, rack)[1].entry).depth end,
}

-- Every distance to an edge that is said, so that its fasteners stand in the middle of the member.
local function centred(joint, rack, across)
  local changes, path, words = {}, tostring(joint) .. ".", {}
  local rows = given(joint, "rows") or 1
  local n = joint.count // rows
  for _, name in ipairs { "rail", "rafter", "post", "brace", "leg" } do
    local edge, row = "edge_of_" .. name, "row_in_" .. name
    if given(joint, edge) then
      local gap, many = across and given(joint, "spacing") or given(joint, "row_spacing"), across and n or rows
      local extent = many > 1 and (many - 1) * gap or 0 * joint[edge]
      local middle = (deep_of[name](joint, rack) - extent) / 2
      if not (host.si(middle) > 0) then return nil end
      changes[path .. edge] = middle
      words[#words + 1] = edge .. " = " .. import("write.words").show(middle)
      if joint.count > 1 and joint.of ~= "rail splices" then
        changes[path .. row] = across and "across" or "along"
        words[#words + 1] = row .. ' = "' .. changes[path .. row] .. '"'
      end
    end
  end
  return { changes = changes, words = table.concat(words, ", ") }
end

return function(joint, passes)
  local rack = on.racks(joint)[1]
  for _, across in ipairs { false, true } do
    if not across or joint.count > (given(joint, "rows") or 1) and joint.of ~= "rail splices" then
      local try = centred(joint, rack, across)
      if try and passes(try.changes, { "R104", "R92", "R93", "R94" }, tostring(joint)) then return { try } end
    end
  end
  return "fasteners farther from the edge to which they press and from the ends, or spread over more of the " ..
      "member's depth; deeper members; or brackets with wood screws"
end
