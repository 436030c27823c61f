-- SPDX-License-Identifier: MIT
-- What a document says of papers that give values: on page one, at the foot of a sheet, beside a value that explain
-- shows, and under the cautions.  Loaded where a job has one.
local run = import "model.run"
local record = import "model.record"
local given = import "model.given"
local util = import "model.util"
local words = import "write.words"
local not_judged = import "job.not_judged"
local papers = {}

local inside = record.inside

local answers = "Its author answers for it, not this program."

-- Each field that identifies the paper, by name: how it reads.
local function identity(paper)
  local parts = {}
  local function put(name, says)
    local v = inside[paper].def.by[name] and record.given(paper, name)
    if v then parts[#parts + 1] = says .. v end
  end
  put("product", "for ")
  put("licence", "licence ")
  if inside[paper].def.by.state then parts[#parts] = parts[#parts] .. " " .. paper.state end
  put("paper", "")
  put("dated", "dated ")
  return inside[paper].name .. ", " .. table.concat(parts, ", ")
end

local function field(paper, name) return inside[paper].def.by[name] and record.given(paper, name) end

-- loads (allowable level), covering rails, joints
local function gives(paper)
  local parts = {}
  for _, name in ipairs { "loads", "holds" } do
    if field(paper, name) then parts[#parts + 1] = name .. " (" .. paper.level .. " level" ..
        (name == "loads" and record.given(paper, "dead_taken_off") and ", the frame's weight taken off what lifts" or
        "") .. ")" end
  end
  if field(paper, "covers") then parts[#parts + 1] = "covering " .. words.show(paper.covers) end
  return util.list(parts)
end

local function made_for(paper)
  local of = record.given(paper, "made_for")
  return of and "made for " .. words.show(of) or "with no word of what it was made for"
end

-- "loads (allowable level) by engineer Ione Castellan, licence E-40771 NE, S1 to S4, dated 2027-03-30, made for ..."
local function whole(paper)
  return gives(paper) .. " by " .. inside[paper].def.name .. " " .. identity(paper) .. ", " .. made_for(paper)
end

local function sentence(text) return text:sub(1, 1):upper() .. text:sub(2) end

-- Why the forces of a paper do not hold: for the first of the racks that they concern; nil if they do.
local function why_not(paper, name)
  local racks = record.all "rack"
  for _, proxy in ipairs(racks) do
    local concerns = false
    for _, word in ipairs(given.words_of(inside[paper].def)) do
      for child in record.each(word[1] == name and proxy.post or {}) do
        concerns = concerns or given.paper(child, name .. "." .. word[2]) == paper
      end
    end
    local ok, why = true, nil
    if concerns then ok, why = pcall(given.covers, paper, proxy, name) end
    if not ok then
      if not host.class(why) then error(why, 0) end
      return (host.message(why))
    end
  end
  if #racks == 0 then return given.title(paper) .. " has no rack to be for" end
end

-- ---- page one ------------------------------------------------------------------------------------------------------

-- What a paper names and does not cover here: words, and why, in words: R74 asks for what no rule judges, and for
-- nothing else.
local function refused(paper)
  local list, first, asked = {}, nil, false
  for _, subject in ipairs(not_judged.named(paper)) do
    local why = not_judged.refusal(paper, subject)
    if why then
      list[#list + 1], first = subject[1], first or why
      asked = asked or not subject.judged
    end
  end
  return list, asked and "R74 says why" or first and host.message(first)
end

-- A line for each paper, and what of it does not hold here; what it was made for stands with the cautions.
function papers.page_one(d)
  for _, paper in ipairs(run.papers) do
    local reasons, fields = {}, {}
    d:outcome("PAPER:", inside[paper].def.name .. " " .. identity(paper) .. ": " .. gives(paper) .. ".", "warn")
    for _, name in ipairs { "loads", "holds" } do
      local why = field(paper, name) and why_not(paper, name)
      if why then
        if not fields[why] then reasons[#reasons + 1], fields[why] = why, {} end
        table.insert(fields[why], name)
      end
    end
    for _, why in ipairs(reasons) do
      d:outcome("NOT FOR THIS JOB:", "its " .. util.list(fields[why]) .. ". " .. sentence(why) .. ".", "bad")
    end
    local open, why = refused(paper)
    if #open > 0 then
      d:outcome("NOT FOR THIS JOB:", "what it covers of " .. util.list(open) .. "; " .. why .. ".", "bad")
    end
  end
  d:para(#run.papers == 1 and answers or "Their authors answer for them, not this program.")
end

-- ---- cautions ------------------------------------------------------------------------------------------------------

-- Who covers what, or why not; no rule is silenced by it.
function papers.covering()
  local texts, covers = {}, {}
  for _, c in ipairs(not_judged.covered()) do
    covers[c.paper] = covers[c.paper] or {}
    table.insert(covers[c.paper], c.subject)
  end
  for _, paper in ipairs(run.papers) do
    if covers[paper] then
      texts[#texts + 1] = "Not judged here but covered by " .. inside[paper].def.name .. " " .. identity(paper) ..
          ", " .. made_for(paper) .. ": " .. not_judged.say(covers[paper]) .. ". " .. answers
    end
    local open, why = refused(paper)
    if #open > 0 then
      texts[#texts + 1] = sentence(given.title(paper)) .. " does not cover " .. util.list(open) .. " here: " .. why ..
          "."
    end
  end
  return texts
end

-- ---- sheets --------------------------------------------------------------------------------------------------------

-- body: what a sheet read. Papers that it rests on are named, whether they hold here or not.
function papers.foot(d, body)
  local found, any = {}, false
  import("write.trace").walk(body, function(n)
    local paper = n.def and n.def.paper
    if paper then found[paper], any = true, true end
  end, function() end)
  if not any then return end
  d:gap()
  d:subheading("Given by paper, not worked out here")
  d:inside(function()
    for _, paper in ipairs(run.papers) do
      if found[paper] then
        local place = words.place(paper)
        d:para(sentence(whole(paper)) .. (place and " (" .. place .. ")" or "") .. ". " .. answers, nil, 2)
      end
    end
  end)
end

-- "By paper: loads.side, loads.up by engineer Ione Castellan, licence ...": what of a record's children is given.
function papers.said_of(proxy)
  local parts = {}
  for _, paper in ipairs(run.papers) do
    local given_words = {}
    for _, word in ipairs(given.words_of(inside[paper].def)) do
      local path, any = word[1] .. "." .. word[2], false
      for child in record.each(proxy.post) do any = any or given.paper(child, path) == paper end
      if any then given_words[#given_words + 1] = path end
    end
    if #given_words > 0 then
      parts[#parts + 1] = util.list(given_words) .. " by " .. inside[paper].def.name .. " " .. identity(paper)
    end
  end
  return #parts > 0 and "By paper: " .. table.concat(parts, "; ") .. "." or nil
end

-- ---- explain -------------------------------------------------------------------------------------------------------

-- The given value and its paper, and beside it what would have been worked out. worked_from(d, node) and
-- unknown(d, why) are explain's own.
function papers.explain(d, node, worked_from, unknown)
  local proxy, def = node.rec.proxy, node.def
  local paper, value, at = given.paper(proxy, def.given)
  if not paper then return worked_from(d, node) end
  local source = words.source(at)
  d:gap()
  d:subheading("given by paper")
  d:inside(function()
    d:para(at .. " = " .. words.show(value) .. (source ~= "" and " (" .. source .. ")" or ""), nil, 4)
    if node.value ~= nil and not host.same(node.value, value) then
      d:para("taken here as " .. words.result(def, node.value) .. ": " .. def.says)
    end
    d:para(sentence(whole(paper)) .. ". " .. answers)
  end)
  worked_from(d, node)
  given.without(function()
    local ours = import("write.trace").result(proxy, def.name)
    d:gap()
    d:subheading("without the paper" .. (ours.unknown and "" or ": " .. words.result(def, ours.value)))
    d:inside(function()
      if ours.unknown then unknown(d, ours.unknown) end
      worked_from(d, ours)
    end)
  end)
end

return papers
