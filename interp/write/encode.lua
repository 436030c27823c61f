-- SPDX-License-Identifier: MIT
-- Values as JSON (RFC 8259), keys in the order given: object { { key, value } ... }, array { value ... }, texts,
-- numbers, true and false.
import "model.util"                     -- host.sorted
local encode = {}

local object_meta, array_meta, raw_meta = {}, {}, {}
-- A nil value is left out.
function encode.object(pairs_of) return setmetatable(pairs_of, object_meta) end
function encode.array(list) return setmetatable(list, array_meta) end

-- Plain tables: a list, or names in their order.  An empty one is a list.
function encode.plain(v)
  if type(v) ~= "table" then return v end
  local out = {}
  if next(v) == nil or v[1] ~= nil then
    for i, x in ipairs(v) do out[i] = encode.plain(x) end
    return encode.array(out)
  end
  for k, x in host.sorted(v) do out[#out + 1] = { k, encode.plain(x) } end
  return encode.object(out)
end

-- A text that is JSON already.
function encode.raw(text) return setmetatable({ text }, raw_meta) end

local quoted = host.json

local function number(n)
  if math.type(n) == "integer" then return tostring(n) end
  if n ~= n or n == math.huge or n == -math.huge then return "null" end       -- JSON has no such number
  local whole = math.tointeger(n)
  if whole and math.abs(whole) < 1e15 then return tostring(whole) end
  return string.format("%.17g", n)
end

-- Adds the pieces of a value to a list: a text put together level by level would be copied at each.
local function write(v, indent, to)
  local kind = getmetatable(v)
  if kind == raw_meta then to[#to + 1] = v[1]
  elseif kind == object_meta or kind == array_meta then
    local object, inner, first = kind == object_meta, indent .. "  ", true
    to[#to + 1] = object and "{" or "["
    for _, x in ipairs(v) do
      if not object or x[2] ~= nil then
        to[#to + 1] = first and "\n" or ",\n"
        to[#to + 1] = inner
        first = false
        if object then
          to[#to + 1] = quoted(x[1])
          to[#to + 1] = ": "
          write(x[2], inner, to)
        else write(x, inner, to) end
      end
    end
    if not first then
      to[#to + 1] = "\n"
      to[#to + 1] = indent
    end
    to[#to + 1] = object and "}" or "]"
  elseif type(v) == "string" then to[#to + 1] = quoted(v)
  elseif type(v) == "number" then to[#to + 1] = number(v)
  else to[#to + 1] = tostring(v) end
end

local function written(v, indent, last)
  local pieces = {}
  write(v, indent, pieces)
  pieces[#pieces + 1] = last
  return table.concat(pieces)
end

-- A value as the text that it has so many levels deep, so that a long list of them is not kept twice.
function encode.done(v, depth) return encode.raw(written(v, string.rep("  ", depth))) end

-- On one line, without blanks.
local function compact(v)
  local kind = getmetatable(v)
  if kind ~= object_meta and kind ~= array_meta then return written(v, "") end
  local parts = {}
  for _, x in ipairs(v) do
    if kind == array_meta then parts[#parts + 1] = compact(x)
    elseif x[2] ~= nil then parts[#parts + 1] = quoted(x[1]) .. ":" .. compact(x[2]) end
  end
  return (kind == array_meta and "[" or "{") .. table.concat(parts, ",") .. (kind == array_meta and "]" or "}")
end

-- The same as a text that is JSON already: for what only programs read.
function encode.compact(v) return encode.raw(compact(v)) end

-- A whole text, with its line end.
function encode.text(v) return written(v, "", "\n") end

return encode
