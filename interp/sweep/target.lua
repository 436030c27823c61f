-- SPDX-License-Identifier: MIT
-- What a path of `vary` means in the job that was declared, and what may stand there: paths as --set takes them,
-- limits, literals by their place, and instead of a path the words alternate, vendors and file.
--
-- A target: { name = its path in full, field or nil, value = what stands there, said = the same as a text, off = its
-- tolerance in SI or nil, si or nil, unit or nil, says = what it is, place = where it stands or nil, shapes = whether a
-- change shapes the declarations, take = function(raw, at, keys, tolerance) -> a choice }.
-- A choice: { text = how it is read back, si or nil, value = what stands there then, off as above, plan = { entries of
-- boot.declare ... }, put = { [path] = checked value } or nil, set = what stands behind --set, or nil, alternate = its
-- name, or path = the file's }.
-- at: who asks, with refuse and span as sweep.words has them.
local run = import "model.run"
local schema = import "model.schema"
local record = import "model.record"
local build = import "model.build"
local boot = import "model.boot"
local literals = import "model.literals"
local anew = import "model.anew"
local path_of = import "model.path"
local in_force = import "model.in_force"
local exact = import "sweep.exact"
local target = {}

local inside, step = record.inside, path_of.step

-- ---- values --------------------------------------------------------------------------------------------------------

-- As a run of its own takes it: nothing of this one is in it.
local function plain(raw)
  local t = build.teller_of(raw)
  if t then return { ["told value"] = { how = t.how, value = plain(t.value), by = t.by } } end
  local d = inside[raw]
  if d then return d.name or d.path end
  if host.is_quantity(raw) then return host.like(raw, host.si(raw)) end
  return raw
end

-- The value inside measured(...) and its like, and its tolerance; tables are refused.
local function bare(raw, at, keys, tolerance)
  local t = build.teller_of(raw)
  local value = t and t.value or raw
  if type(value) == "function" or type(value) == "table" and not record.is(value) then
    at.refuse(keys, "D003", "a value of it is one amount, name or text, got " .. host.describe(value),
        "what changes several fields is an alternate: name it, as in vary { \"alternate\", \"six in series\" }")
  end
  local origin = host.is_quantity(value) and host.origin(value)
  return value, tolerance or origin and origin.tolerance or nil
end

-- Behind --set: in quotes where it would be read as something else. Sizes of wire are read as they are printed.
local function set_text(path, raw, value, text)
  local wire = type(value) ~= "string" and host.wire(value)
  local plain = type(raw) ~= "string" or wire or boot.value(text, function() end) == raw   -- what is refused is not
  if not plain then text = '"' .. text .. '"' end
  return path .. "=" .. text
end

local function si_of(value)
  return (host.is_quantity(value) or type(value) == "number") and host.si(value) or nil
end

local function unit_of(value, f)
  if host.is_quantity(value) then return exact.unit(value) end
  return f and f.type == "ratio" and "%" or nil
end

-- ---- inputs --------------------------------------------------------------------------------------------------------

-- Reads a value as its declaration would, with the caret where it stands in the sweep.
local function reader(rec, keys, f)
  local last = keys[#keys]
  return function(value, at, from, tolerance)
    local ctx = build.context(rec.def, rec.name, { source = 0, line = 0, mark = -1, from = at.from }, {})
    function ctx.span() return at.span(from) end
    function ctx.told(_, v) return v end
    function ctx.defaulted() end
    function ctx.tolerance() return tolerance end
    if f.type == "func" then at.refuse(from, "D019", "'" .. tostring(last) .. "' is a function, and is not varied") end
    return (schema.validate(ctx, table.move(keys, 1, #keys, 1, {}), f, value))
  end
end

local function input_target(path, f, value, rec, keys, shapes)
  local read = reader(rec, keys, f)
  local o = host.is_quantity(value) and host.origin(value)
  local tolerance = run.tolerances[path] or o and o.tolerance
  local t = { name = path, field = f, value = value, off = tolerance and host.si(tolerance) or nil,
      said = value == nil and "not given" or
      exact.text(value, f, tolerance), si = si_of(value), unit = unit_of(value, f), says = f.says,
      place = anew.place_of(path), shapes = shapes }
  if t.place and t.place.source == 0 then t.place = nil end
  function t.take(raw, at, from, loose)
    local bared, off = bare(raw, at, from, loose)
    local checked = read(bared, at, from, off)
    local text = exact.text(checked, f, off)
    local set = bared == raw and set_text(path, bared, checked, text) or nil
    return { text = text, si = si_of(checked), value = checked, off = off and host.si(off) or nil,
        plan = { { path = path, value = plain(raw), from = set and "--set " .. set or "vary " .. path .. " = " .. text,
            tolerance = off } },
        put = not t.shapes and not off and { [path] = checked } or nil, set = set }
  end
  return t
end

-- ---- paths of declarations -----------------------------------------------------------------------------------------


local function unknown_kind(at, keys, name, path)
  local names = schema.words()
  table.move({ "alternate", "vendors" }, 1, 2, #names + 1, names)
  local near = host.nearest(name, names)
  at.refuse(keys, "D019", "nothing declared has the path " .. path, near and "did you mean '" .. near .. "'?" or
      "as in rack.east.tilt")
end

-- The record that a path is of, and where its fields begin in the path.
local function record_of(parts, path, at, keys)
  local def = type(parts[1]) == "string" and schema.kinds[parts[1]]
  if not def or schema.not_kept[parts[1]] then unknown_kind(at, keys, parts[1], path) end
  if def.parent then
    at.refuse(keys, "D019", path .. ": " .. host.an(def.name) .. " is worked out, not declared",
        "vary what it rests on")
  end
  local order, by = record.group(def).order, record.group(def).by
  if not order[1] then at.refuse(keys, "D019", path .. ": no " .. def.name .. " is declared") end
  local proxy, from = by[parts[2]], 3
  if not (parts[2] and proxy) then proxy, from = order[1], 2 end
  if from == 2 and #order > 1 then
    local names = {}
    for i, r in ipairs(order) do names[i] = inside[r].name end
    if def.by[parts[2]] then
      at.refuse(keys, "D019", path .. " is meant for which of " .. table.concat(names, ", ") .. "?",
          "write " .. path_of.below(step(def.name, names[1]), parts, 2))
    end
    local near = parts[2] and host.nearest(tostring(parts[2]), names)
    at.refuse(keys, "D019", "nothing declared has the path " .. path, near and "did you mean '" .. near .. "'?" or
        "there are " .. table.concat(names, ", "))
  end
  return inside[proxy], from
end

local function no_field(rec, parts, i, f, path, at, keys)
  local key, names = tostring(parts[i]), {}
  for _, g in ipairs(f.fields and schema.all_fields(f) or {}) do names[#names + 1] = g.name end
  if rec.def.results and (schema.result(rec.def, key) or rec.def.children[key]) and f == rec.def then
    at.refuse(keys, "D019", path .. " is worked out, not declared",
        "vary what it rests on: `stringline explain " ..
        "job.sline " .. step(rec.path, key) .. "`")
  end
  local near = host.nearest(key, names)
  if not near and i == 2 and rec.name then near = host.nearest(key, { rec.name }) end
  at.refuse(keys, "D019", "nothing declared has the path " .. path, near and "did you mean '" .. near .. "'?" or
      names[1] and record.title(rec.def, rec.name) .. " has " .. table.concat(names, ", ") or nil)
end

-- The field at the end of a path, what stands there, and the path in full.
local function field_of(rec, parts, from, path, at, keys)
  local f, held, value, full = rec.def, rec.v, nil, rec.path
  for i = from, #parts do
    local key = parts[i]
    local inner = type(key) == "string" and f.by and f.by[key] or
        (f.type == "map" or f.line) and type(key) == "string" and f.item
        or (f.type == "list" or f.line) and math.type(key) == "integer" and f.item
    if not inner then no_field(rec, parts, i, f, path, at, keys) end
    if math.type(key) == "integer" and held and (key < 1 or key > #held) then
      at.refuse(keys, "D019", path .. ": there is no item " .. key, "items count from 1 to " .. #held)
    end
    value = held and held[key]
    f, full = inner, step(full, key)
    local d = inside[value]
    held = d and (d.list or d.map or d.v)
  end
  return f, value, full
end

local function of_path(path, parts, at, keys)
  local rec, from = record_of(parts, path, at, keys)
  if #parts < from then
    at.refuse(keys, "D019", path .. " is a whole declaration, not one of its fields",
        "say which field, as in " .. step(rec.path, rec.def.fields[#rec.def.fields > 1 and 2 or 1].name))
  end
  local f, value, full = field_of(rec, parts, from, path, at, keys)
  local own = table.move(parts, from, #parts, 1, {})
  local t = input_target(full, f, value, rec, own, value == nil or anew.shapes(full))
  return t
end

-- ---- limits and literals -------------------------------------------------------------------------------------------

-- What f gives; what it raises is told where the sweep says it.
local function placed(at, keys, f, ...)
  local packed = table.pack(pcall(f, ...))
  if packed[1] then return table.unpack(packed, 2, packed.n) end
  local err = packed[2]
  if type(err) == "table" and err.code then
    local s = at.span(keys)
    host.raise { code = err.code, text = err.text, help = err.help, source = s.source, line = s.line, col = s.col,
        len = s.len }
  end
  error(err, 0)
end

-- Raises that a file is not there, as wherever one is named.
function target.refuse_missing(path, at, keys)
  local ok, err = pcall(host.read, path)
  at.refuse(keys, "F021", ok and "cannot read " .. path or err.text, "files are looked for in the folder of the job")
end

local function of_limit(path, parts, at, keys)
  local limits = import "model.limits"
  local o = placed(at, keys, limits.change, { path = path_of.join(parts), parts = parts, from = at.from })
  local found = limits.meant(o)
  if #found ~= 1 then placed(at, keys, limits.refuse, o, #found) end
  local f = schema.amount_of_limit(in_force.field(o.name))
  local rec, full = { def = schema.kinds.limits }, in_force.path(found[1])
  local t = input_target(full, f, found[1].value, rec, { o.name }, true)
  local take = t.take
  function t.take(raw, by, from, tolerance)
    local choice = take(raw, by, from, tolerance)
    if choice.plan[1].tolerance then
      by.refuse(from, "D003", "the amount of '" .. o.name .. "' has a tolerance, but a limit is a limit",
          "write the amount alone")
    end
    return choice
  end
  t.place = found[1].place
  return t
end

-- A place as the job's files are named, where that tells which is meant.
local function short(path, o, full)
  local named = run.named[full]
  local name = named and named.name or full:match "[^/]*$"
  local other = { file = name, line = o.line, col = o.col, from = o.from }
  local ok, _, found = pcall(literals.find, other)
  return ok and found == full and name .. ":" .. o.line .. ":" .. o.col or path
end

local function of_literal(path, at, keys)
  local file, line, col = literals.place(path)
  local o = { file = file, line = line, col = col, from = at.from, path = path }
  local spot, full = placed(at, keys, literals.find, o)
  if not spot then placed(at, keys, literals.refuse_unknown, o) end
  path = short(path, o, full)
  local value = spot.value
  local t = { name = path, value = value, said = exact.text(value), si = si_of(value), unit = unit_of(value),
      says = "the literal " .. spot.text, shapes = true,
      place = { source = spot.source, line = spot.line, col = spot.col, len = spot.len } }
  function t.take(raw, by, from, tolerance)
    local bared, off = bare(raw, by, from, tolerance)
    if off then by.refuse(from, "D003", "a literal is put in without a tolerance", "write the amount alone") end
    local fits = placed(by, from, literals.fitting, { from = by.from .. " " .. path, value = bared }, spot)
    local text = exact.text(fits)
    local set = set_text(path, fits, fits, text)
    return { text = text, si = si_of(fits), value = fits, set = set,
        plan = { { path = path, value = plain(fits), from = "--set " .. set } } }
  end
  return t
end

-- ---- alternates, files, vendors ------------------------------------------------------------------------------------

local function of_alternates(at, keys)
  if not run.alternates[1] then
    at.refuse(keys, "D019", "the script has no alternates", 'declare one: alternate "six in series" { ... }')
  end
  local t = { name = "alternate", said = "as declared", says = "alternates of the job", shapes = true }
  function t.take(raw, by, from)
    if type(raw) ~= "string" or not run.alternates[raw] then
      local near = type(raw) == "string" and host.nearest(raw, run.alternates)
      by.refuse(from, "U002", "the script has no alternate " .. (type(raw) == "string" and "'" .. raw .. "'" or
          "of that name: " .. host.describe(raw)), near and "did you mean '" .. near .. "'?" or "it has " ..
          table.concat(run.alternates, ", "))
    end
    return { text = raw, value = raw, plan = placed(by, from, boot.alternate_plan, raw), alternate = raw }
  end
  return t
end

-- As boot.joined reads it back.
local function vendors_text(list)
  local names = {}
  for i, name in ipairs(list) do names[i] = name:find "%s%+%s" and '"' .. name .. '"' or name end
  return table.concat(names, " + ")
end

local function of_vendors(at, keys)
  local known = run.prices and run.prices.vendors or {}
  if not known[1] then
    at.refuse(keys, "D019", "the job reads no prices, so that no vendor can be chosen",
        'name a list of them, as in prices "prices/yard.csv"')
  end
  local t = { name = "vendors", said = run.vendors and table.concat(run.vendors, " + ") or "all",
      value = vendors_text(run.vendors or known), says = "whose prices count", shapes = true }
  function t.take(raw, by, from)
    local many = type(raw) == "table" and not record.is(raw)
    local list = many and raw or type(raw) == "string" and boot.joined(raw) or { raw }
    local seen = {}
    for i, name in ipairs(list) do
      local own = many and table.move({ i }, 1, 1, #from + 1, table.move(from, 1, #from, 1, {})) or from
      if type(name) ~= "string" or not known[name] then
        local near = type(name) == "string" and host.nearest(name, known)
        by.refuse(own, "D019", "no price list has the vendor " .. (type(name) == "string" and name or
            host.describe(name)), near and "did you mean '" .. near .. "'?" or "there are " ..
            table.concat(known, ", "))
      end
      if seen[name] then by.refuse(own, "D015", name .. " stands there twice", "leave one of them out") end
      seen[name] = true
    end
    if not list[1] then by.refuse(from, "D002", "no vendor is listed", "there are " .. table.concat(known, ", ")) end
    local those = {}
    for _, name in ipairs(known) do if seen[name] then those[#those + 1] = name end end
    local text = vendors_text(those)
    return { text = text, value = text, plan = { { vendors = those, from = "--set vendors=" .. text } },
        set = "vendors=" .. text }
  end
  return t
end

local function named_files()
  local list = {}
  for _, f in ipairs(host.files_read()) do
    if run.named[f.path] then list[#list + 1] = run.named[f.path].name end
  end
  return list
end

-- The path of the file that a name stands for in the job, and the ending that its word adds.
local function named_file(name)
  if run.instead[name] then name = run.instead[name].with end
  for _, f in ipairs(host.files_read()) do
    local n = run.named[f.path]
    if n and (n.name == name or n.name == name .. ".sline" or n.name == name .. ".lua") then
      return f.path, n.name:match "%.%w+$" or ""
    end
  end
end

function target.file(name, at, keys)
  local path, ending = named_file(name)
  if not path then
    local names = named_files()
    local near = host.nearest(name, names)
    at.refuse(keys, "D019", "the job names no file " .. name, near and "did you mean '" .. near .. "'?" or
        names[1] and "it names " .. table.concat(names, ", ") or nil)
  end
  local said = run.instead[name] and run.instead[name].with or name
  local t = { name = "file " .. name, said = said, value = path, says = run.named[path].word .. " file", shapes = true,
      file = true }
  function t.take(raw, by, from)
    if type(raw) ~= "string" or not raw:find "%S" then
      by.refuse(from, "D003", "a file is named by a text, got " .. host.describe(raw), 'as in "loup-county"')
    end
    local with = raw:sub(-#ending) == ending and raw or raw .. ending
    local other, looked = placed(by, from, host.find, with)
    if not other then target.refuse_missing(looked, by, from) end
    local set = "file " .. name .. "=" .. raw
    return { text = raw, value = other, plan = { { file = name, with = raw, from = "--set " .. set } }, set = set,
        path = other }
  end
  return t
end

-- ---- any -----------------------------------------------------------------------------------------------------------

-- The target of a path, or of one of the words in its place.
function target.of(path, at, keys)
  path = path:match "^%s*(.-)%s*$"
  if path == "alternate" then return of_alternates(at, keys) end
  if path == "vendors" then return of_vendors(at, keys) end
  local file = path:match "^file%s+(.+)$"
  if file then return target.file(file, at, keys) end
  if literals.place(path) then return of_literal(path, at, keys) end
  local parts, why = path_of.parse(path)
  if not parts then at.refuse(keys, "D019", why, "as in rack.east.tilt") end
  if parts[1] == "limits" then return of_limit(path, parts, at, keys) end
  return of_path(path, parts, at, keys)
end

return target
