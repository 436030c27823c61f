-- SPDX-License-Identifier: MIT
-- What stands beside a verdict: what it does not judge, what it takes somebody's word for, how little is left.  Whoever
-- reads no further must not be misled.
local record = import "model.record"
local run = import "model.run"
local domains = import "model.domains"
local verdict = import "write.verdict"
local words = import "write.words"
local caveats = {}

local inside = record.inside

-- ---- for the domains -----------------------------------------------------------------------------------------------

local most_named = 5

-- Whether something was written over what a data sheet says: in a record that is like the one that names the sheet, or
-- put in there.
local function over_sheet(rec, name, put_in)
  if put_in[rec.path .. "." .. name] then return true end
  if not rec.like then return false end
  local like, keys = import "model.like", {}
  for key in name:gmatch "[^.]+" do keys[#keys + 1] = key end
  local _, from = like.giver(rec, keys)
  return put_in[from.path .. "." .. name] or like.nearer(rec, keys, { "data_sheet" })
end

-- The facts of a record that were given without a word of where they are from, in words: those of `first` go before the
-- others. Of many the first stand for all, unless all are wanted. sheet: a data sheet is named for all of it; then only
-- those that were written over it.  Nil: there are none.
local function facts_of(proxy, first, all, sheet)
  local rec, list, done, defaults, put_in = inside[proxy], {}, {}, {}, {}
  for _, d in ipairs(run.defaults) do defaults[d.path] = true end
  for _, o in ipairs(run.overrides) do put_in[o.path] = true end
  local function look(v, f, path, name)
    local value = v[f.name]
    path = path .. "." .. f.name
    if value == nil or done[path] or defaults[path] or run.told[path] or
        sheet and not over_sheet(rec, name, put_in) then return end
    done[path] = true
    if f.type ~= "group" then
      list[#list + 1] = name
      return
    end
    for _, inner in ipairs(f.fields) do
      if inner.type ~= "group" then look(inside[value].v, inner, path, name .. "." .. inner.name) end
    end
  end
  for _, name in ipairs(first or {}) do look(rec.v, rec.def.by[name], rec.path, name) end
  local fields = rec.def.fields
  for i = 1, #fields do
    local f = fields[i]
    if f.name ~= "like" then look(rec.v, f, rec.path, f.name) end
  end
  if #list == 0 then return nil end
  local more = not all and #list - most_named or 0
  local named = table.concat(list, ", ", 1, more > 0 and most_named or #list)
  return named .. (more > 0 and " and " .. more .. " more" or "")
end

function caveats.unsourced(proxy, first, all)
  local facts = facts_of(proxy, first, all)
  return facts and words.title(proxy) .. " " .. facts
end

-- The same of records that name their data sheet, a text for those of which the same facts are without a source.
function caveats.unsourced_of(kind, all)
  local groups, by = {}, {}
  for _, proxy in ipairs(record.all(kind)) do
    local facts = facts_of(proxy, nil, all, inside[proxy].v.data_sheet ~= nil)
    if facts and not by[facts] then
      by[facts] = { facts = facts }
      groups[#groups + 1] = by[facts]
    end
    if facts then table.insert(by[facts], words.title(proxy)) end
  end
  for i, g in ipairs(groups) do groups[i] = words.some(g) .. (#g > 1 and ": " or " ") .. g.facts end
  return groups
end

-- ---- rows ----------------------------------------------------------------------------------------------------------

-- What the domains put there: see write.sheets. Their other sheets are not loaded for it.
local function of_domains(row)
  for _, r in ipairs(domains.sheets()) do
    local wanted = r.beside and #r.of == 0
    for _, kind in ipairs(r.beside and r.of or {}) do wanted = wanted or #record.all(kind) > 0 end
    if wanted then
      local ok, why = pcall(domains.load(r.module).beside, row)
      if not ok and not host.class(why) then error(why, 0) end
      if not ok then row("not known", r.title .. ": " .. host.message(why)) end
    end
  end
end

local how = { guess = "guessed", told = "only told" }

-- What a type says is told of the records that are like it.
local function of_a_type(path)
  local proxy = record.locate(path)
  return proxy and inside[proxy].def.partial
end

-- What somebody guessed, and what somebody said.
local function by_word(row, is)
  for path, t in host.sorted(run.told) do
    local value = t.how == is and not t.unused and not of_a_type(path) and record.at(path)
    if value ~= nil and value ~= false then
      row(how[is], path .. " " .. words.input(path, value) ..
          (t.by and (is == "told" and ", says " or ", by ") .. t.by or ""))
    end
  end
end

local most = 5

-- The rules that hold with least margin.
local function tightest(row, groups)
  local list = verdict.tightest(groups, "limit")
  for i = 1, math.min(most, #list) do
    local f = list[i].worst.finding
    if f.ratio then
      row("tightest", list[i].rule.id .. " " .. words.finding(f) .. " (" .. words.ratio(f) .. ")")
    end
  end
end

local function from_memory(row, outcomes)
  local found = verdict.from_memory(outcomes)
  if found.rests == 0 then return end
  local list = {}
  for i, g in ipairs(found.groups) do list[i] = table.concat(g.ids, " ") end
  row("from memory", found.rests .. " of " .. found.holds .. " stop rules hold" .. (found.rests == 1 and "s" or "") ..
      " only as far as values from memory are right: " .. table.concat(list, " "))
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
  if run.literals[1] or run.overrides[1] then import("write.put_in")(row) end
  of_domains(row)
  by_word(row, "told")
  by_word(row, "guess")
  tightest(row, verdict.groups(outcomes))
  from_memory(row, outcomes)
  if #rows == 0 then return end
  d:gap()
  d:table({ { "", key = "beside the verdict" }, { "", key = "says", wrap = true } }, rows)
end

return caveats
