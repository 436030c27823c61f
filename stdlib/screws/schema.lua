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
    { "by", "text", required = true, example = "Nan Orley", says = "who tested" },
    { "on", "date", required = true, says = "when" },
  },
  settle = function(test, refuse) import("screws.logs").settle_test(test, refuse) end }
