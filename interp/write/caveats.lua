-- SPDX-License-Identifier: MIT
-- What stands beside a verdict: what it does not judge, what it takes somebody's word for, how little is left.  A person
-- who reads no further must not be misled.
local record = import "model.record"
local run = import "model.run"
local verdict = import "write.verdict"
local words = import "write.words"
local caveats = {}

local inside = record.inside

-- ---- for the domains -----------------------------------------------------------------------------------------------

-- Names of a record's facts that were given without a word of where they are from: those of `first` go before the
-- others, those of `but` are left out.
function caveats.unsourced(proxy, first, but)
  local rec, list, done = inside[proxy], {}, {}
  for _, name in ipairs(but or {}) do done[name] = true end
  local function look(f)
    if done[f.name] then return end
    done[f.name] = true
    local defaulted = false
    local path = rec.path .. "." .. f.name
    for _, d in ipairs(run.defaults) do defaulted = defaulted or d.path == path end
    if rec.v[f.name] == nil or defaulted or run.told[path] then return end
    if f.type ~= "group" then
      list[#list + 1] = f.name
      return
    end
    local group = inside[rec.v[f.name]]
    for _, inner in ipairs(f.fields) do
      if group.v[inner.name] ~= nil and not run.told[path .. "." .. inner.name] then
        list[#list + 1] = f.name .. "." .. inner.name
      end
    end
  end
  for _, name in ipairs(first or {}) do look(rec.def.by[name]) end
  for _, f in ipairs(rec.def.fields) do look(f) end
  return list
end

-- ---- rows ----------------------------------------------------------------------------------------------------------

local function guessed(row)
  for path, t in host.sorted(run.told) do
    if t.how == "guess" then
      row("guessed", path .. " " .. words.show(record.at(path), words.input_unit(path, record.at(path))) ..
          (t.by and " (" .. t.by .. ")" or ""))
    end
  end
end

local most = 5

-- The rules that hold with least margin.
local function tightest(row, groups)
  local list = {}
  for i, g in ipairs(groups) do
    local f = g.outcome == "holds" and g.by == "limit" and g.worst.finding
    if f and f.ratio then list[#list + 1] = { at = i, id = g.rule.id, finding = f } end
  end
  table.sort(list, function(a, b)
    local x, y = a.finding.ratio, b.finding.ratio
    return x < y or x == y and a.at < b.at
  end)
  for i = 1, math.min(most, #list) do
    local x = list[i]
    row("least margin", x.id .. " " .. words.finding(x.finding) .. " (" .. words.ratio(x.finding) .. ")")
  end
end

local function from_memory(row, outcomes)
  local found = verdict.from_memory(outcomes)
  if found.rests == 0 then return end
  local list = {}
  for i, g in ipairs(found.groups) do list[i] = table.concat(g.ids, " ") end
  row("from memory", found.rests .. " of " .. found.holds .. " stop rules hold only as far as values from memory are " ..
      "right: " .. table.concat(list, " "))
end

-- Writes them as a table: { what, says }, what was said under one word together.
function caveats.put(d, outcomes)
  local rows, by = {}, {}
  local function row(what, says)
    local r = by[what]
    if not r then
      r = { what, says }
      by[what], rows[#rows + 1] = r, r
    else r[2] = r[2] .. "; " .. says end
  end
  import("write.sheets").beside(row)
  guessed(row)
  tightest(row, verdict.groups(outcomes))
  from_memory(row, outcomes)
  if #rows == 0 then return end
  d:gap()
  d:table({ { "", key = "beside the verdict" }, { "", key = "says", wrap = true } }, rows)
end

return caveats
