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
  local function line(name)
    return { name, "group", spare = true, check = made.odd, fields = made.fields(species),
      says = "what the posts of the " .. name .. (name == "middle" and " lines" or " line") .. " are",
      example = 'size = "6x6", treatment = "UC4B"' }
  end
  return { "unlike_posts", "group", spare = true,
    says = "what posts of one line are where they are not as the rack's: steel in front, wood behind",
    example = 'back = { size = "6x6", treatment = "UC4B" }', fields = { line "front", line "middle", line "back" } }
end

-- Nothing is said of a line that is not there, nor of the rack's posts where no line has them.
function made.settle(rack, lines, refuse)
  local given = import("model.record").given
  local own, has, other = given(rack, "unlike_posts"), {}, false
  for _, line in ipairs(lines) do
    has[line.name] = true
    other = other or not given(own, line.name)
  end
  for _, name in ipairs { "front", "middle", "back" } do
    if given(own, name) and not has[name] then
      refuse({ "unlike_posts", name }, "it has no " .. name .. " line", "leave it out")
    end
  end
  if not other then
    refuse({ "unlike_posts" }, "each line has posts of its own, and none those that the rack says",
        "leave out the line that is as the rack's posts")
  end
end

return made
