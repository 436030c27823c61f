-- SPDX-License-Identifier: MIT
-- Reads JSON (RFC 8259): objects and arrays become tables, null becomes json.null.  Any bytes may come in.
local reader = { null = setmetatable({}, { __name = "null" }) }

local DEEP = 100          -- a report nests a tenth of that; a hostile text must not exhaust the stack

local find, sub, byte = string.find, string.sub, string.byte
local escapes = { ['"'] = '"', ["\\"] = "\\", ["/"] = "/", b = "\b", f = "\f", n = "\n", r = "\r", t = "\t" }
local names = { ["true"] = true, ["false"] = false, null = reader.null }

-- Raised and caught in here.
local function fail(at, why) error({ at = at, why = why }, 0) end

local function skip(text, at) return find(text, "[^ \t\r\n]", at) or #text + 1 end

local function code_point(text, at)               -- of \uXXXX, and of the pair that two of them are
  local high = tonumber(text:match("^%x%x%x%x", at) or fail(at, "four hexadecimal digits are wanted"), 16)
  if high < 0xD800 or high > 0xDFFF then return utf8.char(high), at + 4 end
  local low = tonumber(text:match("^\\u(%x%x%x%x)", at + 4) or "0", 16)
  if high > 0xDBFF or low < 0xDC00 or low > 0xDFFF then fail(at, "half of a pair") end
  return utf8.char(0x10000 + (high - 0xD800) * 0x400 + low - 0xDC00), at + 10
end

local function read_string(text, at)              -- at: behind the quote
  local parts = {}
  while true do
    local stop = find(text, '["\\%c]', at) or fail(at, "the string is not closed")
    parts[#parts + 1] = sub(text, at, stop - 1)
    local c = sub(text, stop, stop)
    if c == '"' then return table.concat(parts), stop + 1 end
    if c ~= "\\" and byte(c) ~= 127 then fail(stop, "a control character in a string") end
    local e = sub(text, stop + 1, stop + 1)
    if c ~= "\\" then parts[#parts + 1], at = c, stop + 1
    elseif e == "u" then parts[#parts + 1], at = code_point(text, stop + 2)
    else parts[#parts + 1], at = escapes[e] or fail(stop, "no such escape"), stop + 2 end
  end
end

local function read_number(text, at)
  local _, stop = find(text, "^-?%d+", at)
  if not stop or find(text, "^-?0%d", at) then fail(at, "no value") end
  local _, more = find(text, "^%.%d+", stop + 1)
  stop = more or stop
  _, more = find(text, "^[eE][+-]?%d+", stop + 1)
  stop = more or stop
  return tonumber(sub(text, at, stop)), stop + 1
end

local read_value

local function read_list(text, at, depth)
  local list = {}
  at = skip(text, at)
  if sub(text, at, at) == "]" then return list, at + 1 end
  while true do
    list[#list + 1], at = read_value(text, at, depth)
    at = skip(text, at)
    local c = sub(text, at, at)
    if c == "]" then return list, at + 1 end
    if c ~= "," then fail(at, "a comma or a ] is wanted") end
    at = at + 1
  end
end

local function read_object(text, at, depth)
  local object = {}
  at = skip(text, at)
  if sub(text, at, at) == "}" then return object, at + 1 end
  while true do
    at = skip(text, at)
    if sub(text, at, at) ~= '"' then fail(at, "a key is wanted") end
    local key
    key, at = read_string(text, at + 1)
    at = skip(text, at)
    if sub(text, at, at) ~= ":" then fail(at, "a colon is wanted") end
    if object[key] ~= nil then fail(at, "a key twice") end
    object[key], at = read_value(text, at + 1, depth)
    at = skip(text, at)
    local c = sub(text, at, at)
    if c == "}" then return object, at + 1 end
    if c ~= "," then fail(at, "a comma or a } is wanted") end
    at = at + 1
  end
end

function read_value(text, at, depth)
  at = skip(text, at)
  local c = sub(text, at, at)
  if depth > DEEP then fail(at, "nested too deep") end
  if c == "{" then return read_object(text, at + 1, depth + 1) end
  if c == "[" then return read_list(text, at + 1, depth + 1) end
  if c == '"' then return read_string(text, at + 1) end
  local word = text:match("^%a+", at)
  if word then
    if names[word] == nil then fail(at, "no value") end
    return names[word], at + #word
  end
  return read_number(text, at)
end

-- The value, or nil, why and where.
function reader.read(text)
  local ok, value, at = pcall(read_value, text, 1, 0)
  if ok then
    at = skip(text, at)
    if at <= #text then return nil, "something stands behind the end", at end
    return value
  end
  if type(value) == "table" and value.why then return nil, value.why, value.at end
  error(value, 0)
end

return reader
