-- SPDX-License-Identifier: MIT
-- What a rack of bought rails is made of: rails, splices, adapters, kits.
local schema = import "model.schema"
local kind = schema.kind

local data_sheet = { "data_sheet", "text", example = "rail 60 data sheet, 2026-02",
  says = "which data sheet the row is from, and its date" }
local function generation(of)
  return { "generation", "text", example = "B", says = "which generation of its maker's parts " .. of .. " is of" }
end
local sheet = "maker's data sheet"

kind { "rail", named = true, part = true, who = sheet, says = "a rail of metal, to which modules are clamped",
  fields = {
    { "length", "quantity", dim = "length", above = 0, max = 20, example = "206 in",
      says = "length of a stick; the lengths that a price list has count before it" },
    { "depth", "quantity", dim = "length", above = 0, max = 0.5, required = true, example = "60 mm",
      says = "height of the rail under the modules" },
    { "mass", "quantity", dim = "mass per length", above = 0, max = 100, example = "1.2 kg/m",
      says = "mass of a length of it, the least that its maker gives" },
    { "material", "choice", choices = { "aluminium", "steel" }, says = "what it is of" },
    { "expansion", "quantity", dim = "change per degree", above = 0, max = 1e-4, example = "0.0023 %/K",
      says = "by what share of its length it lengthens for each degree, where its maker says so" },
    { "expansion_limit", "quantity", dim = "length", above = 0, max = 100, example = "36 ft",
      says = "longest that it may run without an expansion joint" },
    { "splice", "text", example = "rail 60 splice", says = "what its sticks are joined with" },
    { "splice_least", "ratio", min = 0, max = 0.5, example = "15%",
      says = "nearest to a support that a splice may be, of the bay; without it at the support, if the other is said" },
    { "splice_most", "ratio", min = 0, max = 0.5, example = "25%",
      says = "farthest from the nearer support, of the bay; without it in its middle, if the other is said" },
    { "end_bay_splices", "choice", choices = { "no", "yes" },
      says = "whether the first and the last bay may have a splice, too" },
    { "span_most", "quantity", dim = "length", above = 0, max = 20, example = "84 in",
      says = "longest bay that its maker allows under the pressure of table_load" },
    { "overhang_most", "quantity", dim = "length", min = 0, max = 10, example = "24 in",
      says = "longest overhang that its maker allows under it" },
    { "table_load", "quantity", dim = "pressure", above = 0, max = 30000, example = "40 psf",
      says = "pressure on the modules, allowable level, for which the maker's table gives these" },
    generation "it",
    data_sheet,
  },
  check = function(v)
    if v.splice_least and v.splice_most and v.splice_least > v.splice_most then
      return "splice_least is above splice_most", "the nearer end of the zone comes first: 15%, then 25%",
          "splice_least"
    end
  end }

kind { "splice", named = true, part = true, who = sheet, says = "what joins two sticks of a rail",
  fields = {
    { "bonds", "choice", choices = { "no", "yes" },
      says = "whether it bonds the two electrically by itself, so that no jumper is needed" },
    generation "it",
    data_sheet,
  } }

kind { "adapter", named = true, part = true, who = sheet, says = "what joins rails of two generations",
  fields = {
    { "from", "text", required = true, example = "A", says = "the one generation" },
    { "to", "text", required = true, example = "B", says = "the other" },
    data_sheet,
  },
  check = function(v)
    if v.from == v.to then return "it joins a generation to itself", "from A to B, as it is marked", "to" end
  end }

local function holds(what)
  return { "holds_" .. what, "choice", choices = { "no", "yes" }, says = "whether its " .. what .. " are in the box" }
end

kind { "kit", named = true, part = true, who = sheet,
  says = "a box of a rack: what the first columns of a run take, or what further columns take",
  fields = {
    { "role", "choice", choices = { "base", "extension" }, required = true,
      says = "whether a run begins with it, or it adds to one" },
    { "columns", "count", min = 1, max = 200, required = true, example = "2",
      says = "columns of modules that it adds" },
    { "rows", "count", min = 1, max = 20, required = true, example = "2", says = "modules up the slope" },
    holds "rails", holds "splices", holds "clamps",
    generation "it",
    data_sheet,
  } }
