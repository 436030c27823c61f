-- SPDX-License-Identifier: MIT
-- The form for paper and pencil: facts by the place where each is found out (write.places), with who can tell it and
-- the tool that it takes.  (outcomes of the job at hand, or nil: all facts that there are) -> document.
local record = import "model.record"
local util = import "model.util"
local words = import "write.words"
local wanted = import "write.wanted"
local places = import "write.places"
local document = import "write.document"

local most_blanks, most_choices = 8, 60        -- records that get a blank of their own; columns of what is circled

-- ---- what is written behind a fact ---------------------------------------------------------------------------------

-- The unit that belongs behind the blank: that of the example, or of what a metric job prints.
local function unit(f, metric)
  if f.type == "ratio" or f.dim == "ratio" then return "%" end
  if f.type == "quantity" or f.type == "money" or f.type == "limit" then
    local example = f.example or host.example(f.dim)
    local value = metric and host.literal(example)
    if value and f.dim == "length" then return host.si(value) < 1 and "mm" or "m" end
    if value then return words.show(value):match "%S+$" end
    return (example:match "^[-+$%d.,/]*%s*(.*)$":gsub("^%[(.*)%]$", "%1"))       -- 1500[lbf*ft]
  end
  if f.type == "date" then return "year-month-day" end
  if f.type == "position" then return f.axis == "latitude" and "N / S" or "E / W" end
  return ""
end

local function blanks(names, of)
  local heads = {}
  for i, name in ipairs(names) do heads[i] = { name, of } end
  return { heads = heads, count = 1 }
end

-- Where it is written: choices to circle, if they are few; a blank for each post, record or part of a list; one blank.
local function answer(line, metric)
  local f = line.field
  local choices = f.type == "choice" and f.choices or f.type == "flag" and { "yes", "no" }
  if choices and #table.concat(choices, " / ") <= most_choices then
    choices = table.move(choices, 1, #choices, 1, {})
    if f.no_data then choices[#choices + 1] = "another: ______" end
    return { choices = choices }
  end
  if f.type == "map" then                                -- of heights, in feet or in inches: who reads them knows
    local one = { "post ____", "" }
    return line.posts and blanks(line.posts, "") or { heads = { one, one, one }, count = 2 }
  end
  if f.type == "list" and f.item.fields then
    local heads = {}
    for i, g in ipairs(f.item.fields) do heads[i] = { g.name, unit(g, metric) } end
    return { heads = heads, count = 2 }
  end
  if f.type == "list" and f.item.type == "text" then return blanks({ f.item[1], f.item[1], f.item[1] }, "") end
  local names = line.records
  local each = names and #names > 1 and #names <= most_blanks and not line.usual
  if each then return blanks(names, unit(f, metric)) end
  return { unit = unit(f, metric) }
end

local function named(names, each)
  if each then return #names == 2 and "both" or "all " .. #names end
  if #names <= words.few then return util.list(names) end
  return names[1] .. ", " .. names[2] .. " and " .. #names - 2 .. " more"
end

-- What is asked: the field, what it means, how it is known so far. before: the kind, where it is not said above.
local function text_of(line, before)
  local f, names = line.field, line.records
  local text = before .. line.path .. (f.says ~= line.path and ": " .. f.says or "")
  if names then text = text .. " (" .. named(names, line.each) .. ")" end
  if line.usual then text = text .. "; else " .. line.usual end
  return text .. (line.note and "; " .. line.note or "")
end

-- ---- groups --------------------------------------------------------------------------------------------------------

-- What stands together at a place: on paper what is of one thing, in the office what one person tells, on site all.
local together = {
  site = function() return "" end,
  yard = function(line) return line.who end,
  paper = function(line) return (line.def.name:gsub("_", " ")) end,
  office = function(line) return line.who end,
}

-- In the order in which each was met first.
local function grouped(place, lines)
  local list, by = {}, {}
  for _, line in ipairs(lines) do
    local key = together[place[1]](line)
    local g = by[key]
    if not g then
      g = { title = key, def = line.def, who = line.who, tool = line.tool, by_kind = place[1] == "paper", lines = {} }
      by[key], list[#list + 1] = g, g
    end
    if g.who ~= line.who then g.who = nil end
    if g.tool ~= line.tool then g.tool = nil end
    table.insert(g.lines, line)
  end
  return list
end

-- Two ways to bring the same heights: the second on the blanks of the first.
local function other_way(d, text)
  d:para("or, on the same lines, " .. text .. "; strike out what does not apply", nil, 0)
end

-- A row of a file: its cells side by side.
local function put_row(d, g, metric)
  local heads = { { "part number", "" } }
  for i, line in ipairs(g.lines) do heads[i + 1] = { line.path, unit(line.field, metric) } end
  d:blank(g.title .. ", a row of its parts file", { of = g.title, from = g.who, heads = heads, count = 1 })
end

-- By telephone everything is asked so, and who fills in the form needs not ask himself.
local function but(what, plain) return what ~= plain and what or nil end

-- Who and what with, where the title of the group and the line before do not say it.
local function source_of(g, line, before)
  if before and before.who == line.who and before.tool == line.tool then return nil end
  local list = {}
  list[1] = not g.who and but(line.who, "designer") or nil
  list[#list + 1] = not g.tool and but(line.tool, "a telephone call") or nil
  return #list > 0 and table.concat(list, ", ") or nil
end

local function put_title(d, g)
  local list = {}
  list[1] = but(g.title, "")
  list[#list + 1] = g.who ~= g.title and but(g.who, "designer") or nil
  list[#list + 1] = but(g.tool, "a telephone call")
  if #list > 0 then d:subheading(table.concat(list, ", ")) end
end

local function put_lines(d, g, metric)
  local mapped = false
  for i, line in ipairs(g.lines) do
    local text, on_form = text_of(line, g.by_kind and "" or line.def.name .. "."), line.def.on_form
    if line.field.type == "map" and mapped then other_way(d, text)
    else
      local a = answer(line, metric)
      a.of, a.from = line.def.name .. "." .. line.path, source_of(g, line, g.lines[i - 1])
      d:blank(text, a)
    end
    mapped = mapped or line.field.type == "map"
    if on_form and on_form.sign and (g.lines[i + 1] or {}).def ~= line.def then d:inside(d.para, on_form.sign) end
  end
end

-- What is asked of one place, under the words that hold for all of it.
local function put_group(d, g, metric)
  if g.def.part and #g.lines > 1 then return put_row(d, g, metric) end
  put_title(d, g)
  if g.title == "" then put_lines(d, g, metric) else d:inside(put_lines, g, metric) end
end

-- What is named without a value is ticked: on_form = { says, tick = words with * for each, sign = who says so }. What
-- a job names already, or knows the distance of, is left out.
local function ticks_left(def, of_job)
  local left, said = {}, {}
  local one, near = of_job and record.only(def.name), of_job and def.name == "none" and record.only "nearest"
  if one and not def.on_form.sign then return left end             -- what it names is all that there is
  for fact in record.each(one and one[def.items.name] or {}) do said[fact] = true end
  for _, c in ipairs(def.items.choices) do
    local field = c:gsub(" ", "_")
    local near_by = near and record.inside[near].def.by[field] and record.given(near, field)
    if not said[c] and not near_by then left[#left + 1] = (def.on_form.tick:gsub("*", c)) end
  end
  return left
end

local function put_ticks(d, def, left)
  d:para(def.on_form.says)
  local columns, rows = {}, {}
  for i = 1, math.min(#left, 4) do columns[i] = { "", key = "tick " .. i } end
  for i, text in ipairs(left) do
    local at = (i - 1) // #columns + 1
    rows[at] = rows[at] or {}
    table.insert(rows[at], "[ ] " .. text)
  end
  while #rows[#rows] < #columns do table.insert(rows[#rows], "") end
  d:table(columns, rows)
  if def.on_form.sign then d:para(def.on_form.sign) end
end

local function put_place(d, place, lines, kinds, of_job)
  local metric, ticked = of_job and record.root.units == "SI", {}
  for _, def in ipairs(kinds) do
    if def.on_form and def.on_form.tick and places.of(def.who, def.tool) == place[1] then
      local left = ticks_left(def, of_job)
      if #left > 0 then ticked[#ticked + 1] = { def, left } end
    end
  end
  if #lines + #ticked == 0 then return end
  d:heading(place[2])
  for _, t in ipairs(ticked) do put_ticks(d, t[1], t[2]) end
  for _, g in ipairs(grouped(place, lines)) do put_group(d, g, metric) end
end

-- ---- the whole -----------------------------------------------------------------------------------------------------

local function put_head(d, kinds, known)
  d:para("A letter in the box: M measured, T told, L looked up, G a guess; beside it with what, by whom, where. " ..
      "What stays blank the run lists; it assumes nothing." ..
      (known and known > 0 and " Known already, and left out: " .. known .. "." or ""))
  for _, def in ipairs(kinds) do
    for i, line in ipairs(def.on_form and def.on_form.head or {}) do
      if not known or i > 1 then d:para(line) end
    end
  end
end

return function(outcomes)
  local lines, kinds, known
  if outcomes then lines, kinds, known = wanted.of_job(outcomes) else lines, kinds = wanted.all() end
  local name = outcomes and record.root.name
  local d = document.new("form", name and "What to find out: " .. name or "Site visit")
  d.tight = name ~= nil
  d:head(name and "WHAT TO FIND OUT: " .. name .. ", for " .. record.root.client or "SITE VISIT")
  put_head(d, kinds, known)
  local at = {}
  for _, line in ipairs(lines) do
    local place = places.of(line.who, line.tool) or "office"           -- a domain of another's may know somebody else
    at[place] = at[place] or {}
    table.insert(at[place], line)
  end
  if #lines == 0 then d:para("Nothing is left to find out.") end
  for _, place in ipairs(places) do put_place(d, place, at[place[1]] or {}, kinds, outcomes ~= nil) end
  for _, def in ipairs(kinds) do
    local sketch = def.on_form and def.on_form.sketch
    if sketch then d:figure("sketch", "sketch: " .. sketch, outcomes and 5 or 12) end
  end
  return d
end
