-- SPDX-License-Identifier: MIT
-- Racks, posts and footings.
local schema = import "model.schema"
local record = import "model.record"
local kind = schema.kind

-- By the name alone: a post may be asked while the job is still being declared.
local function post_rack(post) return import("model.record").parent(post) end

local lumber = "wood_sections.section"

-- What the least weight goes by: it is counted against uplift.
local function species(name, what, unless)
  return { name, "choice", unless = unless, worse = "other", choices_from = "wood_specific_gravity.word", default = "southern pine",
      says = "species of " .. what .. ": their least weight goes by it", who = "lumber yard",
      tool = "the grade stamp" }
end

-- Which sort of footing a field is of.
local hole, screw, ballast, driven = { "hole" }, { "screw" }, { "ballast" }, { "driven" }
local called = { hole = "a hole", screw = "a ground screw", ballast = "a ballast block", driven = "a driven post" }

local function block_side(name, which)
  return { name, "quantity", worse = "less", only = ballast, dim = "length", above = 0, max = 12, required = true,
      example = "500mm", says = which .. " of one block" }
end

kind { "footing", form = 8, named = true, types = true, files = { "job", "place", "house" }, design = true,
  says = "what a post stands in, or on", sorts = "kind",
  fields = {
    { "kind", "choice", worse = "other", spare = true, choices = { "hole", "screw", "ballast", "driven" },
      says = "a hole with concrete around the post; a ground screw; a block on the ground; or the post is driven in; " ..
          "without it a hole" },
    { "hole_diameter", "quantity", worse = "less", only = hole, dim = "length", above = 0, max = 1.5, required = true,
      example = "18in", sold = function() return calc.augers {}.diameters end,
      says = "diameter of the hole" },
    { "hole_depth", "quantity", worse = "less", only = hole, dim = "length", above = 0, max = 6, required = true,
      example = "66in", says = "depth of the hole below the ground beside it" },
    { "gravel", "quantity", worse = "more", only = hole, dim = "length", min = 0, max = 1, required = true,
      example = "6in", says = "gravel at the bottom, under the post and the concrete" },
    { "fill", "choice", only = hole, choices = { "concrete" }, required = true,
      says = "what fills the hole around the post" },
    { "bag", "quantity", only = hole, design = false, dim = "mass", above = 0, max = 100,
      default = host.format((host.fact "bag"), "lb"), example = "80lb", says = "bag that the concrete is bought in" },
    { "bag_yield", "quantity", only = hole, spare = true, design = false, dim = "volume", above = 0, max = 0.1,
      example = "0.6ft3",
      says = "what one bag fills, as its maker prints it; without it by the table for its mass", who = "yard",
      tool = "the print on the bag" },
    { "isolated_posts", "flag", only = hole, spare = true, default = false, design = false,
      says = "claims the doubled lateral bearing of isolated posts that may move 1/2 in under a short load; a declared "
          .. "soil value is doubled only if its report says so",
      who = "engineer" },
    { "shaft", "quantity", worse = "less", only = screw, dim = "length", above = 0, max = 0.5, required = true,
      example = "76mm", says = "diameter of the screw's shaft" },
    { "screw_length", "quantity", worse = "less", only = screw, dim = "length", above = 0, max = 6, required = true,
      example = "1.6m", says = "length of the screw, tip to head" },
    { "head", "quantity", worse = "more", only = screw, dim = "length", min = 0, max = 2, default = "0mm",
      example = "100mm", says = "how far the screw's head, where the leg stands, is left above the ground" },
    block_side("block_length", "length"),
    block_side("block_width", "width"),
    block_side("block_height", "height"),
    { "block_mass", "quantity", worse = "less", only = ballast, dim = "mass", above = 0, max = 20000,
      example = "1250kg", says = "mass of one block, or else its density" },
    { "block_density", "quantity", worse = "less", only = ballast, dim = "mass density", above = 0, max = 8000,
      example = "2400kg/m3", says = "density of the block's material, or else its mass" },
    { "carries", "choice", worse = "other", only = ballast, choices = { "post", "station" }, required = true,
      says = "what stands on one block: one post, or the posts of all lines of a station" },
    { "blocks", "count", only = ballast, spare = true, min = 1, max = 1000,
      says = "how many blocks there are for the racks that stand on them" },
    { "driven_depth", "quantity", worse = "less", only = driven, dim = "length", above = 0, max = 6, required = true,
      example = "1.5m", says = "how deep the post is driven below the ground beside it" },
  },
  check = function(v, raw)
    local strange, of = schema.of_another(schema.kinds.footing, v, raw)
    if strange then
      return "'" .. strange .. "' is of " .. called[of[1]] .. ", and this is " .. called[v.kind or "hole"],
          v.kind and "leave it out" or 'leave it out, or write kind = "' .. of[1] .. '"', strange
    end
    if v.gravel and v.hole_depth and host.si(v.gravel) >= host.si(v.hole_depth) then
      return "the gravel fills the whole hole", "gravel = 6in in a 48in hole", "gravel"
    end
    if v.head and v.screw_length and host.si(v.head) >= host.si(v.screw_length) then
      return "none of the screw is in the ground", "head = 100mm of a screw of 1.6m", "head"
    end
    if v.block_mass and v.block_density then
      return "a block has its mass or its density, not both", "leave one of them out", "block_density"
    end
  end }

local rack_fields = {
  { "modules", "part", spare = true, worse = "other", design = false, of = "module", required = true,
    says = "part number of the modules", who = "module label" },
  { "rows", "count", worse = "other", min = 1, max = 20, required = true, example = "2",
    says = "modules up the slope" },
  { "columns", "count", worse = "other", min = 1, max = 200, required = true, example = "4",
    says = "modules along the row" },
  { "orientation", "choice", worse = "other", choices = { "portrait", "landscape" }, required = true,
    says = "long side up the slope, or along the row" },
  { "column_gap", "quantity", worse = "other", dim = "length", min = 0, max = 0.3, required = true, example = "20mm",
    says = "gap between modules along the row" },
  { "row_gap", "quantity", worse = "other", dim = "length", min = 0, max = 0.3, required = true, example = "20mm",
    says = "gap between module rows" },
  { "end_allowance", "quantity", worse = "more", dim = "length", min = 0, max = 0.3, required = true,
    example = "1.25in", says = "rail beyond the last module at each end, for the end clamp" },
  { "mid_clamp", "part", worse = "other", design = false, of = "clamp", required = true,
    says = "part number of the clamps between modules" },
  { "end_clamp", "part", worse = "other", design = false, of = "clamp", required = true,
    says = "part number of the clamps at the ends" },
  { "tilt", "quantity", worse = "other", dim = "angle", min = 0, max = math.rad(90), required = true, example = "35deg",
    says = "slope of the modules" },
  { "azimuth", "quantity", dim = "angle", min = 0, max = math.rad(360), required = true, example = "184deg",
    says = "bearing that the modules face" },
  { "north", "choice", design = false, choices = { "true", "compass" }, required = true,
    says = "which north the azimuth counts from" },
  { "lower_edge", "quantity", worse = "more", dim = "length", above = 0, max = 10, required = true, example = "24in",
    says = "clear height of the lower edge above the datum" },
  { "under", "choice", worse = "other", design = false, choices = { "open", "blocked" }, default = "open",
    says = "whether wind passes freely under the rack; more than half blocked counts as blocked" },
  { "rails", "group", required = true,
    says = "the members that the modules are clamped to, along the row",
    example = 'size = "2x4", face = "edge", lines = 4',
    fields = {
      { "size", "choice", worse = "other", choices_from = lumber, required = true, says = "nominal size" },
      { "face", "choice", worse = "other", choices = { "edge", "flat" }, required = true,
        says = "how the member lies" },
      { "lines", "count", worse = "other", min = 2, max = 40, required = true, says = "rails on the slope" },
      species("species", "the rails"),
    } },
  { "rafter", "choice", worse = "other", choices_from = lumber, required = true,
    says = "the members up the slope that carry the rails, one for each pair of posts" },
  species("rafter_species", "the rafters"),
  { "saddle", "quantity", worse = "more", dim = "length", min = 0, max = 0.5, required = true, example = "0.25in",
    says = "thickness of the bearing plate between post and rafter" },
  { "post_lines", "group", required = true,
    says = "where the two lines of posts stand, as fractions of the slope from the lower edge",
    example = "front = 20%, back = 80%",
    fields = {
      { "front", "ratio", worse = "other", min = 0, max = 1, required = true, example = "20%", says = "front line" },
      { "back", "ratio", worse = "other", min = 0, max = 1, required = true, example = "80%", says = "back line" },
    },
    check = function(v)
      if v.front and v.back and v.front >= v.back then
        return "the front line must be lower on the slope than the back line", "front = 20%, back = 80%", "front"
      end
    end },
  { "stations", "count", worse = "other", min = 2, max = 100, required = true, example = "3",
    says = "posts in each line along the row" },
  { "spacing", "quantity", worse = "other", dim = "length", above = 0, max = 10, required = true,
    example = "72.5in",
    says = "distance from post to post along a line, centre to centre" },
  { "posts", "group", required = true,
    says = "the posts", example = 'size = "6x6", treatment = "UC4B", footing = "deep", front = { ... }, back = { ... }',
    fields = {
      { "size", "choice", worse = "other", choices_from = "wood_sections.post", required = true, unless = "part",
        says = "nominal size of sawn posts" },
      species("species", "the posts", "part"),
      { "treatment", "choice", choices_from = "wood_treatment.category", required = true, unless = "part",
        says = "use category on the tag of sawn posts", who = "lumber yard", tool = "the end tag" },
      { "part", "part", worse = "other", of = "pole", spare = true,
        says = "pipes, profiles or round poles of a parts file, in place of size and treatment" },
      { "footing", "ref", of = { "footing" }, required = true, says = "what they stand in, or on" },
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
      { "front", "list", item = { "station", "text", type = "text" }, required = true, example = '"F1", "F2", "F3"',
        says = "stations of the front line, west to east" },
      { "back", "list", item = { "station", "text", type = "text" }, required = true, example = '"B1", "B2", "B3"',
        says = "stations of the back line, west to east" },
    },
    check = function(v)
      local sawn = v.part and (v.size and "size" or v.treatment and "treatment" or v.species and "species")
      if sawn then return "'part' and '" .. sawn .. "' are both given", "a part of a parts file has its own", sawn end
      if v.stock and not v.slide then
        return "'stock' is of legs that slide; posts that are cut have the lengths of the price lists",
            "slide = 60mm, or leave stock out", "stock"
      elseif v.slide and v.trim_reserve then
        return "legs that slide are not trimmed", "leave slide or trim_reserve out", "trim_reserve"
      end
    end },
}

-- Two lengths that differ, in the units of the job.
local function shown(a, b) return import("write.words").apart(a, b) end

-- What holds a post is counted hole by hole: each has its own.
local function refuse_one_hole(rack, refuse)
  local feet, footing = import "structure.feet", rack.posts.footing
  if record.given(footing, "carries") == "station" then return end            -- a block under all of them
  local wide = feet.width(footing, rack)
  local function check(at, apart, what)
    if apart < wide then
      local is, hole = shown(apart, wide)
      refuse(at, what .. ", " .. is .. " apart, would stand in one hole: each is " .. hole .. " wide",
          "narrower holes, or more between them")
    end
  end
  check({ "spacing" }, rack.spacing, "posts beside each other")
  check({ "post_lines" }, rack.line_spacing, "front and back posts")
end

kind { "rack", form = 9, named = true, types = true, design = true, says = "one table of modules on its posts",
  fields = rack_fields,
  settle = function(rack, refuse)
    if rack.line_length > rack.row_width then
      local is, row = shown(rack.line_length, rack.row_width)
      refuse({ "spacing" }, "the posts would stand " .. is .. " apart from end to end, wider than the modules' " ..
          row, "fewer posts, or less between them")
    end
    local slope = host.si(rack.slope_length)
    if host.near(slope + host.si(rack.line_spacing), slope) then
      refuse({ "tilt" }, "at this tilt both lines of posts would stand in one", "less tilt")
    end
    refuse_one_hole(rack, refuse)
    for _, line in ipairs { "front", "back" } do
      local n = #rack.posts[line]
      if n ~= rack.stations then
        refuse({ "posts", line }, "the " .. line .. " line names " .. n .. " posts, but there are " .. rack.stations
            .. " pairs", "name each post, west to east")
      end
    end
    local seen = {}
    for _, line in ipairs { "front", "back" } do
      local names = rack.posts[line]
      for i = 1, #names do
        local name = names[i]
        if seen[name] then refuse({ "posts", line, i }, "the post " .. name .. " is named twice",
            "each post has a station of its own") end
        seen[name] = true
      end
    end
    local function check_clamp(field, place)
      local clamp = rack[field]
      if clamp.role ~= place then refuse({ field }, clamp.name .. " is a clamp for the "
          .. (clamp.role == "mid" and "middle" or "ends") .. ", not for the "
          .. (place == "mid" and "middle" or "ends"), nil) end
    end
    check_clamp("mid_clamp", "mid")
    check_clamp("end_clamp", "end")
  end }

kind { "post", parent = "rack", says = "one post of a rack",
  fields = {
    { "line", "text", says = "front or back" },
    { "number", "count", says = "its place in the line, counted from the west" },
    { "station", "text", says = "its name in the ground's heights" },
  },
  derive = function(rack)
    local list = {}
    for _, line in ipairs { "front", "back" } do
      local names = rack.posts[line]
      for i = 1, #names do
        local name = names[i]
        list[#list + 1] = { name = name, line = line, number = i, station = name }
      end
    end
    return list
  end,
  on_paper = function(post)
    return { { post_rack(post).name, post.line }, { post.line } }
  end }
