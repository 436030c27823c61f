-- SPDX-License-Identifier: MIT
-- What a probe met where posts are to stand.
local schema = import "model.schema"
local kind = schema.kind

kind { "probe", may_name = true,
  says = "what an auger, a bar or a trial screw met where posts are to stand",
  items = { "post", "text", name = "posts", type = "text", example = "east.F4",
      says = 'a post beside which it went down: its name, or a whole line as in "back"; behind the rack\'s name ' ..
          "and a dot where there are several" },
  fields = {
    { "refused", "quantity", dim = "length", min = 0, max = 10, example = "30in",
      says = "how deep it went before it would go no further", who = "foreman", tool = "a tape" },
    { "reached", "quantity", dim = "length", above = 0, max = 10, example = "60in",
      says = "how deep it went, where nothing stopped it", who = "foreman", tool = "a tape" },
    { "hit", "text", example = "caliche plate", says = "what stopped it" },
    { "by", "text", required = true, example = "Rafe Colby", says = "who probed" },
    { "on", "date", required = true, says = "when" },
  },
  check = function(v)
    if v.refused and v.reached then
      return "it was refused, and it went on", "leave one of them out; another probe is another declaration", "reached"
    elseif v.hit and not v.refused then
      return "nothing stopped it, and it hit something", "how deep? as in refused = 30in", "hit"
    end
  end,
  settle = function(probe, refuse) import("posts.named").settle(probe, refuse) end }
