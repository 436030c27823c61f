-- SPDX-License-Identifier: MIT
-- limits { ... } of a place, a house or a job, and no_limit { ... } of a place, of which there is none.
--
--   limits { height = { 20ft, cite = "county zoning 4.5" },
--            fence_gap = { 8ft, cite = "house custom", says = "least way to the fence", may_waive = "house" } }
--   no_limit { "setback", "seal", cite = "no zoning: county clerk by telephone" }
local run = import "model.run"
local schema = import "model.schema"
local gather = import "model.gather"
local build = import "model.build"
local in_force = import "model.in_force"
local words = {}

local function raise(code, s, text, help, notes)
  host.raise { code = code, text = text, help = help, notes = notes, source = s.source, line = s.line, col = s.col,
      len = s.len }
end

-- A context for plain tables of that word, which are no records.
local function context(word)
  local source, line = host.where()
  local mark = host.head(source, line, word)
  local ctx = { what = word }
  function ctx.span(p, key_only) return host.span(source, mark, line, p, key_only) end
  function ctx.origin(v) return host.origin(v) end
  function ctx.told(_, v) return v end
  function ctx.defaulted() end
  function ctx.freeze_group(v) return v end
  function ctx.freeze_list(list) return list end
  return ctx
end

-- ---- names of one's own --------------------------------------------------------------------------------------------

local function is_own(name, l)
  return type(name) == "string" and not schema.kinds.limits.by[name] and type(l) == "table" and
      not run.is_record(l) and l.says ~= nil
end

-- What an amount is, as the field of a limit has it: a dimension, "ratio" for a share, "number" for a plain number.
local function dimension(value)
  if type(value) == "number" then return in_force.unit(value) and "ratio" or "number" end
  return host.is_quantity(value) and (host.unit(value)) or nil
end

-- The field of a limit with a name of one's own, which its first amount says.
local function own_field(ctx, name, l)
  local known, dim = run.own_limits[name], dimension(l[1])
  if known then return known end
  if not name:find "^%a[%w_]*$" then
    raise("D017", ctx.span({ name }, true), ctx.what .. ": '" .. name .. "' is no name for a limit",
        "a name is letters, digits and _, as in fence_gap or least_cover")
  end
  if l[1] ~= nil and not dim then
    raise("D003", ctx.span({ name, 1 }), ctx.what .. ": the amount of '" .. name ..
        "' needs an amount with its unit (like 8ft) or a number, got " .. host.describe(l[1]))
  end
  return { name, "limit", name = name, type = "limit", own = true, dim = dim or "length" }
end

-- As they stand in the file.
local function in_their_order(ctx, fields)
  local at = {}
  for i, f in ipairs(fields) do
    local s = ctx.span({ f.name }, true)
    at[f] = { s.line, s.col, i }
  end
  table.sort(fields, function(a, b)
    local x, y = at[a], at[b]
    for i = 1, 2 do if x[i] ~= y[i] then return x[i] < y[i] end end
    return x[3] < y[3]
  end)
end

-- One name means one thing: the tightest of unlike things is nothing.
local function keep_own(ctx, field, l)
  local own = run.own_limits
  if own[field.name] then
    if l.says ~= field.says then
      raise("R004", ctx.span({ field.name, "says" }), ctx.what .. ": '" .. field.name .. "' means: " .. field.says ..
          "; here: " .. l.says, "say it in the same words, or give one of the two another name",
          { "the other stands at " .. host.place(field.place) })
    end
    return
  end
  field.says, field.place = l.says, l.place
  own[#own + 1], own[field.name] = field.name, field
end

-- ---- limits --------------------------------------------------------------------------------------------------------

-- A name that is no standard one and has no `says`: misspelt, or one's own that does not say what it means.
local function refuse_unknown(ctx, raw)
  for name, l in host.sorted(raw) do
    if type(name) == "string" and not schema.kinds.limits.by[name] and not is_own(name, l) then
      local names = {}
      for i, f in ipairs(schema.all_fields(schema.kinds.limits)) do names[i] = f.name end
      local near = host.nearest(name, names)
      raise("D001", ctx.span({ name }, true), ctx.what .. ": there is no standard limit '" .. name .. "'",
          (near and "did you mean '" .. near .. "'? one" or "it has " .. table.concat(names, ", ") .. "; one") ..
          ' of your own says what it means: says = "least way to the fence"')
    end
  end
end

local function add(ctx, f, field, l)
  l.name, l.role, l.whose, l.file = field.name, f.role, f.role == "job" and "this job" or f.whose, f.name
  l.place = ctx.written({ field.name }, true)
  for term, _ in host.sorted(field.extra or {}) do  -- from natural grade, at steepest tilt: told with its citation
    if l[term] then l.cite = l.cite .. ", " .. term .. " " .. l[term] end
  end
  if field.own then keep_own(ctx, field, l) end
  in_force.add(l)
end

local function add_own(ctx, f, field, l)
  add(ctx, f, field, schema.validate(ctx, { field.name }, field, l))
end

function words.limits(raw, f, refuse)
  local def, ctx, put_in = schema.kinds.limits, context "limits", {}
  local span = ctx.span
  ctx.written = span                  -- where the file says it, whatever is put in there
  function ctx.span(p, key_only)
    local o = put_in[p[1]]
    if o then ctx.what = o.from .. ": limits" return { source = 0, line = 0, col = 0, len = 0 } end
    return span(p, key_only)
  end
  if type(raw) ~= "table" then
    refuse("limits", "limits needs its table, got " .. host.describe(raw),
        "limits { height = { 20ft, cite = \"...\" } }")
  end
  raw = build.copy(raw, "limits")
  refuse_unknown(ctx, raw)
  local own = {}
  for name, l in host.sorted(raw) do
    if is_own(name, l) then own[#own + 1] = own_field(ctx, name, l) end
  end
  in_their_order(ctx, own)
  if run.limit_changes[1] then put_in = import("model.limits").put(raw, f) end
  local rest = {}
  for _, field in ipairs(own) do rest[field.name], raw[field.name] = raw[field.name], nil end
  local v = gather.fields(ctx, def, raw)
  for _, field in ipairs(def.fields) do if v[field.name] then add(ctx, f, field, v[field.name]) end end
  for _, field in ipairs(own) do gather.attempt(false, add_own, ctx, f, field, rest[field.name]) end
  for name, o in next, put_in do
    for _, l in ipairs(run.limits[name] or {}) do if in_force.is(l, o.whose) then run.limit_from[l] = o.from end end
  end
end

-- ---- no_limit ------------------------------------------------------------------------------------------------------

function words.no_limit(raw, f, refuse)
  if f.role == "job" then
    refuse("no_limit", "no_limit is an office's to say, in its place file",
        "a house that wants no such limit leaves it out, or waives the rule")
  end
  local ctx = context "no_limit"
  if type(raw) ~= "table" then
    refuse("no_limit", "no_limit needs its table, got " .. host.describe(raw),
        'no_limit { "setback", cite = "no zoning: county clerk by telephone" }')
  end
  raw = build.copy(raw, "no_limit")
  local v, wrong = gather.fields(ctx, schema.kinds.no_limit, raw)
  if wrong then return end
  if #v.limits == 0 then
    raise("D002", ctx.span({}), "no_limit names no limit", 'no_limit { "setback", cite = "..." }')
  end
  for i, name in ipairs(v.limits) do
    local field = schema.kinds.limits.by[name]
    if field and not field.of_places then
      raise("D006", ctx.span({ i }), "no_limit: '" .. name .. "' is a limit of the house, not of an office",
          "an office may say it of " .. table.concat(words.of_places(), ", "))
    end
    in_force.add_none(name, { cite = v.cite, role = f.role, whose = f.whose, file = f.name, place = ctx.span({ i }) })
  end
end

-- Names of the standard limits that offices have or have not.
function words.of_places()
  local names = {}
  for _, f in ipairs(schema.all_fields(schema.kinds.limits)) do
    if f.of_places then names[#names + 1] = f.name end
  end
  return names
end

return words
