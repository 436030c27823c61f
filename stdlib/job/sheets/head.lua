-- SPDX-License-Identifier: MIT
-- The head of a report: whose job it is, under which codes, and how it prints.
local record = import "model.record"
local run = import "model.run"
local schema = import "model.schema"
local in_force = import "model.in_force"
local util = import "model.util"
local not_judged = import "job.not_judged"

local given = record.given

-- An office by its name, and what kind it is, where it says so.
local function office_of(office)
  local as = given(office, "as")
  return office.name .. (as and " (" .. as .. ")" or "")
end

local function offices(row)
  local list = record.all "authority"
  if not list[1] then row("authority", "none named") end
  for _, office in ipairs(list) do row("authority", office_of(office) .. ", its rules read on " .. office.read_on) end
end

-- Each permit once, issued or not; of several offices, with those that ask for it.
local function permits(row)
  local names, asked, issued = {}, {}, {}
  for _, p in ipairs(record.all "permit") do
    issued[record.inside[p].name] = " " .. p.number .. " of " .. p.issued
  end
  local all, offices = record.all "permits", record.group(schema.kinds.authority).by
  for _, p in ipairs(all) do
    local file = record.inside[p].name
    for name in record.each(p.list) do
      if not asked[name] then names[#names + 1], asked[name] = name, {} end
      table.insert(asked[name], offices[file] and office_of(offices[file]) or "place " .. file)
    end
  end
  for i, name in ipairs(names) do
    names[i] = name .. (issued[name] or "") .. (#all > 1 and ", asked for by " .. util.list(asked[name]) or "")
  end
  if #names > 0 then row("permits", table.concat(names, #all > 1 and "; " or ", ")) end
end

-- Which version of a place's or a house's file judged the job, where it says one.
local function versions(row)
  for _, f in ipairs(run.role_files) do
    if f.version then row("version", f.role .. " " .. f.name .. ", version " .. f.version) end
  end
end

local function head(row)
  local job = record.root
  local codes = given(job, "codes")
  row("client", given(job, "client"))
  row("revision", given(job, "revision"))
  local named = {}
  for i, f in ipairs(record.inside[job].def.by.codes.fields) do
    named[i] = codes and given(codes, f.name) or "no " .. f.name .. " code named"
  end
  row("codes", table.concat(named, ", "))
  offices(row)
  permits(row)
  versions(row)
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

-- What nothing judges, and who answers for it instead; and what no office has a limit of.
local function beside(row)
  local none, by = {}, {}
  for _, n in ipairs(in_force.list_none()) do
    local key = n.whose .. ": " .. n.cite
    if not by[key] then none[#none + 1], by[key] = { key, n.whose }, {} end
    table.insert(by[key], n.name)
  end
  for _, one in ipairs(none) do
    local names, key = by[one[1]], one[1]
    local silent, shown = in_force.silent(names, one[2]), {}
    for i, name in ipairs(names) do shown[i] = name .. (in_force.has(name) and " (others give one)" or "") end
    row("no limit", util.list(shown) .. ", says " .. key .. (not silent[1] and "" or "; " .. util.list(silent) ..
        (silent[2] and " do" or " does") .. " not say so"))
  end
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
