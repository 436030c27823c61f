-- SPDX-License-Identifier: MIT
-- Literals of scripts put in by their place: "job.sline:12:9" is the literal of that file at that line and column, such
-- as a local that several declarations are made from, or the count of a loop.  Loaded when one is asked for.
local run = import "model.run"
local util = import "model.util"
local literals = {}

-- "job.sline:12:9" -> file, line, column; nil of any other path.
function literals.place(path)
  local file, line, col = string.match(path, "^(.+):(%d+):(%d+)$")
  if file then return file, math.tointeger(tonumber(line)), math.tointeger(tonumber(col)) end
end

local function refuse(o, code, text, help, at)
  host.raise { code = code, text = o.from .. ": " .. text, help = help, source = at and at.source or 0,
      line = at and at.line or 0, col = at and at.col or 0, len = at and at.len or 0 }
end

-- Whether a file of the job is meant by a name: as the messages show it, as a script names it, or the end of its path.
local function is_called(path, name)
  local named = run.named[path]
  return path == name or named and named.name == name or path:sub(-#name - 1) == "/" .. name
end
literals.is_called = is_called

local kinds = { number = "number", text = "string", flag = "boolean" }

-- The value as Lua would have read it in the place of the literal.
local function fitting(o, spot)
  local v, is = o.value, spot.value
  local function wrong(wanted, help)
    refuse(o, "D003", wanted .. " stands there, " .. spot.text .. ", and not " .. host.describe(v), help, spot)
  end
  if spot.kind == "constant" then
    local wire = host.wire(is) and (type(v) == "string" or host.wire(v)) and host.wire(v)
    if wire then return wire end
    local kind = host.is_quantity(is) and host.unit(is)
    if host.wire(is) or host.is_quantity(is) ~= host.is_quantity(v) or kind and not host.same_kind(is, v) or
        kind and host.unit(v) ~= kind or type(v) ~= type(is) then
      wrong(host.wire(is) and "a wire size" or kind and "an amount (" .. kind .. ")" or "a share",
          "as in " .. (host.wire(is) and "4 AWG" or kind and spot.text or "2.5%"))
    end
    return v
  end
  if spot.kind == "text" and type(v) == "userdata" and host.wire(v) then return host.format(v) end
  if spot.kind == "text" and o.text then return o.text:match '^"(.*)"$' or o.text:match "^'(.*)'$" or o.text end
  if type(v) ~= kinds[spot.kind] then
    wrong(spot.kind == "flag" and "true or false" or host.an(spot.kind), spot.kind == "text" and type(v) == "number" and
        'a text is put in with its quotes, as in "' .. host.format(v) .. '"' or nil)
  end
  local whole = spot.kind == "number" and not spot.text:find "[.eEpP]" and math.tointeger(v)
  return whole or v
end

local function spot_of(o, path)
  if path:find "%.lua$" then
    refuse(o, "D019", path .. " is plain Lua, and only literals of the language are put in")
  end
  local spot = host.spot(path, o.line, o.col)
  if not spot then refuse(o, "D019", "there is no literal in " .. path) end
  if not spot.hit then
    local empty = host.span(spot.source, -1, o.line, {}).len == 0
    refuse(o, "D019", "no literal stands there", "the nearest is " .. spot.text:match "^[^\r\n]*" .. " at " ..
        o.file .. ":" .. spot.line .. ":" .. spot.col, empty and spot or
        { source = spot.source, line = o.line, col = o.col, len = 1 })
  end
  return spot
end

-- The literal that is meant by a place in a file of the job that was declared, and the path of the file; nil where no
-- file of the job is called so.
function literals.find(o)
  local path
  for name in host.sorted(run.scripts) do
    if is_called(name, o.file) then
      if path then
        refuse(o, "D019", o.file .. " is meant for which of " .. path .. ", " .. name .. "?", "write the whole path")
      end
      path = name
    end
  end
  if path then return spot_of(o, path), path end
end

-- The value as it would stand in the place of that literal; raises where it would be of another kind.
literals.fitting = fitting

-- What is put in a file of the job, as host.load wants it: { { k or at, value } ... }, or nil.
function literals.of(path)
  local list, by = {}, {}
  for _, o in ipairs(run.literals) do
    if is_called(path, o.file) then
      if o.used and o.used ~= path then
        refuse(o, "D019", o.file .. " is meant for which of " .. o.used .. ", " .. path .. "?", "write the whole path")
      end
      local spot = spot_of(o, path)
      o.used = path
      local key = (spot.k and "k" or "at") .. (spot.k or spot.at)
      if not by[key] then
        by[key] = { k = spot.k, at = spot.at }
        list[#list + 1] = by[key]
      end
      by[key].value = fitting(o, spot)
    end
  end
  table.sort(list, function(a, b) return (a.at or -a.k) < (b.at or -b.k) end)
  return list[1] and list or nil
end

function literals.refuse_unknown(o)
  local names = {}
  for _, f in ipairs(host.files_read()) do
    if run.scripts[f.path] then names[#names + 1] = run.named[f.path] and run.named[f.path].name or f.path end
  end
  local near = host.nearest(o.file, names)
  refuse(o, "D019", "the job has no script " .. o.file, near and "did you mean '" .. near .. "'?" or
      "it is made from " .. util.list(names))
end

-- Raises the first place that is in no file of the job.
function literals.refuse_unmet()
  for _, o in ipairs(run.literals) do if not o.used then literals.refuse_unknown(o) end end
end

return literals
