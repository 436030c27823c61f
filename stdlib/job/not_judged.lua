-- SPDX-License-Identifier: MIT
-- What no rule judges, of what the job has: who covers it, and what is left.  To cover a subject silences no rule.
local run = import "model.run"
local record = import "model.record"
local memo = import "model.memo"
local util = import "model.util"
local register = import "job.register"
local not_judged = { words = {}, electrical = {} }

for i, subject in ipairs(register) do
  not_judged.words[i] = subject[1]
  if subject.who == "electrician" then table.insert(not_judged.electrical, subject[1]) end
end

-- The records that a subject is about, but those that have none of it, or of which rules judge it.
local function records(subject)
  for i = 1, #subject.each do
    local list, where, has = record.all(subject.each[i]), subject.where, subject.has
    if list[1] and (where or has) then
      local left = {}
      for k = 1, #list do
        local r = list[k]
        if not (where and where(r)) and (not has or has(r)) then left[#left + 1] = r end
      end
      return left
    end
    if list[1] then return list end
  end
  return {}
end

local here = { name = "subjects of no rule", find = function()
  local list = {}
  for i = 1, #register do
    local subject = register[i]
    if not subject.judged and records(subject)[1] then list[#list + 1] = subject end
  end
  return list
end }

-- The subjects that the job has and no rule judges.
function not_judged.here() return memo.value(record.inside[record.root], here) end

-- ---- who covers it -------------------------------------------------------------------------------------------------

local covered = { name = "covered words", find = function(rec)
  local words, list = {}, {}
  for word in record.each(record.given(rec.proxy, "covers") or {}) do words[word] = true end
  for i = 1, #register do if words[register[i][1]] then list[#list + 1] = register[i] end end
  return list
end }

-- The subjects that a paper names, in the register's order.
function not_judged.named(paper) return memo.value(record.inside[paper], covered) end

local none = {}

local naming = { name = "papers by what they cover", find = function()
  local by = {}
  for _, paper in ipairs(run.papers) do
    for _, subject in ipairs(not_judged.named(paper)) do
      local papers = by[subject] or {}
      by[subject], papers[#papers + 1] = papers, paper
    end
  end
  return by
end }

-- The papers that name a subject, in the order declared.
local function papers_naming(subject)
  return memo.value(record.inside[record.root], naming)[subject] or none
end

local given              -- loaded with the first paper that is asked

-- Why a paper that names a subject does not cover it for a record; nil if it does.
local function refusal(paper, subject, proxy)
  given = given or import "model.given"
  local ok, why = pcall(given.covers_subject, paper, proxy, subject, not_judged.named)
  if ok then return nil end
  if not host.class(why) then error(why, 0) end
  return why
end

-- The first paper that covers a subject, by its word, for a record; or nil, and why one that names it does not.
function not_judged.covering(word, proxy)
  local refused
  for i = 1, #register do
    if register[i][1] == word then
      for _, paper in ipairs(papers_naming(register[i])) do
        local why = refusal(paper, register[i], proxy)
        if not why then return paper end
        refused = refused or why
      end
    end
  end
  return nil, refused
end

-- Why a paper does not cover a subject that it names: for the first of the records that it is about; nil if it does.
function not_judged.refusal(paper, subject)
  for _, proxy in ipairs(records(subject)) do
    local why = refusal(paper, subject, proxy)
    if why then return why end
  end
end

-- With what a paper is mended that does not say enough: all that its subjects want, of whichever record, in one; nil
-- where it says enough.
local function wanted(paper)
  local list, seen = {}, {}
  for _, subject in ipairs(not_judged.named(paper)) do
    for _, proxy in ipairs(records(subject)) do
      local ok, lacks = pcall(given.lacks, paper, proxy, subject, not_judged.named)
      if not host.class(lacks) then
        if not ok then error(lacks, 0) end
        for _, path in ipairs(lacks or none) do
          if not seen[path] then list[#list + 1], seen[path] = path, true end
        end
      end
    end
  end
  return list[1] and given.wanted(paper, list)
end

local function raise(subject, text, who, tool)
  host.raise { code = "G006", class = "missing", text = subject[1] .. text, path = record.step("covers", subject[1]),
      who = who, tool = tool }
end

-- What is not covered for a record, and for how many more; with all that keeps papers from it.
local function raise_refused(subject, proxy, more, refused)
  if #refused == 0 then
    raise(subject, ": no rule judges it and no paper covers it", subject.who, "a paper that covers it")
  end
  local texts, who, first = {}, {}, refused[1]
  for i, r in ipairs(refused) do texts[i], who[#who + 1] = r.why.text, r.why.who end
  local whose = #records(subject) > 1 and ", " .. tostring(proxy) .. (more > 0 and " and " .. more .. " more" or "")
  raise(subject, (whose or "") .. ": " .. table.concat(texts, "; "),
      #who > 0 and util.list(who, "or") or nil, first.why.lacks and wanted(first.paper) or first.why.tool)
end

local function papers_for(subject)
  local papers, covers, first, count = papers_naming(subject), {}, nil, 0
  local about = records(subject)
  for i = 1, #about do
    local covered, refused = false, {}
    for k = 1, #papers do
      local why = refusal(papers[k], subject, about[i])
      if why then refused[#refused + 1] = { why = why, paper = papers[k] }
      else covered, covers[papers[k]] = true, true end
    end
    if not covered then
      first, count = first or { proxy = about[i], refused = refused }, count + 1
      if #refused == 0 then break end                  -- no paper names it: so for all
    end
  end
  if first then raise_refused(subject, first.proxy, count - 1, first.refused) end
  local found = {}
  for k = 1, #papers do if covers[papers[k]] then found[#found + 1] = papers[k] end end
  return found
end

local on_subject = {}    -- subject -> the definition of the papers on it
for _, subject in ipairs(register) do
  on_subject[subject] = { name = "papers on " .. subject[1], find = function() return papers_for(subject) end }
end

-- The papers that cover a subject, one for each record at least, in the order declared; nil, and why, where it is not
-- covered.
function not_judged.papers(subject) return memo.try(record.inside[record.root], on_subject[subject]) end

-- The paper that answers for what a code asks of which no rows are kept, by the field of the job's codes; nil where
-- none answers for all that it is about.
function not_judged.by_code(field)
  for i = 1, #register do
    if register[i].code == field then
      local papers = not_judged.papers(register[i])
      return papers and papers[1]
    end
  end
end

record.answered_by(not_judged.by_code)

-- What papers cover: { subject, paper } ..., and what nobody does: { subject ... }.
local function parted()
  return memo.remember(record.inside[record.root], "subjects not judged", function()
    local covered, left = {}, {}
    for _, subject in ipairs(not_judged.here()) do
      local found = not_judged.papers(subject)
      for _, paper in ipairs(found or none) do covered[#covered + 1] = { subject = subject, paper = paper } end
      if not found then left[#left + 1] = subject end
    end
    return { covered = covered, left = left }
  end)
end

function not_judged.covered() return parted().covered end
function not_judged.left() return parted().left end

-- ---- in a sentence -------------------------------------------------------------------------------------------------

-- "bending of rails and posts and their joints, wind and snow pressure on modules, and labels"
function not_judged.say(subjects)
  local parts, last = {}, nil
  for _, s in ipairs(subjects) do
    if s.of and last and last.of == s.of then last[#last + 1] = s.says
    else
      last = { last and last.of and s.behind or s.says, of = s.of }
      parts[#parts + 1] = last
    end
  end
  for i, p in ipairs(parts) do parts[i] = (p.of or "") .. util.list(p) end
  if #parts < 3 then return table.concat(parts, ", and ") end
  return table.concat(parts, ", ", 1, #parts - 1) .. ", and " .. parts[#parts]
end

return not_judged
