-- SPDX-License-Identifier: MIT
-- Where a fact is found out: on the ground, at the yard, on paper in hand, or by asking an office.  By the tool that it
-- takes, where that alone says so, else by who can tell it.
local places = {
  { "site", "On site, with tape and level" },
  { "yard", "At the yard" },
  { "paper", "Off data sheets, labels and papers" },
  { "office", "By telephone, and off maps" },
}

local by_who = {
  site = { "designer", "owner", "customer", "neighbours", "foreman", "locating service and owner" },
  yard = { "lumber yard", "yard" },
  paper = { "maker's data sheet", "module data sheet", "module label", "battery label", "battery maker's data sheet",
      "equipment labels", "label of the equipment", "print on the fuse", "print on the wire", "print on the device",
      "maker of the rack", "maker of the fastener", "maker of the anchor or base", "mill sheet", "its author" },
  office = { "building office", "electrical inspector", "locating service", "map", "engineer", "floodplain office",
      "surveyor", "the holder" },
}

local by_tool = {
  site = { "a tape", "a test hole, once the lines there are marked", "a look", "the hill's height and length" },
}

local function index(lists)
  local by = {}
  for place, names in host.sorted(lists) do
    for _, name in ipairs(names) do
      assert(not by[name], name)
      by[name] = place
    end
  end
  return by
end

local who_at, tool_at = index(by_who), index(by_tool)

-- The place of a fact; nil: nobody said where such a one or such a tool is. Whoever the library names is here (see
-- tests/document_test.c).
function places.of(who, tool) return tool_at[tool] or who_at[who] end

return places
