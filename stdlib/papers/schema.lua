-- SPDX-License-Identifier: MIT
-- Papers that give values instead of ours: an engineer's, a maker's, an office's.  Demand (loads) and capacity (holds)
-- are two words; covers takes a subject off the list of what nothing judges, and an electrician's paper does nothing
-- else.  Its author answers for a paper.
local schema = import "model.schema"
local given = import "model.given"
local not_judged = import "job.not_judged"
local kind = schema.kind

-- What decides the loads of a rack on open ground, by the wind figure and the snow chapter of the load standards.
local of_loads = { "site.wind", "site.exposure", "site.snow", "rack.rows", "rack.columns", "rack.tilt",
    "rack.steepest_tilt", "rack.flattest_tilt", "rack.spacing", "rack.widest_bay", "rack.widest_end",
    "rack.widest_lines", "rack.row_per_brace", "rack.row_slope" }
local of_holes = { "site.soil.class", "footing.kind", "footing.hole_diameter", "footing.hole_depth",
    "footing.shaft", "footing.screw_length", "footing.shaft_kind", "footing.torque", "footing.helix",
    "footing.helix_depth", "footing.driven_depth", "footing.block_length", "footing.block_width",
    "footing.block_height", "footing.block_mass", "footing.block_density" }

local most = host.si(host.literal "200000lbf")       -- more than any post of such a rack is asked to carry

local function force(name, says, example)
  return { name, "quantity", dim = "force", min = 0, max = most, example = example, says = says }
end

-- Forces on one post: for each line of posts, or for each line of one rack.
local function by_line(name, says, needs, example, forces)
  local fields = table.move(forces, 1, #forces, 1, {})
  for _, line in ipairs { "front", "back" } do
    fields[#fields + 1] = { line, "group", says = "of the " .. line .. " line, where a rack is named", fields = forces,
        example = example }
  end
  return { name, "map", says = says, needs = needs, example = "front = { " .. example .. " }",
    item = { "line", "group", type = "group", example = example, fields = fields,
      says = "of one post of the line: front, back, or a rack's name and its lines" } }
end

-- What the papers give that give values: the same fields in all of them.
local values = {
  { "level", "choice", choices = { "allowable", "strength" },
    says = "the level of all its forces: allowable stress design, or strength design" },
  { "dead_taken_off", "flag",
    says = "whether the frame's weight is taken off what lifts already; then it is not counted a second time" },
  { "weight_counts", "ratio", spare = true, above = 0, max = 1, example = "90%",
    says = "what of the weight of blocks, and of what stands on them, may be set against its loads as they are; " ..
        "without it by the load standard's combination for uplift" },
  by_line("loads", "demand: what one post of a line must carry", of_loads, "up = 900lbf, side = 450lbf", {
    force("up", "most that lifts the post", "900lbf"),
    force("down", "most that presses the post down: weight, snow and wind together", "2300lbf"),
    force("side", "most that pushes the post's head sideways", "450lbf"),
  }),
  by_line("holds", "capacity: what holds one post of a line", of_holes, "up = 1800lbf", {
    force("up", "all that holds the post down, as far as it may be counted, the frame's weight included", "1800lbf"),
  }),
}

-- What each paper says of itself, and what it covers; between the two, what it gives.
local function fields(own, subjects, forces)
  local list = table.move(own, 1, #own, 1, {})
  local function put(more) table.move(more, 1, #more, #list + 1, list) end
  put {
    { "paper", "text", required = true, says = "the paper itself: its number, its pages", example = "S1 to S4" },
    { "dated", "date", required = true, says = "its date; a paper dated after the day judged gives nothing" },
  }
  if forces then put(values) end
  put {
    { "covers", "list", required = not forces, example = '"' .. subjects[1] .. '", "' .. subjects[4] .. '"',
      item = { "subject", "choice", type = "choice", choices = subjects },
      says = "what it takes off the list of what nothing judges; what a rule can judge it does not silence" },
    { "made_for", "conditions", example = forces and "site = { wind = 105mph, snow = 20psf }" or
        "strings = { series = 4, parallel = 2 }",
      says = "what it was made for; a job that is worse, or of another size, makes what it gives unknown. A paper " ..
        "without it covers nothing" },
  }
  return list
end

-- Whether a field of forces says anything under a word, at whichever place.
local function says_of(map, word)
  local inside = import("model.record").inside
  for _, place in pairs(map or {}) do
    local v = inside[place].v
    if v[word] then return true end
    for _, line in ipairs { "front", "back" } do
      if v[line] and inside[v[line]].v[word] then return true end
    end
  end
  return false
end

local function check(v)
  if not v.loads and not v.holds and not v.covers then
    return "it gives nothing", 'as in loads = { front = { up = 900lbf } } or covers = { "rails" }'
  end
  local forces = v.loads or v.holds
  if forces and not v.level then
    return "it does not say at which level its forces are", 'level = "allowable" or level = "strength"',
        v.loads and "loads" or "holds"
  end
  if not forces and v.level then return "a level without loads or holds says nothing", "leave it out", "level" end
  if v.weight_counts and not v.loads then
    return "weight_counts without loads says nothing", "leave it out", "weight_counts"
  end
  local lifts = says_of(v.loads, "up")
  if lifts and v.dead_taken_off == nil then
    return "it does not say whether the frame's weight is taken off what lifts", "dead_taken_off = true or false",
        "loads"
  end
  if not lifts and v.dead_taken_off ~= nil then
    return "dead_taken_off without a load that lifts says nothing", "leave it out", "dead_taken_off"
  end
end

local function paper(name, says, own)
  kind { name, named = true, paper = true, says = says, who = "its author", check = check, settle = given.settle,
    fields = fields(own, not_judged.words, true) }
end

paper("engineer", "an engineer's paper: loads, capacities, what it covers; its author answers for it", {
    { "licence", "text", required = true, digit = true, says = "the engineer's licence", example = "E-40771" },
    { "state", "text", required = true, says = "the state that gave it", example = "NE" },
  })
kind { "electrician", named = true, paper = true, who = "its author", settle = given.settle,
  says = "a licensed electrician's drawing, for what no rule judges of the wiring; its author answers for it",
  fields = fields({
    { "licence", "text", required = true, digit = true, says = "the electrician's licence", example = "J-2088" },
    { "state", "text", required = true, says = "the state that gave it", example = "NE" },
  }, not_judged.electrical) }
paper("maker", "a maker's paper, such as a table of anchors; its author answers for it", {
    { "product", "text", required = true, says = "the product that it is for", example = "ground anchor 30" },
  })
paper("office", "an office's paper, such as a handout with loads; its author answers for it", {})
