-- SPDX-License-Identifier: MIT
-- Pull sheet: conductors, cut lengths and spools of each run, and the raceway they go through.
local record = import "model.record"
local words = import "write.words"

local of, given = words.of, record.given

local function ground(run)
  local w = words.show(run.ground_wire)
  return w .. " ground" .. (given(run, "ground") and "" or " (smallest allowed)")
end

local function short(d)
  if #record.all "run" == 0 then return d:para("no run is declared") end
  for _, r in ipairs(record.all "run") do
    d:para(words.title(r) .. ": " .. r.conductors .. " x " .. words.show(r.wire) .. " " .. r.insulation .. " " ..
        r.conductor .. " and " .. ground(r) .. ", each cut " .. of(r, "cut_length") .. ", in " .. r.conduit.kind ..
        " " .. r.conduit.size .. ".")
    d:inside(d.para, "Loses " .. of(r, "voltage_drop") .. " (" .. of(r, "volts_lost") .. ") at " ..
        of(r, "working_current") .. "; must carry " .. of(r, "required_current") .. ", can carry " ..
        of(r, "usable_ampacity") .. "; raceway " .. of(r, "fill") .. " full; cover " ..
        words.show(r.through.cover) .. ", least " .. of(r, "least_cover") .. ".")
  end
end

return { name = "wire", title = "Wire and raceway", order = 50, build = true, kinds = { "run", "strings" },
    after = { "R41", "R45", "R49", "R75" }, short = short,
    whole = function(d) import "electrical.wire_sheet"(d) end }
