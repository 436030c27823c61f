-- SPDX-License-Identifier: MIT
-- The head of a report: whose job it is, under which codes, and how it prints.
local record = import "model.record"

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
  local fractions = given(job, "lengths") == "feet and inches" and ", lengths in feet and inches"
  row("units", (job.units == "SI" and "SI, lengths in mm and m" or
      "US" .. (fractions or ", lengths in inches and feet")) .. "; inputs as written")
end

return { name = "head", order = 1, head = head }
