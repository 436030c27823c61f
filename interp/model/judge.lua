-- SPDX-License-Identifier: MIT
-- Judging: each rule on each of its subjects.
--
-- An outcome is "holds", "broken", "unknown" (an input is missing: never a pass) or "not applicable".
local run = import "model.run"
local record = import "model.record"
local rule = import "model.rule"
local compare = import "model.compare"
local memo = import "model.memo"
local in_force = import "model.in_force"
local judge = {}

local inside = record.inside

-- What a rule judges: the records of its kind, at any depth, or the job. Nil, and why, where those cannot be derived.
function judge.subjects(def)
  if not def.each then return { record.root } end
  local ok, list = pcall(record.all, def.each)
  if ok and def.and_each then
    local more = record.all(def.and_each)
    list = table.move(more, 1, #more, #list + 1, table.move(list, 1, #list, 1, {}))
  end
  if ok then return list end
  if not host.class(list) then error(list, 0) end
  return nil, list
end

local function subject_name(def, proxy) return def.each and tostring(proxy) or "job" end

-- ---- one rule on one subject ---------------------------------------------------------------------------------------

-- What a script's function answers: an answer that was forgotten is no no.
local function answered(def, ...)
  if select("#", ...) == 0 then
    local s = def.place or {}
    host.raise { code = "R005", text = "rule " .. def.id .. ": applies gave nothing instead of true or false",
        source = s.source, line = s.line, col = s.col, len = s.len, help = "is 'return' missing?" }
  end
  return ...
end

local root = record.root

local function applies(def, subject) return answered(def, host.call(def.applies, subject, root)) end

local function asked(...)
  in_force.asked_by(nil)
  return ...
end

local function ask(def, word, subject)
  if not def.scripted then return pcall(def[word], subject, root) end
  in_force.asked_by(def.id)
  if word == "applies" then return asked(pcall(applies, def, subject)) end
  return asked(pcall(host.call, def.check, subject, root))
end

-- A limit that nobody has is no fact that is missing: what was compared counts without it; where nothing was, nil and
-- why nothing was.
local function without_none(f)
  local open, none = {}, nil
  for _, why in ipairs(f.unknowns) do
    if host.class(why) == "none" then none = none or why else open[#open + 1] = why end
  end
  if not none then return f end
  if not open[1] and (f.by == nil or f.by == "limit") and f.limit == nil then return nil, none.text end
  local copy = {}
  for key, value in next, f do copy[key] = value end
  copy.unknowns = open[1] and open
  return copy
end

-- An error of a rule's own function. `return at_most(...)` leaves no trace of its line, so the place is the function's.
local function blame(def, err)
  local place = def.check_place
  if place and type(err) == "table" and (err.source or 0) == 0 and err.class == nil then
    local word = string.match(err.text or "", "^[%a_]+") or ""
    local s = word ~= "" and host.word(place.source, place.line, word)       -- at_most, if it stands on the same line
    if not s or s.len ~= #word then s = place end
    err.source, err.line, err.col, err.len = s.source, s.line, s.col, s.len
  end
  error(err, 0)
end

-- Outcome and finding, and the reasons of what is unknown: broken beats unknown beats holds, one limit as another. Of
-- what does not apply: why, as the rule says it behind its no.
function judge.try(def, subject)
  if def.applies then
    local ok, yes, why_not = ask(def, "applies", subject)
    if not ok then
      if not host.class(yes) then blame(def, yes) end
      if host.class(yes) == "none" then return "not applicable", nil, nil, yes.text end
      return "unknown", nil, { yes }
    end
    if not yes then return "not applicable", nil, nil, type(why_not) == "string" and why_not or def.scripted and
        "the rule says so of it" or "there is nothing of what it judges" end
  end
  local ok, f = ask(def, "check", subject)
  if not ok then
    if not host.class(f) then blame(def, f) end
    if host.class(f) == "none" then return "not applicable", nil, nil, f.text end
    return "unknown", nil, { f }
  end
  local got = f
  if def.scripted then
    f = compare.held(f)
    if f and f.bound then f = nil end
  end
  if type(f) ~= "table" or f.ok == nil then
    local s = def.place or {}
    host.raise { code = "R005", text = "rule " .. def.id .. ": check gave " .. host.describe(got) ..
            " instead of a comparison",
        source = s.source, line = s.line, col = s.col, len = s.len,
        help = "return at_most(...), at_least(...), between(...), equal_within(...), present(...) or every{...}" }
  end
  if f.unknowns then
    local left, why = without_none(f)
    if not left then return "not applicable", nil, nil, why end
    f = left
  end
  return not f.ok and "broken" or f.unknowns and "unknown" or "holds", f, f.unknowns
end

-- ---- what scripts said of rules ------------------------------------------------------------------------------------

local function refuse(s, code, text, help)
  host.raise { code = code, text = text, help = help, source = s.source, line = s.line, col = s.col, len = s.len }
end

-- A waiver names a rule that its signer may set aside.
local function check_waiver(w)
  local def = rule.find(w.rule)
  local may = rule.may_waive(def)
  if may == "nobody" then
    refuse(w.place, "R006", "rule " .. w.rule .. " may be waived by nobody", def.may_waive_unsaid and
        'it does not say who may, and no limit that it read does: may_waive = "house" in the rule, or in its limit')
  end
  if may ~= w.as then
    refuse(w.place, "R006", "rule " .. w.rule .. " may be waived by the " .. may .. ", not by the " .. w.as,
        'as = "' .. may .. '"')
  end
  local today = record.given(record.root, "on")
  if today and w.on > today then                                            -- dates as texts are in their order
    refuse(w.on_place, "R006", "waive: signed on " .. w.on .. ", after the day judged, " .. today,
        "a waiver counts from the day on which it is signed")
  end
end

-- What it names is judged by that rule.
local function check_waived_subject(w)
  if not w.subject or run.dropped[w.subject] ~= nil then return end
  local def, names = rule.find(w.rule), {}
  local list = judge.subjects(def)
  if not list then return end
  for _, s in ipairs(list) do
    names[#names + 1] = subject_name(def, s)
    if names[#names] == w.subject then return end
  end
  local near = host.nearest(w.subject, names)
  refuse(w.place, "R006", "waive: rule " .. w.rule .. " judges nothing called " .. w.subject,
      near and "did you mean '" .. near .. "'?" or #names > 0 and "it judges " .. table.concat(names, ", ") or nil)
end

-- The path whose turning value is searched is that of an amount.
local function check_flips(def)
  if not def.flips_place then return end
  local s = def.flips_place
  local ok, value, at = pcall(record.input, def.flips)
  if not ok and not host.class(value) then
    value.source, value.line, value.col, value.len = s.source, s.line, s.col, s.len
    error(value, 0)
  end
  if ok and (not at or value ~= nil and not math.type(value) and not host.is_quantity(value)) then
    refuse(s, "D019", "rule " .. def.id .. ": flips names no amount that is declared: " .. def.flips,
        'as in flips = "rack.east.lower_edge"')
  end
  local field = ok and value ~= nil and record.field_at(at)
  if field and not field.design then
    refuse(s, "D019", "rule " .. def.id .. ": flips names " .. def.flips .. ", which no designer can change",
        'it names what may be built otherwise, as in flips = "rack.east.lower_edge"')
  end
end

local function waiver_for(def, subject)
  for _, w in ipairs(run.waivers) do
    if w.rule == def.id and (not w.subject or w.subject == subject) then return w end
  end
end

-- Nobody signs for what nobody knows: while anything of a stop rule is unknown, no waiver of it counts.
local function stands(def, o) return def.severity ~= "stop" or not (o.outcome == "unknown" or o.whys) end

-- ---- all -----------------------------------------------------------------------------------------------------------

-- One rule of a script on one subject, or one of which something is not asked, as an outcome.
local function by_script(rec, def)
  local subject = rec.proxy
  local outcome, finding, whys, reason = judge.try(def, subject)
  return { rule = def, subject = def.each and rec.path or "job", proxy = subject, outcome = outcome,
      finding = outcome ~= "unknown" and finding or nil, whys = whys, reason = reason,
      why = outcome == "unknown" and whys[1] or nil, rests = 0 }
end

local judged = host.judged(by_script, root)      -- the library's are judged in C

local function same_list(a, b)
  if a == b then return true end
  if not a or not b or #a ~= #b then return false end
  for i = 1, #a do if a[i] ~= b[i] then return false end end
  return true
end

-- What is judged by one rule, for the engine: { false, def, record's data, whether it is a script's } ..., or one
-- { outcome } where there is nothing to be judged; and the subjects.  The same as before, while those are.
local function of_rule(def, before)
  local subjects, why = judge.subjects(def)
  if before and same_list(subjects, before.subjects) then return before end
  local list = { false, subjects = subjects }
  if not subjects then list[1] = { { rule = def, outcome = "unknown", whys = { why }, why = why } }
  elseif #subjects == 0 then
    list[1] = { { rule = def, outcome = "not applicable", reason = "no " .. def.each } }
  end
  for i = 1, subjects and #subjects or 0 do list[i] = { false, def, inside[subjects[i]], def.scripted } end
  return list
end

-- Whether a kind hangs on another, so that a variant may have other records of it.
local function is_derived(kind) return kind and record.hangs_on(kind) ~= nil end

-- rules -> { what each judges ..., list = all of it, derived = which rules judge derived records, kinds = theirs,
-- records = all of each when they were last looked at }
run.keep("orders", function() return {} end)

-- Keeps a kind that is derived; whether it is.
local function met(kept, kind)
  if not is_derived(kind) then return false end
  local kinds = kept.kinds
  for i = 1, #kinds do if kinds[i] == kind then return true end end
  kinds[#kinds + 1] = kind
  return true
end

local function new_order(rules)
  local kept = { derived = {}, kinds = {}, records = {} }
  for k = 1, #rules do
    local def = rules[k]
    kept[k] = of_rule(def)
    local derived = met(kept, def.each)
    derived = met(kept, def.and_each) or derived
    if derived then table.insert(kept.derived, k) end
  end
  return kept
end

-- Whether there are other derived records than when it was last asked, or some that cannot be derived.
local function has_others(kept)
  local others = false
  for i, kind in ipairs(kept.kinds) do
    local ok, list = pcall(record.all, kind)
    others = others or not ok or kept.records[i] ~= list
    kept.records[i] = ok and list
  end
  return others
end

-- What is judged, in the order of the rules, then of the subjects; the same list, while all subjects are the same.
local function order(rules)
  local kept = run.settled and run.orders[rules]
  if kept then
    if not has_others(kept) then return kept.list end
    for _, k in ipairs(kept.derived) do kept[k] = of_rule(rules[k], kept[k]) end
  else
    kept = new_order(rules)
    if run.settled then run.orders[rules] = kept end
  end
  local n = 0
  for k = 1, #rules do n = n + #kept[k] end
  local list = host.room(0, n)
  n = 0
  for k = 1, #rules do
    local part = kept[k]
    for i = 1, #part do
      n = n + 1
      list[n] = part[i]
    end
  end
  kept.list = list
  return list
end

-- A waiver that counts, or one that does not, is told with the outcome.
local function put_waivers(out)
  for _, o in ipairs(out) do
    if o.outcome == "broken" or o.outcome == "unknown" then
      local w = waiver_for(o.rule, o.subject)
      if w and stands(o.rule, o) then o.waiver = w elseif w then o.refused = w end
    end
  end
end

-- Judges these rules, or those that are loaded. Returns the outcomes in order of the rules, then of the subjects:
-- { rule, outcome, subject = its path, proxy, finding, whys, why, reason, waiver, refused, rests } ...; whys: the
-- reasons of all that is unknown, beside what is broken too; why: the first of them; refused: a waiver that does not
-- count; rests: see memo.cites.
function judge.all(rules)
  rules = rules or rule.loaded()
  for _, w in ipairs(run.waivers) do
    local def = rule.find(w.rule)
    if not def then refuse(w.place, "R006", "waive: there is no rule " .. w.rule) end
    if not def.may_waive_unsaid then check_waiver(w) end
  end
  for _, def in ipairs(run.rules) do check_flips(def) end
  for _, w in ipairs(run.waivers) do check_waived_subject(w) end
  local root = record.inside[record.root]
  local out = memo.outcomes(memo.remember(root, rules, function() return order(rules) end), judged)
  in_force.judged()
  if run.waivers[1] then
    for _, w in ipairs(run.waivers) do if rule.find(w.rule).may_waive_unsaid then check_waiver(w) end end
    put_waivers(out)
  end
  return out
end

return judge
