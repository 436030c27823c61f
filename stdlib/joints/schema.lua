-- SPDX-License-Identifier: MIT
-- How the pieces of a rack are fastened to each other.
local schema = import "model.schema"
local fastener = import "joints.fastener"
local kind = schema.kind

local function distance(f)
  f[2], f.spare, f.dim, f.min, f.max, f.who = "quantity", true, "length", 0, 2, "designer"
  return f
end

-- Which distances to edges a joint has: those of the two members that it joins.
local edges = {
  ["rails on rafters"] = { edge_of_rail = true, edge_of_rafter = true },
  ["rafters on posts"] = { edge_of_rafter = true, edge_of_post = true, end_of_post = true },
  braces = { edge_of_brace = true, edge_of_post = true },
  ["braces along the row"] = { edge_of_brace = true, edge_of_post = true },
  ["pins of turned rafters"] = { edge_of_rafter = true, edge_of_post = true, end_of_post = true, edge_of_leg = true,
    end_of_leg = true },
  ["posts on footings"] = { edge_of_post = true, end_of_post = true },
  ["rail splices"] = { edge_of_rail = true, end_of_rail = true },
}
local directions = { "row_in_rail", "row_in_rafter", "row_in_post", "row_in_brace" }
local distances = { "edge_of_rail", "edge_of_rafter", "edge_of_post", "edge_of_brace", "edge_of_leg", "end_of_post",
    "end_of_rail", "end_of_leg" }
-- What belongs to joints of one sort alone.
local of_one = { { "holds_lift", "posts on footings" }, { "holds_side", "posts on footings" },
    { "holds_turning", "posts on footings" }, { "holds_by", "posts on footings" }, { "boards", "rail splices" },
    { "hinge", "rail splices" } }
local holds = { "holds_lift", "holds_side", "holds_turning" }
-- What a joint has none of whose fasteners are not said.
local of_fasteners = { "size", "grade", "length", "washer", "head", "count", "rows", "spacing", "row_spacing",
    "edge_of_post", "end_of_post", "row_in_post", "planes", "plate", "plate_thickness", "plate_width" }
local of_thick = { "edge_of_rail", "edge_of_rafter", "edge_of_post", "edge_of_brace", "end_of_post", "rows", "spacing",
    "row_spacing", "plate_width", "row_in_rail", "row_in_rafter", "row_in_post", "row_in_brace" }

-- What the group of fasteners of a splice goes by, thick or thin.
local of_group = { rows = true, spacing = true, row_spacing = true, plate_width = true }

local function sizes_of(fastener)
  local list = {}
  for _, row in ipairs(host.table "wood_fasteners") do if row.kind == fastener then list[#list + 1] = row.size end end
  return list
end

-- A size of another sort of fastener: a bolt of No. 10.
local function refuse_size(v)
  if host.in_column("wood_fasteners.name", v.fastener .. " " .. v.size) then return nil end
  local list = sizes_of(v.fastener)
  return host.an(v.fastener) .. " of " .. v.size .. " is not in the table of fasteners", v.fastener .. "s are " ..
      import("model.util").list(list), "size"
end

local function refuse_plate(v)
  if v.plate and not v.plate_thickness then
    return "a plate of " .. v.plate .. " without its thickness", "plate_thickness = 1/4in", "plate"
  end
  for _, name in ipairs { "plate_thickness", "plate_width" } do
    if v[name] and not v.plate then
      return "'" .. name .. "' is of a plate of steel, and none is said", 'plate = "A36", or leave it out', name
    end
  end
  if v.planes == 2 and not fastener.is_bolt(v) then
    return "between plates on both sides goes a bolt", "leave planes out, or write fastener = \"bolt\"", "planes"
  elseif v.planes == 2 and not v.plate and not v.boards then
    return "two planes of shear want plates on both sides: of each member a rack has one", 'plate = "A36", or ' ..
        "leave planes out", "planes"
  end
end

local function refuse_rows(v)
  local rows = v.rows or 1
  if rows > v.count then return "more rows than fasteners", "rows = 1, or leave it out", "rows" end
  if v.spacing and v.count <= rows then
    return "a spacing, and one fastener in a row", "leave it out", "spacing"
  end
  if v.row_spacing and rows == 1 then return "row_spacing of one row", "rows = 2, or leave it out", "row_spacing" end
end

-- How a row lies in a member: of a member that is in the joint, where there is a row.
local function refuse_directions(v)
  for _, name in ipairs(directions) do
    if v[name] then
      if v.of == "rail splices" then return "rows of a splice run along the rail", "leave it out", name end
      if not edges[v.of][string.gsub(name, "^row_in", "edge_of")] then
        return "'" .. name .. "' is of a member that is not in this joint: " .. v.of, "leave it out", name
      end
      if v.count == 1 then return "the direction of a row, and one fastener", "leave it out", name end
    end
  end
end

-- What turns hangs on one bolt; several hold it as it is.
local function refuse_pin(v)
  if not fastener.is_bolt(v) then
    return "what turns hangs on a pin, which is a bolt", 'fastener = "bolt"', "fastener"
  end
  if v.count ~= 1 then return "several bolts let nothing turn: a pin is one", "count = 1", "count" end
end

-- What belongs to another sort of joint, and what a foot, a pin or a splice cannot do without.
local function refuse_sort(v)
  for _, x in ipairs(of_one) do
    if v[x[1]] ~= nil and v.of ~= x[2] then
      return "'" .. x[1] .. "' is of " .. x[2] .. ", and this is of " .. v.of, "leave it out", x[1]
    end
  end
  if v.of == "pins of turned rafters" then return refuse_pin(v) end
  if v.of == "posts on footings" then
    for _, field in ipairs(v.holds_by and {} or holds) do
      if v[field] then
        return "what a foot holds, and not whose word that is",
            'holds_by = "anchors M12, evaluation report of 2026-01"', field
      end
    end
    if v.holds_by and not (v.holds_lift or v.holds_side or v.holds_turning) then
      return "whose word it is, and not what a foot holds", "holds_lift = 900lbf, holds_side = 400lbf", "holds_by"
    end
    if v.fastener and not v.plate then
      return "fasteners in the foot of a post go through a base of steel, and none is said",
          'plate = "A36", plate_thickness = 1/4in', "fastener"
    end
  elseif v.of == "rail splices" then
    if v.plate and v.boards then return "plates and boards at one splice", "leave one of them out", "boards" end
    if not v.plate and not v.boards then
      return "nothing lies over the splice", 'boards = "2x4", or plate = "A36", plate_thickness = 1/4in', "of"
    end
    if v.count % (v.rows or 1) ~= 0 then
      return v.count .. " fasteners do not stand in " .. v.rows .. " like rows", "count = " .. 2 * v.rows, "count"
    end
    if v.count < 2 then
      return "one fastener on each side of a splice lets it fold, a hinge too: what lies over it would turn about both",
          "count = 2", "count"
    end
  end
end

-- A foot of which no fastener is said: its maker's paper is about all of it.
local function refuse_stray(v)
  for _, field in ipairs(of_fasteners) do
    if v[field] ~= nil then
      return "'" .. field .. "' is of fasteners in the post, and none is said", "leave it out, or say which: " ..
          'fastener = "bolt"', field
    end
  end
end

local function refuse_torque(v)
  if v.torque_paper and not v.torque then
    return "a paper for a torque, and no torque", "torque = 40[lbf*ft]", "torque_paper"
  end
end

-- The grade of a screw, a grade that has no bolts so thick, or that is not what keeps it from rust.
local function refuse_grade(v)
  if not v.grade then return nil end
  if not fastener.is_bolt(v) then
    return "'grade' is of the steel of bolts, and these are " .. v.fastener .. "s", "leave it out", "grade"
  end
  local row = host.table_row("wood_fasteners", "name", v.fastener .. " " .. v.size)
  local none = host.quantity(0.0, "force")
  local ok, why = pcall(calc.bolt_steel, { diameter = row.diameter, grade = v.grade, planes = 1, tension = none,
      shear = none })
  if not ok then
    if host.class(why) ~= "range" then error(why, 0) end
    return "the table has no bolts of " .. v.grade .. " of " .. v.size .. " in", "another grade or size", "grade"
  end
  local coated = v.coating and host.table_row("wood_fastener_coatings", "coating", v.coating).metal
  local metal = host.table_row("bolt_grades", "grade", v.grade).metal
  if coated and coated ~= metal then
    return v.grade .. " is of " .. metal .. ", and " .. v.coating .. " bolts are of " .. coated,
        "another grade, or the coating that they have", "grade"
  end
end

local function refuse_head(v)
  if not v.head then return nil end
  if fastener.is_bolt(v) then
    if v.of == "rails on rafters" and v.planes ~= 2 then return nil end
    return "nothing pulls these bolts along their axis: how wide their washers are does not count", "leave it out",
        "head"
  end
  if v.plate then return "under a plate the head lies on steel, which it is not pulled through", "leave it out",
      "head" end
end

local function check(v)
  if v.of == "posts on footings" and not v.fastener then
    local text, help, field = refuse_stray(v)
    if not text then text, help, field = refuse_sort(v) end
    if not text then text, help, field = refuse_torque(v) end
    return text, help, field
  end
  if v.of == "posts on footings" and (not v.size or not v.count) then
    return "fasteners in the foot of a post, and not " .. (v.size and "how many" or "of which size"),
        v.size and "count = 2" or 'size = "1/2"', "fastener"
  end
  if not v.of or not v.fastener or not v.size or not v.count then return nil end      -- told of already
  for _, name in ipairs(fastener.is_thin(v) and of_thick or {}) do
    if v[name] and not (v.of == "rail splices" and of_group[name]) then
      return "'" .. name .. "' is not judged of wood screws: they only must not split the wood", "leave it out", name
    end
  end
  local text, help, field = refuse_size(v)
  if not text then text, help, field = refuse_plate(v) end
  if not text then text, help, field = refuse_rows(v) end
  if not text then text, help, field = refuse_sort(v) end
  if not text then text, help, field = refuse_grade(v) end
  if not text then text, help, field = refuse_head(v) end
  if text then return text, help, field end
  if fastener.is_bolt(v) then
    if v.length then return "the length of a bolt does not count", "leave it out", "length" end
    if v.washer then return "the thickness of a bolt's washer does not count", "leave it out", "washer" end
  elseif not v.length then
    return "a " .. v.fastener .. " without its length", "length = 4in, under its head, with its tip", "fastener"
  end
  for _, name in ipairs(distances) do
    if v[name] and v.of and not edges[v.of][name] then
      return "'" .. name .. "' is of a member that is not in this joint: " .. v.of, "leave it out", name
    end
  end
  text, help, field = refuse_directions(v)
  if text then return text, help, field end
  return refuse_torque(v)
end

local function direction(member)
  return { "row_in_" .. member, "choice", choices = { "along", "across" }, says = member == "rail" and
      "how a row of bolts or lag screws lies in the rail: along its grain or across it; without it the worse of " ..
      "both counts" or "the same in the " .. member }
end

local function of_foot(v) return v.of == "posts on footings" end

kind { "joint", named = true, design = true, files = { "job" },
  says = "how pieces of a rack are fastened: rails on rafters, rafters on posts, the ends of braces, posts on what " ..
      "they stand on, or rails to each other",
  fields = {
    { "of", "choice", choices = { "rails on rafters", "rafters on posts", "braces", "braces along the row",
        "pins of turned rafters", "posts on footings", "rail splices" }, required = true, design = false,
      says = "what it joins; braces: each end of those between lines, to its post; braces along the row: the same " ..
          "of those from post to post of one line; pins of turned rafters: a bolt at each head about which `tilts` " ..
          "turn them, and at both ends of each leg; posts on footings: what ties posts to the blocks or screws on " ..
          "which they stand; rail splices: of lumber, where two sticks meet" },
    { "racks", "list", design = false, least = 1, item = { "rack", "ref", type = "ref", of = { "rack" } },
      example = '"east", "west"',
      says = "the racks of which it is; without it all that have such a joint and are no kits" },
    { "fastener", "choice", choices_from = "wood_fasteners.kind", required = true, unless = of_foot,
      says = "what holds it; of posts on footings what goes through the post, unless a paper is about all of it" },
    { "size", "choice", choices_from = "wood_fasteners.size", required = true, unless = of_foot,
      says = "diameter or number, as the table of fasteners has it" },
    { "grade", "choice", spare = true, choices_from = "bolt_grades.grade",
      says = "of the steel of bolts; without it the weakest counts", who = "yard", tool = "the marks on their heads" },
    { "length", "quantity", dim = "length", above = 0, max = 1, example = "4in",
      says = "of a screw, under its head, with its tip" },
    { "washer", "quantity", dim = "length", min = 0, max = 0.05, example = "1/16in",
      says = "thickness of the washer under a screw's head; without it none" },
    { "head", "quantity", spare = true, dim = "length", above = 0, max = 0.1, example = "1-1/4in",
      says = "diameter of a screw's head, of the round washer under it, or of the washers of a bolt: asked where it " ..
          "holds wood down, which it is not to be pulled through", who = "designer", tool = "a caliper" },
    { "count", "count", min = 1, max = 100, required = true, unless = of_foot, example = "2",
      says = "fasteners at each such joint; with plates, or over a splice, so many in each of the two members" },
    { "rows", "count", min = 1, max = 10, example = "2", says = "rows in which they stand; without it one" },
    { "spacing", "quantity", spare = true, dim = "length", above = 0, max = 1, example = "2in",
      says = "from fastener to fastener in a row", who = "designer" },
    { "row_spacing", "quantity", spare = true, dim = "length", above = 0, max = 1, example = "2in",
      says = "from row to row", who = "designer" },
    distance { "edge_of_rail", example = "0.75in",
      says = "from the nearest bolt or lag screw to the nearest edge of the rail" },
    distance { "edge_of_rafter", example = "2in", says = "the same of the rafter" },
    distance { "edge_of_post", example = "2.75in", says = "the same of the post" },
    distance { "edge_of_brace", example = "1.75in", says = "the same of the brace" },
    distance { "edge_of_leg", example = "1.75in", says = "the same of the legs that hold turned rafters" },
    distance { "end_of_leg", example = "3.5in", says = "from the pin to the nearest end of a leg" },
    distance { "end_of_post", example = "4in",
      says = "from the nearest bolt or lag screw to the top of the post, of a foot to its lower end; of braces the " ..
          "rack says it" },
    distance { "end_of_rail", example = "3.5in",
      says = "of a splice, from the nearest bolt or lag screw to the end of the rail; boards reach as far beyond " ..
          "the last one" },
    direction "rail", direction "rafter", direction "post", direction "brace",
    { "planes", "count", min = 1, max = 2, example = "2",
      says = "planes in which a bolt is sheared: 2 between plates or boards on both sides; without it one" },
    { "plate", "choice", choices_from = "fastener_plates.plate",
      says = "steel of the plate, bracket or saddle through which it holds; without it wood lies on wood" },
    { "plate_thickness", "quantity", dim = "length", above = 0, max = 0.05, example = "1/4in",
      says = "how thick the plate is" },
    { "plate_width", "quantity", spare = true, dim = "length", above = 0, max = 0.5, example = "2in",
      says = "how wide it is across the load; asked of bolts and lag screws: what their holes leave of it counts",
      who = "designer" },
    { "boards", "choice", choices_from = "wood_sections.section",
      says = "lumber that lies over a splice, of the rails' species and grade and on edge as they are: one at the " ..
          "side, or with planes = 2 one at each side" },
    { "hinge", "flag", design = false,
      says = "whether the splice is left to turn, so that it carries shear alone: the rails then bend as if parted " ..
          "there; without it it carries what bends them, too" },
    { "holds_lift", "quantity", spare = true, dim = "force", above = 0, max = 1e6, example = "900lbf", design = false,
      says = "allowable pull at the foot of one post: of its base, its anchors and the concrete around them, the least",
      who = "maker of the anchor or base", tool = "its table, or its evaluation report" },
    { "holds_side", "quantity", spare = true, dim = "force", above = 0, max = 1e6, example = "400lbf", design = false,
      says = "the same of a push across it", who = "maker of the anchor or base",
      tool = "its table, or its evaluation report" },
    { "holds_turning", "quantity", spare = true, dim = "moment", above = 0, max = 1e6, example = "300[lbf*ft]",
      design = false, says = "the same of what turns the foot; not asked of feet that are hinged",
      who = "maker of the anchor or base", tool = "its table, or its evaluation report" },
    { "holds_by", "text", digit = true, spare = true, design = false,
      example = "anchors M12, evaluation report of 2026-01", says = "the paper or the test that says so, with " ..
          "its date", who = "maker of the anchor or base" },
    { "coating", "choice", choices_from = "wood_fastener_coatings.coating", spare = true,
      says = "what keeps fasteners, plates and washers from rust", who = "yard", tool = "the print on the box" },
    { "torque", "quantity", dim = "moment", above = 0, max = 2000, example = "40[lbf*ft]", design = false,
      spare = true, says = "with which each of them is tightened, in two rounds", who = "maker of the fastener",
      tool = "its paper" },
    { "torque_paper", "text", digit = true, design = false, spare = true,
      example = "lag screws, installation sheet of 2026-02", who = "maker of the fastener", tool = "its paper",
      says = "the maker's paper in which that torque stands, with its date" },
  },
  check = check,
  settle = function(joint, refuse) import("joints.on").settle(joint, refuse) end }
