-- SPDX-License-Identifier: MIT
-- A judged job as plain data, to be held against another one: what was declared, what came of it, how the rules judge,
-- what the sheets say.  Nothing in it belongs to the run; a report in JSON carries it, so that a job can be held
-- against what it was.
--
-- A value that was taken over (like = ...) says of which other one.
-- An amount is { si, dim, unit, text }; of what is no amount there is the text alone, of a list the items besides.
local run = import "model.run"
local schema = import "model.schema"
local record = import "model.record"
local domains = import "model.domains"
local in_force = import "model.in_force"
local like = import "model.like"
local words = import "write.words"
local document = import "write.document"
local verdict = import "write.verdict"
local sheets = import "write.sheets"
local snapshot = {}

snapshot.FORM = 1          -- of what a report carries; one of another form is not read

local inside, step = record.inside, record.step

-- What each part holds, as write.schema_json and the reader of a report want it: key, shape, optional.  A sheet that
-- keeps something of its own says so under `keeps`.
local function optional(key, shape) return { key, shape, optional = true } end

snapshot.shape = {
  { "form", "count" }, { "script", "text" },
  { "job", { one = true, { "name", "text" }, { "client", "text" }, { "stage", "text" }, optional("on", "text"),
      { "units", "text" }, optional("alternate", "text") } },
  { "verdict", "text" }, { "status", "count" },
  { "records", { { "path", "text" }, { "title", "text" } } },
  { "declared", { { "path", "text" }, { "value", "amount" }, optional("items", { "amount" }),
      optional("place", "text"), optional("known", "text"), optional("of", "text") } },
  { "results", { { "path", "text" }, { "kind", "text" }, { "name", "text" }, { "says", "text" },
      { "about", "text" }, optional("value", "amount"), optional("unknown", "text"), { "sheets", { "text" } } } },
  { "rules", { { "id", "text" }, { "subject", "text" }, { "about", "text" }, { "severity", "text" },
      { "says", "text" }, { "caution", "text" }, { "outcome", "text" }, { "words", "text" },
      optional("ratio", "number"), optional("by", "text") } },
  { "sheets", { { "name", "text" }, { "title", "text" }, optional("withheld", "text"), optional("sha256", "text") } },
  { "covered", { { "subject", "text" }, { "paper", "text" } } },
}

-- ---- read back -----------------------------------------------------------------------------------------------------

local fits = {}

local function fits_shape(shape, v)
  if type(shape) == "string" then return fits[shape](v) end
  if type(v) ~= "table" then return false end
  if shape.one then return fits.record(shape, v) end
  for i, x in ipairs(v) do
    if math.type(i) ~= "integer" or not (type(shape[1]) == "string" and fits[shape[1]](x) or
        type(shape[1]) == "table" and fits.record(shape, x)) then return false end
  end
  return true
end

function fits.text(v) return type(v) == "string" end
function fits.number(v) return type(v) == "number" end
function fits.count(v) return math.type(v) == "integer" end
function fits.amount(v)
  return type(v) == "table" and type(v.text) == "string" and (v.si == nil or type(v.si) == "number") and
      (v.dim == nil or type(v.dim) == "string") and (v.unit == nil or type(v.unit) == "string")
end

function fits.record(fields, v)
  if type(v) ~= "table" then return false end
  for _, f in ipairs(fields) do
    local x = v[f[1]]
    if x == nil then if not f.optional then return false end
    elseif not fits_shape(f[2], x) then return false end
  end
  return true
end

-- What each sheet keeps of its own, by the sheet's name: its shape.
function snapshot.kept_shapes()
  local list = {}
  for _, row in ipairs(domains.sheets()) do
    if row.changes then list[#list + 1] = { row.name, domains.load(row.changes).shape } end
  end
  return list
end

-- Whether plain data that came from elsewhere is a snapshot, all through.
function snapshot.fits(v)
  if v.form ~= snapshot.FORM or not fits.record(snapshot.shape, v) or type(v.kept) ~= "table" then return false end
  for _, s in ipairs(snapshot.kept_shapes()) do if not fits.record(s[2], v.kept[s[1]]) then return false end end
  return true
end

-- ---- values --------------------------------------------------------------------------------------------------------

-- A value as it is printed, an input as it was written; of a share with its percent.
function snapshot.amount(v, unit, show)
  if host.is_quantity(v) and host.si(v) == host.si(v) then
    local dim, _, currency = host.unit(v)
    return { si = host.si(v), dim = currency ~= "" and dim .. " " .. currency or dim,
        unit = unit or words.unit(v) or nil, text = (show or words.show)(v, unit) }
  end
  if type(v) == "number" then return { si = v + 0.0, dim = unit or "number", text = words.show(v, unit) } end
  return { text = words.show(v) }
end

local amount = snapshot.amount
local function input(v, unit) return amount(v, unit, words.as_written) end

-- ---- what was declared ---------------------------------------------------------------------------------------------

-- How each value of a record was known, and where it stands.
local function known_of(path)
  local t = run.told[path]
  return t and t.how:gsub("_", " ") .. (t.by and ": " .. t.by or "") or nil
end

local function share(f) return f and f.type == "ratio" and "%" or nil end

-- What of another record's table a value is: its path, or nil where it is this one's own.
local function taken_of(rec, keys)
  local _, from = like.giver(rec, keys)
  if from.proxy == rec.proxy then return nil end
  local path = from.path
  for _, key in ipairs(keys) do path = step(path, key) end
  return path, from.proxy
end

-- templates: paths of values that stand in the list for all that take them over, each in front of the first.
local function declared_of(proxy, list, put_in, defaulted, templates)
  local rec = inside[proxy]
  local function place_of(of, path, keys)
    if put_in[path] then return put_in[path] end
    if defaulted[path] then return "by default" end
    return rec.source ~= 0 and words.place(of, keys) or nil
  end
  local function add(path, keys, value, items)
    local of, template = taken_of(rec, keys)
    if of and not templates[of] and (inside[template].def.partial or inside[template].aside) then
      templates[of] = true
      list[#list + 1] = { path = of, value = value, items = items, place = place_of(template, of, keys),
          known = known_of(of) }
    end
    list[#list + 1] = { path = path, value = value, items = items, known = known_of(path), of = of,
        place = of and place_of(template, of, keys) or place_of(proxy, path, keys) }
  end
  local function visit(path, keys, value, f)
    local d = inside[value]
    local function inner(key, v, of)
      local deeper = table.move(keys, 1, #keys, 1, {})
      deeper[#deeper + 1] = key
      visit(step(path, key), deeper, v, of)
    end
    if d and d.list then
      local items = {}
      for i, v in ipairs(d.list) do items[i] = input(v, share(f and f.item)) end
      add(path, keys, { text = words.show(value) }, items)
    elseif d and d.names then
      for _, k in ipairs(d.names) do inner(k, d.map[k], f and f.item) end
    elseif d and d.group then
      for _, g in ipairs(d.def.fields) do if d.v[g.name] ~= nil then inner(g.name, d.v[g.name], g) end end
    elseif type(value) ~= "function" then
      add(path, keys, input(value, share(f)))
    end
  end
  local fields = table.move(rec.def.fields, 1, #rec.def.fields, 1, {})
  fields[#fields + 1] = rec.def.list_field
  for _, f in ipairs(fields) do
    local v = rec.v[f.name]
    if v ~= nil then visit(step(rec.path, f.name), { f.name }, v, f) end
  end
end

-- Limits are no records: by name, one for each file that gives it.
local function limits_of(list)
  for name, of in host.sorted(run.limits) do
    for _, l in ipairs(of) do
      local unit = in_force.unit(l.value)
      list[#list + 1] = { path = step("limits", name) .. " of " .. l.whose, value = input(l.value, unit),
          place = run.limit_from[l] or host.place(l.place), known = l.cite }
    end
  end
end

local function declared()
  local list, records, put_in, defaulted, templates = {}, {}, {}, {}, {}
  for _, o in ipairs(run.overrides) do put_in[o.path] = o.from end
  for _, x in ipairs(run.defaults) do defaulted[x.path] = true end
  for _, proxy in ipairs(run.records) do
    local rec = inside[proxy]
    if not rec.def.partial then
      records[#records + 1] = { path = rec.root and "job" or rec.path, title = words.title(proxy) }
      declared_of(proxy, list, put_in, defaulted, templates)
    end
  end
  limits_of(list)
  return list, records
end

-- ---- the sheets, and the results that stand on them ----------------------------------------------------------------

-- What a person reads of a sheet, line by line.
local function lines_of(d)
  local lines = {}
  for _, block in ipairs(d.blocks) do
    lines[#lines + 1] = block.kind .. " " .. (block.lead or "") .. (block.text or block.symbol or "")
    for _, row in ipairs(block.rows and block.kind == "table" and block.rows or {}) do
      local texts = {}
      for i = 1, #block.columns do
        local c = row[i]
        texts[i] = type(c) == "table" and c.text or c or ""
      end
      lines[#lines + 1] = table.concat(texts, "\t")
    end
  end
  return table.concat(lines, "\n")
end

-- Calls f(rec, name, cell) for each cell that shows a result.
local function each_result(d, f)
  for _, block in ipairs(d.blocks) do
    for _, row in ipairs(block.kind == "table" and block.rows or {}) do
      for _, c in ipairs(row) do
        if type(c) == "table" and c.of and schema.result(c.of.def, c.name) then f(c.of, c.name, c) end
      end
    end
  end
end

local function result_of(rec, name, cell)
  local def = schema.result(rec.def, name)
  local titles = {}
  for i, proxy in ipairs(record.line_of(rec.proxy)) do titles[i] = words.title(proxy) end
  local why = cell.why and host.message(cell.why) or cell.unknown and "unknown" or nil
  return { path = step(rec.root and "job" or rec.path, name), kind = rec.def.name, name = name, says = def.says,
      about = table.concat(titles, " "), unknown = why,
      value = not why and amount(cell.value, words.result_unit(def, cell.value)) or nil, sheets = {} }
end

local function printed(outcomes)
  local groups, list, results, by = sheets.by_id(outcomes), {}, {}, {}
  local function keep(rec, name, cell)
    local of = by[rec] or {}
    by[rec] = of
    if not of[name] then
      of[name] = result_of(rec, name, cell)
      results[#results + 1] = of[name]
    end
    return of[name]
  end
  for _, s in ipairs(sheets.state(outcomes)) do
    local sheet = s.sheet
    if not sheet.idle and sheet.whole then
      local d = document.new(sheet.name, sheet.title)
      sheets.warnings(d, sheet, groups)
      d:guarded(sheet.whole)
      list[#list + 1] = { name = sheet.name, title = sheet.title, withheld = s.withheld or nil,
          sha256 = not s.withheld and host.sha256(lines_of(d)) or nil }
      each_result(d, function(rec, name, cell)
        local r = keep(rec, name, cell)
        if r.sheets[#r.sheets] ~= sheet.name then table.insert(r.sheets, sheet.name) end
      end)
    end
  end
  if run.results[1] then                             -- those of scripts stand on no sheet
    import("write.own_results").each(function(proxy, name, cell) keep(inside[proxy], name, cell) end)
  end
  return list, results
end

-- ---- rules ---------------------------------------------------------------------------------------------------------

-- Why something is unknown: the first reason stands for all.
local function reasons(o)
  local more = #o.whys - 1
  return host.message(o.whys[1]) .. (more > 0 and "; and " .. more .. " more" or "")
end

local function rules_of(outcomes)
  local list = {}
  for _, o in ipairs(outcomes) do
    if o.outcome ~= "not applicable" then
      local f = o.finding
      list[#list + 1] = { id = o.rule.id, subject = o.subject or "", about = words.subject(o),
          severity = o.rule.severity, says = o.rule.says, caution = o.rule.caution,
          outcome = o.waiver and "waived" or o.outcome, words = f and words.finding(f) or reasons(o),
          ratio = f and f.ratio, by = f and f.by }
    end
  end
  return list
end

local function covered()
  local list = {}
  for _, c in ipairs(import("job.not_judged").covered()) do
    list[#list + 1] = { subject = c.subject[1], paper = inside[c.paper].def.name .. " " .. inside[c.paper].name }
  end
  return list
end

-- ---- all -----------------------------------------------------------------------------------------------------------

-- What sheets keep of their own, by the sheet's name.
local function kept()
  local of = {}
  for _, row in ipairs(domains.sheets()) do
    if row.changes then
      of[row.name] = domains.load(row.changes).keep()
    end
  end
  return of
end

-- Of the job that was judged just now; options as run has them.
function snapshot.take(outcomes, status, options)
  local job, s = record.root, { form = snapshot.FORM, script = options.script, status = status }
  s.job = { name = record.given(job, "name"), client = record.given(job, "client"), stage = job.stage,
      on = record.given(job, "on"), units = job.units, alternate = options.alternate }
  s.verdict = verdict.line(outcomes, status)
  s.declared, s.records = declared()
  s.sheets, s.results = printed(outcomes)
  s.rules, s.covered, s.kept = rules_of(outcomes), covered(), kept()
  return s
end

return snapshot
