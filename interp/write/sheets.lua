-- SPDX-License-Identifier: MIT
-- The sheets: what each is called, what it waits for, which rules touch it.
--
-- { name = "posts", title = "Posts and holes", build = true,      build: none at stage "quote"
--   kinds = { "rack", "post" }, rules = { "R09" },                rules that touch it: by their each, or by id
--   rests = { "rack" },                                           kinds whose tables it rests on; without it, kinds
--   after = { "R41" },                                            withheld until these hold
--   waits = function() return "why it is withheld" end,           or nil
--   short = function(p) end, whole = function(p) end }            in the report, and alone
local record = import "model.record"
local page = import "write.page"
local words = import "write.words"
local verdict = import "write.verdict"
local util = import "model.util"
local graph = import "model.graph"
local all = { list = {} }

function all.add(sheet)
  all.list[#all.list + 1] = sheet
  all.list[sheet.name] = sheet
end

-- ---- withheld ------------------------------------------------------------------------------------------------------

-- Why a sheet that could hurt is not printed; nil if it is.
local function withheld(sheet, groups)
  if sheet.build and record.root.stage == "quote" then return 'the job is at stage "quote": build sheets are ' ..
      'printed from "permit" on' end
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

-- All sheets in order with their state: { sheet, withheld = reason or nil }.
function all.state(outcomes)
  local groups, list = by_id(outcomes), {}
  for _, s in ipairs(all.list) do list[#list + 1] = { sheet = s, withheld = withheld(s, groups) } end
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
local function warnings(p, sheet, groups, short)
  local unknown = {}
  for _, g in ipairs(groups) do
    local r, o = g.rule, g.worst
    if g.outcome ~= "holds" and g.outcome ~= "not applicable" and touches(sheet, r) then
      local subject = words.subject(o)
      local what = r.says .. (subject ~= "" and ", " .. subject or "")
      if g.outcome == "waived" then
        p:para("WAIVED " .. r.id .. " by " .. o.waiver.by .. " as " .. o.waiver.as .. " on " .. o.waiver.on .. ": " ..
            o.waiver.reason .. ". Not shown to hold: " .. what, "  ! ")
      elseif short and g.outcome == "unknown" then unknown[#unknown + 1] = r.id
      elseif g.outcome == "broken" or g.outcome == "unknown" then
        p:para(alarm[r.severity] .. r.id .. " is " .. g.outcome .. ": " .. what .. ". If not: " .. r.caution, "  ! ")
      end
    end
  end
  if #unknown > 0 then p:para("Do not build from this sheet: unknown " .. (#unknown == 1 and "is " or "are ") ..
      util.list(unknown) .. ".", "  ! ") end
end

-- Values from memory or practice under the results of the sheet's kinds.
local function basis(p, sheet)
  local worksheet = import "write.worksheet"
  local list, seen = {}, {}
  for _, kind in ipairs(sheet.rests or sheet.kinds or {}) do
    for proxy in record.each_of(kind) do
      for _, def in ipairs(record.inside[proxy].def.result_order) do
        local worked = def.op and graph.try(proxy, def.name)
        if worked then worksheet.basis(worked, list, seen) end
      end
    end
  end
  if #list == 0 then return end
  p:blank()
  p:line("Where the numbers are from, if not read in the source itself")
  for _, b in ipairs(list) do p:para(b.basis .. ": " .. words.cite(b.cite) .. " (" .. table.concat(b.names, ", ") ..
      ")", "  ", "    ") end
end

-- Runs a body; what cannot be worked out is said in its place.
local function guarded(p, body)
  local kept = #p.lines
  local ok, why = pcall(body, p)
  if ok then return end
  if not host.class(why) then error(why, 0) end
  for i = #p.lines, kept + 1, -1 do p.lines[i] = nil end
  local text, help = host.message(why)
  p:para("not printed, since something is unknown: " .. text .. (why.who and "; ask " .. why.who or ""), "  ")
end

-- ---- in the report, and alone --------------------------------------------------------------------------------------

function all.short(p, outcomes)
  local groups = by_id(outcomes)
  for _, s in ipairs(all.list) do
    if s.short then
      p:head(s.title)
      local why = withheld(s, groups)
      if why then p:para("WITHHELD: " .. why .. ".", "  ")
      else
        warnings(p, s, groups, true)
        guarded(p, s.short)
      end
    end
  end
end

-- The cautions that end a report.
function all.last(p)
  local sheet = all.list.cautions
  p:head(sheet.title)
  sheet.whole(p)
end

local aid = "A planning aid, not a sealed design: local code, the authority's decision and the makers' " ..
    "instructions rule."

function all.whole(outcomes, name, options)
  local groups = by_id(outcomes)
  local p = page.new(options.colour)
  if not name then
    local rows = {}
    for _, s in ipairs(all.state(outcomes)) do rows[#rows + 1] = { s.sheet.name, s.sheet.title, s.withheld and
        "withheld: " .. s.withheld or "" } end
    p:table({ "sheet", "title", { "", wrap = true } }, rows)
    return p:text()
  end
  local sheet = all.list[name]
  if type(sheet) ~= "table" or not sheet.name then
    local names = {}
    for i, s in ipairs(all.list) do names[i] = s.name end
    local near = host.nearest(name, names)
    host.raise { code = "U004", text = "there is no sheet '" .. name .. "'", help = near and "did you mean '" ..
        near .. "'?" or "there are " .. util.list(names) }
  end
  local job = record.root
  p:line(p:paint(sheet.title .. " - " .. (record.given(job, "name") or "") .. ", " ..
      (record.given(job, "client") or ""), "head"))
  p:line("stage " .. job.stage .. (record.given(job, "on") and ", judged on " .. job.on or "") ..
      (options.alternate and ', alternate "' .. options.alternate .. '"' or ""))
  p:para(aid)
  p:blank()
  local why = withheld(sheet, groups)
  if why then
    p:para("WITHHELD: " .. why .. ".")
    for _, id in ipairs(sheet.after or {}) do
      if groups[id] and (groups[id].outcome == "broken" or groups[id].outcome == "unknown") then
          p:para(groups[id].rule.caution, "  ! ") end
    end
    return p:text()
  end
  warnings(p, sheet, groups)
  guarded(p, sheet.whole)
  basis(p, sheet)
  return p:text()
end

for _, m in ipairs { "structure.sheets.posts", "structure.sheets.stakeout", "structure.sheets.loads",
    "electrical.sheets.strings", "electrical.sheets.wire", "electrical.sheets.trench", "buying.sheets.cutting",
    "buying.sheets.buying", "job.sheets.cautions" } do
  all.add(import(m))
end

return all
