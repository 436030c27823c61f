-- SPDX-License-Identifier: MIT
-- Paths: rack.east.tilt, run['array to shed'].wire, rack.east.posts.front[2].
local path = {}

-- A path and one more key: a name behind a dot, another one in brackets and the quotes that it does not end itself.
path.step = host.step

-- The keys of a list, from the given one on, below a path.
function path.below(text, parts, from)
  for i = from, #parts do text = path.step(text, parts[i]) end
  return text
end

-- The keys of a list, from the given one on, as a path.
function path.join(parts, from) return path.below("", parts, from or 1) end

-- "run['array to shed'].wire" -> { "run", "array to shed", "wire" }; nil and a reason where it is none.
function path.parse(text)
  local parts, at = {}, 1
  local first = string.match(text, "^[%a_][%w_]*")
  if not first then return nil, "a path starts with a kind, as in rack.east.tilt" end
  parts[1], at = first, #first + 1
  while at <= #text do
    local name, stop = string.match(text, "^%.([%a_][%w_]*)()", at)
    if not name then name, stop = string.match(text, "^%['(.-)'%]()", at) end
    if not name then name, stop = string.match(text, '^%["(.-)"%]()', at) end
    if not name then
      name, stop = string.match(text, "^%[(%d+)%]()", at)
      name = math.tointeger(tonumber(name))
    end
    if not name then
      return nil, "cannot read '" .. text:sub(at) ..
          "'; a path is written rack.east.tilt or run['array to shed'].wire"
    end
    parts[#parts + 1], at = name, stop
  end
  return parts
end

-- A path as it is written here, whatever its quotes; a text that is no path stays as it is.
function path.tidy(text)
  local parts = path.parse(text)
  return parts and path.join(parts) or text
end

-- Whether it is that of a limit, or of all: limits.height, limits['loup-county'].height.
function path.is_limit(text) return string.find(text, "^limits%f[.%[%z]") ~= nil end

return path
