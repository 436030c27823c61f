-- SPDX-License-Identifier: MIT
-- The JSON Schema (draft 2020-12) of what --format json writes, made from what the program knows: kinds, results,
-- sheets. It is strict: a key that is lost or new fails.
local schema = import "model.schema"
local encode = import "write.encode"
local domains = import "model.domains"

local object, array = encode.object, encode.array

-- ---- shapes --------------------------------------------------------------------------------------------------------

local text = object { { "type", "string" } }
local flag = object { { "type", "boolean" } }
local number = object { { "type", "number" } }
local whole = object { { "type", "integer" } }

local function one(value) return object { { "const", value } } end
local function choice(list) return object { { "enum", array(table.move(list, 1, #list, 1, {})) } } end
-- A name of $defs, which is a part of a URI.
local function id(name) return (name:gsub(" ", "-")) end
local function ref(name) return object { { "$ref", "#/$defs/" .. id(name) } } end
local function any(...) return object { { "anyOf", array { ... } } } end
local function list(item) return object { { "type", "array" }, { "items", item } } end

-- fields: { key, shape } or, where it may be absent, { key, shape, "optional" }; more: further keywords of the object.
local function record_of(fields, more)
  local properties, required = object {}, array {}
  for _, f in ipairs(fields) do
    properties[#properties + 1] = { f[1], f[2] }
    if not f[3] then required[#required + 1] = f[1] end
  end
  local out = object { { "type", "object" }, { "properties", properties }, { "required", required },
      { "additionalProperties", false } }
  for _, m in ipairs(more or {}) do out[#out + 1] = m end
  return out
end

local function joined(...)
  local out = {}
  for _, fields in ipairs { ... } do table.move(fields, 1, #fields, #out + 1, out) end
  return out
end

-- ---- values, cells, blocks -----------------------------------------------------------------------------------------

local value = record_of { { "si", number }, { "unit", text }, { "text", text } }
local unknown = record_of { { "unknown", text } }

local cell = record_of { { "text", text }, { "si", number, "optional" }, { "unit", text, "optional" },
    { "path", text, "optional" }, { "rounded", choice { "nearest", "up", "down" }, "optional" },
    { "unknown", one(true), "optional" }, { "to_fill_in", one(true), "optional" } }

local tone = { "tone", choice { "good", "bad", "warn" }, "optional" }
local lead = { "lead", text, "optional" }

local function block(kind, ...)
  return record_of { { "kind", one(kind) }, { "depth", object { { "type", "integer" }, { "minimum", 0 } } }, ... }
end

-- As write.document has them.
local function blocks()
  local said = { "text", text }
  local function maybe(name, shape) return { name, shape or text, "optional" } end
  local column = record_of { { "key", text }, { "heading", text } }
  return {
    block("title", said), block("heading", said), block("subheading", said),
    block("note", said), block("warning", said), block("code", said),
    block("paragraph", said, lead, tone), block("item", said, { "mark", text }),
    block("outcome", said, lead, tone),
    block("step", { "symbol", text }, maybe "formula", maybe "put", maybe "says", maybe "source",
        maybe("origins", list(text)), { "result", ref "cell" }),
    block("blank", maybe "text", maybe "from", maybe "unit", maybe("count", whole),
        maybe("choices", list(text)), maybe("heads", list(record_of { { "text", text }, { "unit", text } }))),
    block("figure", maybe "name", maybe "title"), block("picture", { "name", text }, { "title", text }, maybe "file"),
    block("table", maybe "title", { "columns", list(column) }, { "rows", list(list(ref "cell")) }),
  }
end

-- ---- what was judged -----------------------------------------------------------------------------------------------

local function choices_of(field) return field.choices and not field.no_data and choice(field.choices) or text end

local function job()
  local def, codes = schema.kinds.job, {}
  for i, f in ipairs(def.by.codes.fields) do codes[i] = { f.name, choices_of(f), "optional" } end
  return record_of { { "name", text }, { "client", text }, { "stage", choices_of(def.by.stage) },
      { "on", text, "optional" }, { "revision", text, "optional" }, { "units", choices_of(def.by.units) },
      { "alternate", text, "optional" }, { "codes", record_of(codes) } }
end

local ids = list(text)
local verdict = record_of { { "ready", flag }, { "exit", choice { 0, 1 } }, { "text", text }, { "broken", ids },
    { "unknown", ids }, { "waived", ids }, { "withheld", ids }, { "rules", whole },
    { "hold", record_of { { "against_limit", whole }, { "as_stated", whole }, { "by_construction", whole } } },
    { "not_judged", ids },
    { "stop_rules", record_of { { "hold", whole },
        { "from_memory", list(record_of { { "rule", text }, { "cites", list(text) } }) } } } }

local function when(key, wanted, required)
  return object { { "if", object { { "properties", object { { key, one(wanted) } } } } },
      { "then", object { { "required", array(required) } } } }
end

local function rule()
  local severity, capacity = schema.kinds.rule.by.severity, schema.kinds.rule.by.may_waive
  local measured = any(ref "value", text, flag)
  return record_of({
    { "id", text }, { "severity", choices_of(severity) }, { "says", text }, { "subject", text },
    { "outcome", choice { "holds", "broken", "unknown", "not applicable" } },
    { "value", measured, "optional" }, { "comparison", text, "optional" },
    { "judged_by", choice { "limit", "statement", "construction" }, "optional" }, { "limit", measured, "optional" },
    { "limit_of", text, "optional" }, { "margin", measured, "optional" }, { "ratio", number, "optional" },
    { "words", text, "optional" }, { "cite", text }, { "caution", text }, { "may_waive", choices_of(capacity) },
    { "place", record_of { { "file", text }, { "line", whole }, { "column", whole } }, "optional" },
    { "flip", record_of { { "path", text }, { "value", measured }, { "breaks", list(text) },
        { "leaves_unknown", list(text) }, { "alone", flag, "optional" } }, "optional" },
    { "nearest", text, "optional" },
    { "suggestions", list(record_of { { "words", text },
        { "changes", list(record_of { { "path", text }, { "value", measured } }) }, { "breaks", list(text) },
        { "leaves_unknown", list(text) }, { "price", measured, "optional" },
        { "unpriced", list(text), "optional" }, { "mends", whole }, { "of", whole } }),
        "optional" },
    { "gave_up", record_of { { "tried", whole }, { "of", whole } }, "optional" },
    { "unknown", list(record_of { { "text", text }, { "help", text, "optional" }, { "path", text, "optional" },
        { "who", text, "optional" }, { "tool", text, "optional" } }), "optional" },
    { "not_applicable", text, "optional" }, { "from_memory", list(text), "optional" },
    { "waiver", record_of { { "reason", text }, { "by", text }, { "as", text }, { "on", text },
        { "licence", text, "optional" }, { "state", text, "optional" }, { "paper", text, "optional" } }, "optional" },
  }, { { "allOf", array { when("outcome", "holds", { "comparison" }), when("outcome", "broken", { "comparison" }),
      when("outcome", "unknown", { "unknown" }),
      when("outcome", "not applicable", { "not_applicable" }) } } })
end

-- Names of records in a path, as model.path writes them.
local NAME = "(\\.[A-Za-z_][A-Za-z0-9_]*|\\['.*'\\]|\\[[0-9]+\\])"

local function path_of(def)
  local own = def.named and NAME or NAME .. "?"
  if def.parent then return path_of(schema.kinds[def.parent]) .. "\\." .. def.name .. own end
  return def.name .. own
end

-- A result by its path: a value, or why there is none; where no dimension is told, it may be words or yes and no.  What
-- a script declares has any name.
local function results()
  local known, own = object {}, {}
  for _, def in ipairs(schema.all()) do
    if not def.partial and not schema.not_kept[def.name] then own[#own + 1] = path_of(def) end
    for _, r in ipairs(schema.results(def)) do
      if not (r.op or r.rows) then
        known[#known + 1] = { "^" .. path_of(def) .. "\\." .. r.name .. "$",
            r.dim and ref "known-or-unknown" or ref "any-result" }
      end
    end
  end
  known[#known + 1] = { "^(" .. table.concat(own, "|") .. ")\\.[A-Za-z_][A-Za-z0-9_]*$", ref "any-result" }
  return object { { "type", "object" }, { "patternProperties", known }, { "additionalProperties", false } }
end

-- What a script says of a result that it declares.
local function own_results()
  return list(record_of { { "of", text }, { "name", text }, { "is", choice(schema.kinds.result.by.is.choices) },
      { "means", text }, { "formula", text, "optional" }, { "cite", text, "optional" },
      { "place", record_of { { "file", text }, { "line", whole }, { "column", whole } } } })
end

local hash = object { { "type", "string" }, { "pattern", "^[0-9a-f]{64}$" } }

local made_from = list(any(
  record_of { { "what", one "stringline" }, { "version", text } },
  record_of { { "what", choice { "tables", "rules" } }, { "sha256", hash } },
  record_of { { "what", one "version" }, { "version", text }, { "path", text } },
  record_of { { "what", text }, { "path", text }, { "sha256", hash } },
  record_of { { "what", choice { "set", "on", "alternate" } }, { "value", text } }))

-- ---- documents -----------------------------------------------------------------------------------------------------

local function first(name) return { { "stringline", one(1) }, { "document", name }, { "title", text } } end
local body = { { "blocks", list(ref "block") } }
local seal = { { "made_from", ref "made-from" }, { "seal", hash } }
local at = list(record_of { { "path", text }, { "value", any(ref "value", text, flag) } })
-- `script` of several scripts.
local judged = { { "script", text, "optional" }, { "job", ref "job" }, { "verdict", ref "verdict" },
    { "tolerances", record_of { { "count", whole }, { "tried", text }, { "all_corners", flag }, { "corners", whole },
        { "samples", whole }, { "may_not_hold", list(record_of { { "rule", text }, { "subject", text },
            { "outcome", choice { "broken", "unknown" } }, { "at", at } }) },
        { "refused", record_of { { "text", text }, { "at", at } }, "optional" } }, "optional" },
    { "rules", list(ref "rule") } }

local cells = list(list(any(text, number, object { { "type", "null" } })))
local shapes = { value = ref "value", amount = ref "amount", text = text, count = whole, number = number, flag = flag,
    cells = cells }

-- What a sheet says of its own facts: { key, shape }, shape "value", "text", "count", or the fields of a list's items;
-- of one table alone with one = true.  { "text" } is a list of texts.
local function shape_of(told)
  if type(told) == "string" then return shapes[told] end
  if type(told[1]) == "string" then return list(shapes[told[1]]) end
  local fields = {}
  for i, f in ipairs(told) do fields[i] = { f[1], shape_of(f[2]), f.optional and "optional" } end
  return told.one and record_of(fields) or list(record_of(fields))
end

-- A job as plain data: what a report carries to be held against another one.
local function kept_job()
  local snapshot = import "model.snapshot"
  local kept = snapshot.kept_shapes()
  kept.one = true
  local fields = table.move(snapshot.shape, 1, #snapshot.shape, 1, { one = true })
  fields[#fields + 1] = { "kept", kept }
  return shape_of(fields)
end

-- What differs between two jobs.
local function compared()
  local side = record_of { { "script", text }, { "name", text }, { "client", text }, { "stage", text },
      { "on", text, "optional" }, { "alternate", text, "optional" }, { "verdict", text }, { "exit", whole },
      { "made_from", ref "made-from" } }
  local told = record_of { { "text", text }, { "si", number, "optional" }, { "unit", text, "optional" } }
  local paths, measured = list(text), { { "was", told, "optional" }, { "is", told, "optional" } }
  local outcomes = list(record_of { { "id", text }, { "subject", text }, { "was", text }, { "is", text },
      { "words", text, "optional" }, { "margin_then", number, "optional" }, { "margin_now", number, "optional" } })
  local fields = { { "same", flag }, { "then", side }, { "now", side },
    { "records", record_of { { "gone", paths }, { "new", paths } } },
    { "declared", list(record_of(joined({ { "path", text } }, measured, { { "place_then", text, "optional" },
        { "place_now", text, "optional" }, { "taken_over_of", text, "optional" } }))) },
    { "results", list(record_of(joined({ { "path", text }, { "says", text } }, measured,
        { { "unknown_then", text, "optional" }, { "unknown_now", text, "optional" } }))) },
    { "rules", record_of { { "outcomes", outcomes }, { "tighter", outcomes }, { "new", ids }, { "gone", ids } } },
    { "papers", list(record_of { { "paper", text }, { "no_longer_covers", text } }) },
    { "sheets", record_of { { "throw_away", ids }, { "print", ids } } } }
  for _, row in ipairs(domains.sheets()) do
    for _, f in ipairs(row.changes and domains.load(row.changes).facts or {}) do
      fields[#fields + 1] = { f[1], shape_of(f[2]), "optional" }
    end
  end
  return fields
end

local sources_of_sheet = { { "sources", list(record_of { { "known", text }, { "cite", text },
    { "says", text, "optional" }, { "symbols", list(text) } }), "optional" } }

local function facts_of(sheet)
  local fields = {}
  for i, f in ipairs(sheet.facts or {}) do fields[i] = { f[1], shape_of(f[2]), "optional" } end
  return fields
end

-- How far inputs can move: as write.margins has it.
local function margins()
  local measured = any(ref "value", text, flag)
  local becomes = choice { "broken", "unknown", "holds" }
  local flip = { { "rule", text }, { "subject", text }, { "side", choice { "down", "up" } }, { "becomes", becomes },
      { "value", measured }, { "last", measured, "optional" }, { "percent", number, "optional" },
      { "at_once", flag }, { "stated", flag }, { "why", text, "optional" } }
  local side = record_of { { "moved_to", measured },
      { "refused", record_of { { "value", measured }, { "text", text } }, "optional" },
      { "flips", list(record_of(flip)) } }
  local entry = record_of { { "value", measured }, { "refused", text, "optional" },
      { "flips", list(record_of { { "rule", text }, { "subject", text }, { "becomes", becomes } }) } }
  local input = record_of { { "path", text }, { "alike", list(text), "optional" }, { "declared", measured },
      { "how", text, "optional" }, { "by", text, "optional" },
      { "place", record_of { { "file", text }, { "line", whole }, { "column", whole } }, "optional" },
      { "moved_as", choice { "amount", "count", "list" }, "optional" },
      { "not_moved", choice { "paper", "alone", "text" }, "optional" },
      { "read", choice { "judged", "priced", "unused" }, "optional" }, { "down", side, "optional" },
      { "up", side, "optional" }, { "entries", list(entry), "optional" } }
  return record_of(joined(first(one "margins"), { { "exit", choice { 0, 1 } }, { "inputs", list(input) },
      { "tightest", list(record_of(joined({ { "input", text } }, flip))) }, { "left", list(text) },
      { "judged_anew", whole } }, body))
end

-- What a sweep found: as write.sweep_facts has it.
local function swept()
  local fields = {}
  for i, f in ipairs(import("write.sweep_facts").shape) do
    fields[i] = { f[1], shape_of(f[2]), f.optional and "optional" }
  end
  return record_of(joined(first(one "sweep"), fields, body))
end

-- What came of the expectations of a file: as command.test has it.
local function tests()
  local place = record_of { { "file", text }, { "line", whole }, { "column", whole } }
  return record_of(joined(first(one "test"), { { "script", text }, { "exit", choice { 0, 1 } }, { "met", whole },
      { "expectations", list(record_of { { "of", text }, { "title", text }, { "place", place }, { "met", flag },
          { "expected", text, "optional" }, { "came", text, "optional" }, { "unread", list(text), "optional" } }) },
      { "without_test", list(record_of { { "what", choice { "rule", "result" } }, { "name", text },
          { "place", place } }) } }, body))
end

-- All jobs of some folders: as write.jobs has them.
local function house()
  local script, whole_or_none = { "script", text }, { "days", whole, "optional" }
  return record_of(joined(first(one "jobs"), { { "exit", choice { 0, 1, 2, 3 } },
      { "jobs", list(record_of { script, { "name", text, "optional" }, { "client", text, "optional" },
          { "stage", text, "optional" }, { "on", text, "optional" }, { "exit", whole },
          { "state", choice { "holds", "open", "not ready", "not judged" } }, { "verdict", text }, { "broken", ids },
          { "unknown", ids }, { "waived", ids }, { "withheld", list(text) }, { "code", text, "optional" },
          { "why", text, "optional" } }) },
      { "stops", list(record_of { { "rule", text }, { "says", text }, { "severity", text }, { "broken", list(text) },
          { "unknown", list(text) } }) },
      { "tickets", list(record_of { script, { "ticket", text }, { "valid_from", text }, { "valid_to", text },
          { "begins", whole, "optional" }, whole_or_none }) },
      { "stale_prices", list(record_of { script, { "vendor", text }, { "priced_on", text }, whole_or_none }) },
      { "waivers", list(record_of { script, { "rule", text }, { "by", text }, { "as", text }, { "on", text },
          { "reason", text } }) },
      { "left_out", list(record_of { { "path", text }, { "why", text } }) } }, body))
end

-- Which rules judge a job: as write.rules has it.
local function judging_rules()
  local outcome = choice { "holds", "broken", "unknown", "waived", "not applicable" }
  return record_of(joined(first(one "rules"), facts_of { facts = import("write.limits").shape }, {
      { "exit", choice { 0, 1 } }, { "verdict", text },
      { "rules", list(record_of { { "id", text }, { "from", text }, { "file", text, "optional" },
          { "line", whole, "optional" }, { "severity", text }, { "says", text }, { "cite", text },
          { "may_waive", text }, { "outcome", outcome }, { "subjects", whole }, { "why", text, "optional" } }) } },
      seal, body))
end

local function documents()
  local named = { "report", "check", "verify", "margins", "compare", "sweep", "unjudged", "merge", "jobs", "rules",
      "test" }
  local all, list_of_sheets = {}, {}
  local out = object {}
  for _, row in ipairs(domains.sheets()) do
    local s = domains.load(row.module)
    all = joined(all, facts_of(s))
    if s.whole then
      list_of_sheets[#list_of_sheets + 1] = s.name
      named[#named + 1] = "sheet " .. s.name
      out[#out + 1] = { "sheet " .. s.name,
          record_of(joined(first(one("sheet " .. s.name)), judged, facts_of(s), sources_of_sheet, seal, body)) }
    end
  end
  local state = record_of { { "name", choice(list_of_sheets) }, { "withheld", any(one(false), text) } }
  local change = record_of { { "what", text }, { "path", text, "optional" }, { "how", text } }
  local measured = any(ref "value", text, flag)
  local likened = record_of { { "path", text }, { "like", text }, { "differs", list(record_of { { "field", text },
      { "value", measured }, { "there", measured } }) } }
  local differing = record_of { { "rule", text }, { "before", text }, { "today", text } }
  table.insert(out, 1, { "report", record_of(joined(first(one "report"), judged,
      { { "results", ref "results" }, { "own_results", own_results(), "optional" }, { "like", list(likened) },
          { "sheets", list(state) } }, all, { { "snapshot", ref "snapshot" } }, seal, body)) })
  table.insert(out, 2, { "check", record_of(joined(first(one "check"), judged, seal, body)) })
  table.insert(out, 3, { "verify", record_of(joined(first(one "verify"), { { "report", text }, { "same", flag },
      { "edited", flag }, { "sealed", flag }, { "before", text }, { "today", text, "optional" },
      { "failure", text, "optional" }, { "differing", list(differing) }, { "changes", list(change) } }, body)) })
  table.insert(out, 4, { "margins", margins() })
  table.insert(out, 5, { "unjudged", record_of(joined(first(one "unjudged"), { { "script", text },
      { "exit", choice { 2, 3 } }, { "error", object { { "type", "object" } } },
      { "errors", list(object { { "type", "object" } }) } }, body)) })
  table.insert(out, 5, { "test", tests() })
  table.insert(out, 5, { "rules", judging_rules() })
  table.insert(out, 5, { "jobs", house() })
  table.insert(out, 5, { "sweep", swept() })
  table.insert(out, 5, { "compare", record_of(joined(first(one "compare"), compared(), body)) })
  out[#out + 1] = { "merge", record_of(joined(first(one "merge"), { { "total", whole }, { "variants", whole },
      { "missing", whole }, { "replaced", whole }, { "cut_short", whole } }, body)) }
  out[#out + 1] = { "plain", record_of(joined(first(object { { "type", "string" },
      { "not", choice(named) } }), body)) }
  return out
end

return function()
  local defs, whole_documents = object {}, array {}
  for _, d in ipairs(documents()) do
    defs[#defs + 1] = { id(d[1]), d[2] }
    whole_documents[#whole_documents + 1] = ref(d[1])
  end
  local shared = { { "value", value }, { "known-or-unknown", any(ref "value", unknown) },
      { "any-result", any(ref "value", unknown, text, flag) }, { "cell", cell },
      { "block", object { { "anyOf", array(blocks()) } } }, { "job", job() }, { "verdict", verdict },
      { "rule", rule() }, { "results", results() }, { "made-from", made_from },
      { "amount", record_of { { "text", text }, { "si", number, "optional" }, { "dim", text, "optional" },
          { "unit", text, "optional" } } }, { "snapshot", kept_job() } }
  table.move(shared, 1, #shared, #defs + 1, defs)
  return encode.text(object {
    { "$schema", "https://json-schema.org/draft/2020-12/schema" },
    { "title", "Output of stringline " .. host.program().version },
    { "description", "What --format json writes: one document, or of several scripts an array of them." },
    { "anyOf", array { ref "document", list(ref "document") } },
    { "$defs", object(joined({ { "document", object { { "anyOf", whole_documents } } } }, defs)) },
  })
end
