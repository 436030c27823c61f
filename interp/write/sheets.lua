-- SPDX-License-Identifier: MIT
-- The sheets: what each is called, what it waits for, which rules touch it, and the document that it becomes.
--
-- { name = "posts", title = "Posts and holes", order = 10,        order: its place in the report
--   build = true,                                                 none at stage "quote"
--   kinds = { "rack", "post" }, rules = { "R09" },                rules that touch it: by their each, or by id
--   of = { "rack" },                                              kinds without which it has nothing to print;
--                                                                 without it, kinds; without any, always printed
--   rests = { "rack" },                                           kinds whose tables it rests on; without it, kinds
--   after = { "R41" },                                            withheld until these hold
--   waits = function() return "why it is withheld" end,           or nil
--   head = function(row) row("client", "...") end,                lines in the head of the report
--   inputs = function(d) end,                                     what it adds to the report's inputs
--   short = function(d) end, whole = function(d) end,             what it writes in the report, and alone
--   facts = { { "total", "value" } },                             what it tells programs besides: see write.schema_json
--   last = true }                                                 whole at the end of the report
local record = import "model.record"
local words = import "write.words"
local verdict = import "write.verdict"
local document = import "write.document"
local identity = import "write.identity"
local util = import "model.util"
local graph = import "model.graph"
local schema = import "model.schema"
local domains = import "model.domains"
local sheets = { list = {} }       -- in order; those that can be printed alone also by name

local function add(sheet)
  sheets.list[#sheets.list + 1] = sheet
  if sheet.whole then sheets.list[sheet.name] = sheet end
end

-- ---- withheld ------------------------------------------------------------------------------------------------------

-- Why a sheet that could hurt is not printed; nil if it is.
local function withheld(sheet, groups)
  if sheet.build and record.root.stage == "quote" then
    return 'the job is at stage "quote": build sheets are printed from "permit" on'
  end
  for _, id in ipairs(sheet.after or {}) do
    local g = groups[id]
    if g and g.outcome ~= "holds" and g.outcome ~= "not applicable" then
      local why = g.worst.why and host.message(g.worst.why) or g.worst.finding and words.finding(g.worst.finding)
      return id .. " is " .. g.outcome .. (why and why ~= "" and ": " .. why or "")
    end
  end
  return sheet.waits and sheet.waits() or nil
end

local function by_id(outcomes)
  local groups = {}
  for _, g in ipairs(verdict.groups(outcomes)) do groups[#groups + 1] = g; groups[g.rule.id] = g end
  return groups
end

-- All that can be printed, in order, with their state: { sheet, withheld = reason or nil }.
function sheets.state(outcomes)
  local groups, list = by_id(outcomes), {}
  for _, s in ipairs(sheets.list) do
    if s.whole then list[#list + 1] = { sheet = s, withheld = withheld(s, groups) } end
  end
  return list
end

-- ---- what prints on every sheet ------------------------------------------------------------------------------------

local function touches(sheet, rule)
  for _, id in ipairs(sheet.rules or {}) do if id == rule.id then return true end end
  for _, k in ipairs(sheet.kinds or {}) do if k == rule.each then return true end end
  return false
end

local alarm = { stop = "DO NOT BUILD FROM THIS SHEET: ", caution = "Caution: ", note = "Note: " }

-- Waivers and the cautions of broken and unknown rules, on the sheet that they touch. In the report, which has told
-- the unknown ones already, those are one line.
local function warnings(d, sheet, groups, short)
  local unknown = {}
  for _, g in ipairs(groups) do
    local r, o = g.rule, g.worst
    if g.outcome ~= "holds" and g.outcome ~= "not applicable" and touches(sheet, r) then
      local subject = words.subject(o)
      local what = r.says .. (subject ~= "" and ", " .. subject or "")
      if g.outcome == "waived" then
        d:warning("WAIVED " .. r.id .. " by " .. o.waiver.by .. " as " .. o.waiver.as .. " on " .. o.waiver.on ..
            ": " .. o.waiver.reason .. ". Not shown to hold: " .. what)
      elseif short and g.outcome == "unknown" then unknown[#unknown + 1] = r.id
      elseif g.outcome == "broken" or g.outcome == "unknown" then
        d:warning(alarm[r.severity] .. r.id .. " is " .. g.outcome .. ": " .. what .. ". If not: " .. r.caution)
      end
    end
  end
  if #unknown > 0 then
    d:warning("Do not build from this sheet: unknown " .. (#unknown == 1 and "is " or "are ") .. util.list(unknown) ..
        ".")
  end
end

-- Values from memory or practice under the results of the sheet's kinds.
local function basis(d, sheet)
  local worksheet = import "write.worksheet"
  local list, seen = {}, {}
  for _, kind in ipairs(sheet.rests or sheet.kinds or {}) do
    for proxy in record.each_of(kind) do
      for _, def in ipairs(schema.results(record.inside[proxy].def)) do
        local worked = def.op and graph.try(proxy, def.name)
        if worked then worksheet.basis(worked, list, seen) end
      end
    end
  end
  if #list == 0 then return end
  d:gap()
  d:subheading("Where the numbers are from, if not read in the source itself")
  d:inside(function()
    for _, b in ipairs(list) do
      d:para(b.basis .. ": " .. words.cite(b.cite) .. " (" .. table.concat(b.names, ", ") .. ")", nil, 2)
    end
  end)
end

-- ---- in the report -------------------------------------------------------------------------------------------------

-- Lines of the report's head: { what, says }.
function sheets.head()
  local rows = {}
  local function row(what, says) if says and says ~= "" then rows[#rows + 1] = { what, says } end end
  for _, s in ipairs(sheets.list) do if s.head then s.head(row) end end
  return rows
end

function sheets.inputs(d)
  for _, s in ipairs(sheets.list) do if s.inputs then s.inputs(d) end end
end

function sheets.short(d, outcomes)
  local groups = by_id(outcomes)
  for _, s in ipairs(sheets.list) do
    if s.short then
      d:heading(s.title)
      d:inside(function()
        local why = withheld(s, groups)
        if why then d:para("WITHHELD: " .. why .. ".")
        else
          warnings(d, s, groups, true)
          d:guarded(s.short)
        end
      end)
    end
  end
end

-- What ends a report.
function sheets.last(d)
  for _, s in ipairs(sheets.list) do
    if s.last then
      d:heading(s.title)
      s.whole(d)
    end
  end
end

-- ---- alone ---------------------------------------------------------------------------------------------------------

sheets.aid = "A planning aid, not a sealed design: local code, the authority's decision and the makers' " ..
    "instructions rule."

local function contents(outcomes)
  local d = document.new("sheets", "Sheets")
  local rows = {}
  for i, s in ipairs(sheets.state(outcomes)) do
    rows[i] = { s.sheet.name, s.sheet.title, s.withheld and "withheld: " .. s.withheld or "" }
  end
  d:table({ "sheet", "title", { "", key = "withheld", wrap = true } }, rows)
  return d
end

local function named(name)
  local sheet = sheets.list[name]
  if type(sheet) == "table" and sheet.whole then return sheet end
  local names = {}
  for _, s in ipairs(sheets.list) do if s.whole then names[#names + 1] = s.name end end
  local near = host.nearest(name, names)
  host.raise { code = "U004", text = "there is no sheet '" .. name .. "'",
      help = near and "did you mean '" .. near .. "'?" or "there are " .. util.list(names) }
end

-- One sheet whole; without a name, the list of them.
function sheets.whole(outcomes, status, name, options)
  if not name then return contents(outcomes) end
  local groups, sheet, job = by_id(outcomes), named(name), record.root
  local d = document.new("sheet " .. name, sheet.title)
  d.outcomes, d.status, d.options = outcomes, status, options
  d:head(sheet.title .. " - " .. (record.given(job, "name") or "") .. ", " .. (record.given(job, "client") or ""))
  d:para("stage " .. job.stage .. (record.given(job, "on") and ", judged on " .. job.on or "") ..
      (options.alternate and ', alternate "' .. options.alternate .. '"' or ""))
  d:para(sheets.aid)
  d:gap()
  local why = withheld(sheet, groups)
  if why then
    d:para("WITHHELD: " .. why .. ".")
    d:inside(function()
      for _, id in ipairs(sheet.after or {}) do
        local g = groups[id]
        if g and (g.outcome == "broken" or g.outcome == "unknown") then d:warning(g.rule.caution) end
      end
    end)
  else
    d:inside(warnings, sheet, groups)
    d:guarded(sheet.whole)
    basis(d, sheet)
  end
  identity.put(d, options, false)
  return d
end

-- A sheet of which nothing is declared is told with the others, with the reason; the report is silent of it.
local function idle(s)
  local why = "no " .. util.list(s.of, "or"):gsub("_", " ") .. " is declared"
  return { name = s.name, title = s.title, waits = function() return why end, whole = function(d) d:para(why) end }
end

for _, s in ipairs(domains.sheets()) do
  local wanted = #s.of == 0
  for _, kind in ipairs(s.of) do wanted = wanted or #record.all(kind) > 0 end
  if wanted then add(domains.load(s.module)) elseif s.title then add(idle(s)) end
end

return sheets
