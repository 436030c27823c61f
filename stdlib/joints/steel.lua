-- SPDX-License-Identifier: MIT
-- The steel of a joint's bolts, sheared by what the joint carries and pulled along their axis; and the wood under the
-- washers of those that are pulled.
--
-- The thread counts as lying in the planes of shear: nobody says where it ends.  Of bolts whose grade nobody says the
-- weakest of the table counts; where that does not do, and a stronger one would, it is not known.
local record = import "model.record"
local tilted = import "structure.tilted"
local members = import "joints.members"
local fastener = import "joints.fastener"
local stiffness = import "loads.stiffness"
local steel = {}

local given = record.given
local none = host.quantity(0.0, "force")

local function diameter(joint)
  return host.table_row("wood_fasteners", "name", joint.fastener .. " " .. joint.size).diameter
end

-- Whether bolts of any grade that are made so thick would do.
local function would_do(input)
  for _, row in ipairs(host.table "bolt_grades") do
    input.grade = row.grade
    local ok, at = pcall(calc.bolt_steel, input)
    if ok and not (at.used > 1) then return true end
    if not ok and host.class(at) ~= "range" then error(at, 0) end
  end
  return false
end

-- Raises where bolts with such a coating are of a metal of which no strength is kept.
local function refuse_metal(coating)
  local metal = coating and host.table_row("wood_fastener_coatings", "coating", coating).metal
  if metal and not host.in_column("bolt_grades.metal", metal) then
    members.uncovered("how strong bolts of " .. metal .. " are is not kept here")
  end
end

-- One bolt pulled and sheared at once.  put: as in joints.judged.
function steel.put(joint, put, pull, shear, words)
  local grade = given(joint, "grade")
  refuse_metal(given(joint, "coating"))
  local input = { diameter = diameter(joint), grade = grade, planes = given(joint, "planes") or 1, tension = pull,
      shear = shear }
  local at = calc.bolt_steel(input)
  if not (at.used > put().used) then return end
  if at.used > 1 and not grade and not (put().used > 1) and would_do(input) then
    host.raise { code = "D010", class = "missing", path = tostring(joint) .. ".grade", who = "yard",
        tool = "the marks on their heads", text = "of which grade its bolts are is not said: the steel of " ..
            at.grade .. ", the weakest, does not bear " .. words .. ", and there are stronger ones" }
  end
  put(at.used, "the steel of its bolts, " .. (grade or "counted as " .. at.grade .. ", the weakest, since no grade " ..
      "is said") .. ", " .. words)
end

-- Bolts that something pulls along their axis: how wide their washers are must be said.
local function washers(joint)
  return fastener.wants(joint, "head", "how wide the washers of its bolts are is not said: whether they are pressed " ..
      "into the wood is not known", "a caliper")
end

-- The wood under a washer, and the steel, of one bolt; under: the members on which washers lie, { of, wide } each.
function steel.pulled(joint, put, pull, shear, under, words)
  for _, x in ipairs(under) do
    local m = x.of
    local at = calc.washer_press { size = joint.size, washer = washers(joint), width = x.wide, force = pull,
        stress = stiffness.lumber(m.size, m.word, m.grade)("ten minutes", {}).bearing,
        edition = record.root.codes.wood }
    if at.used > put().used then put(at.used, "the wood of the " .. m.name .. " under the washers, " .. words) end
  end
  steel.put(joint, put, pull, shear, words)
end

-- What a joint carries where that is most; and for how many bolts.  Of splices in any position of the modules.
local function carried(joint, at)
  if joint.of == "rail splices" then return tilted.rack(at).splice_force, 1 end
  return import("joints.carried")(joint, at), joint.count
end

-- Sheared by the most that the joint carries.  Those down through rails and rafters are judged with what pulls at them.
function steel.judge(joint, at, put)
  if put().fails or joint.of == "rails on rafters" and not given(joint, "plate") then return end
  if joint.of == "rail splices" and tilted.rack(at).splices == 0 then return end
  local force, count = carried(joint, at)
  steel.put(joint, put, none, force / count, "which all that it carries shears")
end

return steel
