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

local function block_side(name, which, more)
  return { name, "quantity", worse = "less", only = ballast, dim = "length", above = 0, max = 12, required = true,
      example = "500mm", says = which .. " of one block" .. (more or "") }
end

kind { "footing", form = 8, named = true, types = true, files = { "job", "place", "house" }, design = true,
  says = "what a post stands in, or on", sorts = "kind",
  fields = {
    { "kind", "choice", worse = "other", spare = true, choices = { "hole", "screw", "ballast", "driven" },
      says = "a hole with concrete around the post; a ground screw; a block on the ground; or the post is driven " ..
          "in; without it a hole" },
    { "hole_diameter", "quantity", worse = "less", only = hole, dim = "length", above = 0, max = 1.5, required = true,
      example = "18in", sold = function() return import("footings.augers").had() end,
      says = "diameter of the hole" },
    { "hole_depth", "quantity", worse = "less", only = hole, dim = "length", above = 0, max = 6, required = true,
      example = "66in", says = "depth of the hole below the ground beside it" },
    { "gravel", "quantity", worse = "more", only = hole, dim = "length", min = 0, max = 1, required = true,
      example = "6in", says = "gravel at the bottom, under the post and the concrete" },
    { "fill", "choice", only = hole, choices = { "concrete" }, required = true,
      says = "what fills the hole around the post; what stone or earth around it holds nobody states here" },
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
    { "keyed", "text", only = hole, spare = true, design = false, example = "two 1/2 in rods through the post",
      says = "what keeps the post from being drawn out of its concrete; without it the concrete holds nothing down",
      who = "designer" },
    { "bell", "quantity", worse = "less", only = hole, spare = true, dim = "length", above = 0, max = 3,
      example = "30in", says = "diameter at the base of a hole that widens at its foot" },
    { "skin_friction", "flag", only = hole, spare = true, design = false,
      says = "counts the friction of the soil along the concrete against uplift, from below what freezes or does " ..
          "not count; the soil above a bell counts in its place",
      who = "engineer" },
    { "held_at_grade", "text", only = hole, spare = true, design = false, example = "reinforced slab of the yard, 6 in",
      says = "the rigid slab or pavement that keeps the post from moving at the ground; soil is none",
      who = "engineer" },
    { "frost_grip", "choice", spare = true, worse = "other", design = false,
      choices = { "drained backfill", "sleeve", "re-levelled each spring" },
      says = "what is done about frost that grips it: clean drained stone or sand around it, or under a block, down " ..
          "to frost depth; a sleeve that slides in the frozen ground; or it heaves, and somebody re-levels the rack",
      who = "designer" },
    { "frost_grip_by", "text", spare = true, design = false,
      says = "who sees to that, and how; required beside it", who = "designer",
      example = "Odessa Pruitt, each April, with a level" },
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
    { "shaft_grade", "choice", spare = true, only = screw, design = false, choices_from = "metals.material",
      says = "which steel the shaft is of, as the mill sheet names it: then R82 judges its bending below the " ..
          "ground; without it what was pushed sideways answers for it", who = "maker's data sheet" },
    { "shaft_wall", "quantity", worse = "less", spare = true, only = screw, dim = "length", above = 0, max = 0.1,
      example = "0.203in", says = "thickness of the wall of the shaft; a square bar is solid",
      who = "maker's data sheet" },
    { "model", "text", worse = "other", spare = true, only = pierced, design = false, example = "GS 76x1600",
      says = "its maker's model, as the maker's tables in the parts files list it: they tell what it takes sideways " ..
          "where no `sideways` is given, and along itself where neither torque nor a pull does",
      who = "maker's data sheet" },
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
      says = "allowable load across it, as a test or its maker's table has it: neither torque nor a pull tells it; " ..
          "without it the table of its model",
      who = "engineer", tool = "a test, or the maker's table" },
    { "sideways_at", "quantity", worse = "less", spare = true, only = pierced, design = false, dim = "length",
      above = 0, max = 5, example = "36in",
      says = "how high above the ground that load pushes there: the load times this is the moment that it takes at " ..
          "the ground; without it none, unless its foot is hinged", who = "engineer",
      tool = "a test, or the maker's table" },
    { "sideways_depth", "quantity", worse = "more", spare = true, only = pierced, design = false, dim = "length",
      above = 0, max = 6, example = "114in", says = "how deep the tip stood of what was pushed in that test, or the " ..
          "least depth that the table is for: of one that stands less deep it tells nothing, and without it of none",
      who = "engineer", tool = "the paper of that test, or the maker's table" },
    { "sideways_moved", "quantity", worse = "more", spare = true, only = pierced, design = false, dim = "length",
      above = 0, max = 0.5, example = "6mm", says = "how far it moved at that height under that load: how far posts " ..
          "lean as the ground gives way goes by it; without it no rule judges P-delta of them", who = "engineer",
      tool = "a test, or the maker's table" },
    { "sideways_by", "text", spare = true, only = pierced, design = false, example = "maker's table 4, sand",
      says = "the test or the table that says so" },
    block_side("block_length", "length", ", which lies square to the row"),
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
    { "block_front", "quantity", worse = "other", only = ballast, spare = true, dim = "length", min = 0, max = 12,
      example = "450mm", says = "how far a block under a station reaches before the middle of its first post; " ..
          "without it the posts stand on it centred" },
    { "friction", "ratio", worse = "less", only = ballast, spare = true, design = false, above = 0, max = 1,
      example = "45%", says = "coefficient of friction of the block on its ground, as it may be counted; without " ..
          "it by the class of the soil", who = "engineer", tool = "a pull on a block with a load cell" },
    { "friction_by", "text", only = ballast, spare = true, design = false,
      example = "Ansgar Thole, pulls of 2026-08-12", says = "who measured that friction, and when" },
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
    if v.bell and v.hole_diameter and host.si(v.bell) <= host.si(v.hole_diameter) then
      return "the bell is no wider than the hole", "bell = 30in", "bell"
    end
    if v.bell and v.hole_depth and host.si(v.bell) > host.si(v.hole_depth) then
      return "the bell is wider than the hole is deep", "a deeper hole, or bell = 30in", "bell"
    end
    if v.bell and v.skin_friction then
      return "a bell holds by the soil above it, a shaft by friction beside it: not both", "leave one of them out",
          "skin_friction"
    end
    if v.head and v.screw_length and host.si(v.head) >= host.si(v.screw_length) then
      return "none of the screw is in the ground", "head = 100mm of a screw of 1.6m", "head"
    end
    if v.frost_grip and not v.frost_grip_by then
      return "what is done about frost stands there, and not who sees to it",
          'as in frost_grip_by = "Odessa Pruitt, each April, with a level"', "frost_grip"
    end
    if v.frost_grip_by and not v.frost_grip then
      return "who sees to it stands there, and not what is done about frost",
          'as in frost_grip = "drained backfill"', "frost_grip_by"
    end
    if v.frost_grip == "sleeve" and v.kind == "ballast" then
      return "a block stands on the ground: frost lifts it from below, and there is nothing to put a sleeve around",
          'as in frost_grip = "drained backfill"', "frost_grip"
    end
    if v.kind == "screw" or v.kind == "driven" then
      local text, help, at = import("screws.refuse")(v)
      if text then return text, help, at end
    end
    if v.block_mass and v.block_density then
      return "a block has its mass or its density, not both", "leave one of them out", "block_density"
    end
    if v.friction and not v.friction_by then
      return "who measured the friction is not said", 'friction_by = "Ansgar Thole, pulls of 2026-08-12"', "friction"
    end
    if v.friction_by and not v.friction then
      return "somebody measured a friction that is not given", "friction = 45%", "friction_by"
    end
    if v.block_front and v.carries == "post" then
      return "a post stands in the middle of a block of its own", "leave it out", "block_front"
    end
  end,
  settle = function(footing, refuse)
    if record_given(footing, "model") then import("screws.tables").settle(footing, refuse) end
    if record_given(footing, "carries") == "station" then import("footings.on_block")(footing, refuse) end
    if record_given(footing, "blocks") then
      import("structure.screws_and_blocks").settle_blocks(footing, refuse, import("structure.feet").of_rack)
    end
  end }
