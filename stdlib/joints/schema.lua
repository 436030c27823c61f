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
}
local distances = { "edge_of_rail", "edge_of_rafter", "edge_of_post", "edge_of_brace", "end_of_post" }
local of_thick = { "edge_of_rail", "edge_of_rafter", "edge_of_post", "edge_of_brace", "end_of_post", "rows", "spacing",
    "row_spacing", "plate_width" }

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
  elseif v.planes == 2 and not v.plate then
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
  if v.plate_width and v.count <= rows then
    return "the plate's width counts where fasteners stand in a row, and one is in it", "leave it out", "plate_width"
  end
  if v.row_spacing and rows == 1 then return "row_spacing of one row", "rows = 2, or leave it out", "row_spacing" end
end

local function check(v)
  if not v.fastener or not v.size or not v.count then return nil end      -- told of already
  for _, name in ipairs(fastener.is_thin(v) and of_thick or {}) do
    if v[name] then
      return "'" .. name .. "' is not judged of wood screws: they only must not split the wood", "leave it out", name
    end
  end
  local text, help, field = refuse_size(v)
  if not text then text, help, field = refuse_plate(v) end
  if not text then text, help, field = refuse_rows(v) end
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
  if v.torque_paper and not v.torque then
    return "a paper for a torque, and no torque", "torque = 40[lbf*ft]", "torque_paper"
  end
end

kind { "joint", named = true, design = true, files = { "job" },
  says = "how pieces of a rack are fastened: rails on rafters, rafters on posts, or the ends of braces",
  fields = {
    { "of", "choice", choices = { "rails on rafters", "rafters on posts", "braces" }, required = true, design = false,
      says = "what it joins; braces: each end of those between lines, to its post" },
    { "racks", "list", design = false, least = 1, item = { "rack", "ref", type = "ref", of = { "rack" } },
      example = '"east", "west"',
      says = "the racks of which it is; without it all that have such a joint and are no kits" },
    { "fastener", "choice", choices_from = "wood_fasteners.kind", required = true, says = "what holds it" },
    { "size", "choice", choices_from = "wood_fasteners.size", required = true,
      says = "diameter or number, as the table of fasteners has it" },
    { "length", "quantity", dim = "length", above = 0, max = 1, example = "4in",
      says = "of a screw, under its head, with its tip" },
    { "washer", "quantity", dim = "length", min = 0, max = 0.05, example = "1/16in",
      says = "thickness of the washer under a screw's head; without it none" },
    { "count", "count", min = 1, max = 100, required = true, example = "2",
      says = "fasteners at each such joint; with plates so many in each of the two members" },
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
    distance { "end_of_post", example = "4in",
      says = "from the nearest bolt or lag screw to the top of the post; of braces the rack says it" },
    { "planes", "count", min = 1, max = 2, example = "2",
      says = "planes in which a bolt is sheared: 2 between plates on both sides; without it one" },
    { "plate", "choice", choices_from = "fastener_plates.plate",
      says = "steel of the plate, bracket or saddle through which it holds; without it wood lies on wood" },
    { "plate_thickness", "quantity", dim = "length", above = 0, max = 0.05, example = "1/4in",
      says = "how thick the plate is" },
    { "plate_width", "quantity", spare = true, dim = "length", above = 0, max = 0.5, example = "2in",
      says = "how wide it is across the load; asked where bolts or lag screws stand in a row", who = "designer" },
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
