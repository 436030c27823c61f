-- SPDX-License-Identifier: MIT
-- Limits: what places, the house and the job give, whose each is, which of them are in force on the day judged, and
-- what a rule gets of them.
--
-- A limit is { name, value, cite, says, may_waive, since, role, whose, file, as, place }: `says` of one with a name of
-- one's own, `file` the name of the file whose it is, `as` which kind of office gives it.
local run = import "model.run"
local schema = import "model.schema"
local record = import "model.record"
local compare = import "model.compare"
local path_of = import "model.path"
local util = import "model.util"
local in_force = {}

local step = path_of.step

run.keep("own_limits", function() return {} end)    -- names of one's own in their order, and name -> field
run.keep("limit_from", function() return {} end)    -- limit -> what put another amount into it
run.keep("no_limits", function() return {} end)     -- name -> { { cite, role, whose, file, place } ... }: see no_limit

-- names: of limits that were read -> true; by: id of a script's rule -> those that it read; rule: the one being judged.
run.keep("limit_reads", function() return { names = {}, by = {} } end)
run.keep("limits_read", function() return nil end)  -- names -> true, once the job was judged as declared

-- ---- what is given -------------------------------------------------------------------------------------------------

-- How an amount prints: a share in percent.
function in_force.unit(value) return math.type(value) == "float" and value >= 0 and value <= 1 and "%" or nil end

local function show(value) return host.format(value, in_force.unit(value)) end

-- One file gives a limit once, and the house is one; offices are several, and the tightest is taken.
function in_force.add(l)
  local list = run.limits[l.name] or {}
  run.limits[l.name], list.later = list, list.later or l.since ~= nil
  for _, other in ipairs(list) do
    local one = other.whose == l.whose
    if (one or l.role == "house" and other.role == "house") and not host.same(other.value, l.value) then
      host.raise { code = "R004",
          text = (one and l.whose .. " gives " .. l.name .. " twice: "
              or "two " .. l.role .. " files disagree on " .. l.name .. ": ") ..
              show(l.value) .. " here, " .. show(other.value) .. (one and " before" or " in " .. other.whose),
          source = l.place.source, line = l.place.line, col = l.place.col, len = l.place.len,
          notes = { "the other stands at " .. host.place(other.place) },
          help = one and "keep one of the two" or "drop one of the two " .. l.role .. " files, or make them agree" }
    end
  end
  list[#list + 1] = l
end

-- "this county has no such limit": a fact, with where it was come by.
function in_force.add_none(name, n)
  local list = run.no_limits[name] or {}
  run.no_limits[name], list[#list + 1] = list, n
end

-- The field of a limit of that name, a standard one or one's own; nil of any other.
function in_force.field(name)
  return type(name) == "string" and (schema.kinds.limits.by[name] or run.own_limits[name]) or nil
end

-- All names: the standard ones in their order, then one's own.
function in_force.names()
  local names = {}
  for i, f in ipairs(schema.all_fields(schema.kinds.limits)) do names[i] = f.name end
  return table.move(run.own_limits, 1, #run.own_limits, #names + 1, names)
end

-- Those of these names that are met, in the same order. The fields that other domains add to limits are loaded where
-- one of them is.
local function met(of)
  local list, left = {}, 0
  for _ in next, of do left = left + 1 end
  for _, f in ipairs(left > 0 and schema.kinds.limits.fields or list) do
    if of[f.name] then list[#list + 1] = f.name end
  end
  for _, name in ipairs(run.own_limits) do if of[name] then list[#list + 1] = name end end
  if #list == left then return list end
  list = {}
  for _, name in ipairs(in_force.names()) do if of[name] then list[#list + 1] = name end end
  return list
end

-- The path of a limit: limits.height, and where several give it by whose it is, too: limits.house.height, or by the
-- file, limits['loup-county'].height.
function in_force.path(l)
  local list, alike = run.limits[l.name], 0
  if #list == 1 then return step("limits", l.name) end
  for _, other in ipairs(list) do if other.role == l.role then alike = alike + 1 end end
  return step(step("limits", alike > 1 and l.file or l.role), l.name)
end

-- Whether a limit is the one that a path of keys means, whose = keys[2] or nothing.
function in_force.is(l, whose) return whose == nil or whose == l.role or whose == l.file end

-- Once all is declared: whose each limit is.  An office is known by its own name.
function in_force.settle()
  local function owned(of)
    for _, list in host.sorted(of) do
      for _, l in ipairs(list) do
        local office = run.groups.authority and run.groups.authority.by[l.file]
        if l.role ~= "house" and office then
          local v = record.inside[office].v
          l.whose, l.as = v.name, v.as
        end
      end
    end
  end
  owned(run.limits)
  owned(run.no_limits)
  for name, list in host.sorted(run.no_limits) do
    for _, n in ipairs(list) do
      if not in_force.field(name) then
        local names = in_force.names()
        local near = host.nearest(name, names)
        host.raise { code = "R008", text = "no_limit: there is no limit called '" .. name .. "'",
            source = n.place.source, line = n.place.line, col = n.place.col, len = n.place.len,
            help = near and "did you mean '" .. near .. "'?" or "there are " .. table.concat(names, ", ") }
      end
      for _, l in ipairs(run.limits[name] or {}) do
        if l.role == n.role and l.file == n.file then
          host.raise { code = "R004",
              text = l.whose .. " has no limit '" .. name .. "', as is said here, and gives one",
              source = n.place.source, line = n.place.line, col = n.place.col, len = n.place.len,
              notes = { "it stands at " .. host.place(l.place) }, help = "keep the one that is true" }
        end
      end
    end
  end
end

local function of_office(list, name)
  for _, x in ipairs(list or {}) do if x.whose == name then return x end end
end

-- The other offices of the job, by name, that say of some of these limits neither what it is nor that they have none.
function in_force.silent(names, whose)
  local list, met = {}, { [whose or ""] = true }
  for _, f in ipairs(run.role_files) do
    if f.role == "place" then
      local office, told = run.groups.authority and run.groups.authority.by[f.name], 0
      local name = office and record.inside[office].v.name or f.role .. " " .. f.name
      for _, limit in ipairs(names) do
        local said = of_office(run.no_limits[limit], name) or of_office(run.limits[limit], name)
        if said then told = told + 1 end
      end
      if told < #names and not met[name] then list[#list + 1], met[name] = name, true end
    end
  end
  return list
end

-- ---- what is in force ----------------------------------------------------------------------------------------------

-- A limit that begins later than the day judged is none yet; without a day, all are.
local function begun(l, today) return not (l.since and today) or l.since <= today end -- dates as texts are in order

local function today() return record.given(record.root, "on") end

-- Those of that name that are in force, and the first that is not yet.
local function in_force_of(name)
  local list = run.limits[name]
  if not (list and list.later) then return list end
  local now, day, first = {}, today(), nil
  for _, l in ipairs(list) do
    if begun(l, day) then now[#now + 1] = l else first = first or l end
  end
  return now[1] and now, first
end

local function not_yet(l)
  return "the limit '" .. l.name .. "' of " .. l.whose .. " is in force from " .. l.since .. " on"
end

-- Why nobody has such a limit: nil where one is in force, or where an office of the job does not say so.
function in_force.none(name)
  local list, later = in_force_of(name)
  if list then return nil end
  local none = run.no_limits[name]
  if none and not in_force.silent({ name })[1] then
    return none[1].whose .. " has no limit '" .. name .. "' (" .. none[1].cite .. ")"
  end
  return later and run.own_limits[name] and not_yet(later) .. ", after the day judged, " .. today() or nil
end

function in_force.has(name) return in_force_of(name) ~= nil end

-- For `applies`: whether a rule that needs the limit has something to judge; behind a no, why not.
function in_force.wanted(name)
  local why = in_force.none(name)
  return why == nil, why
end

-- ---- what a rule gets ----------------------------------------------------------------------------------------------

-- The script's rule that is being judged, so that it is known which limits it reads.
function in_force.asked_by(id) run.limit_reads.rule = id end

local function note(name)
  local reads = run.limit_reads
  reads.names[name] = true
  local id = reads.rule
  if not id then return end
  reads.by[id] = reads.by[id] or {}
  reads.by[id][name] = true
end

-- Names of the limits that f(...) asks for, in their order.
function in_force.asked(f, ...)
  local reads, before, names = run.limit_reads, run.limit_reads.names, {}
  reads.names = {}
  pcall(f, ...)
  for name in host.sorted(reads.names) do names[#names + 1] = name end
  reads.names = before
  return names
end

-- The job was judged as it is declared: what of limits was read till now was read by its rules.
function in_force.judged()
  if run.limits_read then return end
  run.limits_read = {}
  for name in next, run.limit_reads.names do run.limits_read[name] = true end
end

local function refuse_name(name)
  local names = in_force.names()
  local near = type(name) == "string" and host.nearest(name, names)
  host.raise { code = "R008", text = "there is no limit called '" .. tostring(name) .. "'",
      help = near and "did you mean '" .. near .. "'?" or "there are " .. table.concat(names, ", ") }
end

-- What is missing where nobody gives the limit; an office that has none does not speak for the others.
local function not_given(name, later)
  if later then return not_yet(later) .. ", and none before it is given" end
  local none = run.no_limits[name]
  if not none then return "no limit '" .. name .. "' is given by place or house" end
  local silent = in_force.silent({ name })
  return none[1].whose .. " has no limit '" .. name .. "', and " .. util.list(silent) ..
      (silent[2] and " do" or " does") .. " not say"
end

-- All limits of that name that are in force, of which the comparison takes the tightest; missing if nobody gave one,
-- and not wanted (class "none") where there is none.
function in_force.limit(name)
  note(name)
  local list, later = in_force_of(name)
  if not list then
    if not in_force.field(name) then refuse_name(name) end
    local why = in_force.none(name)
    if why then host.raise { code = "D010", class = "none", text = why, path = "limits." .. name } end
    host.raise { code = "D010", class = "missing", text = not_given(name, later),
        path = "limits." .. name, who = "the authority or the house", tool = "its handout" }
  end
  local kept = list.kept
  if not kept or #kept ~= #list then
    kept = {}
    for i, l in ipairs(list) do
      l.bound, l.kept = true, l.kept or compare.hold_limit(l)
      kept[i] = l.kept
    end
    list.kept = kept
  end
  return table.unpack(kept)
end

-- Who may waive a rule of a script that says nothing of it: whom all the limits that it read let, also where those are
-- not in force yet.
function in_force.may_waive(id)
  local whom
  for name in host.sorted(run.limit_reads.by[id] or {}) do
    for _, l in ipairs(in_force_of(name) or run.limits[name] or {}) do
      local may = l.may_waive or "nobody"
      if whom and whom ~= may then return "nobody" end
      whom = may
    end
  end
  return whom or "nobody"
end

-- ---- told ----------------------------------------------------------------------------------------------------------

-- Those that a comparison found to be not the tightest.
local function beaten(outcomes)
  local out = {}
  for i = 1, outcomes and #outcomes or 0 do
    local others = outcomes[i].finding and outcomes[i].finding.others
    for k = 1, others and #others or 0 do out[others[k]] = true end
  end
  return out
end

-- All limits that are given, the standard ones first: { limit = l, name, value, unit, says, whose, as, cite, since,
-- may_waive, path, place, own, in_force, read = whether a rule of this job read it (nil: not judged yet), tightest =
-- whether of several in force it is the one that counts (nil: no rule compared with it) } ...  outcomes, if given, are
-- those of the job.
function in_force.list(outcomes)
  local list, other = {}, beaten(outcomes)
  for _, name in ipairs(met(run.limits)) do
    local day, f, any = today(), in_force.field(name), false
    for _, l in ipairs(run.limits[name]) do any = any or other[l] end
    for _, l in ipairs(run.limits[name]) do
      local now = begun(l, day)
      list[#list + 1] = { limit = l, name = name, value = l.value, unit = in_force.unit(l.value),
          says = l.says or f.says, whose = l.whose, as = l.as, cite = l.cite, since = l.since, may_waive = l.may_waive,
          path = in_force.path(l), place = l.place, from = run.limit_from[l],
          own = run.own_limits[name] ~= nil, in_force = now,
          read = run.limits_read and (run.limits_read[name] or false), tightest = now and any and not other[l] or nil }
      if now and other[l] then list[#list].tightest = false end
    end
  end
  return list
end

-- What offices say they have no limit of: { name, says, whose, cite, place } ..., in the order of the names.
function in_force.list_none()
  local list = {}
  for _, name in ipairs(met(run.no_limits)) do
    for _, n in ipairs(run.no_limits[name]) do
      list[#list + 1] = { name = name, says = in_force.field(name).says, whose = n.whose, cite = n.cite,
          place = n.place }
    end
  end
  return list
end

return in_force
