-- SPDX-License-Identifier: MIT
-- Racks, posts and footings.
local schema = import "model.schema"
local kind = schema.kind

-- By the name alone: a post may be asked while the job is still being declared.
local function post_rack(post) return import("model.record").parent(post) end
local function record_given(x, field) return import("model.record").given(x, field) end

local lumber = "wood_sections.section"

-- What the least weight goes by: it is counted against uplift.
local function species(name, what, unless)
  return { name, "choice", unless = unless, worse = "other", choices_from = "wood_specific_gravity.word",
      default = "southern pine",
      says = "species of " .. what .. ": their least weight goes by it", who = "lumber yard",
      tool = "the grade stamp" }
end

-- Lines from the lower edge up, none in another.
local function lines_in_order(v)
  local last, name = v.front, "front"
  local function next_line(at, field, i)
    if at == nil then return nil end
    if not (at > last) or host.near(at, last) then
      return i > 1 and "the middle lines must be named from the lower edge up" or
          "the " .. name .. " line must be lower on the slope than the " .. field .. " line",
          "front = 20%, " .. (v.middle and "middle = { 50% }, " or "") .. "back = 80%", field
    end
    last, name = at, field
  end
  if not last then return nil end
  for i = 1, #(v.middle or {}) do
    local text, help, field = next_line(v.middle[i], "middle", i)
    if text then return text, help, field end
  end
  local text, help = next_line(v.back, "back", 1)
  if text then return text, help, v.middle and "back" or "front" end
  if v.middle and not v.back then
    return "lines in the middle, and none at the back", "the last line is the back line: back = 80%", "middle"
  end
end

local function of_kit(v) return v.stack ~= nil end
local function no_lumber(v) return of_kit(v) and v.beam == nil and v.braces == nil end

local bay = { "bay", "quantity", type = "quantity", dim = "length", above = 0, max = 10, example = "84in" }
local set_in = { "set_in", "quantity", worse = "other", dim = "length", min = 0, max = 10, example = "20in",
    says = "centre of the first post of a line from the west end of the modules; without it the posts stand centred" }

local function line_of(name)
  return { name, "group", says = "the " .. name .. (name == "middle" and " lines" or " line"),
    example = "stations = 2, spacing = 145in",
    fields = {
      { "stations", "count", worse = "other", min = 1, max = 100, example = "3", says = "posts in the line" },
      { "spacing", "quantity", worse = "other", dim = "length", above = 0, max = 10, example = "72.5in",
        says = "distance from post to post, centre to centre" },
      { "bays", "list", least = 1, most = 99, item = bay, example = "84in, 84in, 72in",
        says = "distances from post to post, west to east, where they are not all alike" },
      set_in,
    } }
end

-- Rafters stand at the posts' stations; on a beam they may have places of their own.
local function refuse_half_told(v)
  if (v.count == nil) ~= (v.spacing == nil) then
    return v.count and "so many rafters, and not how far apart" or "rafters so far apart, and not how many",
        "count = 5, spacing = 40in", v.count and "count" or "spacing"
  end
end

-- A brace goes from one line to another, or along one.
local function refuse_astray(v)
  if v.along then
    if v.to then return "a brace along the row stays in one line", "leave it out", "to" end
    if v.every then return "a brace along the row stands in a bay", "as in bays = { 1, 3 }", "every" end
    return
  end
  for _, name in ipairs { "bays", "rises" } do
    if v[name] ~= nil then
      return "a brace between two lines stands in no bay of one", "leave it out, or write along = true", name
    end
  end
  if not v.from or not v.to then
    return "it does not say between which lines it goes", 'from = "back", to = "front"; or along = true'
  end
  if v.from == v.to then return "it goes from a line to the same line", 'from = "back", to = "front"', "to" end
end

local function line_choice(name, says)
  return { name, "choice", choices = { "front", "middle", "back" }, says = says }
end

local rack_fields = {
  { "modules", "part", spare = true, worse = "other", design = false, of = "module", required = true,
    says = "part number of the modules", who = "module label" },
  { "with_modules", "list", worse = "other", spare = true, design = false, least = 1, most = 20,
    item = { "lot", "lot", type = "lot", name = "with_modules" }, example = '{ 3, "M326" }',
    says = "modules of other models in the same rows, and how many of each; the rest are `modules`" },
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
  { "gap_tolerance", "quantity", spare = true, design = false, dim = "length", min = 0, max = 0.1, example = "1mm",
    says = "how far a gap along the row may come out wider or narrower than it is drawn", who = "foreman",
    tool = "a trial with two modules" },
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
    says = "clear height of the lower edge above the datum, or above what `above` says" },
  { "row_slope", "ratio", worse = "other", min = -0.2, max = 0.2, example = "3%",
    says = "how much the row rises over its length from west to east, to follow the ground; less than 0: it falls; "
        .. "without it the row is level, and racks step from one to the next",
    range_help = "a row on steeper ground is stepped: several racks, each on its own level" },
  { "above", "text", example = "highest front post",
    says = "what the lower edge is counted from; without it the datum of the ground" },
  { "under", "choice", worse = "other", design = false, choices = { "either", "open", "blocked" }, default = "either",
    says = "whether wind blows through under the rack: open where somebody keeps it clear, blocked where more than " ..
        "half is walled off for good; without it both are run" },
  import "structure.rails",
  { "stack", "quantity", spare = true, design = false, worse = "other", dim = "length", above = 0, max = 1,
    example = "8in",
    says = "rail, rafter and all else between modules and posts together, square to the modules: of a kit, as its "
        .. "maker gives it; without it it is added up", who = "maker of the rack", tool = "the kit's drawing" },
  { "rafter", "choice", worse = "other", choices_from = lumber, required = true, unless = of_kit,
    says = "the members up the slope that carry the rails, one at each station of the posts; a kit has a stack " ..
        "instead" },
  species("rafter_species", "the rafters, beams and braces", no_lumber),
  { "rafter_grade", "choice", worse = "other", spare = true, unless = no_lumber,
    choices_from = "wood_design_values.grade", default = "No.2",
    says = "grade of the rafters, beams and braces: their strength goes by it", who = "lumber yard",
    tool = "the grade stamp" },
  { "rafter_section", "group", design = false,
    says = "what the rafters of a kit are of, by its maker's data sheet: three lines of posts or more share what " ..
        "lies on them as these bend; a kit has it beside its stack",
    example = 'grade = "6005A-T61", area = 1.4in2, inertia = 1.1in4',
    fields = {
      { "grade", "choice", worse = "other", choices_from = "metals.material", required = true,
        says = "which steel or aluminium they are of" },
      { "area", "quantity", worse = "other", dim = "section area", above = 0, max = 0.1, required = true,
        example = "1.4in2", says = "of their section" },
      { "inertia", "quantity", worse = "other", dim = "moment of inertia", above = 0, max = 1e-3, required = true,
        example = "1.1in4", says = "second moment of the section, as they bend up the slope" },
    } },
  { "rafters", "group", says = "rafters that are not one at each station, or not as long as the modules' slope",
    example = "length = 12ft", check = refuse_half_told,
    fields = {
      { "length", "quantity", worse = "more", dim = "length", above = 0, max = 30, example = "12ft",
        says = "length of each, which lies centred on the slope; without it as long as that" },
      { "count", "count", worse = "other", min = 2, max = 400, example = "5",
        says = "so many of them, centred along the row, where a beam carries them; without it one at each station" },
      { "spacing", "quantity", worse = "other", dim = "length", above = 0, max = 10, example = "40in",
        says = "distance from rafter to rafter, centre to centre" },
    } },
  { "braces", "list", worse = "other", least = 1,
    example = 'size = "2x4", from = "back", to = "front", low = 8in, high = 6in',
    says = "the braces, each kind of them once",
    item = { "brace", "group", type = "group", check = refuse_astray,
      example = 'size = "2x4", from = "back", to = "front", low = 8in, high = 6in',
      fields = {
        { "size", "choice", worse = "other", choices_from = lumber, required = true, says = "nominal size" },
        line_choice("from", "the line of posts where its foot is; of braces along the row the line, without it all"),
        line_choice("to", "the line of posts where its head is"),
        { "low", "quantity", worse = "other", dim = "length", min = 0, max = 10, required = true, example = "8in",
          says = "its lower bolt above the ground at that post" },
        { "high", "quantity", worse = "other", dim = "length", min = 0, max = 10, required = true, example = "6in",
          says = "its upper bolt below the top of that post" },
        { "every", "count", worse = "other", min = 1, max = 100, example = "2",
          says = "2: at every other station, from the first in the west on; without it at each" },
        { "along", "flag", worse = "other", says = "whether it goes along the row, from post to post of one line" },
        { "bays", "list", least = 1, item = { "bay", "count", type = "count", min = 1, max = 99 }, example = "1, 3",
          says = "the bays in which one stands, counted from the west; without it in each" },
        { "rises", "choice", worse = "other", choices = { "east", "west" },
          says = "to which side one along the row rises; without it to the east" },
        { "past", "quantity", worse = "other", dim = "length", min = 0, max = 1, example = "3.5in",
          says = "how far it reaches past the bolt at each end; without it as far as custom has it" },
      } } },
  { "rafter_on", "choice", worse = "other", design = false, choices = { "top", "side" },
    says = "whether the rafters lie on what carries them, as without this, or are bolted to its side: then its top "
        .. "comes up to theirs" },
  { "beam", "choice", worse = "other", choices_from = lumber,
    says = "a member along each line of posts, on edge and plumb, that carries the rafters" },
  { "beam_on", "choice", worse = "other", design = false, choices = { "top", "side" },
    says = "whether the beams lie on the posts, as without this, or are bolted to their side" },
  { "saddle", "quantity", worse = "more", dim = "length", min = 0, max = 0.5, required = true, unless = of_kit,
    example = "0.25in",
    says = "thickness of the bearing plate on the post" },
  { "frame_mass", "quantity", spare = true, design = false, worse = "less", dim = "mass", above = 0, max = 1e5,
    example = "310kg", says = "least mass of rails, rafters and all that joins them, without the modules: of a kit",
    who = "maker of the rack", tool = "the kit's data sheet" },
  { "post_lines", "group", required = true,
    says = "where the lines of posts stand, as fractions of the slope from the lower edge: one, two or more",
    example = "front = 20%, back = 80%",
    fields = {
      { "front", "ratio", worse = "other", min = 0, max = 1, required = true, example = "20%",
        says = "front line, the first" },
      { "middle", "list", least = 1, most = 6, item = { "line", "ratio", type = "ratio", min = 0, max = 1,
          example = "50%" }, example = "50%", says = "lines between the first and the last, from the lower edge up" },
      { "back", "ratio", worse = "other", min = 0, max = 1, example = "80%", says = "back line, the last" },
    },
    check = lines_in_order },
  { "stations", "count", worse = "other", min = 1, max = 100, required = true, example = "3",
    says = "posts in each line along the row" },
  { "spacing", "quantity", worse = "other", dim = "length", above = 0, max = 10, required = true,
    unless = function(v) return v.bays ~= nil or v.stations == 1 end, example = "72.5in",
    says = "distance from post to post along a line, centre to centre" },
  { "bays", "list", least = 1, most = 99, item = bay, example = "84in, 84in, 72in",
    says = "distances from post to post along a line, west to east, where they are not all alike" },
  set_in,
  { "lines", "group", says = "what one line of posts has otherwise than the others; it wants a beam",
    example = "back = { stations = 2, spacing = 145in }",
    fields = { line_of "front", line_of "middle", line_of "back" } },
  import("structure.post_fields")(species),
  import("structure.post_made").unlike(species),
}

-- Two lengths that differ, in the units of the job.
local function shown(a, b) return import("write.words").apart(a, b) end

-- What holds a post is counted hole by hole: each has its own, or its own block. One under all posts of a station lies
-- square to the row.
local overlap = {
    hole = { "would stand in one hole", "holes" }, screw = { "would have screws in each other", "screws" },
    ballast = { "would have blocks in each other", "blocks" }, driven = { "would stand in each other", "posts" } }
local function refuse_one_hole(rack, refuse, lines)
  local footing, feet = rack.posts.footing, import "structure.feet"
  local wide, words = feet.width(footing, rack), overlap[feet.kind(footing)]
  local function check(at, apart, what, across)
    local wide = across or wide
    if apart < wide then
      local is, each = shown(apart, wide)
      refuse(at, what .. ", " .. is .. " apart, " .. words[1] .. ": each is " .. each .. " wide",
          "narrower " .. words[2] .. ", or more between them")
    end
  end
  for i, line in ipairs(lines) do
    for k, apart in ipairs(line.bays) do check(line.at(k), apart, "posts beside each other") end
    local before = record_given(footing, "carries") ~= "station" and lines[i - 1]
    if before then check({ "post_lines" }, line.setback - before.setback, before.name .. " and " .. line.name ..
        " posts", record_given(footing, "block_length")) end
  end
end

local function names_of(rack, refuse, lines)
  local seen = {}
  for _, line in ipairs(lines) do
    local names = line.name ~= "middle" and record_given(rack.posts, line.name)
    if names and #names ~= line.stations then
      refuse({ "posts", line.name }, "the " .. line.name .. " line names " .. #names .. " posts, but there are " ..
          line.stations .. " stations", "name each post, west to east")
    end
    for i = 1, line.stations do
      local name = names and names[i] or line.letter .. i
      if seen[name] then refuse(names and { "posts", line.name, i } or { "posts" }, "the post " .. name ..
          " is named twice", "each post has a station of its own") end
      seen[name] = true
    end
  end
end

kind { "rack", form = 9, named = true, types = true, design = true, says = "one table of modules on its posts",
  fields = rack_fields,
  reaches = function(rack)                       -- what single posts stand in is of the rack, too
    local list = {}
    if #import("model.record").all "at" == 0 then return list end
    for i, g in ipairs(import("structure.feet").of_rack(rack)) do list[i] = g.footing end
    return list
  end,
  settle = function(rack, refuse)
    local rails = rack.rails
    for _, name in ipairs { "part", "expansion_joints", "expansion_limit", "joints" } do
      if record_given(rails, name) ~= nil then
        import("rails.refuse")(rack, refuse)
        break
      end
    end
    local lines = import("structure.lines").settled(rack, refuse)
    if record_given(rack, "unlike_posts") then import("structure.post_made").settle(rack, lines, refuse) end
    if record_given(rack.posts, "moment_head") then
      local many = #lines > 1
      if many or record_given(rack, "beam") then
        refuse({ "posts", "moment_head" }, many and "it has " .. #lines .. " lines of posts, which hold the rafters " ..
            "between them" or "its rafters lie on a beam, not on the heads of posts", "leave it out")
      end
    end
    refuse_one_hole(rack, refuse, lines)
    names_of(rack, refuse, lines)
    if record_given(rack, "above") then import("structure.datum").settle(rack, refuse) end
    if record_given(rack, "with_modules") or record_given(rack.rails, "at") then
      import("modules.models").settled(rack, refuse)
    end
    if record_given(rack, "rafters") then import("frame.rafters").refuse(rack, refuse) end
    if record_given(rack, "row_slope") then import("structure.slope").settle(rack, refuse) end
    if record_given(rack, "braces") then import("frame.braces").refuse(rack, lines, refuse) end
    local function check_clamp(field, place)
      local clamp = rack[field]
      if clamp.role ~= place then refuse({ field }, clamp.name .. " is a clamp for the "
          .. (clamp.role == "mid" and "middle" or "ends") .. ", not for the "
          .. (place == "mid" and "middle" or "ends"), nil) end
    end
    check_clamp("mid_clamp", "mid")
    check_clamp("end_clamp", "end")
  end }

kind { "post_line", parent = "rack", says = "one line of posts of a rack, along the row",
  fields = {
    { "line", "text", says = "front, middle or back" },
  },
  derive = function(rack)
    local list = {}
    for i, line in ipairs(import("structure.lines").of(rack)) do
      list[i] = { name = line.letter, line = line.name }
    end
    return list
  end }

kind { "post", parent = "rack", says = "one post of a rack",
  fields = {
    { "line", "text", says = "front, middle or back" },
    { "letter", "text", says = "the letter of its line: F, M, B" },
    { "number", "count", says = "its place in the line, counted from the west" },
    { "station", "text", says = "its name in the ground's heights" },
  },
  derive = function(rack)
    local list = {}
    for _, line in ipairs(import("structure.lines").of(rack)) do
      local names = line.name ~= "middle" and record_given(rack.posts, line.name)
      for i = 1, names and #names or line.stations do                      -- a variant may have other stations
        local name = names and names[i] or line.letter .. i
        list[#list + 1] = { name = name, line = line.name, letter = line.letter, number = i, station = name }
      end
    end
    return list
  end,
  on_paper = function(post)
    return { { post_rack(post).name, post.line }, { post.line } }
  end }
