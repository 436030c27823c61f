-- SPDX-License-Identifier: MIT
-- What a rack says of its posts: what they are, what they stand in, how they are fitted.
local made = import "structure.post_made"

-- The fields, behind those that say what posts are made of.
local function with(fields, others) return table.move(others, 1, #others, #fields + 1, fields) end

-- species: makes the field of that name, as racks have it of other members too.
return function(species)
  return { "posts", "group", required = true,
    says = "the posts", example = 'size = "6x6", treatment = "UC4B", footing = "deep"',
    fields = with(made.fields(species), {
      { "footing", "ref", of = { "footing" }, required = true, says = "what they stand in, or on" },
      { "moment_head", "flag", worse = "other", spare = true, who = "maker of the rack",
        tool = "the drawing of the head",
        says = "whether the heads hold the rafters from turning on them, as those of a single line of posts must" },
      { "slide", "quantity", worse = "less", dim = "length", above = 0, max = 1, spare = true, example = "60mm",
        says = "how far the heads of legs that are not cut slide, up or down" },
      { "stock", "list", item = { "stock", "quantity", type = "quantity", dim = "length", above = 0, max = 20 },
        spare = true, least = 1, example = "1.2m, 1.5m",
        says = "lengths of leg that are had, where they slide; without it those that price lists and orders have" },
      { "trim_reserve", "quantity", worse = "more", dim = "length", min = 0, max = 2, spare = true, example = "2in",
        says = "length that posts are bought longer than cut, to be trimmed when they stand" },
      { "plate", "group", spare = true, says = "the foot or head plate that is screwed to a face of each post",
        example = "width = 3in, screw_line = 1.5in, fastener = 0.5in",
        fields = {
          { "width", "quantity", worse = "more", dim = "length", above = 0, max = 1, required = true, example = "3in",
            says = "of the plate, across the face" },
          { "screw_line", "quantity", worse = "more", dim = "length", min = 0, max = 1, example = "1.5in",
            says = "between its outer lines of screws; without it as wide as the plate" },
          { "edge", "quantity", worse = "more", dim = "length", min = 0, max = 0.5, example = "1in",
            says = "least from a screw to the edge of the face, by whoever made the plate" },
          { "fastener", "quantity", worse = "more", dim = "length", above = 0, max = 0.1, example = "0.5in",
            says = "diameter of its screws or bolts, of which the wood standard tells the edge" },
        },
        check = function(v)
          if v.edge and v.fastener then
            return "the edge is given, and a fastener to find it by", "leave one of them out", "fastener"
          elseif v.screw_line and v.width and v.screw_line > v.width then
            return "the lines of screws are farther apart than the plate is wide", "screw_line = 1.5in", "screw_line"
          end
        end },
      { "adjustment", "group", spare = true,
        says = "how far a post's top may be off for the rack to go on, and how true posts are set",
        example = "range = 2in, layout = 1/2in, drift = 1in, plumb = 1%",
        fields = {
          { "range", "quantity", worse = "less", dim = "length", above = 0, max = 1, required = true, example = "2in",
            says = "that slots or shims take, from the middle" },
          { "layout", "quantity", worse = "more", dim = "length", min = 0, max = 1, required = true, example = "0.5in",
            says = "how far a mark may be off" },
          { "drift", "quantity", worse = "more", dim = "length", min = 0, max = 1, required = true, example = "1in",
            says = "how far a hole or a screw may drift from its mark" },
          { "plumb", "ratio", worse = "more", min = 0, max = 0.2, required = true, example = "1%",
            says = "how far out of plumb a post may stand, per height" },
        } },
      { "front", "list", item = { "station", "text", type = "text" }, example = '"F1", "F2", "F3"',
        says = "names of the front posts, west to east; without them F1, F2, ..." },
      { "back", "list", item = { "station", "text", type = "text" }, example = '"B1", "B2", "B3"',
        says = "names of the back posts, west to east; without them B1, B2, ..." },
    }),
    check = function(v)
      local why, help, field = made.odd(v)
      if why then return why, help, field end
      if v.stock and not v.slide then
        return "'stock' is of legs that slide; posts that are cut have the lengths of the price lists",
            "slide = 60mm, or leave stock out", "stock"
      elseif v.slide and v.trim_reserve then
        return "legs that slide are not trimmed", "leave slide or trim_reserve out", "trim_reserve"
      end
    end }
end
