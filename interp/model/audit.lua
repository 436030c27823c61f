-- SPDX-License-Identifier: MIT
-- What the library defines, checked when it is built and in the tests, never at a run: the keys of the tables that
-- kind, result, work, rule and sheet take, what they name, and that a field would take its own example and default.
--
-- It has to be imported before anything of the library: it stands in front of the functions that take definitions.
import "model.util"
local schema = import "model.schema"
local graph = import "model.graph"
local rule = import "model.rule"
local domains = import "model.domains"
local audit = { problems = {}, formulas = {} }

-- ---- telling -------------------------------------------------------------------------------------------------------

local modules, made_in = {}, {}        -- being imported, innermost last; definition -> its module
local plain_import = import

local rooms = { model = true, write = true, host = true }

local function file_of(module)
  if not module then return "a test" end
  return (rooms[module:match "^%a+"] and "interp/" or "stdlib/") .. module:gsub("%.", "/") .. ".lua"
end

local function problem(def, what, text)
  audit.problems[#audit.problems + 1] = file_of(made_in[def]) .. ": " .. what .. ": " .. text
end

local function near(word, known)
  local names = {}
  for name, there in host.sorted(known) do if there then names[#names + 1] = name end end
  local found = type(word) == "string" and host.nearest(word, names)
  return found and "; did you mean '" .. found .. "'?" or ""
end

local function set(words)
  local out = {}
  for word in words:gmatch "%S+" do out[word] = true end
  return out
end

-- ---- keys ----------------------------------------------------------------------------------------------------------

-- kinds of value of a key: "text!" must be there
local keys = {
  kind = { says = "string!", named = "boolean", may_name = "boolean", single = "boolean", partial = "boolean",
      of_file = "boolean", part = "boolean", parent = "string", derive = "function", types = "boolean",
      template = "table", type_of = "string", fields = "table", items = "table",
      who = "string", tool = "string", check = "function", settle = "function", files = "table",
      form = "number", on_form = "table", where = "string", written = "string", paper = "boolean",
      on_paper = "function", reaches = "function", design = "boolean", moved = "table", sorts = "string",
      results = "any", added = "any", children = "any", hung = "any" },       -- the library's own: room, see embed.c
  on_form = { head = "table", sketch = "string", says = "string", tick = "string", sign = "string",
      signed = "table", stage = "string" },
  field = { says = "string!", who = "string", tool = "string", required = "boolean", default = "any", quiet = "boolean",
      example = "string", range_help = "string", unless = "function", worse = "string", needs = "table",
      design = "boolean", spare = "boolean", only = "table" },
  item = { name = "string", type = "string!", says = "string", example = "string" },
  result = { name = "string", kind = "string", find = "any", says = "string!", dim = "string", show = "string",
      work = "function", formula = "string", shows = "function", given = "string", takes = "function",
      worse = "string", none = "function", leaves_out = "function", rows = "boolean" },
  work = { name = "string", kind = "string", find = "any", says = "string!", op = "string!", input = "function!",
      gives = "table!", none = "function" },
  give = { says = "string!", name = "string", dim = "string", show = "string", given = "string", takes = "function",
      wire = "boolean" },
  rule = { id = "string!", severity = "string!", each = "string", and_each = "string", tells = "function",
      says = "string!", cite = "string!", caution = "string!", may_waive = "string", flips = "any",
      nearest = "function", applies = "function", check = "function!", letter = "string", number = "number",
      standard = "boolean" },
  sheet = { name = "string!", title = "string", order = "number!", build = "boolean", crew = "boolean",
      kinds = "table", rules = "table", of = "table", sorts = "table", after = "table", waits = "function",
      beside = "function", head = "function", inputs = "function", short = "function", whole = "function",
      facts = "table", last = "boolean", changes = "string" },
}

-- What a field of a type may say beside that.
local range = { min = "number", max = "number", above = "number" }
local of_type = {
  quantity = { dim = "string!", min = "number", max = "number", above = "number", sold = "function", item = "table",
      line = "table" },
  ratio = range, count = range, number = range, money = range,
  text = { digit = "boolean" }, flag = {}, date = {}, wire = {}, func = {},
  position = { axis = "string!" }, choice = { choices = "table", choices_from = "any", no_data = "boolean" },
  part = { of = "string!" }, ref = { of = "table!", rest = "string" },
  list = { item = "table!", least = "number", most = "number", or_text = "string" }, map = { item = "table!" },
  limit = { dim = "string!", extra = "table", above = "number", max = "number", of_places = "boolean",
      own_words = "boolean" },
  group = { fields = "table!", bare = "string", check = "function", no_data = "boolean" },
  conditions = {}, lot = {},
}

-- Which way a job may be worse than a paper's condition, and the types that have such a way.
local ways = {
  more = { quantity = true, ratio = true, count = true, number = true, choice = true },
  less = { quantity = true, ratio = true, count = true, number = true, choice = true },
  other = { quantity = true, ratio = true, count = true, number = true, choice = true, text = true, flag = true,
      wire = true, part = true, list = true },
}

-- What indexing puts into a field; the table may have been a field before.
local indexed = { name = true, type = true, index = true, by = true }

local function check_keys(def, owner, what, ...)
  local known = {}
  for _, more in ipairs { ... } do for k, v in next, more do known[k] = v end end
  for k, v in host.sorted(def) do
    local wanted = known[k]
    if wanted then
      wanted = wanted:match "%a+"
      if wanted ~= "any" and type(v) ~= wanted then
        problem(owner, what, "'" .. k .. "' wants " .. wanted .. ", got " .. type(v))
      end
    elseif math.type(k) ~= "integer" and not indexed[k] then
      problem(owner, what, "there is no key '" .. tostring(k) .. "'" .. near(k, known))
    end
  end
  for k, wanted in host.sorted(known) do
    if wanted:find "!" and def[k] == nil then problem(owner, what, "'" .. k .. "' is missing") end
    if k == "says" and type(def.says) == "string" and not def.says:find "%S" then
      problem(owner, what, "'says' is empty")
    end
  end
end

-- ---- fields --------------------------------------------------------------------------------------------------------

local function is_dim(dim)
  return dim == "ratio" or (pcall(host.quantity, 1.0, dim))
end

local function dims()
  local known = { ratio = true }
  for _, op in ipairs(primitives()) do
    for _, list in ipairs { op.inputs, op.outputs } do
      for _, f in ipairs(list) do if f.dim then known[f.dim] = true end end
    end
  end
  return known
end

local function check_dim(def, owner, what)
  if def.dim ~= nil and not is_dim(def.dim) then
    problem(owner, what, "no dimension is called '" .. tostring(def.dim) .. "'" .. near(def.dim, dims()))
  end
  if def.show ~= nil and host.literal("1 " .. tostring(def.show)) == nil then
    problem(owner, what, "no unit is written '" .. tostring(def.show) .. "'")
  end
end

-- What a script would have to be told of a value, or nil if it is taken.
local function refused(f, value)
  local nowhere = { source = 0, line = 0, col = 0, len = 0 }
  local ctx = { what = "it" }
  function ctx.span() return nowhere end
  function ctx.origin() return nil end
  function ctx.told(_, v) return v end
  local ok, why = pcall(schema.validate, ctx, { f.name or f[1] }, f, value)
  if ok then return nil end
  return type(why) == "table" and (host.message(why)) or tostring(why)
end

-- A field as it is once indexed: its type by name, its choices asked for.
local function typed(f)
  local choices = f.choices
  if type(f.choices_from) == "function" then choices = f.choices_from() end
  if type(f.choices_from) == "string" then choices = host.column(f.choices_from) end
  return setmetatable({ type = f.type or f[2], choices = choices }, { __index = f })
end

local literal = set "quantity ratio count number money"

-- An example as a script would write it, as a value; nil and why where it is none.
local function value_of(f, text)
  if not literal[f.type] then return text end
  local value, why = host.literal(text)
  if value == nil then return nil, why end
  return value
end

local scalar = set "quantity ratio count number money text date position wire choice"

local function check_value(f, owner, what, word, text)
  local value, why = value_of(f, text)
  if value ~= nil then why = refused(f, value) end
  if why then problem(owner, what, "the " .. word .. " '" .. tostring(text) .. "': " .. why) end
end

-- { key = value, ... } or { value, ... } in an example: calls f(key or nil, the value's text).
local function each_part(text, f)
  for part in (text:gsub('"[^"]*"', function(quoted) return (quoted:gsub(",", "\0")) end)):gmatch "[^,]+" do
    part = part:gsub("%z", ","):match "^%s*(.-)%s*$"
    local key, value = part:match "^([%a_][%w_]*)%s*=%s*(.+)$"
    value = value or part
    f(key, value:match '^"(.*)"$' or value)
  end
end

local function check_example(f, owner, what)
  local text = f.example
  if type(text) ~= "string" then return end
  if f.type == "limit" then
    check_value({ f[1], f.dim == "ratio" and "ratio" or "quantity", type = f.dim == "ratio" and "ratio" or "quantity",
        dim = f.dim, min = 0, max = f.max, example = text }, owner, what, "example", text)
  elseif f.type == "money" then
    for one in (text .. " or "):gmatch "(.-) or " do check_value(f, owner, what, "example", one) end
  elseif scalar[f.type] then
    check_value(f, owner, what, "example", text)
  elseif (f.type == "list" or f.type == "map") and type(f.item) == "table" and scalar[f.item.type] then
    each_part(text, function(_, value) check_value(f.item, owner, what, "example", value) end)
  elseif f.type == "group" and not text:find "[{}]" then
    each_part(text, function(key, value)
      local inner
      for _, g in ipairs(f.fields or {}) do if g[1] == key then inner = g end end
      if not inner then problem(owner, what, "the example's '" .. tostring(key) .. "' is none of its fields")
      elseif scalar[inner.type or inner[2]] then
        check_value(typed(inner), owner, what, "example", value)
      end
    end)
  end
end

local function check_range(f, owner, what)
  local low = f.above or f.min
  if f.above and f.min then problem(owner, what, "'above' and 'min' say the same") end
  if type(low) == "number" and type(f.max) == "number" and low >= f.max then
    problem(owner, what, "nothing lies between " .. low .. " and " .. f.max)
  end
end

local words = set [[and break do else elseif end false for function goto if in local nil not or repeat return then true
  until while]]

local check_fields

local function check_field(f, owner, what, is_item)
  local kind = f.type or f[2]
  if not of_type[kind] then
    return problem(owner, what, "there is no type '" .. tostring(kind) .. "'" .. near(kind, of_type))
  end
  check_keys(f, owner, what, is_item and keys.item or keys.field, of_type[kind])
  check_dim(f, owner, what)
  check_range(f, owner, what)
  if kind == "position" and not set "latitude longitude declination"[f.axis] then
    problem(owner, what, "there is no axis '" .. tostring(f.axis) .. "'")
  end
  if f.worse ~= nil and not (ways[f.worse] and ways[f.worse][kind]) then
    problem(owner, what, kind .. " has no way to be worse that is called '" .. tostring(f.worse) .. "'")
  end
  local whole = typed(f)
  if kind == "choice" then
    -- Once indexed, a field has its choices from where it says.
    local both = f.choices ~= nil and f.choices_from ~= nil and getmetatable(f) == nil
    if both or f.choices == nil and f.choices_from == nil then
      problem(owner, what, "a choice has either 'choices' or 'choices_from'")
    elseif type(whole.choices) ~= "table" or type(whole.choices[1]) ~= "string" then
      problem(owner, what, "there is no choice")
    end
  end
  check_example(whole, owner, what)
  if f.default ~= nil then
    if f.required then problem(owner, what, "what is required has no default") end
    local value = f.default
    if kind == "quantity" then value = type(value) == "string" and host.literal(value) or value end
    local why = refused(whole, value)
    if why then problem(owner, what, "the default '" .. tostring(f.default) .. "': " .. why) end
  end
  for key, choices in host.sorted(type(f.extra) == "table" and f.extra or {}) do
    if type(key) ~= "string" or type(choices) ~= "table" or #choices == 0 then
      problem(owner, what, "'extra' names each more key with its choices; '" .. tostring(key) .. "' has none")
    end
  end
  if type(f.item) == "table" and f.item ~= f then check_field(f.item, owner, what .. ", item", true) end
  if type(f.line) == "table" then check_field(f.line, owner, what .. ", line", true) end
  if type(f.fields) == "table" then check_fields(f.fields, owner, what) end
end

function check_fields(fields, owner, what)
  local seen = {}
  for i, f in ipairs(fields) do
    local name = f[1]
    local own = what .. ", field " .. tostring(name)
    if type(name) ~= "string" or not name:find "^[%a_][%w_]*$" or words[name] then
      problem(owner, what, "field " .. i .. " has no name that can be written: " .. tostring(name))
    end
    if seen[name] then problem(owner, own, "there are two of it") end
    seen[name] = true
    check_field(f, owner, own)
  end
end

-- ---- definitions as they come --------------------------------------------------------------------------------------

function audit.kind(def)
  local what = "kind " .. tostring(def[1])
  check_keys(def, def, what, keys.kind)
  if (def.parent ~= nil) ~= (def.derive ~= nil) then problem(def, what, "'parent' and 'derive' come together") end
  if type(def.fields) == "table" then check_fields(def.fields, def, what) end
  if type(def.items) == "table" then check_field(def.items, def, what .. ", items", true) end
  if type(def.on_form) == "table" then check_keys(def.on_form, def, what .. ", on_form", keys.on_form) end
end

function audit.result(def)
  local what = "result " .. tostring(def[1]) .. "." .. tostring(def[2])
  check_keys(def, def, what, keys.result)
  check_dim(def, def, what)
  if def.worse ~= nil and not (def.dim and ways[def.worse] and ways[def.worse].quantity) then
    problem(def, what, "'worse' is more, less or other, of a result that has a 'dim'")
  end
  if (def.work == nil) == (def.formula == nil) then problem(def, what, "it wants 'work' or 'formula'") end
  if type(def.formula) == "string" then
    local read, bad = import("model.formula").read(def.formula)
    if not read then
      problem(def, what, "the formula '" .. def.formula .. "', at '" .. def.formula:sub(bad.at) .. "': " .. bad.text)
    else audit.formulas[#audit.formulas + 1] = { def = def, what = what, names = read.names } end
  end
end

local ops
local function primitive(name)
  if not ops then
    ops = {}
    for _, op in ipairs(primitives()) do
      ops[op.name] = { outputs = {} }
      for _, f in ipairs(op.outputs) do ops[op.name].outputs[f.name] = f end
    end
  end
  return ops[name]
end

function audit.work(def)
  local what = "work " .. tostring(def[1]) .. "." .. tostring(def[2])
  check_keys(def, def, what, keys.work)
  local op = primitive(def.op)
  if not op then problem(def, what, "there is no primitive '" .. tostring(def.op) .. "'" .. near(def.op, ops)) end
  for out, more in host.sorted(type(def.gives) == "table" and def.gives or {}) do
    local own = what .. ", " .. tostring(out)
    if op and not op.outputs[out] then
      problem(def, own, def.op .. " does not give '" .. tostring(out) .. "'" .. near(out, op.outputs))
    elseif op and (op.outputs[out].kind == "rows" or op.outputs[out].kind == "list") then
      problem(def, own, "a list is no result: give a result that reads of it what it needs")
    end
    check_keys(more, def, own, keys.give)
    check_dim(more, def, own)
  end
end

local severities = set "stop caution note"

function audit.rule(def)
  local what = "rule " .. tostring(def.id)
  check_keys(def, def, what, keys.rule)
  if not severities[def.severity] then problem(def, what, "no severity '" .. tostring(def.severity) .. "'") end
  local capacities, known = schema.kinds.rule.by.may_waive.choices, {}
  for _, who in ipairs(capacities) do known[who] = true end
  if def.may_waive ~= nil and not known[def.may_waive] then
    problem(def, what, "'may_waive' is one of " .. table.concat(capacities, ", ") .. ", not '" ..
        tostring(def.may_waive) .. "'")
  end
end

function audit.sheet(def) check_keys(def, def, "sheet " .. tostring(def.name), keys.sheet) end

-- ---- what they name, once all are there ----------------------------------------------------------------------------

local function check_kind_name(def, what, key, name)
  local kind = schema.kinds[name]
  if kind and not schema.not_kept[name] then return kind end
  problem(def, what, "'" .. key .. "' names no kind of record: '" .. tostring(name) .. "'" .. near(name, schema.kinds))
end

local function check_refs(fields, def, what)
  for _, f in ipairs(fields) do
    local own = what .. ", field " .. f.name
    for _, name in ipairs(f.type == "ref" and f.of or f.type == "part" and { f.of } or {}) do
      local kind = check_kind_name(def, own, "of", name)
      if kind and f.type == "part" and not kind.part then problem(def, own, name .. " is no part") end
    end
    if f.fields then check_refs(f.fields, def, own) end
    if f.item and f.item.fields then check_refs(f.item.fields, def, own) end
  end
end

local function check_parents(def)
  local seen, k = {}, def
  while k and k.parent do
    if seen[k] then return problem(def, "kind " .. def.name, "it hangs on itself") end
    seen[k] = true
    k = schema.kinds[k.parent]
  end
end

local function check_formulas()
  local formula_names = import "model.formula_names"
  for _, f in ipairs(audit.formulas) do
    for _, name in ipairs(f.names) do
      if not formula_names.ends(schema.kinds[f.def[1]], name.keys) then
        problem(f.def, f.what, "the formula's '" .. name.path .. "' is no field or result")
      end
    end
  end
end

local function names()
  check_formulas()
  for _, def in ipairs(schema.all()) do
    local what = "kind " .. def.name
    schema.results(def)
    if def.parent then
      local parent = check_kind_name(def, what, "parent", def.parent)
      check_parents(def)
      if parent and (parent.by[def.name] or parent.results[def.name]) then
        problem(def, what, def.parent .. " has a field or result of that name")
      end
    end
    if def.types and not (def.named or def.may_name) then problem(def, what, "'types' wants a kind with names") end
    check_refs(def.fields, def, what)
  end
  for _, m in ipairs(domains.rules()) do domains.load(m.module) end
  for _, def in ipairs(rule.loaded()) do
    if def.each then check_kind_name(def, "rule " .. def.id, "each", def.each) end
    if def.and_each then check_kind_name(def, "rule " .. def.id, "and_each", def.and_each) end
  end
end

-- What results take of papers is what the kinds of paper give, and all of it; what a paper needs may stand in made_for.
local function paper_names()
  local conditions, given = import "model.conditions", import "model.given"
  local taken, gives = {}, {}
  for _, def in ipairs(schema.all()) do
    for _, r in ipairs(schema.results(def)) do
      if r.given then taken[#taken + 1], taken[r.given] = r, true end
      if r.given and not def.on_paper then
        problem(def, "kind " .. def.name, "'on_paper' is missing: a paper gives its " .. r.name)
      end
      if r.takes and not r.given then problem(r.of or r, r.name, "'takes' without 'given'") end
    end
    for _, f in ipairs(def.paper and def.fields or {}) do
      for _, path in ipairs(f.needs or {}) do
        if not conditions.field(path) then
          problem(def, "kind " .. def.name .. ", field " .. f.name, "'needs' names nothing for made_for: " .. path)
        end
      end
    end
    for _, word in ipairs(def.paper and given.words_of(def) or {}) do gives[word[1] .. "." .. word[2]] = def end
  end
  for _, r in ipairs(taken) do
    if not gives[r.given] then problem(r.of or r, r.kind .. "." .. r.name, "no paper gives '" .. r.given .. "'" ..
        near(r.given, gives)) end
  end
  for path, def in host.sorted(gives) do
    if not taken[path] then problem(def, "kind " .. def.name, "no result takes '" .. path .. "'") end
  end
end

-- The register of what no rule judges.
local subject_keys = { says = "string!", of = "string", behind = "string", each = "table!", who = "string!",
    needs = "table!", gross = "string", reach = "string", judged = "string",
    where = "function", by = "string", has = "function", only = "string",
    code = "string" }

local function register_names()
  local list, seen = import "job.register", {}
  for i, subject in ipairs(list) do
    local what = "subject " .. tostring(subject[1])
    local function wrong(text) problem(list, what, text) end
    check_keys(subject, list, what, subject_keys)
    if type(subject[1]) ~= "string" or seen[subject[1]] then wrong("subject " .. i .. " has no word of its own") end
    seen[subject[1] or ""] = true
    for _, name in ipairs(subject.each) do check_kind_name(list, what, "each", name) end
    for _, path in ipairs(subject.needs) do
      if not import("model.conditions").field(path) then wrong("'needs' names nothing for made_for: " .. path) end
    end
    if not set "engineer electrician"[subject.who] then wrong("'who' is engineer or electrician") end
    if (subject.gross == nil) == (subject.reach == nil) then wrong("it wants 'gross' or 'reach'") end
    if (subject.reach ~= nil) ~= (#subject.needs == 0) then wrong("what no input reaches needs none, all else does") end
    if (subject.where ~= nil) ~= (subject.by ~= nil) then wrong("'where' and 'by' go together") end
    if (subject.has ~= nil) ~= (subject.only ~= nil) then wrong("'has' and 'only' go together") end
    for id in (subject.by or ""):gmatch "%w+" do if not rule.find(id) then wrong("there is no rule " .. id) end end
    if subject.judged and not rule.find(subject.judged) then wrong("there is no rule " .. subject.judged) end
  end
end

local function sheet_names(def)
  local what = "sheet " .. tostring(def.name)
  for _, key in ipairs { "kinds", "of" } do
    for _, name in ipairs(def[key] or {}) do check_kind_name(def, what, key, name) end
  end
  for _, key in ipairs { "rules", "after" } do
    for _, id in ipairs(def[key] or {}) do
      if not rule.find(id) then problem(def, what, "'" .. key .. "' names no rule: '" .. tostring(id) .. "'") end
    end
  end
end

-- ---- the whole library ---------------------------------------------------------------------------------------------

-- Definitions are looked at before they are taken; what the taking itself refuses is a problem like the others.
local function stand_before(module, name, check)
  local take = module[name]
  module[name] = function(def)
    made_in[def] = modules[#modules]
    check(def)
    local ok, why = pcall(take, def)
    if ok then return why end
    problem(def, tostring(def[1] or def.id), "it is not taken: " .. tostring(why))
  end
end

stand_before(schema, "kind", audit.kind)
local add_fields = schema.add_fields
function schema.add_fields(kind, fields)
  made_in[fields] = modules[#modules]
  check_fields(fields, fields, "kind " .. tostring(kind))
  return add_fields(kind, fields)
end
stand_before(graph, "result", audit.result)
stand_before(graph, "work", audit.work)
stand_before(rule, "add", audit.rule)

function import(name)
  modules[#modules + 1] = name
  local module = plain_import(name)
  modules[#modules] = nil
  if type(module) == "table" and not made_in[module] then made_in[module] = name end
  return module
end

-- Loads all of it. Returns the problems as texts, in the order found.
function audit.library()
  import "model.boot"
  names()
  paper_names()
  register_names()
  for _, row in ipairs(domains.sheets()) do
    local sheet = import(row.module)
    audit.sheet(sheet)
    sheet_names(sheet)
  end
  return audit.problems
end

return audit
