-- SPDX-License-Identifier: MIT
-- What is kept of each variant, and what of it is sought: keep, seek, --keep, --least and --most, by path.
local run = import "model.run"
local schema = import "model.schema"
local record = import "model.record"
local path_of = import "model.path"
local exact = import "sweep.exact"
import "sweep.words"
local goals = {}

local inside, step = record.inside, path_of.step

-- ---- what a path means ---------------------------------------------------------------------------------------------

-- A kind that hangs on another may be named without that: post.F1.length, where one post is called F1.
local function full_path(parts, at, keys)
  local def = type(parts[1]) == "string" and schema.kinds[parts[1]]
  if not def or not def.parent then return parts end
  local found, names = {}, {}
  for _, r in ipairs(record.all(def.name)) do
    names[#names + 1] = inside[r].name
    if inside[r].name == parts[2] then found[#found + 1] = inside[r].path end
  end
  if #found == 1 then return table.move(parts, 3, #parts, #path_of.parse(found[1]) + 1, path_of.parse(found[1])) end
  if #found > 1 then
    at.refuse(keys, "D019", path_of.join(parts) .. " is meant for which of " .. table.concat(found, ", ") .. "?",
        "write the whole path, as in " .. step(found[1], parts[3] or "..."))
  end
  local near = parts[2] and host.nearest(tostring(parts[2]), names)
  at.refuse(keys, "D019", "there is no " .. def.name .. " '" .. tostring(parts[2]) .. "'", near and
      "did you mean '" .. near .. "'?" or names[1] and "there are " .. table.concat(names, ", ") or nil)
end

-- Reads what stands at a path, from the job down; the definition of it and its record, where they are known.
local function walk(parts)
  local x, def, rec = record.root, nil, nil
  for i = (parts[1] == "job" and parts[2] ~= nil) and 2 or 1, #parts do
    local key, d = parts[i], inside[x]
    if d and d.order and not d.by[key] and #d.order == 1 then
      x = d.order[1]
      d = inside[x]
    end
    if d and d.def and not d.order then
      def, rec = d.def.by[key] or schema.result(d.def, key) or nil, d
    else def = def and def.item end
    x = x[key]
    if x == nil then break end
  end
  return x, def, rec
end

local function is_answer(value)
  return type(value) == "number" or type(value) == "string" or type(value) == "boolean" or host.is_quantity(value) or
      host.wire(value) ~= nil
end

local function plain(value)
  if host.is_quantity(value) then return host.si(value) end
  if type(value) == "number" or type(value) == "string" or value == nil then return value end
  if type(value) == "boolean" then return tostring(value) end
  return host.wire(value) and host.format(value) or nil
end

-- What a variant has there: a number in SI (money: units of the currency), a text, or nil where it is unknown.
local function getter(parts)
  return function()
    local ok, value = pcall(walk, parts)
    if ok then return plain(value) end
    if host.class(value) or type(value) == "table" and value.code then return nil end
    error(value, 0)
  end
end

local function unknown_path(at, keys, path, err)
  local text, help = host.message(err)
  at.refuse(keys, "D019", "nothing has the path " .. path .. ": " .. text, help or err.help)
end

-- The definition where the value itself is unknown: by the record that its path goes through.
local function defined(parts)
  local ok, proxy, rest = pcall(record.locate, path_of.join(parts))
  if not ok or not proxy or not rest[1] then return nil end
  local d = inside[proxy].def
  local f = d.by[rest[1]] or schema.result(d, rest[1])
  for i = 2, #rest do f = f and (f.by and f.by[rest[i]] or f.item) end
  return f
end

local answers = { quantity = true, ratio = true, count = true, number = true, money = true, text = true, flag = true,
    date = true, position = true, choice = true, wire = true }

-- A kept result: { name, get, unit, says, dim, number = whether it is one, text(value) = as a page prints it }.
local function kept_of(path, at, keys)
  local parts, why = path_of.parse(path:match "^%s*(.-)%s*$")
  if not parts then at.refuse(keys, "D019", why, "as in job.total or rack.east.top_edge") end
  parts = full_path(parts, at, keys)
  local ok, value, def, rec = pcall(walk, parts)
  if not ok and type(value) ~= "table" then error(value, 0) end
  if not ok then
    def = defined(parts)
    if not def then unknown_path(at, keys, path, value) end
    value = nil
  elseif value == nil and not def then
    at.refuse(keys, "D019", path .. ": there is no such result or input", "as in job.total or rack.east.top_edge")
  end
  local kind = def and def.type
  if value ~= nil and not is_answer(value) or value == nil and kind and not answers[kind] then
    at.refuse(keys, "D003", path .. " is no amount and no text: " .. (value ~= nil and host.describe(value) or kind),
        "name one of its results or inputs, as in job.total or rack.east.top_edge")
  end
  local name = path_of.join(parts)
  if rec and parts[#parts] and ok then name = step(rec.path, parts[#parts]) end
  local share = kind == "ratio" or def and def.dim == "ratio"
  local unit = host.is_quantity(value) and exact.unit(value) or share and "%" or nil
  if def and def.show and not host.is(value, "money") then unit = def.show end
  local kept = { name = name, get = getter(path_of.parse(name)), unit = unit, says = def and def.says or "",
      number = value == nil and kind ~= "text" and kind ~= "choice" or type(plain(value)) == "number",
      sample = host.is_quantity(value) and value or nil, dim = host.is_quantity(value) and host.unit(value) or nil }
  kept.leaves_out = ok and def and def.leaves_out or nil
  function kept.text(v)
    if v == nil then return "unknown" end
    if type(v) ~= "number" then return tostring(v) end
    if kept.sample then return host.format(host.like(kept.sample, v), kept.unit ~= "%" and kept.unit or nil) end
    return share and host.format(v, "%") or host.format(v)
  end
  return kept
end

-- What a kept result leaves out (a price: what has none), kept beside it: two of them are to be compared only where
-- they leave out the same.  Each thing once, in the order of names; nothing left out is nil.
local function left_out(kept, of)
  local function get()
    local ok, list = pcall(kept.leaves_out)
    if not ok then
      if not host.class(list) then error(list, 0) end
      return nil
    end
    local names, met = {}, {}
    for _, x in ipairs(list) do met[x.item] = true end
    for name in host.sorted(met) do names[#names + 1] = name end
    return names[1] and table.concat(names, "; ") or nil
  end
  return { name = kept.name .. " leaves out", of = of, get = get, says = "what " .. kept.name .. " does not count",
      number = false, text = function(v) return v or "nothing" end }
end

-- ---- all of them ---------------------------------------------------------------------------------------------------

local function option_at(name, path)
  local at = { from = "--" .. name .. " " .. path }
  function at.span() return { source = 0, line = 0, col = 0, len = 0 } end
  function at.refuse(_, code, text, help)
    host.raise { code = code, text = at.from .. ": " .. text, help = help }
  end
  return at
end

-- What the options and the script say: calls f(path, at, keys) for each, in order.
local function each_path(options, word, lists, f)
  for _, at in ipairs(lists) do
    for _, p in ipairs(at[word] or {}) do f(p.path, at, p.keys) end
  end
  local option = word == "paths" and "keep" or word
  for _, path in ipairs(options[option] or {}) do
    local unsafe, mend = host.unsafe(path)
    if unsafe then host.raise { code = "U001", text = "--" .. option .. " holds " .. unsafe, help = mend } end
    f(path, option_at(option, path), {})
  end
end

-- options: { keep, least, most }, lists of paths. Gives { kept = { ... }, goals = { { name, i = which of them, most,
-- show = its text(value) } ... } }: what is sought is kept, too, and the first that is sought ranks.
function goals.of(options)
  local found = { kept = {}, goals = {} }
  local at_of = {}
  local function keep(path, at, keys)
    local kept = kept_of(path, at, keys)
    if not at_of[kept.name] then
      found.kept[#found.kept + 1] = kept
      at_of[kept.name] = #found.kept
    end
    return at_of[kept.name], kept
  end
  each_path(options, "paths", run.kept, keep)
  local sought = {}
  for _, word in ipairs { "least", "most" } do
    each_path(options, word, run.sought, function(path, at, keys)
      local i, kept = keep(path, at, keys)
      if not kept.number then
        at.refuse(keys, "D003", path .. " is a text, and has no least and no most", "seek an amount, as in job.total")
      end
      if sought[kept.name] == word then return end
      if sought[kept.name] then
        at.refuse(keys, "D006", "of " .. kept.name .. " both the least and the most are sought",
            "leave one of them out")
      end
      sought[kept.name] = word
      found.goals[#found.goals + 1] = { name = kept.name, i = i, most = word == "most", show = kept.text }
      found.kept[i].goal = word
    end)
  end
  if not found.kept[1] and run.prices and run.prices.list[1] then
    keep("job.total", option_at("keep", "job.total"), {})
  end
  for i = 1, #found.kept do
    if found.kept[i].leaves_out then
      found.kept[#found.kept + 1] = left_out(found.kept[i], i)
      found.kept[i].without = #found.kept
    end
  end
  return found
end

return goals
