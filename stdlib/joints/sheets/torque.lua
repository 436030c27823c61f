-- SPDX-License-Identifier: MIT
-- Torque list: each joint, how many, with which torque, by which paper, and a tick for each of two rounds.
local record = import "model.record"
local document = import "write.document"
local words = import "write.words"
local on = import "joints.on"
local torque = import "joints.torque"

local value = document.value

local function racks_of(joint)
  local names = {}
  for i, rack in ipairs(on.racks(joint)) do names[i] = rack.name end
  return import("model.util").list(names)
end

local function whole(d)
  d:para("Each joint is tightened twice: once as it is put together, and once more when the whole row stands, since " ..
      "wood gives and shrinks. Tick each round. The torque is that of the fastener's maker; what rattles afterwards " ..
      "comes off in the first storm.")
  local rows, open, several = {}, {}, #record.all "rack" > 1
  for _, joint in ipairs(record.all "joint") do
    local ok, found = pcall(torque.of, joint)
    if not ok and not host.class(found) then error(found, 0) end
    local title = words.title(joint)
    local fastener, asked = record.given(joint, "fastener"), torque.asked(joint)
    local grade = fastener and record.given(joint, "grade")
    if not ok and asked then open[#open + 1] = { title, host.message(found) } end
    rows[#rows + 1] = { record.inside[joint].name .. ": " .. joint.of .. (several and ", " .. racks_of(joint) or ""),
        fastener and fastener .. " " .. joint.size .. (grade and " " .. grade or "") or "its maker's",
        fastener and document.of(joint, "fasteners") or "",
        ok and value(found) or asked and "withheld" or "as that paper has it",
        ok and joint.torque_paper or not asked and record.given(joint, "holds_by") or "", document.tick,
        document.tick }
  end
  d:gap()
  d:table({ { "joint", wrap = true }, { "fastener", wrap = true }, { "pieces", right = true },
      { "torque", right = true }, { "paper", wrap = true }, { "first", key = "first round" },
      { "second", key = "second round" } }, rows)
  for _, o in ipairs(open) do
    d:warning(o[1] .. ": the torque is withheld: " .. o[2] .. ". One that is too great strips wood or bolt, one " ..
        "that is too small works loose.")
  end
  d:gap()
  d:para("Not in this list: clamps of modules, splices of metal rails, braces along the row, and joints of kits: " ..
      "their makers' manuals have those.")
end

return { name = "torque", title = "Torque list", order = 76, build = true, crew = true, of = { "joint" }, kinds = {},
    rules = { "R38", "R66" }, whole = whole }
