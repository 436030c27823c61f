-- SPDX-License-Identifier: MIT
-- What a sweep found (sweep.answer), in sentences.
local run = import "model.run"
local util = import "model.util"
local words = import "write.words"
local say = {}

-- ---- numbers -------------------------------------------------------------------------------------------------------

-- 7,214: as counts are read.
function say.count(n)
  local text, again = tostring(n), nil
  repeat text, again = text:gsub("^(%d+)(%d%d%d)", "%1,%2") until again == 0
  return text
end

local count = say.count

local numbers = { "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten" }
function say.number(n) return numbers[n] or count(n) end

-- "12 variants", "1 variant"
local function some(n, word) return count(n) .. " " .. word .. (n == 1 and "" or "s") end

-- "3 of the 7,214", "all 3"
function say.of_many(n, all)
  if n == all and n > 1 then return "all " .. count(n) end
  return count(n) .. " of the " .. count(all)
end

-- How much of a limit is left, as the verdict has it: "3.22 %".
local function left(margin) return words.ratio(margin) end

-- ---- the head ------------------------------------------------------------------------------------------------------

function say.steps(axis)
  local last = axis.size - 1
  if last == 0 then return "nothing but what is declared" end
  local declared = axis.text(0)
  local parts = { declared == "as declared" and declared or declared .. " as declared" }
  if last <= 6 then for i = 1, last do parts[#parts + 1] = axis.text(i) end
  else parts[2] = count(last) .. " steps from " .. axis.text(1) .. " to " .. axis.text(last) end
  return table.concat(parts, "; ")
end

local statuses = { "holds", "broken", "unknown", "refused", "error", "steps", "memory", "time", "crash" }
local counted = { holds = "hold", broken = "have a stop rule broken", unknown = "have a stop rule unknown and none " ..
    "broken",
  refused = "cannot be declared so", error = "ended in an error", steps = "took too many steps",
  memory = "took too much memory", time = "took too long", crash = "crashed" }
local one_counted = { holds = "holds", broken = "has a stop rule broken", unknown = "has a stop rule unknown and " ..
    "none broken",
  refused = "cannot be declared so" }

say.ended = { refused = "cannot be declared so", error = "ended in an error", steps = "too many steps",
  memory = "too much memory", time = "too much time", crash = "crashed" }

-- "12,000: 7,214 hold, 4,786 have a stop rule broken"
function say.counts(f)
  local parts = {}
  for _, s in ipairs(statuses) do
    local n = f.counts[s]
    if n then
      parts[#parts + 1] = count(n) .. " " .. (n == 1 and one_counted[s] or counted[s])
      if s == "holds" and f.open > 0 then
        parts[#parts] = parts[#parts] .. " (of " .. count(f.open) .. " a stop rule is unknown yet)"
      end
    end
  end
  if f.missing > 0 then parts[#parts + 1] = count(f.missing) .. (f.missing == 1 and " is" or " are") .. " missing" end
  return count(f.wanted) .. (f.shard and " of shard " .. f.shard .. " of " .. count(f.total) or "") ..
      (f.sampled and ", the declared one and " .. count(f.total - 1) .. " drawn by lot" or "") ..
      (parts[1] and ": " .. table.concat(parts, "; ") or "")
end

-- "the least job.total, then the most rack.east.lower_edge"
function say.goals(f)
  local parts = {}
  for i, g in ipairs(f.goals) do parts[i] = (g.most and "the most " or "the least ") .. g.name end
  return table.concat(parts, ", then ")
end

-- ---- rows ----------------------------------------------------------------------------------------------------------

function say.label(f, row) return row.number == 0 and "as declared" or f.space.label(row.number) end

-- "R34 rack east post B3: 12.1 kN >= 11.6 kN (4 %)"
function say.limit(row)
  if row.status ~= "holds" then return say.why_not(row) end
  local m = row.limit
  if not m then return "" end
  return m.id .. (m.subject ~= "" and " " .. m.subject or "") .. ": " .. m.words .. " (" .. left(m) .. ")"
end

-- "R12 is broken, R41 unknown"
function say.why_not(row)
  local parts = {}
  if #row.broken > 0 then
    parts[1] = util.list(row.broken) .. (#row.broken == 1 and " is broken" or " are broken")
  end
  if #row.unknown > 0 then
    parts[#parts + 1] = util.list(row.unknown) .. (#row.unknown == 1 and " is unknown" or " are unknown")
  end
  return #parts > 0 and table.concat(parts, ", ") or say.ended[row.status] or row.status
end

-- Ids of the caution rules that are broken or unknown.
function say.cautions(row)
  local j, ids = row.judged, {}
  for _, list in ipairs(j and not j.refused and { j.broken, j.unknown } or {}) do
    for _, x in ipairs(list) do if x.severity == "caution" then ids[#ids + 1] = x.id end end
  end
  return table.concat(ids, " ")
end

local function value_of(f, row, i)
  local v = row.values[i]
  return v == nil and "unknown" or f.kept[i].show(v)
end

-- "$3180.00", of several goals "$3180.00 and 12 kWh"
local function values_of(f, row)
  local parts = {}
  for k, g in ipairs(f.goals) do parts[k] = value_of(f, row, g.i) end
  return util.list(parts)
end

-- The values of two rows: where two of them print alike and are not, with more digits.
local function apart(f, row, base)
  local a, b = {}, {}
  for k, g in ipairs(f.goals) do
    local x, y, kept = row.values[g.i], base.values[g.i], f.kept[g.i]
    a[k], b[k] = value_of(f, row, g.i), value_of(f, base, g.i)
    if type(x) == "number" and type(y) == "number" and a[k] == b[k] and not host.near(x, y) then
      a[k], b[k] = words.apart(kept.value(x), kept.value(y))
    end
  end
  return util.list(a), util.list(b)
end

-- ---- names ---------------------------------------------------------------------------------------------------------

local function money(k)
  local _, _, currency = host.unit(k.like)
  return currency ~= nil and currency ~= ""
end

local function named(row) return row.number == 0 and "the job as declared" or "variant " .. row.number end
local function capital(text) return (text:gsub("^%l", string.upper)) end

-- The days of the prices that a kept total rests on: "of 2026-10-26 to 2026-11-02"; nil where nothing has a price.
function say.prices(f)
  local priced, first, last = false, nil, nil
  for _, k in ipairs(f.kept) do priced = priced or money(k) end
  for _, day in ipairs(priced and run.prices and run.prices.days or {}) do
    if not first or day.number < first.number then first = day end
    if not last or day.number > last.number then last = day end
  end
  return first and "of " .. first.on .. (last.on ~= first.on and " to " .. last.on or "") ..
      ", without tax, freight, permits or labour"
end

-- ---- the sentence --------------------------------------------------------------------------------------------------

-- " on rack east post B3 limits it, 4 % to go"
local function limits(row)
  local m = row.limit
  if not m then return "no rule that was met with a margin moves with what is varied" end
  return m.id .. (m.subject ~= "" and " on " .. m.subject or "") .. " limits it, " ..
      (m.ratio <= 1e-9 and "with nothing to go" or left(m) .. " to go")
end

local function against(f, row)
  local base = f.base
  if row.number == 0 then return values_of(f, row) .. ", as declared" end
  if base.status == "refused" then return values_of(f, row) .. "; as declared the job is refused" end
  local own, declared = apart(f, row, base)
  return own .. " against " .. declared .. " as declared" ..
      (base.status ~= "holds" and ", which does not hold (" .. say.why_not(base) .. ")" or "")
end

local function first_best(f)
  local row, holds = f.best[1], f.counts.holds
  local of = holds == 1 and ", the only one that holds" or " of the " .. count(holds) .. " that hold"
  local is = #f.goals == 1 and " is " .. say.goals(f) .. of or " comes first" .. of .. ", by " .. say.goals(f)
  local text = capital(named(row)) .. is .. ": " .. against(f, row) .. "; " .. limits(row) .. "."
  if f.ties > 0 then
    text = text .. " " .. some(f.ties, "variant") .. " more " .. (f.ties == 1 and "is" or "are") .. " as good" ..
        (row.alike == f.ties and ", and came out alike in all that is kept" or "") .. "."
  end
  return text
end

-- The rule that stops most.
local function worst_rule(f)
  local r = f.rules[1]
  if not r then return "" end
  local alone = r.alone + r.open_alone
  if alone > 0 then
    return " " .. r.id .. " alone stops " .. count(alone) .. (r.says and ": " .. r.says or "") .. "."
  end
  local most
  for _, x in ipairs(f.rules) do
    if not most or x.broken + x.unknown > most.broken + most.unknown then most = x end
  end
  return " No rule alone stops any; " .. most.id .. " is broken or unknown in " .. count(most.broken + most.unknown) ..
      (most.says and ": " .. most.says or "") .. "."
end

local function none_holds(f)
  local judged = (f.counts.broken or 0) + (f.counts.unknown or 0)
  if judged == 0 then
    local e = f.ended[1]
    return "None of " .. some(f.done, "variant") .. " could be judged" ..
        (e and ": " .. say.ended[e.status] .. ", as variant " .. e.example .. ": " .. (e.why or "no reason was kept") or
            "") .. "."
  end
  local near = f.nearest[1]
  local text = "None of " .. (f.done == 1 and "one variant" or "the " .. some(f.done, "variant")) .. " holds." ..
      worst_rule(f)
  return text .. " " .. capital(named(near)) .. " comes nearest: " .. say.why_not(near) ..
      (#f.goals > 0 and "; " .. values_of(f, near) or "") .. "."
end

local function so_far(f)
  return "So far " .. count(f.done) .. " of " .. count(f.wanted) .. " variants are judged" ..
      (f.shard and ", and these are shard " .. f.shard .. " alone, of " .. count(f.total) .. " in all" or "") ..
      (f.missing > 0 and "; " .. count(f.missing) .. (f.missing == 1 and " is" or " are") .. " missing" or "") .. ". "
end

function say.sentence(f)
  local start = f.complete and "" or so_far(f)
  if f.done == 0 then return start .. "Nothing can be told yet." end
  if (f.counts.holds or 0) == 0 then return start .. none_holds(f) end
  if #f.goals == 0 then
    return start .. count(f.counts.holds) .. " of " .. some(f.done, "variant") .. (f.counts.holds == 1 and " holds" or
        " hold") .. ". Nothing is sought, so that none comes first: write seek { least = \"job.total\" }, or " ..
        "--least job.total."
  end
  if not f.best[1] and f.unranked then
    return start .. count(f.counts.holds) .. " of " .. some(f.done, "variant") .. (f.counts.holds == 1 and " holds" or
        " hold") .. ", and none can be ranked."
  end
  if not f.best[1] then
    return start .. count(f.counts.holds) .. " of " .. some(f.done, "variant") .. (f.counts.holds == 1 and " holds" or
        " hold") .. ", and of none is known what is sought: " .. say.goals(f) .. "."
  end
  if f.complete then return first_best(f) end
  local row = f.best[1]
  return start .. count(f.counts.holds) .. (f.counts.holds == 1 and " holds" or " hold") ..
      "; the best of them so far is " ..
      named(row) .. ", " .. against(f, row) .. "; " .. limits(row) .. ". What is missing may be better."
end

-- What a stop rule does not know of the first stops nothing at stage quote, and is said all the more.
local function open_yet(f, row)
  local texts, base = {}, {}
  for _, id in ipairs(f.base.unknown) do base[id] = true end
  for _, id in ipairs(row.unknown) do
    local why
    for _, x in ipairs(row.judged and row.judged.unknown or {}) do if x.id == id then why = x.words end end
    texts[#texts + 1] = " " .. id .. " is unknown in " .. named(row) ..
        (base[id] and "" or ", though not as declared") .. ", and stops it from stage permit on" ..
        (why and ": " .. why or "") .. "."
  end
  return #texts > 0 and table.concat(texts) or " In " .. named(row) .. " no stop rule is unknown."
end

-- What belongs beneath it: what the first is, what it means to hold, and who has to sign before more of them hold.
function say.beneath(f)
  local list = {}
  local first = f.best[1]
  if not first and (f.counts.holds or 0) > 0 then
    list[1] = "To hold means here that no stop rule is broken" .. (f.quote and
        "; what is unknown stops nothing at stage quote, and a stop rule is unknown in " ..
        say.of_many(f.open, f.counts.holds) .. " that hold." or " or unknown.") ..
        " What no rule judges is judged in none of them."
  elseif first then
    if first.number ~= 0 then
      list[1] = capital(named(first)) .. ": " .. say.label(f, first) .. "; all else as declared."
    end
    local cautions = say.cautions(first)
    list[#list + 1] = "To hold means here that no stop rule is broken" .. (f.quote and
        "; what is unknown stops nothing at stage quote." .. open_yet(f, first) or " or unknown.") ..
        (cautions ~= "" and " Caution rules broken or unknown in " .. named(first) .. ": " .. cautions .. "." or
        " Of " .. named(first) .. " no caution rule is broken or unknown.") ..
        " What no rule judges is judged in none of them."
  end
  local w = f.waiting
  if w then
    local more = (f.counts.holds or 0) > 0 and " more " or " "
    local text = some(w.n, "variant") .. more .. (w.n == 1 and "waits" or "wait") .. " for somebody to answer for " ..
        (w.n == 1 and "it" or "them") .. ", and for nothing else (" .. util.list(w.rules) .. " " ..
        (#w.rules == 1 and "is" or "are") .. " unknown): the papers at hand were not made for " ..
        (w.n == 1 and "it" or "them") .. ", or there are none."
    if w.best then
      local row = f.rows(w.best)
      text = text .. " The first of them by what is sought is variant " .. row.number .. ", " .. values_of(f, row) ..
          " (" .. say.label(f, row) .. "): whoever signed has to be asked again, and nothing is built before."
    end
    list[#list + 1] = text
  end
  return list
end

-- ---- after the ten best --------------------------------------------------------------------------------------------

function say.after_best(f)
  local list = {}
  local row = f.base
  if row.status ~= "holds" then
    list[#list + 1] = "As declared the job does not hold: " .. say.why_not(row) .. "."
  elseif f.base_rank and f.base_rank > #f.best then
    list[#list + 1] = "The job as declared ranks " .. count(f.base_rank) .. " of " .. count(f.ranked) .. "."
  end
  local without = (f.counts.holds or 0) - f.ranked - (f.unranked and f.unranked.n or 0)
  if without > 0 then
    list[#list + 1] = some(without, "variant") .. " that " .. (without == 1 and "holds is" or "hold are") ..
        " not ranked: what is sought is unknown there."
  end
  local s = f.stopped_better
  if s and s.n > 0 then
    local text = (s.n == 1 and "One variant" or count(s.n) .. " variants") .. " would be better than the first by " ..
        f.goals[1].name .. ", and " .. (s.n == 1 and "is" or "are") .. " stopped"
    local parts = {}
    for i = 1, math.min(3, #s.alone) do parts[i] = count(s.alone[i].n) .. " by " .. s.alone[i].id .. " alone" end
    list[#list + 1] = text .. (#parts > 0 and ", " .. util.list(parts) .. "." or ", each by several rules.")
  end
  if #f.best > 0 then
    list[#list + 1] = "Limited by: of the rules that move with what is varied the one with the least margin; in " ..
        "brackets how much of the limit is left. One with the same margin in all of these is left out."
  end
  return list
end

-- What the price of the first leaves out, as that of the declared job does; nil where it leaves out nothing.
function say.left_out(f)
  local first, parts = f.best[1], {}
  for i, k in ipairs(f.kept) do
    if first and k.of and first.values[i] ~= nil then
      parts[#parts + 1] = f.kept[k.of].name .. " leaves out " .. first.values[i] .. ", without a price: how much of " ..
          "it a variant takes counts for nothing in this answer."
    end
  end
  return parts[1] and table.concat(parts, " ") or nil
end

-- What holds and is not ranked, since a price leaves out more there than as declared; nil where there is none.
function say.unranked(f)
  local u = f.unranked
  if not u then return nil end
  local row = f.rows(u.number)
  return some(u.n, "variant") .. " more " .. (u.n == 1 and "holds and is" or "hold and are") .. " not ranked: " ..
      (u.n == 1 and "its " or "their ") .. u.goal.name .. " leaves out what has no price, and more than as " ..
      "declared. " .. (u.n == 1 and "It" or "The first of them") .. " is variant " ..
      u.number .. " with " .. f.kept[u.goal.i].show(row.values[u.goal.i]) .. " without " .. u.what ..
      ". Ask for a price of that before they are compared."
end

-- At most so many of those that are told, and the declared one.
local function told_and_declared(f, most)
  local list, base = {}, false
  for i = 1, math.min(#f.told, most or #f.told) do list[i], base = f.told[i], base or f.told[i].number == 0 end
  if not base then list[#list + 1] = f.base end
  return list
end

local MOST_GROUPS = 4

-- Where a price leaves out other things in some of those that are told than in others: that they are not to be
-- compared.
-- Gives what is to be said beneath the first sentence, since it is about that, and what can wait.
function say.not_comparable(f)
  local at_once, later = {}, {}
  for i, k in ipairs(f.kept) do
    local groups, by = {}, {}
    for _, row in ipairs(told_and_declared(f)) do
      local what = row.judged and row.judged.left_out and row.judged.left_out[i]
      if what and not by[what] then
        by[what] = { what = what }
        groups[#groups + 1] = by[what]
      end
      if what then table.insert(by[what], named(row)) end
    end
    local parts, first, base = {}, f.told[1], f.base
    for n, g in ipairs(groups) do
      if n <= MOST_GROUPS then parts[n] = words.some(g) .. ": " .. (g.what == "" and "nothing" or g.what) end
    end
    if #groups > MOST_GROUPS then parts[#parts + 1] = "and so on" end
    local apart = first and first.judged.left_out and base.judged and base.judged.left_out and
        first.judged.left_out[i] ~= base.judged.left_out[i]
    local text = k.name .. " leaves out what has no price, and that is not the same everywhere. " ..
        capital(table.concat(parts, "; ")) .. ". These are not to be compared by it before all have a price."
    if #groups > 1 then table.insert(apart and at_once or later, text) end
  end
  return at_once, later
end

local FEW_BOUGHT = 3

-- Rows { item, variants, bought } of what the first of those that are told, and the declared one, do not buy alike.
function say.bought(f)
  local rows, of, items, known = {}, {}, {}, {}
  local list = told_and_declared(f, FEW_BOUGHT)
  for _, row in ipairs(list) do
    for _, b in ipairs(row.judged and row.judged.bought or {}) do
      if not known[b.item] then known[b.item], items[#items + 1] = {}, b.item end
      of[row] = of[row] or {}
      of[row][b.item] = (of[row][b.item] and of[row][b.item] .. "; " or "") .. b.text
    end
  end
  for _, item in ipairs(items) do
    local groups, by = {}, {}
    for _, row in ipairs(list) do
      if row.judged and not row.judged.refused then
        local text = of[row] and of[row][item] or "none"
        if not by[text] then
          by[text] = { text = text }
          groups[#groups + 1] = by[text]
        end
        table.insert(by[text], row.number == 0 and "as declared" or tostring(row.number))
      end
    end
    for i, g in ipairs(#groups > 1 and groups or {}) do
      local all = #g > 1 and #g == #list - 1 and g[#g] ~= "as declared"
      rows[#rows + 1] = { i == 1 and item or "", all and "each but the declared one" or table.concat(g, ", "), g.text }
    end
  end
  return rows
end

-- ---- effects, duplicates -------------------------------------------------------------------------------------------

function say.effects(f)
  local list, silent = {}, {}
  for a, axis in ipairs(f.axes) do if f.effects[a] == false then silent[#silent + 1] = axis.name end end
  if #silent > 0 then
    local one = #silent == 1
    list[#list + 1] = "No effect: " .. util.list(silent) .. ". " .. (f.complete and "" or "So far, ") .. (f.sampled and
        "Of the job as declared nothing that is judged or kept rests on " .. (one and "it" or "them") or
        "Whatever " .. (one and "its" or "their") .. " step, status, rules and kept results are the same to the " ..
        "last " ..
        "digit") .. ". Leave " .. (one and "it" or "them") .. " out, or keep a result that " ..
        (one and "it moves." or "they move.")
  elseif f.done > 1 then
    local known = true
    for a, axis in ipairs(f.axes) do known = known and (f.effects[a] ~= nil or axis.size == 1) end
    list[#list + 1] = known and "Each axis that moves has an effect on something that is judged or kept." or
        "Of some axes it is not told here whether they have an effect."
  end
  if not f.alike then
    list[#list + 1] = "No result is kept, so that it is not told which variants are alike: write keep { " ..
        "\"job.total\" }."
  elseif f.alike > 0 then
    list[#list + 1] = some(f.alike, "variant") .. " came out like others, with the same status, rules and kept " ..
        "results" .. (f.complete and "" or " so far") .. "; they are " .. count(f.lots) .. " different outcome" ..
        (f.lots == 1 and "" or "s") .. ". Among variants of one outcome the choice is free as far as this sweep looks."
  else list[#list + 1] = "No two variants came out alike in all that was kept." end
  for _, t in ipairs(f.twice) do
    list[#list + 1] = t.axis .. ": " .. t.text .. " stands there " .. (t.n == 2 and "twice" or t.n .. " times") .. "."
  end
  for _, axis in ipairs(f.axes) do
    for _, note in ipairs(axis.notes or {}) do list[#list + 1] = axis.name .. ": " .. note .. "." end
  end
  if f.drawn_twice and f.drawn_twice > 0 then
    list[#list + 1] = some(f.drawn_twice, "variant") .. " were drawn with the same steps as another, in " ..
        some(f.drawn_lots, "lot") .. ": there are fewer variants than were asked for."
  end
  return list
end

-- ---- what is not covered -------------------------------------------------------------------------------------------

local function names(f)
  local list = {}
  for i, axis in ipairs(f.axes) do list[i] = axis.name end
  return #list > 6 and table.concat(list, ", ", 1, 5) .. " and " .. #list - 5 .. " more" or util.list(list)
end

function say.not_covered(f)
  local list = { "Only " .. names(f) .. (#f.axes == 1 and " was" or " were") .. " moved, and only to the steps above" ..
      (f.sampled and ", as they were drawn: what was not drawn is not told" or "") .. ". Between two steps a rule " ..
      "may break and a price may jump." }
  if #f.axes == 0 then
    list[1] = "Nothing was moved: write `vary { \"rack.east.tilt\", 25deg, 30deg }`, or `--vary " ..
        "\"rack.east.tilt=25deg, 30deg\"`."
  end
  list[#list + 1] = "Tolerances were not tried in each variant, and what is guessed or only told stays so in all of " ..
      "them: " ..
      "a variant that holds narrowly may not hold as it is built."
  list[#list + 1] = "Stop rules filter, cautions are counted. What no rule judges is judged in no variant, and a " ..
      "paper " ..
      "holds only for what it was made for."
  for _, k in ipairs(f.kept) do
    if money(k) then
      list[#list + 1] = "Prices hold for the day that their lists name, without tax, freight, permits or labour, " ..
          "and " ..
          "leave out what has no price: " .. k.name .. " of two variants is to be compared only where both buy the " ..
          "same " ..
          "kinds of things."
      break
    end
  end
  return list
end

-- ---- the command ---------------------------------------------------------------------------------------------------

local typed = import("model.util").typed

-- The command that made the sweep, with more behind it.
function say.command(_, o, more)
  local parts = { "stringline sweep", typed(o.script) }
  local function add(name, value) parts[#parts + 1] = "--" .. name .. " " .. typed(tostring(value)) end
  for _, name in ipairs { "set", "vary", "keep", "least", "most" } do
    for _, text in ipairs(type(o[name]) == "table" and o[name] or { o[name] }) do add(name, text) end
  end
  for _, name in ipairs { "alternate", "on", "sample", "seed" } do if o[name] then add(name, o[name]) end end
  if not more and o.store then add("store", o.store) end
  if more then parts[#parts + 1] = more end
  return table.concat(parts, " ")
end

return say
