-- SPDX-License-Identifier: MIT
-- Limits put in by path: limits.height where one file gives it; where place, house and job do, limits.place.height,
-- limits.house.height and limits.job.height; where several places do, by the name of the file,
-- limits['loup-county'].height.  Loaded when one is asked for.
local run = import "model.run"
local schema = import "model.schema"
local in_force = import "model.in_force"
local limits = {}

local roles = { place = true, house = true, job = true }

local function refuse(o, text, help) host.raise { code = "D019", text = o.from .. ": " .. text, help = help } end

-- The limit that a path names, and whose, as { path, name, whose, value, from }.  Whether there is one is known once
-- all is declared.
function limits.change(o)
  local parts, standard = o.parts, schema.kinds.limits.by
  local whole = parts[2] == nil or parts[3] == nil and roles[parts[2]]
  if whole then
    refuse(o, o.path .. " is a whole declaration, not one of its limits", "say which, as in " .. o.path .. ".height")
  end
  local at = parts[3] ~= nil and not standard[parts[2]] and 3 or 2
  o.whose, o.name = at == 3 and parts[2] or nil, parts[at]
  if parts[at + 1] ~= nil then
    refuse(o, "of a limit only its amount can be put in", "write limits." .. table.concat(parts, ".", 2, at))
  end
  o.met = {}
  return o
end

-- Puts the amounts into the raw table of a file; gives what was put in, by name.
function limits.put(raw, file)
  local put_in = {}
  for _, o in ipairs(run.limit_changes) do
    local l = in_force.is({ role = file.role, file = file.name }, o.whose) and raw[o.name]
    if type(l) == "table" and not run.is_record(l) then
      l[1], put_in[o.name], o.used = o.value, o, true
      o.met[file.whose] = true
    end
  end
  return put_in
end

local function spoken(names) return table.concat(names, ", ") end

-- Raises that nobody gives it, or that several do.
function limits.refuse(o, found)
  if not in_force.field(o.name) then
    local names = in_force.names()
    local near = host.nearest(tostring(o.name), names)
    refuse(o, "there is no limit called '" .. tostring(o.name) .. "'", near and "did you mean '" .. near .. "'?" or
        "there are " .. spoken(names))
  end
  local paths = {}
  for i, l in ipairs(run.limits[o.name] or {}) do paths[i] = in_force.path(l) end
  if found > 1 then refuse(o, o.path .. " is meant for which of them?", "there are " .. spoken(paths)) end
  local files, known = {}, o.whose == nil or roles[o.whose]
  for i, f in ipairs(run.role_files) do
    files[i] = f.name
    known = known or f.name == o.whose
  end
  if not known then
    local near = host.nearest(tostring(o.whose), files)
    refuse(o, "the job names no place or house file '" .. tostring(o.whose) .. "'", near and "did you mean '" .. near ..
        "'?" or files[1] and "it names " .. spoken(files) or nil)
  end
  local whose = roles[o.whose] and "the " .. o.whose or o.whose or "neither place nor house"
  refuse(o, whose .. " gives" .. (o.whose and " no" or " a") .. " limit '" .. o.name .. "'",
      paths[1] and "there " .. (paths[2] and "are " or "is ") .. spoken(paths) or
      "what is not given cannot be changed: declare it in a " ..
      (roles[o.whose] and o.whose or "place or house") ..
      " file")
end

-- Raises the first that no file gives, or that several give.
function limits.refuse_unmet()
  for _, o in ipairs(run.limit_changes) do
    local found = 0
    for _ in next, o.met do found = found + 1 end
    if found ~= 1 then limits.refuse(o, found) end
  end
end

-- The limits that a path means: one, where it is a path in full.
function limits.meant(o)
  local list = {}
  for _, l in ipairs(run.limits[o.name] or {}) do if in_force.is(l, o.whose) then list[#list + 1] = l end end
  return list
end

-- The limit of a path in full, or nil.
function limits.at(path)
  local parts = import("model.path").parse(path)
  for _, l in ipairs(parts and run.limits[parts[#parts]] or {}) do
    if in_force.path(l) == path or in_force.is(l, parts[3] and parts[2]) then return l end
  end
end

return limits
