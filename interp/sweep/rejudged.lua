-- SPDX-License-Identifier: MIT
-- One variant judged again, in a run of its own, as plain data: verdict, what holds with which margin, what is broken
-- or unknown and why, what stands beside the verdict, what is bought in whole lengths.
local run = import "model.run"
local boot = import "model.boot"
local graph = import "model.graph"
local domains = import "model.domains"
local schema = import "model.schema"
local record = import "model.record"
local document = import "write.document"
local caveats = import "write.caveats"
local verdict = import "write.verdict"
local words = import "write.words"
local rejudged = {}

-- "R34 rack.east.post.B3": the same in each variant.
local function key_of(o) return o.rule.id .. " " .. (o.subject or "") end

-- Those that hold against a limit, least margin first: { id, key, severity, says, subject, words, ratio } ...
local function margins(outcomes)
  local list = {}
  for i, o in ipairs(outcomes) do
    local f = o.outcome == "holds" and o.rule.severity ~= "note" and o.finding
    if f and f.by == "limit" and f.ratio then
      list[#list + 1] = { id = o.rule.id, key = key_of(o), severity = o.rule.severity, says = o.rule.says,
          subject = words.subject(o), words = words.finding(f), ratio = f.ratio, at = i }
    end
  end
  table.sort(list, function(a, b) return a.ratio < b.ratio or a.ratio == b.ratio and a.at < b.at end)
  return list
end

-- Whether somebody has to sign for it: each reason is that a paper covers it no more, or that none does.
local function waits(o)
  for _, why in ipairs(o.whys) do
    local path = why.path or ""
    if not (path:find "^covers%f[^%w]" or path:find "%.made_for$") then return false end
  end
  return #o.whys > 0
end

-- Why something is unknown: the first reason stands for all.
local function reason(o)
  local more = #o.whys - 1
  return host.message(o.whys[1]) .. (more > 0 and "; and " .. more .. " more" or "")
end

-- What is broken or unknown and not waived: { id, severity, says, subject, words, waits } ..., a rule once.
local function failing(outcomes, is)
  local list, met = {}, {}
  for _, o in ipairs(outcomes) do
    if o.outcome == is and not o.waiver and o.rule.severity ~= "note" and not met[o.rule.id] then
      met[o.rule.id] = true
      list[#list + 1] = { id = o.rule.id, severity = o.rule.severity, says = o.rule.says, caution = o.rule.caution,
          subject = words.subject(o), words = is == "broken" and words.finding(o.finding) or reason(o),
          waits = is == "unknown" and waits(o) }
    end
  end
  return list
end

-- What stands beside the verdict, as the report has it: { { what, says } ... }
local function beside(outcomes)
  local d, rows = document.new("beside", "Beside the verdict"), {}
  caveats.put(d, outcomes)
  for _, b in ipairs(d.blocks) do
    for _, row in ipairs(b.kind == "table" and b.rows or {}) do rows[#rows + 1] = { row[1], row[2] } end
  end
  return rows
end

-- What the domains say is bought in whole pieces: { { item, text } ... }
local function bought()
  local list = {}
  for _, row in ipairs(domains.sheets()) do
    local changes = row.changes and domains.load(row.changes)
    if changes and changes.bought then
      local ok, more = pcall(changes.bought)
      if ok then table.move(more, 1, #more, #list + 1, list)
      elseif not host.class(more) then error(more, 0) end
    end
  end
  return list
end

-- Of a result by its path the definition and the record; nil of an input.
local function result_at(path)
  local ok, proxy, rest = pcall(record.locate, path)
  if not ok or not proxy or not rest[1] or rest[2] then return nil end
  return schema.result(record.inside[proxy].def, rest[1]), proxy, rest[1]
end

-- The value itself of a result, so that others of its kind can be printed; nil of what is unknown.
local function sample(path)
  local def, proxy, name = result_at(path)
  return def and (graph.try(proxy, name)) or nil
end

-- What a price leaves out, each thing once.
local function left_out(path)
  local def, proxy = result_at(path)
  local list = {}
  local ok, what = pcall(def and def.leaves_out or function() return {} end, proxy)
  if not ok and not host.class(what) then error(what, 0) end
  for i, x in ipairs(ok and what or {}) do list[i] = x.what end
  return table.concat(list, ", ")
end

local function judged(kept)
  local outcomes = boot.judge()
  local quote, status = record.root.stage == "quote", 0
  for _, o in ipairs(outcomes) do
    local counts = o.rule.severity ~= "note" and not o.waiver
    if counts and (o.outcome == "broken" or o.outcome == "unknown" and not quote) then status = 1 end
  end
  local out = { status = status, verdict = verdict.line(outcomes, status), margins = margins(outcomes),
      broken = failing(outcomes, "broken"), unknown = failing(outcomes, "unknown"), beside = beside(outcomes),
      not_judged = {}, bought = bought(), kept = {}, samples = {}, left_out = {} }
  for i, subject in ipairs(verdict.not_judged()) do out.not_judged[i] = subject[1] end
  for i, k in ipairs(kept) do
    out.kept[i], out.samples[i], out.left_out[i] = k.get(), sample(k.name), left_out(k.name)
  end
  return out
end

-- A variant of a space by its number; kept: as sweep.goals has it. { refused = text } where the job is refused so.
function rejudged.of(space, number, kept)
  local plan = table.move(run.declared.plan, 1, #run.declared.plan, 1, {})
  local more = space.plan(number)
  table.move(more, 1, #more, #plan + 1, plan)
  local options = { script = run.declared.script, plan = plan }
  local ok, out = pcall(run.aside, function()
    return host.hushed(function()
      boot.declare(options)
      return judged(kept)
    end)
  end)
  if ok then return out end
  if type(out) ~= "table" then error(out, 0) end
  return { refused = (host.message(out)) }
end

return rejudged
