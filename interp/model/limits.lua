-- SPDX-License-Identifier: MIT
-- Limits of place and house put in by path: limits.height where one of the two gives it, limits.place.height and
-- limits.house.height where both do.  Loaded when one is asked for.
local run = import "model.run"
local schema = import "model.schema"
local limits = {}

local roles = { place = true, house = true }

local function refuse(o, text, help) host.raise { code = "D019", text = o.from .. ": " .. text, help = help } end

-- The limit that a path names, and whose, as { path, name, role, value, from }.
function limits.change(o)
  local parts = o.parts
  local at = roles[parts[2]] and 3 or 2
  o.role, o.name = at == 3 and parts[2] or nil, parts[at]
  if o.name == nil then
    refuse(o, o.path .. " is a whole declaration, not one of its limits", "say which, as in " .. o.path .. ".height")
  end
  local def = schema.kinds.limits
  if not def.by[o.name] then
    local names = {}
    for i, f in ipairs(schema.all_fields(def)) do names[i] = f.name end
    local near = host.nearest(tostring(o.name), names)
    refuse(o, "there is no limit called '" .. tostring(o.name) .. "'", near and "did you mean '" .. near .. "'?" or
        "there are " .. table.concat(names, ", "))
  end
  if parts[at + 1] ~= nil then
    refuse(o, "of a limit only its amount can be put in", "write limits." .. table.concat(parts, ".", 2, at))
  end
  o.by = {}
  return o
end

-- Puts the amounts into the raw table of a file of that role; gives what was put in, by name.
function limits.put(raw, role)
  local met = {}
  for _, o in ipairs(run.limit_changes) do
    local l = (o.role or role) == role and raw[o.name]
    if type(l) == "table" and not run.is_record(l) then
      l[1], met[o.name], o.used = o.value, o, true
      o.by[role] = true
    end
  end
  return met
end

-- Raises the first that no file gives, or that both give.
function limits.refuse_unmet()
  for _, o in ipairs(run.limit_changes) do
    if not o.used then
      local whose = o.role and "the " .. o.role or "neither place nor house"
      refuse(o, whose .. " gives" .. (o.role and " no" or " a") .. " limit '" .. o.name .. "'",
          "what is not given cannot be changed: declare it in a " .. (o.role or "place or house") .. " file")
    end
    if o.by.place and o.by.house then
      refuse(o, o.path .. " is meant for which of place, house?", "write limits.place." .. o.name)
    end
  end
end

return limits
