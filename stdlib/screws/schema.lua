-- SPDX-License-Identifier: MIT
-- What was written down when screws were driven, and what pulls at them, or at driven posts, held.
local schema = import "model.schema"
local kind = schema.kind

local function post(which)
  return { "post", "text", name = "posts", type = "text", example = "three.F4",
      says = which .. ': its name, or a whole line as in "back"; behind the rack\'s name and a dot where there are ' ..
          "several" }
end

local function gauge(f)
  f.who, f.tool = "foreman", "a torque gauge"
  return f
end

kind { "screw_log", may_name = true, files = { "job" },
  says = "ground screws that are driven: how deep, and with which torque",
  items = post "a post whose screw it is about",
  fields = {
    gauge { "torque", "quantity", spare = true, dim = "moment", above = 0, max = 200000, example = "1600[lbf*ft]",
      says = "with which each was driven last; of several the least" },
    { "depth", "quantity", spare = true, dim = "length", above = 0, max = 6, example = "114in",
      says = "how deep the tip went below the ground beside it; of several the least", who = "foreman",
      tool = "a tape" },
    { "refused", "quantity", spare = true, dim = "length", min = 0, max = 6, example = "70in",
      says = "how deep the tip went before it would go no further, short of what is designed", who = "foreman",
      tool = "a tape" },
    { "plan", "text", spare = true, example = "Nan Orley: pull it, and test it to 1300 lbf",
      says = "what is done about a screw that was refused, and who says so", who = "engineer" },
    { "by", "text", required = true, example = "Rafe Colby", says = "who drove them, and read the gauge" },
    { "on", "date", required = true, says = "when" },
  },
  check = function(v)
    if v.depth and v.refused then
      return "it was refused, and it went on", "leave one of them out; another screw is another declaration", "depth"
    elseif not v.depth and not v.refused then
      return "how deep they went is not said", "as in depth = 114in, or refused = 70in"
    elseif v.plan and not v.refused then
      return "nothing refused it, and there is a plan for it", "how deep? as in refused = 70in", "plan"
    end
  end,
  settle = function(log, refuse) import("screws.logs").settle_log(log, refuse) end }

kind { "pull_test", may_name = true, files = { "job" },
  says = "a pull at ground screws or driven posts of this job, or at one for trial, which they held",
  items = post "a post whose screw was pulled",
  fields = {
    { "of", "ref", of = { "footing" },
      says = "of a screw or post that was driven for trial beside the rack: which footing it is one of" },
    { "load", "quantity", dim = "force", above = 0, max = 2000000, required = true, example = "2600lbf",
      says = "that it held; of several the least", who = "engineer", tool = "a jack with a gauge" },
    { "moved", "quantity", spare = true, dim = "length", min = 0, max = 1, example = "0.2in",
      says = "how far it came up under that load", who = "engineer", tool = "a dial gauge" },
    { "depth", "quantity", spare = true, dim = "length", above = 0, max = 6, example = "1.5m",
      says = "how deep its tip stood: of one that stands less deep this pull tells nothing; without it as deep as any",
      who = "engineer", tool = "a tape" },
    { "by", "text", required = true, example = "Nan Orley", says = "who tested" },
    { "on", "date", required = true, says = "when" },
  },
  settle = function(test, refuse) import("screws.logs").settle_test(test, refuse) end }

-- A value of a maker's table.
local function of_table(f)
  f[2], f.spare = f[2] or "quantity", true
  return f
end

kind { "anchor", named = true, part = true, who = "maker's data sheet",
  says = "a row of a maker's table: what one model of ground screw, or of driven post, holds, and where that is so; " ..
      "a row holds where its soil, its blows and its depth are met, of those that it names",
  fields = {
    { "model", "text", required = true, example = "GS 76x1600", says = "the model, as footings name it" },
    of_table { "soil", "choice", choices_from = "soil_presumptive.word", says = "class of soil that it is for" },
    of_table { "blows", "count", min = 1, max = 100, example = "10",
      says = "least blows for a foot of the standard penetration test that it is for" },
    of_table { "depth", dim = "length", above = 0, max = 6, example = "1.5 m",
      says = "least depth of the tip below the ground that it is for" },
    of_table { "sideways", dim = "force", above = 0, max = 1000000, example = "3 kN", says = "load across it" },
    of_table { "load_at", dim = "length", min = 0, max = 5, example = "900 mm",
      says = "how high above the ground that load pushes" },
    of_table { "pull", dim = "force", above = 0, max = 2000000, example = "12 kN", says = "load that pulls it up" },
    of_table { "push", dim = "force", above = 0, max = 2000000, example = "20 kN", says = "load that presses it down" },
    { "level", "choice", required = true, choices = { "allowable", "ultimate" },
      says = "what these loads are: allowable, or those at which it failed in a test, which are not counted" },
    { "data_sheet", "text", spare = true, example = "load tables of 2026-01, page 4",
      says = "which table the row is from, and its date" },
  },
  check = function(v)
    if not v.soil and not v.blows then
      return "it is for no soil: neither a class nor blows are given",
          "fill the column soil or the column blows: clay, or the least blows"
    elseif not v.sideways and not v.pull and not v.push then
      return "it holds nothing: neither sideways nor pull nor push is given",
          "fill one of these columns with its force"
    elseif v.sideways and not v.load_at then
      return "how high above the ground the load sideways pushes is not said",
          "fill the column load_at with the height that the table is for", "sideways"
    elseif v.load_at and not v.sideways then
      return "a height without the load sideways that it is of",
          "fill the column sideways, or leave load_at empty", "load_at"
    end
  end }
