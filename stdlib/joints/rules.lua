-- SPDX-License-Identifier: MIT
-- Rules about what fastens the pieces of a rack to each other.
local rule = import "model.rule"
local record = import "model.record"
local on = import "joints.on"
local fastener = import "joints.fastener"
local members = import "joints.members"
local answers = import "joints.answers"
local add, at_most, states, every, bound = rule.add, rule.at_most, rule.states, rule.every, rule.bound
local of_racks, used, named = answers.of_racks, answers.used, answers.named
local given = record.given

-- ---- what would do -------------------------------------------------------------------------------------------------

-- The changes that are tried, the least first: more of them, longer ones, thicker ones.
local function tries(joint)
  local list, path = {}, tostring(joint) .. "."
  local rows = given(joint, "rows") or 1
  for more = rows, 3 * rows, rows do
    if given(joint, "spacing") or fastener.is_thin(joint) then
      local count = joint.count + more
      list[#list + 1] = { changes = { [path .. "count"] = count }, words = count .. " of them" }
    end
  end
  local length = given(joint, "length")
  if length then
    local step, longest, n = host.fact "screw_step", host.fact "screw_longest", 1
    while n <= 6 and not (length + n * step > longest) do
      local longer = length + n * step
      list[#list + 1] = { changes = { [path .. "length"] = longer }, words = host.format(longer,
          record.root.units == "SI" and "mm" or "in") .. " long" }
      n = n + 1
    end
  end
  local now
  for _, row in ipairs(host.table "wood_fasteners") do
    if row.kind == joint.fastener then
      if now then list[#list + 1] = { changes = { [path .. "size"] = row.size }, words = row.size } end
      now = now or row.size == joint.size
    end
  end
  return list
end

local function nearest(id)
  return function(joint, _, passes)
    local tried = {}
    for _, try in ipairs(tries(joint)) do
      if passes(try.changes, { id }, tostring(joint)) then return { try } end
      tried[#tried + 1] = try.words
    end
    return (tried[1] and "none of " .. table.concat(tried, ", ") .. " is shown to do: " or "") ..
        "plates or brackets, more room to edges and ends, or posts nearer to each other"
  end
end

-- ---- strength ------------------------------------------------------------------------------------------------------

local function strength(id, what, says, caution, cite, also)
  add { id = id, severity = "stop", each = "joint", may_waive = "engineer", says = says,
    cite = (cite or "{dowel_yield}; {fastener_factors}; {fastener_both}") .. "; of the steel of bolts AISC 360 J3.6",
    caution = caution, nearest = nearest(id),
    applies = function(joint)
      if joint.of ~= what and joint.of ~= also then return false, "it is of " .. joint.of end
      if what == "rail splices" and not on.is_in_pieces(joint) then return false, "its rails are in one piece" end
      return #on.racks(joint) > 0, "there is no rack"
    end,
    check = function(joint)
      return of_racks(joint, function(_, rack, stands)
        return used(rack, import("joints.judged").of(joint, stands), "its strength")
      end)
    end }
end

strength("R92", "rafters on posts",
    "the fasteners of rafters on posts, or their pins, hold what lifts and pushes there",
    "the wind takes rails and modules off the posts in one piece", nil, "pins of turned rafters")
strength("R93", "rails on rafters", "the fasteners of rails on rafters hold, at corners and edges too",
    "a rail is torn off its rafters, and its modules fly",
    "{dowel_yield}; {fastener_factors}; {fastener_both}; of washers {wood_bearing}")
strength("R94", "braces", "the fasteners of braces hold their push and pull",
    "a brace comes loose, and the frame leans", nil, "braces along the row")
strength("R101", "rail splices", "splices of rails hold what bends and shears the rail there",
    "a rail parts or folds where it is spliced, and its modules go with it",
    "statics; {dowel_yield}; {fastener_factors}; {net_section}; of plates AISC 360 F11, J3.10 and J4")

-- ---- holes and heads -----------------------------------------------------------------------------------------------

add { id = "R102", severity = "stop", each = "joint", may_waive = "engineer",
  says = "members and plates bear what they carry where the holes of a joint are, as if strained most there; what " ..
      "tears out of plates towards their edges nobody judges",
  cite = "{net_section}; of plates AISC 360 D2, J3.10 and J4",
  caution = "a member breaks, or a plate tears, at its bolts",
  applies = function(joint)
    if #on.racks(joint) == 0 then return false, "there is no rack" end
    return import("joints.holes").asked(joint)
  end,
  nearest = function() return "thinner fasteners, fewer of them side by side, deeper members, or wider plates" end,
  check = function(joint)
    return of_racks(joint, function(_, rack, stands)
      local list = {}
      for i, x in ipairs(import("joints.holes").of(joint, stands)) do
        list[i] = function()
          local ok, share = pcall(x.used)
          if not ok then
            -- What the standard lets no member be, such as a column so slender, is broken, not unknown.
            if host.class(share) ~= "range" or not string.find(share.text, "^timber: ") then error(share, 0) end
            return states(false, named(rack, x.words .. ": " .. host.message(share)))
          end
          local f = at_most(share, bound(1, "its strength there"))
          f.words = named(rack, x.words)
          return f
        end
      end
      return every(list)
    end)
  end }

-- Whether the heads of a joint's fasteners hold wood down.
local function holds_down(joint)
  if joint.of ~= "rails on rafters" and joint.of ~= "rafters on posts" then
    return false, "nothing pulls its fasteners along their axis"
  end
  if given(joint, "plate") then return false, "its heads lie on steel" end
  if fastener.is_bolt(joint) then return false, "it has bolts, with nuts" end
  for _, rack in ipairs(on.racks(joint)) do if members.way(joint, rack) == "through" then return true end end
  return false, "its screws lie across both members"
end

add { id = "R103", severity = "stop", each = "joint", may_waive = "engineer",
  says = "the heads of screws, or washers under them, are not pulled through the wood that they hold down",
  cite = "{head_pull}", caution = "the thread holds, and the rail lifts off over the head",
  applies = holds_down,
  nearest = function(joint) return given(joint, "head") and "wider washers, or more screws" or nil end,
  check = function(joint)
    return of_racks(joint, function(_, rack, stands)
      return used(rack, import("joints.heads").of(joint, stands), "what the wood under them holds")
    end)
  end }

-- ---- rust ----------------------------------------------------------------------------------------------------------

-- Whether a coating will do; feet whose fasteners are their maker's count as bolts.
local function will_do(joint, row)
  local bolts = not given(joint, "fastener") or fastener.is_bolt(joint)
  return (bolts and row.bolts or row.screws) == 1
end

-- Whether wood is near: feet of posts of metal, on blocks or screws, touch none.
local function near_wood(joint)
  local racks = on.racks(joint)
  if joint.of ~= "posts on footings" or #racks == 0 then return true end
  for _, rack in ipairs(racks) do
    for _, line in ipairs(import("structure.lines").of(rack)) do
      if import("structure.feet").of_timber(rack, line.name) then return true end
    end
  end
  return false, "its posts are of metal, and what they stand on is no wood"
end

add { id = "R38", severity = "caution", each = "joint", may_waive = "authority",
  says = "fasteners are coated for treated wood", cite = "{fasteners_treated}",
  caution = "the wood's copper dissolves plated screws within years", applies = near_wood,
  nearest = function(joint)
    local list, path = {}, tostring(joint) .. ".coating"
    for _, row in ipairs(host.table "wood_fastener_coatings") do
      if will_do(joint, row) then
        list[#list + 1] = { changes = { [path] = row.coating }, words = row.coating }
      end
    end
    return list
  end,
  check = function(joint)
    local coating = given(joint, "coating")
    if not coating then
      local path = tostring(joint) .. ".coating"
      host.raise { code = "D010", class = "missing", path = path, who = "yard", tool = "the print on the box",
          text = path .. " is not given: how what holds it is coated, or of what it is" }
    end
    local row = host.table_row("wood_fastener_coatings", "coating", coating)
    local what = given(joint, "fastener") and joint.fastener .. "s" or "bases and anchors"
    return states(will_do(joint, row), what .. " are " .. coating .. (joint.of == "rails on rafters" and
        "; whether rails and rafters are treated nobody says, so they count as treated" or ""))
  end }
