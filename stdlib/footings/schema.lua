-- SPDX-License-Identifier: MIT
-- What a post stands in, or on.
local schema = import "model.schema"
local kind = schema.kind

-- By the name alone: a footing may be asked while the job is still being declared.
local function record_given(x, field) return import("model.record").given(x, field) end

-- Which sort of footing a field is of.
local hole, screw, ballast, driven = { "hole" }, { "screw" }, { "ballast" }, { "driven" }
local pierced = { "screw", "driven" }
local called = { hole = "a hole", screw = "a ground screw", ballast = "a ballast block", driven = "a driven post" }

local function block_side(name, which)
  return { name, "quantity", worse = "less", only = ballast, dim = "length", above = 0, max = 12, required = true,
      example = "500mm", says = which .. " of one block" }
end

kind { "footing", form = 8, named = true, types = true, files = { "job", "place", "house" }, design = true,
  says = "what a post stands in, or on", sorts = "kind",
  fields = {
    { "kind", "choice", worse = "other", spare = true, choices = { "hole", "screw", "ballast", "driven" },
      says = "a hole with concrete around the post; a ground screw; a block on the ground; or the post is driven " ..
          "in; without it a hole" },
    { "hole_diameter", "quantity", worse = "less", only = hole, dim = "length", above = 0, max = 1.5, required = true,
      example = "18in", sold = function() return calc.augers {}.diameters end,
      says = "diameter of the hole" },
    { "hole_depth", "quantity", worse = "less", only = hole, dim = "length", above = 0, max = 6, required = true,
      example = "66in", says = "depth of the hole below the ground beside it" },
    { "gravel", "quantity", worse = "more", only = hole, dim = "length", min = 0, max = 1, required = true,
      example = "6in", says = "gravel at the bottom, under the post and the concrete" },
    { "fill", "choice", only = hole, choices = { "concrete" }, required = true,
      says = "what fills the hole around the post" },
    { "foot", "choice", worse = "other", spare = true, design = false, choices = { "held", "hinged" },
      says = "whether the post's foot is held against turning; without it it is tried as fixed at grade and as " ..
          "turning in the ground; on a block it has to be said", who = "engineer" },
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
    { "shaft_kind", "choice", worse = "other", spare = true, only = screw, design = false,
      choices_from = "screw_torque.shaft",
      says = "which shaft it is in the table of torque correlation: what it holds by torque goes by it; a screw " ..
          "that is none of these holds by pull tests, or by its maker's paper", who = "maker's data sheet" },
    { "torque", "quantity", worse = "less", spare = true, only = screw, dim = "moment", above = 0, max = 200000,
      example = "1500[lbf*ft]", says = "least torque with which every screw is driven last, the target: what it " ..
          "holds along itself goes by it, till what was driven is logged", who = "engineer" },
    { "helix", "quantity", worse = "more", spare = true, only = screw, dim = "length", above = 0, max = 1.5,
      example = "10in", says = "diameter of its top helix, or of the thread of a screw that has no helix",
      who = "maker's data sheet" },
    { "helix_depth", "quantity", worse = "less", spare = true, only = screw, dim = "length", above = 0, max = 6,
      example = "84in", says = "depth below the ground of its top helix, or of where its thread begins, driven as " ..
          "deep as designed", who = "maker's data sheet" },
    { "sideways", "quantity", worse = "less", spare = true, only = pierced, design = false, dim = "force", above = 0,
      max = 1000000, example = "300lbf",
      says = "allowable load across it, as a test or its maker's table has it: neither torque nor a pull tells that",
      who = "engineer", tool = "a test, or the maker's table" },
    { "sideways_at", "quantity", worse = "less", spare = true, only = pierced, design = false, dim = "length",
      above = 0, max = 5, example = "36in",
      says = "how high above the ground that load pushes there: the load times this is the moment that it takes at " ..
          "the ground; without it none, unless its foot is hinged", who = "engineer",
      tool = "a test, or the maker's table" },
    { "sideways_by", "text", spare = true, only = pierced, design = false, example = "maker's table 4, sand",
      says = "the test or the table that says so" },
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
  check = function(v)
    local strange, of = schema.of_another(schema.kinds.footing, v)
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
    if v.kind == "screw" or v.kind == "driven" then
      local text, help, at = import("screws.refuse")(v)
      if text then return text, help, at end
    end
    if v.block_mass and v.block_density then
      return "a block has its mass or its density, not both", "leave one of them out", "block_density"
    end
  end,
  settle = function(footing, refuse)
    if record_given(footing, "blocks") then
      import("structure.screws_and_blocks").settle_blocks(footing, refuse, import("structure.feet").of_rack)
    end
  end }
