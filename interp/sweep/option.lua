-- SPDX-License-Identifier: MIT
-- How --vary is written: PATH=VALUE, VALUE ... or PATH=FROM to TO by STEP.
local boot = import "model.boot"
local written = import "model.written"
local option = {}

option.help = 'as in --vary "rack.east.tilt=25deg, 30deg" or --vary "rack.east.tilt=15deg to 60deg by 1deg"'

function option.at(text)
  local at = { from = "--vary " .. text, option = true }
  function at.span() return { source = 0, line = 0, col = 0, len = 0 } end
  function at.refuse(_, code, why, help)
    host.raise { code = code, text = at.from .. ": " .. why, help = help }
  end
  return at
end

local closing = { ["("] = ")", ["["] = "]", ['"'] = '"', ["'"] = "'" }

-- The parts between a mark of one byte, where it stands in no quotes and brackets; without blanks around them.
function option.parted(text, mark)
  local list, from, inside = {}, 1, nil
  for i = 1, #text do
    local c = text:sub(i, i)
    local in_a_word = (c == "'" or c == '"') and text:sub(i - 1, i - 1):find "[%w\x80-\xff]"     -- O'Hara, 12'6"
    if inside then inside = c ~= inside and inside or nil
    elseif closing[c] and not in_a_word then inside = closing[c]
    elseif c == mark then
      list[#list + 1] = text:sub(from, i - 1)
      from = i + 1
    end
  end
  list[#list + 1] = text:sub(from)
  for i, part in ipairs(list) do list[i] = part:match "^%s*(.-)%s*$" end
  return list
end

-- field: what the value is of, where that is an input.
function option.value(at, text, field)
  if text == "" then at.refuse({}, "U001", "a value is missing", option.help) end
  local function refuse(why) at.refuse({}, "U001", why, option.help) end
  boot.value(text, refuse)
  local v, tolerance = written.value(text, field, refuse)
  return { raw = v, keys = {}, tolerance = tolerance }
end

-- "15deg to 60deg by 1deg", where these are amounts; nil of anything else.
function option.range(at, text)
  local from, to = text:match "^(%S.-)%s+to%s+(.+)$"
  if not from then return nil end
  local stop, by = to:match "^(.-)%s+by%s+(.+)$"
  to = stop or to
  if host.literal(from) == nil or host.literal(to) == nil then return nil end
  return { from = option.value(at, from), to = option.value(at, to), by = by and option.value(at, by) or nil }
end

return option
