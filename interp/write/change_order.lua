-- SPDX-License-Identifier: MIT
-- A change order: what differs between two judged jobs, what it means, what is to be thrown away, who signs.
local domains = import "model.domains"
local path_of = import "model.path"
local snapshot = import "model.snapshot"
local difference = import "model.difference"
local util = import "model.util"
local document = import "write.document"
local words = import "write.words"
local change_order = {}

local MOST = 10            -- rows of a table on the one page; all of them stand in JSON
local SHORT = 12           -- hexadecimal digits of a hash where a person reads it

local fill = document.fill

-- ---- amounts -------------------------------------------------------------------------------------------------------

local function apart(x, other)
  local dim, unit = x.dim, x.unit or ""
  if dim == "%" or dim == "number" then
    return host.format(x.si, dim == "%" and "%" or nil, host.digits_apart(x.si, other.si, dim == "%" and "%" or nil))
  end
  local ok, v = pcall(host.quantity, x.si, dim)
  if not ok then return x.text end
  return host.format(v, unit ~= "" and unit or nil, host.digits_apart(v, host.quantity(other.si, dim), unit), true)
end

-- Two amounts as texts that are not the same: with more digits where they would print alike.
local function texts(was, is)
  if was and is and was.si and is.si and was.text == is.text and was.dim == is.dim then
    return apart(was, is), apart(is, was)
  end
  return was and was.text or "none", is and is.text or "none"
end

-- ---- tables that stay on the page ----------------------------------------------------------------------------------

local function put_table(d, columns, rows, what)
  local shown = #rows <= MOST and rows or table.move(rows, 1, MOST - 1, 1, {})
  if #rows == 0 then return end
  d:table(columns, shown)
  if #shown < #rows then
    d:para("And " .. #rows - #shown .. " more " .. what .. ": --format json has all of them.")
  end
end

-- ---- the two jobs --------------------------------------------------------------------------------------------------

local function judged(s)
  return "stage " .. s.job.stage .. (s.job.on and ", judged on " .. s.job.on or ", no day given to judge on") ..
      (s.job.alternate and ', alternate "' .. s.job.alternate .. '"' or "")
end

local function short_of(f)
  return f and (f.version or (f.sha256 and f.sha256:sub(1, SHORT) or "") .. (f.value or "")) or "none"
end

local function file_key(f) return f.what .. "\0" .. (f.what == "script" and "" or f.path or f.value or "") end

-- What the two were made from, where that differs: { what, was, is }; the script always.
local function files(a, b)
  local by, rows = difference.by_key(a.made_from, b.made_from, file_key), {}
  local function row(was, is)
    local f = is or was
    local function text(x) return short_of(x) .. (x and f.what == "script" and " " .. x.path or "") end
    rows[#rows + 1] = { f.what .. (f.path and f.what ~= "script" and " " .. f.path or ""), text(was), text(is) }
  end
  for _, x in ipairs(by.both) do
    if x.is.what == "script" or short_of(x.was) ~= short_of(x.is) then row(x.was, x.is) end
  end
  for _, f in ipairs(by.gone) do row(f, nil) end
  for _, f in ipairs(by.new) do row(nil, f) end
  return rows
end

-- Whether another program, or other tables or rules, made the earlier one.
local function another_program(a, b)
  local by = difference.by_key(a.made_from, b.made_from, function(f) return f.what end)
  for _, x in ipairs(by.both) do
    local what = x.is.what
    if (what == "stringline" or what == "tables" or what == "rules") and short_of(x.was) ~= short_of(x.is) then
      return true
    end
  end
  return false
end

-- "44 rules hold", "NOT READY: R29 broken; 43 rules hold".
local function verdict_of(s)
  local ids, seen, hold = { broken = {}, unknown = {} }, {}, 0
  local worst = {}
  local rank = { holds = 1, waived = 2, unknown = 3, broken = 4 }
  for _, r in ipairs(s.rules) do
    if not worst[r.id] then seen[#seen + 1] = r.id end
    if not worst[r.id] or rank[r.outcome] > rank[worst[r.id]] then worst[r.id] = r.outcome end
  end
  for _, id in ipairs(seen) do
    if worst[id] == "holds" then hold = hold + 1 elseif ids[worst[id]] then table.insert(ids[worst[id]], id) end
  end
  local parts = {}
  for _, what in ipairs { "broken", "unknown" } do
    if #ids[what] > 0 then parts[#parts + 1] = what .. " " .. table.concat(ids[what], " ") end
  end
  parts[#parts + 1] = hold .. (hold == 1 and " rule holds" or " rules hold")
  return (s.status ~= 0 and "NOT READY: " or "") .. table.concat(parts, "; ")
end

local function head(d, a, b)
  d:head("Change order - " .. b.job.name .. ", for " .. b.job.client)
  for _, key in ipairs { "name", "client" } do
    if a.job[key] ~= b.job[key] then
      d:warning("Are these two of one job? The " .. key .. " was " .. a.job[key] .. ", and is " .. b.job[key] .. ".")
    end
  end
  d:gap()
  local rows = files(a, b)
  local function row(at, what, was, is) table.insert(rows, at, { what, was, was == is and "the same" or is }) end
  row(1, "judged", judged(a), judged(b))
  row(2, "verdict", verdict_of(a), verdict_of(b))
  d:table({ { "", key = "what" }, { "then", wrap = true }, { "now", wrap = true } }, rows)
  if another_program(a, b) then
    d:para("Another version of the program, its tables or its rules made the earlier one: what differs may differ " ..
        "for that alone.")
  end
end

-- ---- what was declared ---------------------------------------------------------------------------------------------

-- Where it stands; where that is said twice, once.
local function places(was, is)
  local list = {}
  if was and was.place then list[1] = was.place end
  if is and is.place and (not was or is.place ~= was.place) then list[#list + 1] = is.place end
  return table.concat(list, "; ")
end

-- Of a list what came and went, where the whole is long.
local function item_words(items)
  local list = {}
  for _, x in ipairs { { "gone", items.gone }, { "new", items.new }, { "moved", items.moved } } do
    local names = {}
    for i, item in ipairs(x[2]) do names[i] = item.text end
    if #names > 0 then list[#list + 1] = x[1] .. ": " .. table.concat(names, ", ") end
  end
  return table.concat(list, "; ")
end

local LONG = 60

local function declared_row(x)
  local was, is = texts(x.was and x.was.value, x.is and x.is.value)
  if x.items and #was + #is > LONG then was, is = "", item_words(x.items) end
  -- How it is known, where that is new; a guess is always told: two sign below it.
  local known, before = x.is and x.is.known, x.was and x.was.known
  local function guessed(how) return how ~= nil and string.find(how, "^guess") ~= nil end
  if guessed(before) then was = was .. " (" .. before .. ")" end
  if known and (before ~= known or guessed(known)) then is = is .. " (" .. known .. ")" end
  return { x.path, was, is, places(x.was, x.is) }
end

-- Where a record begins: the place of its first value.
local function first_place(s, path)
  for _, v in ipairs(s.declared) do
    local next_byte = v.place and v.path:sub(1, #path) == path and v.path:byte(#path + 1)
    if next_byte == 46 or next_byte == 91 then return v.place end              -- . or [
  end
  return ""
end

-- Kinds that the domains tell of in a part of their own: what is in hand, what is dug.
local function told_apart()
  local kinds = {}
  for _, row in ipairs(domains.sheets()) do
    for _, kind in ipairs(row.changes and domains.load(row.changes).tells or {}) do kinds[kind] = true end
  end
  return function(path) return kinds[path:match "^[%a_][%w_]*"] end
end

-- Values that moved with the template that they are taken over of stand in its line: path of the template's value ->
-- titles of those that take it over, and by the path of each, that it does.
local function with_templates(diff, b)
  local moved, takers, taken = {}, {}, {}
  for _, x in ipairs(diff.declared) do moved[x.path] = x.was and x.is and true or nil end
  for _, x in ipairs(diff.declared) do
    local of = x.was and x.is and x.was.of
    if of and of == x.is.of and moved[of] then
      taken[x.path], takers[of] = true, takers[of] or {}
      for _, r in ipairs(b.records) do
        local next_byte = x.path:sub(1, #r.path) == r.path and x.path:byte(#r.path + 1)
        if next_byte == 46 or next_byte == 91 then table.insert(takers[of], r.title) break end         -- . or [
      end
    end
  end
  return takers, taken
end

local function declared(d, diff, a, b)
  local rows, apart_told = {}, told_apart()
  local takers, taken = with_templates(diff, b)
  local function whole(list, snap, how)
    for _, r in ipairs(list) do
      if not apart_told(r.path) then
        rows[#rows + 1] = { r.path, how == "gone" and "declared" or "none", how == "gone" and "none" or "declared",
            first_place(snap, r.path) }
      end
    end
  end
  whole(diff.records.gone, a, "gone")
  whole(diff.records.new, b, "new")
  for _, x in ipairs(diff.declared) do
    if not apart_told(x.path) and not taken[x.path] then
      local row = declared_row(x)
      if takers[x.path] then row[1] = row[1] .. ", and so " .. words.some(takers[x.path]) end
      rows[#rows + 1] = row
    end
  end
  if #rows == 0 then return end
  d:heading("What is declared")
  put_table(d, { { "", key = "path", wrap = true }, { "then", wrap = true }, { "now", wrap = true },
      { "where", wrap = true } }, rows, "declared values")
end

-- ---- what comes of it ----------------------------------------------------------------------------------------------

-- Results of one name and kind in one row, as far as they reach.
local function grouped(list)
  local groups, by = {}, {}
  for _, x in ipairs(list) do
    local r = x.is or x.was
    local key = r.kind .. " " .. r.name
    if not by[key] then
      by[key] = { kind = r.kind, says = r.says, first = x, list = {} }
      groups[#groups + 1] = by[key]
    end
    table.insert(by[key].list, x)
  end
  return groups
end

local function reach(list, side)
  local low, high, word
  for _, x in ipairs(list) do
    local r = x[side]
    local v = r and r.value
    if not v then word = r and "unknown" or "none"
    elseif v.si then
      if not low or v.si < low.si then low = v end
      if not high or v.si > high.si then high = v end
    else word = v.text end
  end
  if not low then return word end
  return (low.text == high.text and low.text or low.text .. " to " .. high.text) .. (word and ", or " .. word or "")
end

-- The first words of what a result is: the rest of the sentence stands in the reference.
local function briefly(says) return says:match "^(.-)[,:;] " or says end

local function result_row(g)
  if #g.list == 1 then
    local x = g.first
    local r = x.is or x.was
    local was, is
    if x.was and x.is and x.was.value and x.is.value then was, is = texts(x.was.value, x.is.value)
    else
      was = x.was and (x.was.value and x.was.value.text or "unknown") or "none"
      is = x.is and (x.is.value and x.is.value.text or "unknown") or "none"
    end
    return { r.about .. ": " .. briefly(r.says), was, is }
  end
  return { #g.list .. " " .. g.kind:gsub("_", " ") .. "s: " .. briefly(g.says), reach(g.list, "was"),
      reach(g.list, "is") }
end

-- Values that stand on sheets which are withheld now are not printed here either.
local function printable(diff, b)
  local withheld, list, left = {}, {}, 0
  for _, s in ipairs(b.sheets) do withheld[s.name] = s.withheld ~= nil end
  for _, x in ipairs(diff.results) do
    local r = x.is or x.was
    local open = #r.sheets == 0                      -- one of a script's own, on no sheet
    for _, name in ipairs(r.sheets) do open = open or not withheld[name] end
    if open then list[#list + 1] = x else left = left + 1 end
  end
  return list, left
end

local function results(d, diff, b)
  local list, left = printable(diff, b)
  if #list + left == 0 then return end
  d:heading("What comes of it")
  local rows = {}
  for i, g in ipairs(grouped(list)) do rows[i] = result_row(g) end
  put_table(d, { { "", key = "result", wrap = true }, { "then", wrap = true }, { "now", wrap = true } }, rows,
      "results")
  if left > 0 then
    d:para(left .. " more stand" .. (left == 1 and "s" or "") .. " on sheets that are withheld now: not printed.")
  end
end

-- ---- rules ---------------------------------------------------------------------------------------------------------

local function outcome_of(r) return r and r.outcome or "not judged" end
local tone = { holds = "good", broken = "bad", unknown = "bad", waived = "warn" }

-- "held", "was not judged": what a rule said of the earlier job.
local said_then = { holds = "held", ["not applicable"] = "did not apply" }
local function then_of(r)
  local outcome = outcome_of(r)
  return said_then[outcome] or "was " .. outcome
end

-- Outcomes of one rule that changed alike stand in one line, with the first of them.
local function alike(list)
  local groups, by = {}, {}
  for _, x in ipairs(list) do
    local key = (x.is or x.was).id .. "\0" .. outcome_of(x.was) .. "\0" .. outcome_of(x.is)
    if not by[key] then
      by[key] = { first = x, count = 0 }
      groups[#groups + 1] = by[key]
    end
    by[key].count = by[key].count + 1
  end
  return groups
end

local function outcomes(d, list)
  for _, g in ipairs(alike(list)) do
    local x = g.first
    local r, now = x.is or x.was, outcome_of(x.is)
    local where = r.about ~= "" and ", " .. r.about .. (g.count > 1 and " and " .. g.count - 1 .. " more" or "") or ""
    d:outcome(r.id .. " " .. then_of(x.was) .. ", now " .. now .. ":", r.says .. where ..
        (x.is and r.words ~= "" and ": " .. r.words or "") ..
        ((now == "broken" or now == "unknown") and ". If not: " .. r.caution or "") .. ".", tone[now])
  end
end

local function ids_in_words(list)
  local parts = {}
  for i, r in ipairs(list) do parts[i] = r.id .. " (" .. r.says .. ")" end
  return util.list(parts)
end

local function margin(r)
  return { text = host.format(r.ratio, "%", 3), value = r.ratio, unit = "%" }
end

local function rules(d, diff)
  local r = diff.rules
  if #r.outcomes + #r.new + #r.gone + #r.tighter == 0 then return end
  d:heading("Rules")
  outcomes(d, r.outcomes)
  local bad = {}
  for _, x in ipairs(r.new) do if x.outcome ~= "holds" then bad[#bad + 1] = { is = x } end end
  outcomes(d, bad)
  if #r.new > #bad then d:para("Judged now, and hold: " .. ids_in_words((function()
    local hold = {}
    for _, x in ipairs(r.new) do if x.outcome == "holds" then hold[#hold + 1] = x end end
    return hold
  end)()) .. ".") end
  if #r.gone > 0 then d:para("No longer judged: " .. ids_in_words(r.gone) .. ".") end
  local rows = {}
  for i, x in ipairs(r.tighter) do
    rows[i] = { x.is.id, x.is.says .. (x.is.about ~= "" and ", " .. x.is.about or ""), margin(x.was), margin(x.is) }
  end
  put_table(d, { "rule", { "holds with less margin", key = "says", wrap = true },
      { "then", key = "margin then", right = true }, { "now", key = "margin now", right = true } }, rows, "rules")
end

-- ---- papers and sheets ---------------------------------------------------------------------------------------------

local function papers(d, diff)
  local by, order = {}, {}
  for _, c in ipairs(diff.covered.gone) do
    if not by[c.paper] then by[c.paper], order[#order + 1] = {}, c.paper end
    table.insert(by[c.paper], c.subject)
  end
  if #order > 0 then
    d:heading("Papers")
    for _, paper in ipairs(order) do
      d:warning(paper .. " no longer covers " .. util.list(by[paper]) .. ": it goes back to its author before " ..
          "anything is built.")
    end
  end
end

-- Whether just those sheets that are thrown away, and have a successor, are to be printed.
local function each_anew(s)
  local anew = {}
  for _, x in ipairs(s.print) do anew[x.name] = true end
  for _, x in ipairs(s.throw) do
    if not (x.withheld or x.gone) ~= (anew[x.name] or false) then return false end
    anew[x.name] = nil
  end
  return #s.throw > 0 and next(anew) == nil
end

local function sheets(d, diff)
  local s = diff.sheets
  local each = each_anew(s)
  d:heading("Sheets to throw away" .. (each and ", and to print anew" or ""))
  d:item("the report of the job as it was", "[ ]")
  for _, x in ipairs(s.throw) do
    d:item(x.name .. " (" .. x.title .. ")" .. (x.withheld and ": none takes its place yet: " .. x.withheld or
        x.gone and ": none takes its place" or ""), "[ ]")
  end
  local print = {}
  for i, x in ipairs(s.print) do print[i] = x.name end
  if #print > 0 and not each then d:para("To print anew: " .. table.concat(print, ", ") .. ".") end
  if #s.throw == 0 then d:para("All other sheets read as before.") end
end

-- ---- the end -------------------------------------------------------------------------------------------------------

local function cautions(d, b)
  d:gap()
  d:para((b.job.stage == "quote" and "A change of a quote is a new price, and no permission to build. " or
      "A change after a permit was issued goes back to the office that issued it before it is built. Whoever signed " ..
      "a paper says whether it holds for this. ") .. "Build from the new job's own sheets, not from this page. " ..
      "Local code, the authority's decision and the makers' instructions rule.")
end

local function signatures(d)
  d:heading("Agreed")
  d:table({ { "", key = "who" }, "name", "signature", "date" },
      { { "owner", fill, fill, fill }, { "contractor", fill, fill, fill } })
end

-- ---- for programs --------------------------------------------------------------------------------------------------

local function told(as, x)
  return x and as.object { { "text", x.text }, { "si", x.si }, { "unit", x.si and x.unit or nil } } or nil
end

local function side_facts(as, s)
  local made = as.array {}
  for i, f in ipairs(s.made_from) do
    made[i] = as.object { { "what", f.what }, { "version", f.version }, { "path", f.path }, { "value", f.value },
        { "sha256", f.sha256 } }
  end
  return as.object { { "script", s.script }, { "name", s.job.name }, { "client", s.job.client },
      { "stage", s.job.stage }, { "on", s.job.on }, { "alternate", s.job.alternate }, { "verdict", s.verdict },
      { "exit", s.status }, { "made_from", made } }
end

local function list_of(as, list, f)
  local out = as.array {}
  for i, x in ipairs(list) do out[i] = f(x) end
  return out
end

local function facts(d, a, b, diff)
  d:fact("same", diff.same)
  d:fact("then", function(as) return side_facts(as, a) end)
  d:fact("now", function(as) return side_facts(as, b) end)
  d:fact("records", function(as)
    local function paths(list) return list_of(as, list, function(r) return r.path end) end
    return as.object { { "gone", paths(diff.records.gone) }, { "new", paths(diff.records.new) } }
  end)
  d:fact("declared", function(as)
    return list_of(as, diff.declared, function(x)
      local was, is = x.was or {}, x.is or {}
      return as.object { { "path", x.path }, { "was", told(as, was.value) }, { "is", told(as, is.value) },
          { "place_then", was.place }, { "place_now", is.place }, { "taken_over_of", is.of } }
    end)
  end)
  d:fact("results", function(as)
    return list_of(as, (printable(diff, b)), function(x)
      local was, is = x.was or {}, x.is or {}
      return as.object { { "path", x.path }, { "says", is.says or was.says }, { "was", told(as, was.value) },
          { "is", told(as, is.value) }, { "unknown_then", was.unknown }, { "unknown_now", is.unknown } }
    end)
  end)
  d:fact("rules", function(as)
    local function row(x)
      local r = x.is or x.was
      return as.object { { "id", r.id }, { "subject", r.subject }, { "was", outcome_of(x.was) },
          { "is", outcome_of(x.is) }, { "words", x.is and x.is.words }, { "margin_then", x.was and x.was.ratio },
          { "margin_now", x.is and x.is.ratio } }
    end
    local function ids(list) return list_of(as, list, function(r) return r.id end) end
    return as.object { { "outcomes", list_of(as, diff.rules.outcomes, row) },
        { "tighter", list_of(as, diff.rules.tighter, row) }, { "new", ids(diff.rules.new) },
        { "gone", ids(diff.rules.gone) } }
  end)
  d:fact("papers", function(as)
    return list_of(as, diff.covered.gone, function(c)
      return as.object { { "paper", c.paper }, { "no_longer_covers", c.subject } }
    end)
  end)
  d:fact("sheets", function(as)
    local function names(list) return list_of(as, list, function(s) return s.name end) end
    return as.object { { "throw_away", names(diff.sheets.throw) }, { "print", names(diff.sheets.print) } }
  end)
end

-- ---- all -----------------------------------------------------------------------------------------------------------

-- What the domains say of the change: cost and orders, holes. Where nothing is bought or dug, one line says so.
local function domains_say(d, a, b)
  local nothing = {}
  for _, row in ipairs(domains.sheets()) do
    nothing[#nothing + 1] = row.changes and domains.load(row.changes).tell(d, a.kept[row.name], b.kept[row.name])
  end
  if #nothing > 0 then
    d:gap()
    d:para(table.concat(nothing, " "))
  end
end

-- Of two snapshots, each with made_from, as write.identity lists it; the run is that of the second.
function change_order.document(a, b)
  local diff, d = difference.of(a, b), document.new("compare", "Change order")
  d.tight = true
  facts(d, a, b, diff)
  if diff.same then
    d:para("Nothing differs: what is declared, what comes of it, how the rules judge, what is bought and what the " ..
        "sheets say is the same.", nil, nil, "good")
    d:gap()
  end
  head(d, a, b)
  if diff.same then return d end
  declared(d, diff, a, b)
  rules(d, diff)
  papers(d, diff)
  results(d, diff, b)
  domains_say(d, a, b)
  sheets(d, diff)
  cautions(d, b)
  signatures(d)
  return d
end

return change_order
