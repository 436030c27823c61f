-- SPDX-License-Identifier: MIT
-- The sheets: what each is called, what it waits for, which rules touch it, and what of it stands in a report.
--
-- { name = "posts", title = "Posts and holes", order = 10,        order: its place in the report
--   build = true,                                                 none at stage "quote"
--   crew = true,                                                  its lengths are set out, cut or drilled: --for crew
--   kinds = { "rack", "post" }, rules = { "R09" },                rules that touch it: by their each, or by id
--   of = { "rack" },                                              kinds without which it has nothing to print;
--                                                                 without it, kinds; without any, always printed
--   sorts = { "screw" },                                          of those only records of these sorts
--   after = { "R41" },                                            withheld until these hold
--   waits = function() return "why it is withheld" end,           or nil
--   beside = function(row) row("claimed", "...") end,             lines beside the verdict: see write.caveats
--   head = function(row) row("client", "...") end,                lines in the head of the report
--   inputs = function(d) end,                                     what it adds to the report's inputs
--   short = function(d) end, whole = function(d) end,             what it writes in the report, and alone
--   facts = { { "total", "value" } },                             what it tells programs besides: see write.schema_json
--   last = true }                                                 whole at the end of the report
local record = import "model.record"
local run = import "model.run"
local words = import "write.words"
local verdict = import "write.verdict"
local util = import "model.util"
local domains = import "model.domains"
local sheets = {}

-- ---- those of a run ------------------------------------------------------------------------------------------------

-- Whether any record that a sheet is about is of one of its sorts, where it names some.
local function of_sorts(row, list)
  if not row.sorts then return #list > 0 end
  for _, x in ipairs(list) do
    local def = record.inside[x].def
    local sort = record.given(x, def.sorts) or def.by[def.sorts].choices[1]
    for _, s in ipairs(row.sorts) do if s == sort then return true end end
  end
  return false
end

-- A sheet of which nothing is declared is told with the others, with the reason; in the report that is one line.
local function idle(row)
  local why = "no " .. util.list(row.of, "or"):gsub("_", " ") ..
      (row.sorts and " of kind " .. util.list(row.sorts, "or") or "") ..
      (row.of[#row.of] == "strings" and " are" or " is") .. " declared"
  return { name = row.name, title = row.title, idle = why, waits = function() return why end,
           whole = function(d) d:para(why) end }
end

-- Each sheet in order, as { row of the index, sheet or nil }: it is loaded when somebody asks for it, or for what of
-- all of them stands in a report, where anything of it does.
run.keep("sheets", function() return nil end)

local function gathered()
  if run.sheets then return run.sheets end
  local list = {}
  for _, row in ipairs(domains.sheets()) do
    local wanted = #row.of == 0
    for _, kind in ipairs(row.of) do wanted = wanted or of_sorts(row, record.all(kind)) end
    if wanted or row.title then list[#list + 1] = { row = row, sheet = not wanted and idle(row) or nil } end
  end
  run.sheets = list
  return list
end

local function loaded(entry)
  entry.sheet = entry.sheet or domains.load(entry.row.module)
  return entry.sheet
end

-- The sheet of that name, or nil and the names that there are.
function sheets.named(name)
  local names = {}
  for _, e in ipairs(gathered()) do
    if e.row.title then
      if e.row.name == name then return loaded(e) end
      names[#names + 1] = e.row.name
    end
  end
  return nil, names
end

-- Whether the job has something for the sheet of that name; it is not loaded for that.
function sheets.wanted(name)
  for _, e in ipairs(gathered()) do
    if e.row.name == name then return not (e.sheet and e.sheet.idle) end
  end
  return false
end

-- ---- withheld ------------------------------------------------------------------------------------------------------

-- Whether it is too early for a sheet to build from.
function sheets.too_early(sheet) return sheet.build and record.root.stage == "quote" end

-- Why a sheet that could hurt is not printed; nil if it is.
function sheets.withheld(sheet, groups)
  if sheets.too_early(sheet) then
    return 'the job is at stage "quote": a sheet to build from is printed from "permit" on'
  end
  for _, id in ipairs(sheet.after or {}) do
    local g = groups[id]
    if g and g.outcome ~= "holds" and g.outcome ~= "waived" and g.outcome ~= "not applicable" then
      local why = g.worst.why and words.reasons(g.worst) or g.worst.finding and words.finding(g.worst.finding)
      return id .. " is " .. g.outcome .. (why and why ~= "" and ": " .. why or "")
    end
  end
  return sheet.waits and sheet.waits() or nil
end

-- Outcomes by rule, in order and by the rule's id.
function sheets.by_id(outcomes)
  local groups = {}
  local list = verdict.groups(outcomes)
  for i = 1, #list do groups[i], groups[list[i].rule.id] = list[i], list[i] end
  return groups
end

-- All that can be printed, in order, with their state: { sheet, withheld = reason or nil }.
function sheets.state(outcomes)
  local groups, list = sheets.by_id(outcomes), {}
  for _, e in ipairs(gathered()) do
    if e.row.title then list[#list + 1] = { sheet = loaded(e), withheld = sheets.withheld(loaded(e), groups) } end
  end
  return list
end

-- ---- what prints on every sheet ------------------------------------------------------------------------------------

local function touches(sheet, rule)
  for _, id in ipairs(sheet.rules or {}) do if id == rule.id then return true end end
  for _, k in ipairs(sheet.kinds or {}) do if k == rule.each or k == rule.and_each then return true end end
  return false
end

local alarm = { stop = "DO NOT BUILD FROM THIS SHEET: ", caution = "Caution: ", note = "Note: " }

-- Waivers and the cautions of broken and unknown rules, on the sheet that they touch. In the report, which has told
-- the unknown ones already, those are one line.
-- The worst outcome of a rule, and those that are as bad.
local function as_bad(g)
  local list = { g.worst }
  for _, o in ipairs(g.list) do
    if o ~= g.worst and (o.waiver and "waived" or o.outcome) == g.outcome then list[#list + 1] = o end
  end
  return list
end

-- subjects(outcomes): how those are named, where not as on all sheets.
function sheets.warnings(d, sheet, groups, short, subjects)
  local unknown = {}
  for i = 1, #groups do
    local g = groups[i]
    local r, o = g.rule, g.worst
    if g.outcome ~= "holds" and g.outcome ~= "not applicable" and touches(sheet, r) then
      local subject = (subjects or words.subjects)(as_bad(g))
      local what = r.says .. (subject ~= "" and ", " .. subject or "")
      if g.outcome == "waived" then
        d:warning("WAIVED " .. r.id .. " by " .. words.signer(o.waiver) .. " on " .. o.waiver.on ..
            ": " .. o.waiver.reason .. ". Not shown to hold: " .. what .. ".")
      elseif short and g.outcome == "unknown" then unknown[#unknown + 1] = r.id
      elseif g.outcome == "broken" or g.outcome == "unknown" then
        d:warning(alarm[r.severity] .. r.id .. " is " .. g.outcome .. ": " .. what .. ". If not: " .. r.caution .. ".")
      end
    end
  end
  if #unknown > 0 then
    d:warning("Do not build from this sheet: unknown " .. (#unknown == 1 and "is " or "are ") .. util.list(unknown) ..
        ".")
  end
end

-- ---- in the report -------------------------------------------------------------------------------------------------

-- Calls f(sheet) for each that has the part.
local function each_with(part, f)
  local list = gathered()
  for i = 1, #list do
    local e = list[i]
    local sheet = e.sheet or not e.row.alone and loaded(e)
    if sheet and sheet[part] then f(sheet) end
  end
end

-- Lines of the report's head: { what, says }.
function sheets.head()
  local rows = {}
  local function row(what, says) if says and says ~= "" then rows[#rows + 1] = { what, says } end end
  each_with("head", function(s) s.head(row) end)
  return rows
end

function sheets.inputs(d) each_with("inputs", function(s) s.inputs(d) end) end

function sheets.short(d, outcomes)
  local groups, early, none = sheets.by_id(outcomes), {}, {}
  each_with("short", function(s)
    if sheets.too_early(s) then return end
    d:heading(s.title)
    d:inside(function()
      local why = sheets.withheld(s, groups)
      if why then d:para("WITHHELD: " .. why .. ".")
      else
        sheets.warnings(d, s, groups, true)
        d:guarded(s.short)
      end
    end)
  end)
  for _, e in ipairs(record.root.stage == "quote" and gathered() or none) do
    if e.row.build and not (e.sheet and e.sheet.idle) then early[#early + 1] = e.row.title end
  end
  local absent = {}
  each_with("idle", function(s) absent[#absent + 1] = s.title .. " (" .. s.idle .. ")" end)
  if #early + #absent > 0 then d:gap() end
  if #early > 0 then
    d:para("Not printed at stage \"quote\", since they are to build from: " .. table.concat(early, ", ") .. ".")
  end
  if #absent > 0 then d:para("Without a section here: " .. table.concat(absent, ", ") .. ".") end
end

-- What ends a report.
function sheets.last(d)
  each_with("last", function(s)
    d:heading(s.title)
    s.whole(d)
  end)
end

sheets.aid = "A planning aid, not a sealed design: local code, the authority's decision and the makers' " ..
    "instructions rule."

return sheets
