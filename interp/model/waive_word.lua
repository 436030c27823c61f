-- SPDX-License-Identifier: MIT
-- waive { "R65", ... }: kept until the rules are judged.
local run = import "model.run"
local schema = import "model.schema"
local gather = import "model.gather"
local path_of = import "model.path"
local build = import "model.build"

-- refuse: of model.declare.
return function(raw, refuse)
  local source, line = host.where()
  local mark = host.head(source, line, "waive")
  local ctx = { what = "waive" }
  function ctx.span(p, key_only) return host.span(source, mark, line, p, key_only) end
  function ctx.origin(v) return host.origin(v) end
  function ctx.told(_, v) return v end
  function ctx.defaulted() end
  function ctx.freeze_list(list) return list end
  if type(raw) ~= "table" then
    refuse("waive", "waive needs its table, got " .. host.describe(raw),
        'waive { "R65", reason = "...", by = "...", as = "house", on = "2026-11-02" }')
  end
  raw = build.copy(raw, "waive")
  local v, wrong = gather.fields(ctx, schema.kinds.waive, raw)
  if wrong then return end
  if #v.rules == 0 then
    local s = ctx.span({})
    host.raise { code = "D002", text = "waive names no rule", help = 'waive { "R65", reason = "...", ... }',
        source = s.source, line = s.line, col = s.col, len = s.len }
  end
  for i, id in ipairs(v.rules) do
    run.waivers[#run.waivers + 1] = { rule = id, subject = v.subject and path_of.tidy(v.subject), reason = v.reason,
        by = v.by, as = v.as, on = v.on, licence = v.licence, state = v.state, paper = v.paper,
        place = ctx.span({ i }), on_place = ctx.span({ "on" }) }
  end
end
