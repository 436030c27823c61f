-- SPDX-License-Identifier: MIT
-- Reads JSON as RFC 8259 has it, and nothing else: no trailing comma, no comment, no second key, UTF-8 only.
--
-- json.read(text) -> value; raises "line:column: what is wrong". Objects keep their keys in order:
-- { [json.keys] = { "a", ... }, a = ... }; json.is_array and json.is_object tell tables apart; null is json.null.
local json = { null = setmetatable({}, { __tostring = function() return "null" end }), keys = {} }

local array_meta = {}
function json.is_array(v) return type(v) == "table" and getmetatable(v) == array_meta end
function json.is_object(v) return type(v) == "table" and v[json.keys] ~= nil end

local NAMED = { ['"'] = '"', ["\\"] = "\\", ["/"] = "/", b = "\b", f = "\f", n = "\n", r = "\r", t = "\t" }
local DEEPEST = 500

function json.read(text)
  local at = 1
  local value                                          -- value(depth): the reader of any value

  local function wrong(what, where)
    local before = text:sub(1, (where or at) - 1)
    local _, lines = before:gsub("\n", "")
    error(("%d:%d: %s"):format(lines + 1, #before:match("[^\n]*$") + 1, what), 0)
  end
  local function blanks() at = text:find("[^ \t\r\n]", at) or #text + 1 end
  local function next_is(char)
    if text:sub(at, at) ~= char then return false end
    at = at + 1
    return true
  end

  local function unit()                                -- the four digits behind \u
    local hex = text:match("^%x%x%x%x", at)
    if not hex then wrong "four hexadecimal digits are wanted" end
    at = at + 4
    return tonumber(hex, 16)
  end

  local function escape()
    local char = text:sub(at, at)
    at = at + 1
    if NAMED[char] then return NAMED[char] end
    if char ~= "u" then wrong("no such escape: \\" .. char, at - 1) end
    local code = unit()
    if code >= 0xDC00 and code <= 0xDFFF then wrong "the second half of a pair comes first" end
    if code < 0xD800 or code > 0xDBFF then return utf8.char(code) end
    if text:sub(at, at + 1) ~= "\\u" then wrong "half a pair" end
    at = at + 2
    local low = unit()
    if low < 0xDC00 or low > 0xDFFF then wrong "half a pair" end
    return utf8.char(0x10000 + (code - 0xD800) * 0x400 + (low - 0xDC00))
  end

  local function text_of()
    local parts, start = {}, at
    at = at + 1
    while true do
      local stop = text:find('["\\%c]', at)
      if not stop then wrong("a string is not closed", start) end
      parts[#parts + 1] = text:sub(at, stop - 1)
      local char = text:sub(stop, stop)
      at = stop + 1
      if char == '"' then return table.concat(parts) end
      if char == "\\" then parts[#parts + 1] = escape()
      elseif char == "\127" then parts[#parts + 1] = char
      else wrong("a control character in a string", stop) end
    end
  end

  local function number()
    local start = at
    local whole = text:match("^-?0", at) or text:match("^-?[1-9]%d*", at)
    if text:find("^-?0%d", at) then wrong "a number begins with 0" end
    if not whole then wrong "no value begins so" end
    at = at + #whole
    local fraction = text:match("^%.%d+", at) or ""
    at = at + #fraction
    local exponent = text:match("^[eE][+-]?%d+", at) or ""
    at = at + #exponent
    if text:find("^[%w.+-]", at) then wrong "a malformed number" end
    return tonumber(text:sub(start, at - 1))
  end

  local function array(depth)
    local list = setmetatable({}, array_meta)
    at = at + 1
    blanks()
    if next_is "]" then return list end
    repeat
      list[#list + 1] = value(depth)
      blanks()
    until not next_is ","
    if not next_is "]" then wrong "`,` or `]` is wanted" end
    return list
  end

  local function object(depth)
    local keys = {}
    local map = { [json.keys] = keys }
    at = at + 1
    blanks()
    if next_is "}" then return map end
    repeat
      blanks()
      if text:sub(at, at) ~= '"' then wrong "a key is wanted" end
      local where = at
      local key = text_of()
      if map[key] ~= nil then wrong("the key '" .. key .. "' stands there twice", where) end
      blanks()
      if not next_is ":" then wrong "`:` is wanted" end
      map[key] = value(depth)
      keys[#keys + 1] = key
      blanks()
    until not next_is ","
    if not next_is "}" then wrong "`,` or `}` is wanted" end
    return map
  end

  local words = { ["true"] = true, ["false"] = false, null = json.null }
  function value(depth)
    if depth > DEEPEST then wrong "too deep" end
    blanks()
    local char = text:sub(at, at)
    if char == '"' then return text_of() end
    if char == "{" then return object(depth + 1) end
    if char == "[" then return array(depth + 1) end
    local word = text:match("^%l+", at)
    if word and words[word] ~= nil then
      at = at + #word
      return words[word]
    end
    if char == "" then wrong "a value is wanted" end
    return number()
  end

  local good, bad_at = utf8.len(text)
  if not good then wrong("no UTF-8", bad_at) end
  local all = value(0)
  blanks()
  if at <= #text then wrong "something stands behind the value" end
  return all
end

return json
