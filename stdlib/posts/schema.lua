-- SPDX-License-Identifier: MIT
-- Pipes and poles for posts, and what single posts have otherwise than their rack.
local schema = import "model.schema"
local kind = schema.kind

kind { "at", may_name = true, files = { "job" },
  says = "single posts, or lines of them, that stand in another footing than their rack's",
  items = { "post", "text", name = "posts", type = "text", example = "east.F4",
      says = 'a post that it is about: its name, or a whole line as in "back"; behind the rack\'s name and a dot ' ..
          "where there are several" },
  fields = {
    { "footing", "ref", of = { "footing" }, required = true, says = "what these stand in, or on" },
    { "why", "text", example = "fill to 3 ft in the auger hole", says = "why; it is told beside the posts" },
  },
  settle = function(at, refuse) import("posts.named").settle_at(at, refuse) end }

kind { "pole", named = true, part = true, who = "mill sheet", says = "a pipe, a profile or a round pole for posts",
  fields = {
    { "shape", "choice", choices = { "round", "square" }, required = true, says = "its outline, cut across" },
    { "width", "quantity", dim = "length", above = 0, max = 0.6, required = true, example = "60.3 mm",
      says = "diameter or side, outside" },
    { "wall", "quantity", dim = "length", above = 0, max = 0.1, example = "3.9 mm",
      says = "thickness of its wall, nominal; without it timber is solid, and of metal nobody knows what it bears. " ..
          "Of pipe of A53 and tube of A500 a part of it counts, as in the table of steel shapes (metals.wall)" },
    { "design_wall", "quantity", spare = true, dim = "length", above = 0, max = 0.1, example = "3.7 mm",
      says = "the wall that its strength goes by instead, where the mill sheet has one" },
    { "material", "choice", choices = { "steel", "aluminium", "timber" }, required = true, says = "what it is of" },
    { "mass", "quantity", dim = "mass per length", above = 0, max = 200, required = true, example = "5.4 kg/m",
      says = "mass of a length of it, the least that its maker gives" },
    { "grade", "choice", choices_from = "metals.material",
      says = "which steel or aluminium, as the mill sheet names it" },
    { "treatment", "choice", spare = true, choices_from = "wood_treatment.category",
      says = "use category on the tag of timber" },
    { "data_sheet", "text", example = "mill sheet of 2026-03",
      says = "which sheet the row is from, and its date" },
  },
  check = function(v)
    if v.wall and host.si(v.wall) * 2 >= host.si(v.width) then
      return "the wall is half the width or more", "leave it out of a solid pole", "wall"
    elseif v.design_wall and (not v.wall or v.design_wall > v.wall) then
      return v.wall and "the wall of design is thicker than the nominal one" or
          "a wall of design stands there, and not the nominal one",
          "the one of design is of the mill sheet; or leave it out", "design_wall"
    elseif v.material == "timber" and v.wall then return "timber has no wall", "leave it out", "wall"
    elseif v.material ~= "timber" and v.treatment then
      return "a treatment is of timber", "leave it out", "treatment"
    end
  end }
