-- SPDX-License-Identifier: MIT
-- What a rack says of its rails.
local function of_part(v) return v.part ~= nil end

local lumber = "wood_sections.section"
local function length(name, most, example, says)
  return { name, "quantity", worse = "other", dim = "length", above = 0, max = most, example = example, says = says }
end

-- What does not go together.
local function odd(v)
  if v.part then
    for _, name in ipairs { "size", "face", "splice_zone", "end_bay_splices" } do
      if v[name] ~= nil then return "a rail of a parts file has its " .. name .. " from there", "leave it out", name end
    end
  end
  for _, name in ipairs { "jumper", "base_kit", "adapter", "temperature_range" } do
    if v[name] ~= nil and not v.part then
      return name .. " is of rails of metal", 'name them first: part = "rail 60"', name
    end
  end
  if v.extension_kit and not v.base_kit then
    return "an extension without the base that a run begins with", 'write base_kit = "base B"', "extension_kit"
  end
  if v.expansion_joints and v.expansion_limit then
    return "the expansion joints are declared, and a limit that places them is given, too", "leave one of them out",
        "expansion_limit"
  end
  if v.joint_gap and not (v.part or v.expansion_joints or v.expansion_limit) then
    return "there is no expansion joint", "write expansion_joints = { 5 }: after which columns they are", "joint_gap"
  end
  local last
  for _, at in ipairs(v.joints or {}) do
    if last and not (at > last) then
      return "splices must be named from the west end on, each once", "joints = inch{ 168, 300 }", "joints"
    end
    last = at
  end
end

return { "rails", "group", required = true,
  says = "the members that the modules are clamped to, along the row",
  example = 'size = "2x4", face = "edge", lines = 4',
  fields = {
    { "part", "part", worse = "other", design = false, of = "rail",
      says = "part number of rails of metal; of lumber the size is said instead" },
    { "size", "choice", worse = "other", choices_from = lumber, required = true, unless = of_part,
      says = "nominal size" },
    { "face", "choice", worse = "other", choices = { "edge", "flat" }, required = true, unless = of_part,
      says = "how the member lies" },
    { "lines", "count", worse = "other", min = 2, max = 40, required = true, says = "rails on the slope" },
    { "at", "list", worse = "other", spare = true, least = 2, most = 40, item = { "rail", "quantity", type = "quantity",
        dim = "length", min = 0, max = 100, example = "375mm" }, example = "375mm, 1347mm, 2117mm, 3089mm",
      says = "where the rails lie, up the slope from the lower edge of the modules; without it two under each row "
          .. "of modules, in the middle of their clamp zones", who = "designer",
      tool = "the modules' mounting manual" },
    { "species", "choice", unless = of_part, worse = "other", choices_from = "wood_specific_gravity.word",
      default = "southern pine",
      says = "species of the rails, where they are of lumber: their least weight goes by it", who = "lumber yard",
      tool = "the grade stamp" },
    { "grade", "choice", unless = of_part, worse = "other", spare = true, choices_from = "wood_design_values.grade",
      default = "No.2", says = "grade of rails of lumber: their strength goes by it", who = "lumber yard",
      tool = "the grade stamp" },
    { "splice", "text", design = false, example = "rail 60 splice",
      says = "what joins two sticks; without it what the rail's row names" },
    { "jumper", "text", design = false, example = "bonding jumper",
      says = "what bonds over a splice that does not bond by itself, and over each expansion joint" },
    { "joints", "list", worse = "other", least = 1, most = 99, example = "168in",
      item = { "joint", "quantity", type = "quantity", dim = "length", above = 0, max = 300, example = "168in" },
      says = "where a line is spliced, from its west end; every second line is turned end for end; without it " ..
          "splices are placed where they may be" },
    { "splice_zone", "group", spare = true, says = "where a rail of lumber may be spliced: from how far to how far " ..
        "from the nearer support, as fractions of the bay", who = "engineer", example = "from = 15%, to = 25%",
      fields = {
        { "from", "ratio", worse = "other", min = 0, max = 0.5, required = true, example = "15%", says = "nearest" },
        { "to", "ratio", worse = "other", min = 0, max = 0.5, required = true, example = "25%", says = "farthest" },
      },
      check = function(v)
        if v.from and v.to and v.from > v.to then return "from is above to", "from = 15%, to = 25%", "from" end
      end },
    { "end_bay_splices", "flag", worse = "other", spare = true, who = "engineer",
      says = "whether a rail of lumber may be spliced in the first and the last bay, too" },
    length("expansion_limit", 100, "36ft", "longest that a rail may run without an expansion joint, where its row does "
        .. "not say it"),
    { "expansion_joints", "list", worse = "other", most = 99, example = "5",
      item = { "joint", "count", type = "count", min = 1, max = 199, example = "5" },
      says = "after which columns, from the west, the rails are parted; without it as few as the limit asks for" },
    length("joint_gap", 1, "84mm", "gap between the modules at an expansion joint; without it the column gap"),
    { "temperature_range", "quantity", spare = true, design = false, worse = "more",
      dim = "temperature difference", above = 0, max = 150, example = "60K",
      says = "from the coldest to the hottest that the rails get", who = "designer",
      tool = "the site's coldest night, and sun on metal" },
    { "base_kit", "part", design = false, of = "kit", says = "the kit that each run begins with" },
    { "extension_kit", "part", design = false, of = "kit", says = "the kit that adds columns to it" },
    { "adapter", "part", design = false, of = "adapter", says = "what joins rails and splices of two generations" },
  },
  check = odd }
