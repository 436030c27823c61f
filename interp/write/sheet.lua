-- SPDX-License-Identifier: MIT
-- One sheet whole, as a document; without a name, the list of them.
local run = import "model.run"
local record = import "model.record"
local util = import "model.util"
local domains = import "model.domains"
local document = import "write.document"
local identity = import "write.identity"
local sheets = import "write.sheets"

local function contents(outcomes)
  local d = document.new("sheets", "Sheets")
  local rows, early = {}, false
  for i, s in ipairs(sheets.state(outcomes)) do
    local soon = sheets.too_early(s.sheet)
    early = early or soon
    rows[i] = { s.sheet.name, s.sheet.title,
        soon and "not at stage quote" or s.withheld and "withheld: " .. s.withheld or "" }
  end
  d:table({ "sheet", "title", { "", key = "withheld", wrap = true } }, rows)
  if early then
    d:gap()
    d:para('Not at stage quote: nothing is built from a quote.')
  end
  return d
end

local function named(name)
  local sheet, names = sheets.named(name)
  if sheet then return sheet end
  local near = host.nearest(name, names)
  host.raise { code = "U004", text = "there is no sheet '" .. name .. "'",
      help = near and "did you mean '" .. near .. "'?" or "there are " .. util.list(names) }
end

-- --for crew: only of sheets whose lengths are set out, cut or drilled.
local function for_crew(whom, sheet)
  if whom ~= "crew" then
    host.raise { code = "U008", text = "--for knows only crew, got '" .. whom .. "'", help = "write --for crew" }
  end
  local names, known = {}, {}                          -- of a sheet that the job has nothing for, too
  for _, row in ipairs(domains.sheets()) do
    if row.crew then names[#names + 1], known[row.name] = row.name, true end
  end
  if not sheet or not known[sheet.name] then
    host.raise { code = "U006", text = sheet and "the sheet " .. sheet.name .. " is none that a crew sets out, cuts " ..
        "or drills by: it takes no --for" or "--for goes with one sheet, not with their list",
        help = "those for a crew are " .. util.list(names) }
  end
end

-- One sheet whole; without a name, the list of them.
return function(outcomes, status, name, options)
  local sheet = name and named(name)
  if options.whom then for_crew(options.whom, sheet) end
  run.crew = options.whom ~= nil
  if not sheet then return contents(outcomes) end
  local groups, job = sheets.by_id(outcomes), record.root
  local d = document.new("sheet " .. name, sheet.title)
  d.outcomes, d.status, d.options = outcomes, status, options
  d:head(sheet.title .. " - " .. (record.given(job, "name") or "") .. ", " .. (record.given(job, "client") or ""))
  local revision = record.given(job, "revision")
  d:para("stage " .. job.stage .. (record.given(job, "on") and ", judged on " .. job.on or "") ..
      (revision and ", revision " .. revision or "") ..
      (options.alternate and ', alternate "' .. options.alternate .. '"' or "") ..
      (run.crew and ", for the crew" or ""))
  d:para(sheets.aid)
  d:gap()
  local why = sheets.withheld(sheet, groups)
  if why then
    d:para("WITHHELD: " .. why .. ".")
    d:inside(function()
      for _, id in ipairs(sheet.after or {}) do
        local g = groups[id]
        if g and (g.outcome == "broken" or g.outcome == "unknown") then d:warning(g.rule.caution) end
      end
    end)
  else
    d:inside(sheets.warnings, sheet, groups)
    if #run.papers == 0 then import("write.sources").foot(d, import("model.called").by(d.guarded, d, sheet.whole))
    else
      local trace = import "write.trace"
      local body, answers = trace.body(d.guarded, d, sheet.whole), {}
      trace.primitives(body, function(worked) answers[#answers + 1] = worked end)
      import("write.sources").foot(d, answers)
      import("write.papers").foot(d, body)
    end
  end
  identity.foot(d, options)
  return d
end
