-- SPDX-License-Identifier: MIT
-- The head of a report: whose job it is, under which codes, and how it prints.
local record = import "model.record"
local run = import "model.run"
local not_judged = import "job.not_judged"

local given = record.given

local function head(row)
  local job = record.root
  local codes, authority, permits = given(job, "codes"), record.only "authority", record.only "permits"
  row("client", given(job, "client"))
  local named = {}
  for i, f in ipairs(record.inside[job].def.by.codes.fields) do
    named[i] = codes and given(codes, f.name) or "no " .. f.name .. " code named"
  end
  row("codes", table.concat(named, ", "))
  row("authority", authority and authority.name .. ", its rules read on " .. authority.read_on or "none named")
  if permits and #permits.list > 0 then
    local list = {}
    local issued = {}
    for _, p in ipairs(record.all "permit") do
      issued[record.inside[p].name] = " " .. p.number .. " of " .. p.issued
    end
    for name in record.each(permits.list) do list[#list + 1] = name .. (issued[name] or "") end
    row("permits", table.concat(list, ", "))
  end
  row("units", (job.units == "SI" and "SI, lengths in mm and m" or run.sixteenths and
      "US, lengths to the nearest 1/16 in; a crew's to the nearest 1/8 in" or "US, lengths in inches and feet") ..
      "; inputs as written")
  for _, proxy in ipairs(run.records) do
    if record.inside[proxy].like then return import("write.likeness").rows(row, "rack") end     -- racks have their own
  end
end

local function said(subjects)
  local list = {}
  for i, subject in ipairs(subjects) do list[i] = subject[1] end
  return table.concat(list, ", ")
end

-- What nothing judges, and who answers for it instead.
local function beside(row)
  local left, papers, by = not_judged.left(), {}, {}
  if #left > 0 then row("not judged", said(left) .. ": nobody answers for them here") end
  for _, c in ipairs(not_judged.covered()) do
    if not by[c.paper] then by[c.paper], papers[#papers + 1] = {}, c.paper end
    table.insert(by[c.paper], c.subject)
  end
  for _, paper in ipairs(papers) do
    local of = record.inside[paper]
    row("not judged", said(by[paper]) .. ": by paper of " .. of.def.name .. " " .. of.name)
  end
end

return { name = "head", order = 1, beside = beside, head = head }
