-- SPDX-License-Identifier: MIT
-- What a rack says posts are made of: all of them, or those of a line that is unlike the others.
local made = {}

local function of_part(v) return v.part ~= nil end

-- species: makes the field of that name, as racks have it of other members too.
function made.fields(species)
  return {
    { "size", "choice", worse = "other", choices_from = "wood_sections.post", required = true, unless = of_part,
      says = "nominal size" },
    species("species", "the posts", of_part),
    { "grade", "choice", worse = "other", spare = true, unless = of_part, choices_from = "wood_design_values.grade",
      default = "No.2", says = "grade of sawn posts: their strength goes by it", who = "lumber yard",
      tool = "the grade stamp" },
    { "treatment", "choice", choices_from = "wood_treatment.category", required = true, unless = of_part,
      says = "use category on the tag", who = "lumber yard", tool = "the end tag" },
    { "part", "part", worse = "other", of = "pole", spare = true,
      says = "pipes, profiles or round poles of a parts file, in place of size and treatment" },
  }
end

-- What does not go together; nil where it does.
function made.odd(v)
  local sawn = v.part and (v.size and "size" or v.treatment and "treatment" or v.species and "species")
  if sawn then return "'part' and '" .. sawn .. "' are both given", "a part of a parts file has its own", sawn end
end

-- Lines of posts that are made of something else.
function made.unlike(species)
  local fields = made.fields(species)
  table.insert(fields, 1, { "line", "choice", worse = "other", choices = { "front", "middle", "back" }, required = true,
    says = "which line" })
  return { "unlike_posts", "list", worse = "other", spare = true, least = 1, most = 2,
    example = 'line = "back", size = "6x6", treatment = "UC4B"',
    item = { "line", "group", type = "group", check = made.odd, fields = fields,
      example = 'line = "back", size = "6x6", treatment = "UC4B"' },
    says = "lines whose posts are not as the rack's: steel in front, wood behind; each once" }
end

-- Nothing is said of a line that is not there, twice of one, nor of the rack's posts where no line has them.
function made.settle(rack, lines, refuse)
  local own, has, told, other = rack.unlike_posts, {}, {}, false
  for _, line in ipairs(lines) do has[line.name] = true end
  for i = 1, #own do
    local name = own[i].line
    if not has[name] then
      refuse({ "unlike_posts", i, "line" }, "it has no " .. name .. " line", "name a line that it has")
    elseif told[name] then
      refuse({ "unlike_posts", i, "line" }, "the " .. name .. " line is there already", "leave one of them out")
    end
    told[name] = true
  end
  for _, line in ipairs(lines) do other = other or not told[line.name] end
  if not other then
    refuse({ "unlike_posts" }, "each line has posts of its own, and none those that the rack says",
        "leave out the line that is as the rack's posts")
  end
end

return made
