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
  local parts, at = host.path_parts(text)
  if parts then return parts end
  if at == 1 then return nil, "a path starts with a kind, as in rack.east.tilt" end
  return nil, "cannot read '" .. text:sub(at) .. "'; a path is written rack.east.tilt or run['array to shed'].wire"
end

-- A path as it is written here, whatever its quotes; a text that is no path stays as it is.
function path.tidy(text)
  local parts = path.parse(text)
  return parts and path.join(parts) or text
end

-- Whether it is that of a limit, or of all: limits.height, limits['loup-county'].height.
function path.is_limit(text) return string.find(text, "^limits%f[.%[%z]") ~= nil end

return path
