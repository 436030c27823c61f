-- SPDX-License-Identifier: MIT
-- Expectations: what a file says of its own rules, read by `stringline test`.
--
-- expect { "H1", with = { coldest_voltage = 588V, voltage_limit = 600V }, outcome = "holds" }
-- expect { "feet_per_string", with = { conductors = 4, ... }, gives = 320ft, within = 1ft }
-- expect { job = "long-acre.sline", alternate = ..., on = ..., with = { rack = { west = { tilt = 40deg } } },
--          holds = { "H1" }, broken = { "R41", "H2 rack.west" }, unknown = ..., not_applicable = ...,
--          gives = { ["job.total"] = { $4000, within = $50 } } }
--
-- As read: { at, kind = "rule", "result" or "job", with = its table, ... }.  Of a rule or a result: def and id, and its
-- outcome, or gives and within.  Of a job: job = the file's name, path, alternate, on, rules = { { id, subject or nil,
-- outcome, keys } ... }, values = { { path, value, within or nil, keys } ... }.
-- at: where it stands, with span(keys) and refuse(keys, code, text, help, key_only).
local run = import "model.run"
local build = import "model.build"
local rule = import "model.rule"
local alternate = import "model.alternate"
local schema = import "model.schema"
local path_of = import "model.path"
local expectation = {}

run.keep("expected", function() return {} end)       -- as kept: { at, raw } ...

local example = 'expect { "H1", with = { top_edge = 11ft }, outcome = "holds" }'
local job_example = 'expect { job = "job.sline", holds = { "H1" } }'
local result_example = 'expect { "feet_per_string", with = { cut_length = 160ft }, gives = 320ft }'

-- The table of an expectation as it stands, and its place.
function expectation.keep(raw)
  local source, line = host.where()
  local mark = host.head(source, line, "expect")
  local at = {}
  function at.span(keys, key_only) return host.span(source, mark, line, keys, key_only) end
  function at.refuse(keys, code, text, help, key_only)
    local s = at.span(keys, key_only)
    host.raise { code = code, text = "expect: " .. text, help = help, source = s.source, line = s.line, col = s.col,
        len = s.len }
  end
  run.expected[#run.expected + 1] = { at = at, raw = build.copy(raw, "expect") }
end

local function extended(keys, key)
  local out = table.move(keys, 1, #keys, 1, {})
  out[#out + 1] = key
  return out
end
expectation.extended = extended

-- ---- names ---------------------------------------------------------------------------------------------------------

local function check_names(at, raw, names, like)
  for key, value in host.sorted(raw) do
    if math.type(key) == "integer" then
      if key ~= 1 or names[1] == "job" then
        at.refuse({ key }, "D005", "every value but the name of a rule or result has a name, got " ..
            host.describe(value), "as in " .. like)
      end
    else
      local known = false
      for _, name in ipairs(names) do known = known or name == key end
      if not known then
        local near = type(key) == "string" and host.nearest(key, names)
        at.refuse({ key }, "D001", "there is no '" .. tostring(key) .. "' here",
            near and "did you mean '" .. near .. "'?" or "as in " .. like, true)
      end
    end
  end
end

local function text(at, keys, value, what, like)
  if type(value) ~= "string" or not value:find "%S" then
    at.refuse(keys, "D003", what .. " is a text, got " .. host.describe(value), "as in " .. like)
  end
  local unsafe, help = host.unsafe(value)
  if unsafe then at.refuse(keys, "D021", what .. " holds " .. unsafe, help) end
  return value
end

local function plain_table(value) return type(value) == "table" and not run.is_record(value) and
    not build.teller_of(value) end

-- Keys are names, or numbers of a list.
local function check_keys(at, keys, value)
  for key, inner in host.sorted(value) do
    if type(key) ~= "string" and math.type(key) ~= "integer" then
      at.refuse(keys, "D005", "a name is wanted in '" .. tostring(keys[#keys]) .. "', got " .. host.describe(key),
          "as in with = { top_edge = 11ft }")
    end
    if plain_table(inner) then check_keys(at, extended(keys, key), inner) end
  end
end

local function changes_of(at, raw, what)
  if raw.with == nil then return {} end
  if not plain_table(raw.with) then
    at.refuse({ "with" }, "D003", "'with' is a table of " .. what .. ", got " .. host.describe(raw.with),
        "as in " .. (raw.job and 'with = { rack = { west = { tilt = 40deg } } }' or "with = { top_edge = 11ft }"))
  end
  check_keys(at, { "with" }, raw.with)
  return raw.with
end

-- An amount that may be off by `within`: both are of one kind.
local function check_within(at, keys, value, within, like)
  if within == nil then return end
  local fits = type(value) == "number" and type(within) == "number" or host.is_quantity(value) and
      (host.same_kind(value, within) or host.is(value, "temperature") and host.is(within, "temperature difference"))
  if not fits then
    at.refuse(keys, "D003", "'within' is how far off " .. host.describe(value) .. " may be, got " ..
        host.describe(within), "as in " .. like)
  end
  if not (host.si(within) < math.huge) then
    at.refuse(keys, "D004", "'within' is " .. host.describe(within), "as in " .. like)
  end
  if host.si(within) < 0 then at.refuse(keys, "D004", "'within' is less than nothing", "as in " .. like) end
end

local function expected_value(at, keys, value, like)
  local endless = type(value) == "number" and not (math.abs(value) < math.huge)
  if endless or type(value) == "table" or type(value) == "function" then
    at.refuse(keys, "D003", "'gives' is one amount or one text, got " .. host.describe(value), "as in " .. like)
  end
  local origin = host.is_quantity(value) and host.origin(value)
  if origin and origin.tolerance then
    at.refuse(keys, "D003", "how far off it may be is said by 'within', which shares and numbers may have, too",
        "as in " .. like)
  end
  return value
end

-- ---- of a rule or a result -----------------------------------------------------------------------------------------

local outcomes = { "holds", "broken", "unknown", "not applicable" }

local function outcome_of(at, raw)
  if raw.outcome == nil then
    at.refuse({}, "D002", "'outcome' is missing: what is expected of rule " .. raw[1], "it is one of " ..
        table.concat(outcomes, ", "))
  end
  for _, o in ipairs(outcomes) do if o == raw.outcome then return o end end
  local near = type(raw.outcome) == "string" and host.nearest(raw.outcome, outcomes)
  at.refuse({ "outcome" }, "D003", "'outcome' is one of " .. table.concat(outcomes, ", ") .. "; got " ..
      host.describe(raw.outcome), near and 'did you mean "' .. near .. '"?' or 'as in outcome = "holds"')
end

-- The result of a script by its name, or as run.feet_per_string where two kinds have one of that name.
local function own_result(name)
  for _, def in ipairs(run.results) do
    if def.name == name or def.kind .. "." .. def.name == name then return def end
  end
end

-- Neither a rule of a script nor a result of one.
local function refuse_name(at, name)
  local known = {}
  for i, def in ipairs(run.rules) do known[i] = def.id end
  for _, def in ipairs(run.results) do known[#known + 1] = def.name end
  if name:find "^%u%d+$" and rule.find(name) then
    at.refuse({ 1 }, "D019", "rule " .. name .. " is one of the standard rules, which read a whole job",
        'name a job for it, as in expect { job = "job.sline", broken = { "' .. name .. '" } }')
  end
  for _, kind in ipairs(schema.all()) do
    if schema.result(kind, name) then
      at.refuse({ 1 }, "D019", "'" .. name .. "' is a result of the library, which reads a whole job",
          'name a job for it, as in expect { job = "job.sline", gives = { ["' .. kind.name .. ".west." .. name ..
          '"] = ... } }')
    end
  end
  local near = host.nearest(name, known)
  at.refuse({ 1 }, "D019", "there is no rule or result '" .. name .. "' of this file, nor of one that it uses",
      near and "did you mean '" .. near .. "'?" or known[1] and "there are " .. table.concat(known, ", ") or
      "declare it in this file: rule { id = \"H1\", ... }")
end

local function of_rule(at, raw, def)
  check_names(at, raw, { "with", "outcome" }, example)
  if (def.each or "job") == "job" and plain_table(raw.with) and raw.with.job ~= nil then
    at.refuse({ "with", "job" }, "D001", "rule " .. def.id .. " judges the job itself: what it reads of it stands " ..
        "straight in 'with'", "as in with = { crew = 2 }", true)
  end
  return { at = at, kind = "rule", def = def, id = def.id, with = changes_of(at, raw, "what the rule reads"),
      outcome = outcome_of(at, raw) }
end

local function of_result(at, raw, def)
  check_names(at, raw, { "with", "gives", "within", "outcome" }, result_example)
  local e = { at = at, kind = "result", def = def, id = def.name, with = changes_of(at, raw, "what the result reads") }
  if (raw.gives == nil) == (raw.outcome == nil) then
    at.refuse(raw.gives ~= nil and { "outcome" } or {}, "D002", raw.gives ~= nil and
        "a result gives something or is unknown, not both" or "'gives' is missing: what is expected of " .. def.name,
        "as in " .. result_example .. ', or outcome = "unknown"')
  end
  if raw.outcome ~= nil then
    if raw.outcome ~= "unknown" then
      at.refuse({ "outcome" }, "D003", "the outcome of a result can only be unknown, got " ..
          host.describe(raw.outcome), "as in " .. result_example)
    end
    e.outcome = "unknown"
  else
    local like = result_example:gsub(" }$", ", within = 1ft }")
    e.gives = expected_value(at, { "gives" }, raw.gives, like)
    check_within(at, { "within" }, e.gives, raw.within, like)
    e.within = raw.within
  end
  return e
end

-- ---- of a job ------------------------------------------------------------------------------------------------------

local lists = { { "holds", "holds" }, { "broken", "broken" }, { "unknown", "unknown" },
    { "not_applicable", "not applicable" } }

-- "H1" or { "H1", "H2 rack.west" }: rules, or one on one of its subjects.
local function rules_of(at, key, value, outcome, to)
  local items = type(value) == "string" and { value } or value
  if not plain_table(items) or items[1] == nil then
    at.refuse({ key }, "D003", "'" .. key .. "' is a list of rules, got " .. host.describe(value),
        "as in " .. key .. ' = { "H1", "R41" }')
  end
  for i, item in host.sorted(items) do
    local keys = items == value and { key, i } or { key }
    if math.type(i) ~= "integer" then
      at.refuse(keys, "D005", "'" .. key .. "' is a list without names", "as in " .. key .. ' = { "H1", "R41" }')
    end
    local name = text(at, keys, item, "a rule", key .. ' = { "H1", "H2 rack.west" }')
    local id, subject = name:match "^%s*(%S+)%s*(.-)%s*$"
    to[#to + 1] = { id = id, subject = subject ~= "" and path_of.tidy(subject) or nil, outcome = outcome, keys = keys }
  end
end

local values_example = 'gives = { ["run.west.voltage_drop"] = { 2.1%, within = 0.05% } }'

local function values_of(at, raw, to)
  if not plain_table(raw) or raw[1] ~= nil then
    at.refuse({ "gives" }, "D003", "'gives' of a job is a table of values by path, got " .. host.describe(raw),
        "as in " .. values_example)
  end
  for path, value in host.sorted(raw) do
    local keys = { "gives", path }
    local parts, why = path_of.parse(type(path) == "string" and path or "")
    if not parts then at.refuse(keys, "D019", why, "as in " .. values_example) end
    local within
    if plain_table(value) then
      for key in host.sorted(value) do
        if key ~= 1 and key ~= "within" then
          at.refuse(extended(keys, key), "D001", "a value has an amount and 'within', and no '" .. tostring(key) ..
              "'", "as in " .. values_example, true)
        end
      end
      value, within = value[1], value.within
    end
    if value == nil then at.refuse(keys, "D002", "what " .. path .. " gives is missing", "as in " .. values_example) end
    value = expected_value(at, keys, value, values_example)
    check_within(at, extended(keys, "within"), value, within, values_example)
    to[#to + 1] = { path = path_of.join(parts), value = value, within = within, keys = keys }
  end
end

local function find_job(at, name)
  local whole = name:find "%.sline$" or name:find "%.lua$"
  local ok, path, looked = pcall(host.find, name, whole and "" or ".sline")
  if not ok then at.refuse({ "job" }, path.code, path.text, path.help) end
  if not path then
    at.refuse({ "job" }, "F021", "cannot read " .. looked, "jobs are looked for in the folder of this file")
  end
  return path
end

-- Changes name declarations by their kind, as an alternate does.
local function check_kinds(at, with)
  for k, v in host.sorted(with) do
    local def = type(k) == "string" and schema.kinds[k]
    if k ~= "drop" and not def then
      local near = type(k) == "string" and host.nearest(k, schema.words())
      at.refuse({ "with", k }, "D001", "no declaration '" .. tostring(k) .. "'", near and "did you mean '" .. near ..
          "'?" or "it changes declarations by kind: with = { rack = { west = { tilt = 40deg } } }", true)
    end
    if def and not plain_table(v) then
      at.refuse({ "with", k }, "D003", "'" .. k .. "' is a table of what is changed of it, got " .. host.describe(v),
          def.named and "write the name and the field: " .. k .. " = { west = { ... } }" or
          "write the field: " .. k .. " = { ... }")
    end
  end
end

local function of_job(at, raw)
  check_names(at, raw, { "job", "alternate", "on", "with", "holds", "broken", "unknown", "not_applicable", "gives" },
      job_example)
  local e = { at = at, kind = "job", job = text(at, { "job" }, raw.job, "'job'", job_example), rules = {}, values = {} }
  e.path = find_job(at, e.job)
  if raw.alternate ~= nil then
    e.alternate = text(at, { "alternate" }, raw.alternate, "'alternate'", 'alternate = "six in series"')
  end
  if raw.on ~= nil then
    if type(raw.on) ~= "string" or not schema.is_date(raw.on) then
      at.refuse({ "on" }, "D003", "'on' is a day, got " .. host.describe(raw.on), 'as in on = "2026-11-02"')
    end
    e.on = raw.on
  end
  local with = changes_of(at, raw, "what is changed of the job")
  check_kinds(at, with)
  e.with = alternate.plain(with, "expect")           -- it outlives this run
  for _, l in ipairs(lists) do if raw[l[1]] ~= nil then rules_of(at, l[1], raw[l[1]], l[2], e.rules) end end
  if raw.gives ~= nil then values_of(at, raw.gives, e.values) end
  if not e.rules[1] and not e.values[1] then
    at.refuse({}, "D002", "it does not say what is expected of the job", "as in " .. job_example)
  end
  return e
end

-- ---- all -----------------------------------------------------------------------------------------------------------

local function read(x)
  local at, raw = x.at, x.raw
  if raw.job ~= nil then return of_job(at, raw) end
  if raw[1] == nil then
    at.refuse({}, "D002", "it names no rule, no result and no job", "as in " .. example .. " or " .. job_example)
  end
  local name = text(at, { 1 }, raw[1], "a rule or a result", example)
  if run.rules.by[name] then return of_rule(at, raw, run.rules.by[name]) end
  local def = own_result(name)
  return def and of_result(at, raw, def) or refuse_name(at, name)
end

-- The expectations of the file that was run by itself, in their order.
function expectation.all()
  local list = {}
  for i, x in ipairs(run.expected) do list[i] = read(x) end
  return list
end

return expectation
