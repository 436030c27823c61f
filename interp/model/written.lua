-- SPDX-License-Identifier: MIT
-- A value written on the command line, read as its field wants it: a position, a date and a name are texts without
-- quotes, "{ 90deg, 45deg }" is a list, "{ at = 20ft, what = "water" }" a table.  What cannot be read so stays a text,
-- which its declaration refuses in its own words.
local no_data = import "model.no_data"
local written = {}

-- A size of wire as a script may have it, awg"4/0"; nil of any other text.
local function wire_size(text)
  local size = text:match '^awg%s*"([^"]*)"$' or text:match "^awg%s*'([^']*)'$" or
      text:match '^awg%s*%(%s*"([^"]*)"%s*%)$' or text:match "^awg%s*%(%s*'([^']*)'%s*%)$"
  return size and host.wire(size)
end

-- What a text is where no field says what it wants: a quantity, a number, true or false, a size of wire, no_data("...")
-- or a text; and its tolerance.  refuse(why): that it cannot be.
local function plain(text, refuse)
  local v, tolerance = host.literal(text)
  if v ~= nil then return v, tolerance end
  local size = wire_size(text)
  if size then return size end
  if text == "true" then return true elseif text == "false" then return false end
  local code = text:match "^no_data%s*%(%s*[\"']?(.-)[\"']?%s*%)$"
  if not code then return text:match '^"(.*)"$' or text:match "^'(.*)'$" or text end
  local why, help = no_data.refused(code)
  if why then refuse(why, help) end
  return no_data.text(code)
end
written.plain = plain

-- A name, in quotes or not.
local function unquoted(text) return text:match '^"([^"]*)"$' or text:match "^'([^']*)'$" or text end
written.unquoted = unquoted

local value

-- The pieces between commas that stand in no quotes and no brackets, without blanks around them; nil where one of those
-- is not closed.
local function parted(text)
  local list, from, depth, quote = {}, 1, 0, nil
  for i = 1, #text + 1 do
    local c = text:sub(i, i)
    if quote then quote = c ~= quote and quote or nil
    elseif c:find "[\"']" and not text:sub(i - 1, i - 1):find "%w" then quote = c           -- not in 12'6"
    elseif c:find "[%[{(]" then depth = depth + 1
    elseif c:find "[%]})]" then depth = depth - 1
    elseif c == "," and depth == 0 or c == "" then
      list[#list + 1] = text:sub(from, i - 1):match "^%s*(.-)%s*$"
      from = i + 1
    end
  end
  if list[#list] == "" then list[#list] = nil end              -- {}, and a comma behind the last
  return depth == 0 and not quote and list or nil
end

-- What stands between the braces of a text; nil where it is no table.
local function pieces(text)
  local inner = text:match "^{(.*)}$"
  return inner and parted(inner)
end

local function items(list, f, refuse)
  local out = {}
  for i, piece in ipairs(list) do out[i] = value(piece, f.item, refuse) end
  return out
end

-- name = VALUE, ["a name"] = VALUE, or a value alone.  of(name): the field that the name has.
local function fields(list, of, refuse)
  local out = {}
  for _, piece in ipairs(list) do
    local name, rest = piece:match "^([%a_][%w_]*)%s*=%s*(.+)$"
    if not name then name, rest = piece:match "^%[[\"'](.-)[\"']%]%s*=%s*(.+)$" end
    if name then out[name] = value(rest, of(name), refuse) else out[#out + 1] = value(piece, nil, refuse) end
  end
  return out
end

local read = {}

function read.text(text) return unquoted(text) end
read.part, read.ref, read.date, read.position = read.text, read.text, read.text, read.text

function read.wire(text) return wire_size(text) or unquoted(text) end

function read.choice(text, f, refuse)
  for _, c in ipairs(f.choices) do if tostring(c) == unquoted(text) then return c end end
  return plain(text, refuse)
end

-- As pages print it, too.
function read.flag(text, _, refuse)
  if text == "yes" or text == "no" then return text == "yes" end
  return plain(text, refuse)
end

function read.list(text, f, refuse)
  local list = pieces(text)
  if list then return items(list, f, refuse) end
  if f.or_text or text:find "^{" then return unquoted(text) end
  list = parted(text)
  return list and items(list, f, refuse) or text
end

function read.map(text, f, refuse)
  local list = pieces(text)
  return list and fields(list, function() return f.item end, refuse) or text
end

function read.group(text, f, refuse)
  local list = pieces(text)
  if list then return fields(list, function(name) return f.by[name] end, refuse) end
  return f.bare and unquoted(text) or text
end

local function any_table(text, _, refuse)
  local list = pieces(text)
  return list and fields(list, function() end, refuse) or plain(text, refuse)
end
read.conditions, read.lot, read.func, read.limit = any_table, any_table, any_table, any_table

-- The value, and its tolerance; f: the field, or nil of what has none; refuse(why): as of plain.
function value(text, f, refuse)
  if f and read[f.type] and not text:find "^no_data%s*%(" then return read[f.type](text, f, refuse) end
  return plain(text, refuse)
end

written.value = value
return written
