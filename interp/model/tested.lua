-- SPDX-License-Identifier: MIT
-- A file run by itself and its expectations tried: rules and results on stand-ins, whole jobs with what is changed in
-- them.
--
-- An answer: { e = the expectation (model.expectation), with its place and its title, fits = whether it came so,
-- expected, came = both in words, unread = { keys of `with` that nothing read ... } or nil, met = fits, and all is
-- read }.
local run = import "model.run"
local boot = import "model.boot"
local judging = import "host.judging"
local build = import "model.build"
local rule = import "model.rule"
local judge = import "model.judge"
local record = import "model.record"
local schema = import "model.schema"
local expectation = import "model.expectation"
local standin = import "model.standin"
local alternate = import "model.alternate"
local path_of = import "model.path"
local words = import "write.words"
local tested = {}

-- ---- in words ------------------------------------------------------------------------------------------------------

-- What a function of the script raised, with its place: nothing that a rule may do ends the others' tests.
local function raised(err)
  local of_script = type(err) == "table" and err.code and not err.code:find "^S"       -- not a limit that ends the run
  if not of_script then error(err, 0) end
  local place = (err.source or 0) ~= 0 and host.place(err) or nil
  return "an error: " .. host.message(err) .. (place and " (" .. place .. ")" or "")
end

-- An outcome as a person reads it: "holds: 588 V <= 588 V".
local function told(o)
  local why
  if o.outcome == "unknown" then why = words.reasons(o)
  elseif o.outcome == "not applicable" then why = o.reason
  else why = words.finding(o.finding) .. words.besides(o) end
  return o.outcome .. (why and why ~= "" and ": " .. why or "")
end

-- The unit that a value of a path is told in, or one of a result.
local function unit_of(path, value)
  local proxy, rest = record.locate(path)
  local def = proxy and not rest[2] and schema.result(record.inside[proxy].def, rest[1])
  if def then return words.result_unit(def, value) end
  return proxy and words.input_unit(path, value) or words.unit(value)
end

-- A value that a kind has under a name: shares in %; and how far off it may be.
local function shown(value, def, name, within)
  local x = def and type(name) == "string" and (def.by[name] or schema.result(def, name))
  local unit = x and type(value) == "number" and (x.type == "ratio" or x.dim == "ratio") and "%" or nil
  return words.show(value, unit) .. (within and " within " .. words.show(within, unit) or "")
end

-- What `with` says, as "tilt 40 deg, job.crew 2"; def: the kind that it is of, if one alone.
local function told_with(with, path, parts, def)
  for key, value in host.sorted(with) do
    local t = build.teller_of(value)
    value = t and t.value or type(value) == "table" and value["told value"] and value["told value"].value or value
    local inner = record.step(path, key)
    if type(value) == "table" and not record.inside[value] then
      told_with(value, inner, parts, (key == "limits" or key == "job") and schema.kinds[key] or nil)
    else parts[#parts + 1] = inner .. " " .. shown(value, def, key) end
  end
  return parts
end

-- An expectation in words: "H1 broken: coldest_voltage 588.1 V, voltage_limit 600 V".
local function title_of(e)
  local kind = e.def and schema.kinds[e.def.each or e.def.kind or "job"]
  local with, heads = table.concat(told_with(e.with, "", {}, kind), ", "), {}
  if e.kind ~= "job" then
    heads[1] = e.id .. (e.outcome and " " .. e.outcome or " = " .. shown(e.gives, kind, e.id, e.within))
  else
    for _, r in ipairs(e.rules) do
      heads[#heads + 1] = r.id .. (r.subject and " " .. r.subject or "") .. " " .. r.outcome
    end
    for _, v in ipairs(e.values) do
      local parts = path_of.parse(v.path)
      heads[#heads + 1] = v.path .. " = " .. shown(v.value, schema.kinds[parts[1]], parts[#parts], v.within)
    end
    with = e.job .. (e.alternate and ', alternate "' .. e.alternate .. '"' or "") .. (e.on and ", on " .. e.on or "") ..
        (with ~= "" and ", " .. with or "")
  end
  return table.concat(heads, ", ") .. (with ~= "" and ": " .. with or "")
end

-- ---- values --------------------------------------------------------------------------------------------------------

local exact = 1e-9               -- of the greater of two amounts

local function amount(v) return type(v) == "number" or host.is_quantity(v) end

local function comparable(a, b)
  return type(a) == "number" and type(b) == "number" or host.is_quantity(a) and host.same_kind(a, b)
end

-- Whether a value is what is expected of it: to rounding, or as near as `within` says.
local function is_expected(value, wanted, within)
  if not amount(wanted) or not amount(value) then
    return value == wanted or type(wanted) == "string" and value ~= nil and words.show(value) == wanted     -- 8 AWG
  end
  if not comparable(value, wanted) then return false end
  local a, b = host.si(value), host.si(wanted)
  local off, far = math.abs(a - b), within and host.si(within) or 0
  return off <= far + exact * math.max(math.abs(a), math.abs(b))
end

-- A value and what is expected of it as texts, with digits enough to tell them apart, and how far off it may be.
local function beside(value, wanted, unit, within)
  local digits = comparable(value, wanted) and host.digits_apart(value, wanted, unit) or nil
  local of, is = words.show(value, unit, digits), words.show(wanted, unit, digits)
  if digits then of, is = words.apart(value, wanted, unit, digits) end
  return of, is .. (within and " within " .. words.show(within, type(within) == "number" and unit or nil) or
      "")
end

-- ---- on stand-ins --------------------------------------------------------------------------------------------------

-- Reads what the check of a rule reads that does not apply; whether it came to its end.
local function reads_all(def, subject)
  return (pcall(host.hushed, host.call, def.check, subject, record.root))
end

local function try_rule(e, subject, trial)
  local ok, outcome, finding, whys, reason = pcall(judge.try, e.def, subject)
  if not ok then return { came = raised(outcome), fits = false } end
  local whole = (outcome == "holds" or outcome == "broken") and not whys or
      outcome == "not applicable" and reads_all(e.def, subject)
  return { fits = outcome == e.outcome, trial = trial, whole = whole,
      came = told { rule = e.def, outcome = outcome, finding = finding, whys = whys, reason = reason } }
end

local function try_result(e, subject, trial)
  local ok, value = pcall(e.def.find, record.inside[subject], e.def)
  if not ok then
    if not host.class(value) then return { came = raised(value), fits = false } end
    return { fits = e.outcome == "unknown", came = "unknown: " .. host.message(value) }
  end
  local unit = words.result_unit(e.def, value)
  if e.outcome then return { fits = false, came = words.show(value, unit), trial = trial, whole = true } end
  local came, wanted = beside(value, e.gives, unit, e.within)
  return { fits = is_expected(value, e.gives, e.within), came = came, expected = wanted, trial = trial, whole = true }
end

local tries = { rule = try_rule, result = try_result }

local function on_standin(e)
  return standin.try(e.at, e.def.each or e.def.kind or "job", e.with, function(subject, trial)
    local a = tries[e.kind](e, subject, trial)
    a.e, a.expected = e, a.expected or e.outcome or words.show(e.gives)
    return a
  end)
end

-- What is given and read by no trial of that rule or result that came to its end was meant for something else.
local function tell_unread(answers)
  local read = {}
  for _, a in ipairs(answers) do
    for keys in next, a.trial and a.trial.read or {} do read[a.e.id .. " " .. keys] = true end
  end
  for _, a in ipairs(answers) do
    for _, keys in ipairs(a.whole and a.trial.given or {}) do
      if not read[a.e.id .. " " .. keys] then
        a.unread = a.unread or {}
        table.insert(a.unread, (keys:gsub("^with%.?", "")))
      end
    end
  end
end

-- ---- on jobs -------------------------------------------------------------------------------------------------------

local function place(err, e, s)
  if (err.line or 0) == 0 and (err.source or 0) ~= 0 then err.text, err.source = e.job .. ": " .. err.text, 0 end
  if (err.source or 0) == 0 then err.source, err.line, err.col, err.len = s.source, s.line, s.col, s.len
  elseif err.source ~= s.source then
    err.notes = err.notes or {}
    table.insert(err.notes, "expected at " .. host.place(s))
  end
end

-- What f(...) gives; what it raises, and what came with that, is told of the expectation: there, or with a note of
-- where that stands.
local function placed(e, keys, f, ...)
  local packed = table.pack(pcall(f, ...))
  if packed[1] then return table.unpack(packed, 2, packed.n) end
  local err = packed[2]
  if type(err) ~= "table" or not err.code then error(err, 0) end
  local s = e.at.span(keys)
  place(err, e, s)
  for _, other in ipairs(err.more or {}) do place(other, e, s) end
  error(err, 0)
end

-- Declares its job, as its alternate and its day have it, with a plan besides; what the job prints is not this file's.
local function declare(e, keys, plan)
  placed(e, keys, host.hushed, judging.declare, { script = e.path, alternate = e.alternate, on = e.on }, plan)
end

-- The values of a plan that may be put into records, by path; nil where the job is to be declared anew.
local function puts_of(e, plan)
  local puts = {}
  if import("model.anew").keeps() then return nil end
  local target = import "sweep.target"
  for _, p in ipairs(plan) do
    if not p.path or type(p.value) == "table" then return nil end
    local keys = table.move(path_of.parse(p.path) or {}, 1, 16, 2, { "with" })
    local choice = target.of(p.path, e.at, keys).take(p.value, e.at, keys)
    if not choice.put then return nil end
    for path, value in next, choice.put do puts[path] = value end
  end
  return puts
end

local worse = { broken = 4, unknown = 3, holds = 2, ["not applicable"] = 1 }

-- The outcome of a rule, or of it on one of its subjects: the worst of all.
local function outcome_of(e, r, outcomes)
  local def = rule.find(r.id)
  if not def then
    local ids = {}
    for i, x in ipairs(rule.all()) do ids[i] = x.id end
    local near = host.nearest(r.id, ids)
    e.at.refuse(r.keys, "D019", e.job .. " has no rule '" .. r.id .. "'", near and "did you mean '" .. near .. "'?" or
        "`stringline describe rules` lists the standard ones")
  end
  local found, names = nil, {}
  for _, o in ipairs(outcomes) do
    if o.rule.id == r.id then
      names[#names + 1] = o.subject
      if (not r.subject or o.subject == r.subject) and (not found or worse[o.outcome] > worse[found.outcome]) then
        found = o
      end
    end
  end
  if not found then
    local near = r.subject and host.nearest(r.subject, names)
    e.at.refuse(r.keys, "D019", "rule " .. r.id .. " judges nothing called " .. tostring(r.subject) .. " in " .. e.job,
        near and "did you mean '" .. near .. "'?" or names[1] and "it judges " .. table.concat(names, ", ") or nil)
  end
  return found
end

-- Where a script's rule stands: { text of its file, line, place in words }; nil of a standard one.
local function stands(def)
  if not def.place then return nil end
  for path, source in host.sorted(run.scripts) do
    if source == def.place.source then return { (host.read(path)), def.place.line, host.place(def.place) } end
  end
end

local function another(a, b) return not b or a[1] ~= b[1] or a[2] ~= b[2] end

local function check_rules(e, outcomes, expected, came)
  for _, r in ipairs(e.rules) do
    local name = r.id .. (r.subject and " " .. r.subject or "")
    local o = outcome_of(e, r, outcomes)
    local there = r.stands and stands(o.rule)
    if r.stands and another(r.stands, there) then          -- the job reads another file, or another version of this one
      expected[#expected + 1] = name .. " " .. r.outcome .. ", as " .. r.stands[3] .. " declares it"
      came[#came + 1] = e.job .. " has another rule " .. r.id .. ", of " .. there[3]
    elseif o.outcome ~= r.outcome then
      local subject = words.subject(o)
      expected[#expected + 1] = name .. " " .. r.outcome
      came[#came + 1] = r.id .. (subject ~= "" and ", " .. subject .. "," or "") .. " " .. told(o)
    end
  end
end

local function check_values(e, expected, came)
  for _, v in ipairs(e.values) do
    local ok, value = pcall(record.at, v.path)
    if not ok and not host.class(value) then placed(e, v.keys, error, value, 0) end
    if not ok or not is_expected(value, v.value, v.within) then
      local there, unit = ok and value ~= nil, unit_of(v.path, v.value)
      local is, wanted = beside(there and value or v.value, v.value, unit, v.within)
      if value == false then is = words.show(value) end
      expected[#expected + 1] = v.path .. " = " .. wanted
      came[#came + 1] = v.path .. (there and " = " .. is or ok and " not given" or " unknown: " .. host.message(value))
    end
  end
end

-- The answer of a job that stands as the expectation has it.
local function answered(e, outcomes)
  local expected, came = {}, {}
  check_rules(e, outcomes, expected, came)
  check_values(e, expected, came)
  return { e = e, fits = not expected[1], expected = table.concat(expected, "; "), came = table.concat(came, "; ") }
end

local function judged() return judge.all(rule.all()) end

-- Put into the job that is declared.
local function in_variant(e, puts)
  return placed(e, {}, import("model.variants").with, puts, function()
    placed(e, { "with" }, import("model.anew").refuse, puts)
    return answered(e, judged())
  end)
end

local function declared_anew(e, plan)
  declare(e, { "with" }, plan)
  return answered(e, host.hushed(judged))
end

-- All expectations of one job, under one alternate and on one day: declared once, and each put in; those that shape the
-- declarations come last, each declared anew.
local function on_job(group, answers)
  local first, later = group[1].e, {}
  host.beside(first.path)
  declare(first, { first.alternate and "alternate" or "job" }, {})
  for _, x in ipairs(group) do
    local e = x.e
    local plan = placed(e, { "with" }, alternate.changes, e.with, "expect")
    local puts = puts_of(e, plan)
    if puts then answers[x.i] = in_variant(e, puts) else later[#later + 1] = { x = x, plan = plan } end
  end
  for _, l in ipairs(later) do answers[l.x.i] = declared_anew(l.x.e, l.plan) end
end

-- ---- all -----------------------------------------------------------------------------------------------------------

-- The rules and results of the file itself that no expectation names, with their places.
local function untested(source, list)
  local named, out = {}, {}
  for _, e in ipairs(list) do
    if e.def then named[e.def] = true end
    for _, r in ipairs(e.rules or {}) do named[r.id] = true end
    for _, v in ipairs(e.values or {}) do named[v.path:match "[%w_]+$" or v.path] = true end
  end
  local function tell(def, what, name)
    if def.place.source == source and not named[def] and not named[name] then
      out[#out + 1] = { what = what, name = name, place = def.place }
    end
  end
  for _, def in ipairs(run.rules) do tell(def, "rule", def.id) end
  for _, def in ipairs(run.results) do tell(def, "result", def.name) end
  return out
end

-- Tries all expectations of a file; gives answers in their order, and what has none: { what = "rule" or "result", name,
-- place } ...
function tested.file(script)
  local source = boot.alone(script)
  local list, answers, groups = expectation.all(), {}, {}
  local without = untested(source, list)
  for i, e in ipairs(list) do
    e.place, e.title = e.at.span {}, title_of(e)
    for _, r in ipairs(e.rules or {}) do
      local def = run.rules.by[r.id]
      r.stands = def and stands(def)
    end
    if e.kind ~= "job" then
      answers[i] = on_standin(e)
    else
      local key = table.concat({ e.path, e.alternate or "", e.on or "" }, "\n")
      if not groups[key] then
        groups[key] = {}
        groups[#groups + 1] = groups[key]
      end
      table.insert(groups[key], { i = i, e = e })
    end
  end
  local stood = {}
  for i = 1, #list do if answers[i] then stood[#stood + 1] = answers[i] end end
  tell_unread(stood)
  for _, group in ipairs(groups) do on_job(group, answers) end
  host.beside(script)
  for _, a in ipairs(answers) do a.met = a.fits and not a.unread end
  return answers, without
end

return tested
