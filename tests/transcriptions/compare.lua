-- SPDX-License-Identifier: MIT
-- Compares the tables that the program has with their second transcriptions (tables.txt says which is which). Runs in
-- the host's own Lua, where the tables are: compare(read, names of tables) -> { { name =, complaints = { ... } } ... };
-- read(path) gives a file's text.
local FOLDER = "tests/transcriptions/"

-- ---- files ---------------------------------------------------------------------------------------------------------

-- Rows by the names of the columns; a blank cell is nil. `heads` keeps the columns in their order.
local function csv(text)
  local heads, rows
  for line in text:gmatch "[^\r\n]+" do
    if not line:find "^#" and not line:find "^=" then
      local cells, at = {}, 1
      while true do
        local cell, to
        if line:sub(at, at) == '"' then
          local i = at + 1
          while line:sub(i, i) ~= '"' or line:sub(i + 1, i + 1) == '"' do i = i + (line:sub(i, i) == '"' and 2 or 1) end
          cell, to = line:sub(at + 1, i - 1):gsub('""', '"'), i + 1
        else
          to = line:find(",", at, true) or #line + 1
          cell = line:sub(at, to - 1)
        end
        cells[#cells + 1] = cell
        if line:sub(to, to) ~= "," then break end
        at = to + 1
      end
      if not heads then heads, rows = cells, {}
      else
        local row = {}
        for i, head in ipairs(heads) do row[head] = cells[i] ~= "" and cells[i] or nil end
        rows[#rows + 1] = row
      end
    end
  end
  return rows or {}, heads or {}
end

-- tables.txt: { [table] = { { key =, value =, line = } ... } }, and the names in their order.
local function paragraphs(text)
  local by, names, entry, number = {}, {}, nil, 0
  local last
  for line in (text .. "\n"):gmatch "([^\n]*)\n" do
    number = number + 1
    local name = line:match "^=== (%S+)$"
    if name then
      if by[name] then error("tables.txt:" .. number .. ": a second paragraph of " .. name, 0) end
      entry = {}
      by[name], names[#names + 1], last = entry, name, nil
    elseif entry and line:find "^  %S" and last then last.value = last.value .. " " .. line:match "^%s*(.*)$"
    elseif entry and line ~= "" then
      local key, value = line:match "^(%l+): (.+)$"
      if not key then error("tables.txt:" .. number .. ": not understood: " .. line, 0) end
      last = { key = key, value = value, line = number }
      entry[#entry + 1] = last
    end
  end
  return by, names
end

local function words(list)
  local by = {}
  for from, to in (list or ""):gmatch "%s*(.-) = ([^,]+),?" do by[from] = to end
  return by
end

-- What is known of a table before it is compared.
local KEYS = { from = true, where = true, how = true, match = true, cell = true, stands = true, known = true,
               apart = true, more = true, less = true, differs = true, none = true }
local function plan_of(entry)
  local plan = { match = {}, cell = {}, known = {}, apart = {}, more = {}, less = {}, differs = {} }
  for _, one in ipairs(entry) do
    local key, value = one.key, one.value
    local function bad() error("tables.txt:" .. one.line .. ": not understood: " .. key .. ": " .. value, 0) end
    if not KEYS[key] then bad() end
    if key == "match" or key == "cell" then
      local ours, theirs, rest = value:match "^([%w_]+) = ([%w_]+)%s*(.*)$"
      if not ours then bad() end
      table.insert(plan[key], { ours = ours, theirs = theirs, words = words(rest:match "^%[(.*)%]$"),
                                unit = not rest:find "^%[" and rest ~= "" and rest or nil })
    elseif key == "stands" then
      local theirs, list = value:match "^([%w_]+) %[(.*)%]$"
      if not theirs then bad() end
      plan.stands = { theirs = theirs, words = words(list) }
    elseif key == "known" then
      local edition, word = value:match "^(.-)%s*= ([%w_-]+)$"
      if not edition then bad() end
      table.insert(plan.known, { edition = edition, word = word })
    elseif key == "where" then
      plan.where = { value:match "^([%w_]+) = (.+)$" }
    elseif key == "apart" or key == "more" or key == "less" or key == "differs" then
      local what, why = value:match "^(.-): (.+)$"
      if not what then bad() end
      plan[key][what] = { why = why, line = one.line }
    else plan[key] = value
    end
  end
  return plan
end

-- ---- values --------------------------------------------------------------------------------------------------------

-- A number of the second transcription in SI. A point of temperature has a zero of its own.
local function one_of(text) return host.si(host.literal(text) or error(text .. " is no quantity", 0)) end
local function in_si(text, unit)
  if not unit or unit == "1" then return tonumber(text) end
  if unit:find "^1/" then return tonumber(text) / one_of("1" .. unit:sub(3)) end
  local zero = one_of("0" .. unit)
  return zero + tonumber(text) * (one_of("1" .. unit) - zero)
end

local function plain(value)
  if type(value) == "userdata" then return host.si(value) end
  return value
end

local function same(ours, theirs)
  if type(ours) == "number" and type(theirs) == "number" then
    return math.abs(ours - theirs) <= 1e-12 * math.max(math.abs(ours), math.abs(theirs))
  end
  return ours == theirs
end

local function shown(value) return value == nil and "blank" or tostring(value) end

-- A cell of theirs as our value: a number if ours can be one.
local function theirs_as(match, row, ours)
  local text = row[match.theirs]
  if text == nil then return nil end
  text = text:gsub(",", ";")
  text = match.words[text] or text
  local unit = match.unit
  if unit and unit:find "^%(" then unit = row[unit:sub(2, -2)] end
  if type(ours) == "number" and tonumber(text) then return in_si(text, unit) end
  return text
end

-- ---- a table -------------------------------------------------------------------------------------------------------

-- What a person reads of a row, and what says where it stands.
local function is_told(column)
  return column == "known" or column == "cite" or column == "name" or column == "label" or column:find "_name$" or
         column:find "^name[_%d]" or column == "band" or column == "unit"
end

local function key_of(plan, get)
  local list = {}
  for i, match in ipairs(plan.match) do list[i] = get(match) end
  return table.concat(list, " / ")
end

local function compare_table(rows, plan, read)
  local complaints, cells, used = {}, 0, {}
  local function complain(...) complaints[#complaints + 1] = string.format(...) end
  local seconds = {}
  for _, row in ipairs((csv(read(FOLDER .. plan.from)))) do
    if not plan.where or row[plan.where[1]] == plan.where[2] then seconds[#seconds + 1] = row end
  end
  if #seconds == 0 then complain("%s has no row of it", plan.from) end

  -- each column is compared, or said to be apart
  local seen = {}
  for _, list in ipairs { plan.match, plan.cell } do
    for _, one in ipairs(list) do seen[one.ours] = true end
  end
  for _, row in ipairs(rows) do
    for column in pairs(row) do
      if not seen[column] and not plan.apart[column] and not is_told(column) then
        seen[column] = true
        complain("column %s: says neither what it is compared with, nor why it is not", column)
      end
    end
  end
  for column in pairs(plan.apart) do
    if not rows[1] or rows[1][column] == nil then complain("there is no column %s to be apart", column) end
  end

  local matched = {}
  for _, second in ipairs(seconds) do
    local their_key = key_of(plan, function(match)
      local word = (second[match.theirs] or ""):gsub(",", ";")
      return match.words[word] or word
    end)
    local found, count = nil, 0
    for i, row in ipairs(rows) do
      local fits = true
      for _, match in ipairs(plan.match) do
        local ours = plain(row[match.ours])
        if type(ours) == "string" then ours = ours:gsub(",", ";") end
        if not same(ours, theirs_as(match, second, ours)) then fits = false end
      end
      if fits and plan.stands then
        local edition = plan.stands.words[second[plan.stands.theirs]]
        if not edition or not row.known[edition] then fits = false end
      end
      if fits and (plan.stands or not matched[i]) then found, count = i, count + 1 end
    end
    if not found then
      if plan.less[their_key] then used[plan.less[their_key]] = true
      else complain("%s: stands in %s only", their_key, plan.from) end
    else
      if count > 1 then complain("%s: %d rows fit", their_key, count) end
      local row = rows[found]
      matched[found] = true
      cells = cells + #plan.match
      for _, cell in ipairs(plan.cell) do
        local ours = plain(row[cell.ours])
        if ours == "" then ours = nil end
        local numeric = type(ours) == "number" or ours == nil and tonumber(second[cell.theirs])
        local theirs = theirs_as(cell, second, numeric and (ours or 0) or ours)
        local differs = plan.differs[their_key .. ", " .. cell.ours]
        cells = cells + 1
        if same(ours, theirs) then
          if differs then complain("%s, %s: the two agree now", their_key, cell.ours) end
        elseif differs then used[differs] = true
        else
          complain("%s, %s: %s here, %s in %s (SI)", their_key, cell.ours, shown(ours), shown(theirs), plan.from)
        end
        if differs then used[differs] = true end
      end
      for _, known in ipairs(plan.known) do
        local edition, theirs = known.edition, second[known.word] or known.word
        if theirs == "-" then theirs = nil end                           -- it does not stand in that edition
        if edition:find "^%(" then edition = second[edition:sub(2, -2)] or edition
        elseif edition == "stands" then edition = plan.stands.words[second[plan.stands.theirs]] end
        if edition == "-" then edition = "" end
        local ours = row.known[edition]
        cells = cells + 1
        local said = not edition:find "^%(" and (second[known.word] or not known.word:find "^basis")
        if said and ours ~= theirs then
          complain("%s, known in %s: %s here, %s in %s", their_key, edition, shown(ours), theirs, plan.from)
        end
      end
    end
  end
  for i, row in ipairs(rows) do
    if not matched[i] then
      local our_key = key_of(plan, function(match)
        local ours = plain(row[match.ours])
        if type(ours) == "number" then return ("%g"):format(match.unit and ours / one_of("1" .. match.unit) or ours) end
        return (shown(ours):gsub(",", ";"))
      end)
      local alone = plan.more[our_key]
      if alone then used[alone] = true
      else complain("%s: stands in the program only", our_key) end
    end
  end
  for _, list in ipairs { plan.more, plan.less, plan.differs } do
    for key, one in pairs(list) do
      if not used[one] then complain("tables.txt:%d: %s: is not so (now)", one.line, key) end
    end
  end
  table.sort(complaints)
  return complaints, cells
end

-- ---- units ---------------------------------------------------------------------------------------------------------

local BASE = { "m", "kg", "s", "K", "A", "rad" }

-- What a literal of one makes, against factor and offset, for all units of the second list.
local function compare_units(plan, read)
  local complaints, cells = {}, 0
  for _, row in ipairs((csv(read(FOLDER .. plan.from)))) do
    if row.si_factor then
      local good, value = pcall(host.literal, "1" .. row.symbol)
      local want = (1 + (tonumber((row.offset or "0"):match "^[%d.]+") or 0)) * tonumber(row.si_factor)
      cells = cells + 1
      if not good then
        if not plan.less[row.symbol] then complaints[#complaints + 1] = row.symbol .. ": is no unit here" end
      elseif not same(plain(value), want) then
        complaints[#complaints + 1] = ("%s: %.17g here, %.17g in %s"):format(row.symbol, plain(value), want, plan.from)
      end
    end
  end
  return complaints, cells
end

-- Tables of the generator itself, which the program has in another form.
local WITHOUT_ROWS = { units = true, editions = true, citations = true }

-- ---- how rows are known --------------------------------------------------------------------------------------------

-- "NEC 2017: READ 12, TAKEN 2; NEC 2020: ...": how many rows are known in which way, edition by edition.
local function known_words(rows)
  local by, editions = {}, {}
  for _, row in ipairs(rows) do
    for edition, how in pairs(row.known) do
      if not by[edition] then by[edition] = {}; editions[#editions + 1] = edition end
      by[edition][how] = (by[edition][how] or 0) + 1
    end
  end
  table.sort(editions)
  for i, edition in ipairs(editions) do
    local ways = {}
    for how, n in pairs(by[edition]) do ways[#ways + 1] = how .. " " .. n end
    table.sort(ways)
    editions[i] = (edition == "" and "no code" or edition) .. ": " .. table.concat(ways, ", ")
  end
  return table.concat(editions, "; ")
end

-- known.txt guards against change only: what is known of a row nobody outside can say.
local function compare_known(name, rows, read)
  local want = ("\n" .. read(FOLDER .. "known.txt")):match("\n" .. name .. " = ([^\n]*)")
  local have = known_words(rows)
  if want ~= have then return { ("known.txt says '%s', the table '%s'"):format(want or "nothing of it", have) } end
  return {}
end

-- ---- all -----------------------------------------------------------------------------------------------------------

return function(read, files)
  local by, names = paragraphs(read(FOLDER .. "tables.txt"))
  local declared, list, have = {}, {}, {}
  for _, name in ipairs(host.tables()) do declared[name] = true end
  for _, name in ipairs(files) do
    have[name] = true
    local entry, complaints, cells = by[name], {}, 0
    if not entry then complaints = { "tables.txt has no paragraph of it: a second transcription, or why there is none" }
    else
      local good, plan = pcall(plan_of, entry)
      if not good then complaints = { plan }
      elseif plan.none then
        if plan.from then complaints = { "says `none:`, and has a second transcription" } end
      elseif not plan.from or not plan.how then complaints = { "wants `from:` and `how:`, or `none:`" }
      elseif name == "units" then complaints, cells = compare_units(plan, read)
      else
        complaints, cells = compare_table(host.table(name), plan, read)
      end
      if declared[name] and good and not plan.none and cells == 0 and #complaints == 0 then
        complaints = { "nothing was compared" }
      end
    end
    list[#list + 1] = { name = name, complaints = complaints, cells = cells }
    if declared[name] then
      list[#list + 1] = { name = "how known: " .. name, cells = 0,
          complaints = compare_known(name, host.table(name), read) }
    end
  end
  local stale = {}
  local all_declared = true
  for _, name in ipairs(files) do all_declared = all_declared and (declared[name] or WITHOUT_ROWS[name]) end
  for _, name in ipairs(names) do
    if all_declared and not have[name] then stale[#stale + 1] = "tables.txt: there is no table " .. name end
  end
  list[#list + 1] = { name = "tables.txt names tables that there are", complaints = stale, cells = 0 }
  return list
end
