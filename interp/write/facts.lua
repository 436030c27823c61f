-- SPDX-License-Identifier: MIT
-- What was judged, for programs: the job, the verdict, each outcome, every result, the sheets.
local record = import "model.record"
local schema = import "model.schema"
local whatif = import "model.whatif"
local graph = import "model.graph"
local memo = import "model.memo"
local rule = import "model.rule"
local run = import "model.run"
local like = import "model.like"
local path_of = import "model.path"
local words = import "write.words"
local verdict = import "write.verdict"
local facts = {}

local function place_of(as, o)
  local s = o.proxy and words.span(o.proxy)
  if not s then return nil end
  local file = host.place { source = s.source, line = 0, col = 0 }
  return as.object { { "file", file }, { "line", s.line }, { "column", s.col } }
end

local function waiver_of(as, w)
  return w and as.object { { "reason", w.reason }, { "by", w.by }, { "as", w.as }, { "on", w.on },
      { "licence", w.licence }, { "state", w.state }, { "paper", w.paper } } or nil
end

-- All reasons of what is unknown, also beside what is broken.
local function unknown_of(as, o)
  if not o.whys then return nil end
  local list = as.array {}
  for i, why in ipairs(o.whys) do
    local text, help = host.message(why)
    list[i] = as.object { { "text", text }, { "help", help ~= "" and help or nil }, { "path", why.path },
        { "who", why.who }, { "tool", why.tool } }
  end
  return list
end

local function suggestions_of(as, o)
  if not o.suggestions or #o.suggestions == 0 then return nil end
  local list = as.array {}
  for i, s in ipairs(o.suggestions) do
    local changes = as.array {}
    for path, value in host.sorted(s.changes or {}) do
      changes[#changes + 1] = as.object { { "path", path }, { "value", as.value(value) } }
    end
    list[i] = as.object { { "words", s.words }, { "changes", changes }, { "breaks", as.array(s.breaks) },
        { "leaves_unknown", as.array(s.leaves_unknown) }, { "price", s.price and as.value(s.price) },
        { "unpriced", s.unpriced and as.array(s.unpriced) }, { "mends", s.mends }, { "of", s.of } }
  end
  return list
end

local function outcome(as, o)
  local f = o.finding
  if o.outcome == "broken" then whatif.remedy(o) end
  local unit, digits
  if f and f.limit ~= nil then
    unit = words.unit_of_finding(f)
    digits = host.digits_apart(f.value, f.limit, unit)
  end
  return as.object {
    { "id", o.rule.id }, { "severity", o.rule.severity }, { "says", o.rule.says }, { "subject", o.subject or "" },
    { "outcome", o.outcome }, { "value", f and as.value(f.value, unit, digits) }, { "comparison", f and f.op },
    { "judged_by", f and f.by },
    { "limit", f and as.value(f.limit, unit, digits) }, { "limit_of", f and f.whose },
    { "margin", f and as.value(f.margin, unit, 3) }, { "ratio", f and f.ratio }, { "words", f and f.words },
    { "cite", words.cite(o.rule.cite) }, { "caution", o.rule.caution }, { "may_waive", rule.may_waive(o.rule) },
    { "place", place_of(as, o) },
    { "flip", o.flip and as.object { { "path", o.flip.path }, { "value", as.value(o.flip.value) },
        { "breaks", as.array(o.flip.breaks or {}) }, { "leaves_unknown", as.array(o.flip.leaves_unknown or {}) },
        { "alone", o.flip.alone } } },
    { "nearest", o.nearest }, { "suggestions", suggestions_of(as, o) },
    { "gave_up", o.gave_up and as.object { { "tried", o.gave_up.tried }, { "of", o.gave_up.of } } },
    { "unknown", unknown_of(as, o) },
    { "not_applicable", o.reason },
    { "from_memory", o.rests and o.rests ~= 0 and as.array(memo.cites(o.rests)) or nil },
    { "waiver", waiver_of(as, o.waiver) },
  }
end

local function rules_of(as, outcomes, all)
  local list = as.array {}
  for _, o in ipairs(outcomes) do
    if all or o.outcome == "broken" or o.outcome == "unknown" then list[#list + 1] = as.done(outcome(as, o), 2) end
  end
  return list
end

local function job_of(as, options)
  local job, codes = record.root, as.object {}
  local given = record.given(job, "codes")
  for i, f in ipairs(record.inside[job].def.by.codes.fields) do
    codes[i] = { f.name, given and record.given(given, f.name) }
  end
  return as.object { { "name", record.given(job, "name") }, { "client", record.given(job, "client") },
      { "stage", job.stage }, { "on", record.given(job, "on") }, { "revision", record.given(job, "revision") },
      { "units", job.units }, { "alternate", options.alternate }, { "codes", codes } }
end

local function stop_rules(as, outcomes)
  local found, list = verdict.from_memory(outcomes), as.array {}
  for _, g in ipairs(found.groups) do
    for _, id in ipairs(g.ids) do
      list[#list + 1] = as.object { { "rule", id }, { "cites", as.array(memo.cites(g.rests)) } }
    end
  end
  return as.object { { "hold", found.holds }, { "from_memory", list } }
end

local function not_judged(as)
  local list = as.array {}
  for i, subject in ipairs(verdict.not_judged()) do list[i] = subject[1] end
  return list
end

local function verdict_of(as, outcomes, status)
  local counts = verdict.counts(outcomes)
  return as.object { { "ready", status == 0 }, { "exit", status }, { "text", verdict.line(outcomes, status) },
      { "broken", as.array(counts.broken) }, { "unknown", as.array(counts.unknown) },
      { "waived", as.array(counts.waived) }, { "withheld", as.array(verdict.withheld(outcomes)) },
      { "rules", counts.rules },
      { "hold", as.object { { "against_limit", counts.limit }, { "as_stated", counts.statement },
          { "by_construction", counts.construction } } },
      { "not_judged", not_judged(as) },
      { "stop_rules", stop_rules(as, outcomes) } }
end

local function results_of(as)
  local list = as.object {}
  local function add(path, v) list[#list + 1] = { path, as.done(v, 2) } end
  local function unknown(path, why) add(path, as.object { { "unknown", (host.message(why)) } }) end
  record.each_record(function(proxy)
    local rec = record.inside[proxy]
    for _, def in ipairs(schema.results(rec.def)) do
      if not (def.op or def.rows) and not graph.none(proxy, def) then
        local v, why = graph.try(proxy, def.name)
        local path = record.step(rec.path, def.name)
        if v ~= nil then add(path, as.value(v, words.result_unit(def, v)))
        elseif why then unknown(path, why) end
      end
    end
  end, unknown)
  return list
end

local function sheets_of(as, outcomes)
  local list = as.array {}
  for i, s in ipairs(import("write.sheets").state(outcomes)) do
    list[i] = as.object { { "name", s.sheet.name }, { "withheld", s.withheld or false } }
  end
  return list
end

local function at_of(as, at)
  local list = as.array {}
  for i, a in ipairs(at) do list[i] = as.object { { "path", a.path }, { "value", as.value(a.value) } } end
  return list
end

-- How the tolerances were tried, and what does not hold somewhere within them.
local function tolerances_of(as, outcomes)
  if #record.tolerances() == 0 then return nil end
  local found, how = whatif.corners(outcomes)
  local list = as.array {}
  for _, c in ipairs(found) do
    for _, o in ipairs(c.broken) do
      list[#list + 1] = as.object { { "rule", o.rule.id }, { "subject", o.subject or "" }, { "outcome", o.outcome },
          { "at", at_of(as, c.at) } }
    end
  end
  return as.object { { "count", how.tolerances }, { "tried", whatif.tried_in_words(how) }, { "all_corners", how.all },
      { "corners", how.corners }, { "samples", how.samples }, { "may_not_hold", list },
      { "refused", how.refused and as.object { { "text", how.refused.text }, { "at", at_of(as, how.refused.at) } } } }
end

-- What is like a type or another declaration, and what it says otherwise.
local function like_of(as)
  local list = as.array {}
  import("write.likeness").each(function(proxy)
    local rec, differs = record.inside[proxy], as.array {}
    for i, x in ipairs(like.differences(rec)) do
      local unit = x.field.type == "ratio" and "%" or nil
      differs[i] = as.object { { "field", path_of.join(x.keys) }, { "value", as.value(x.value, unit) },
          { "there", as.value(x.there, unit) } }
    end
    list[#list + 1] = as.object { { "path", rec.path }, { "like", record.inside[rec.like].path },
        { "differs", differs } }
  end)
  return list
end

-- Of a document in which rules were judged: { key, value } ...; only the report says what holds, and every result.
function facts.judged(d, as)
  local list = { { "job", job_of(as, d.options) }, { "verdict", verdict_of(as, d.outcomes, d.status) },
      { "tolerances", tolerances_of(as, d.outcomes) },
      { "rules", rules_of(as, d.outcomes, d.name == "report") } }
  if d.name ~= "report" then return list end
  list[#list + 1] = { "results", results_of(as) }
  if run.results[1] then list[#list + 1] = { "own_results", import("write.own_results").facts(as) } end
  list[#list + 1] = { "like", like_of(as) }
  list[#list + 1] = { "sheets", sheets_of(as, d.outcomes) }
  return list
end

return facts
