-- SPDX-License-Identifier: MIT
-- The pull sheet, whole: each run, and the spools that its wires are cut from.
local record = import "model.record"
local document = import "write.document"
local words = import "write.words"
local measure = import "write.measure"
local electrical = import "electrical.results"
local util = import "model.util"
local digging = import "site.digging"

local cell, value = document.of, document.value
local of, given = words.of, record.given

-- The spools of one planned item: which cuts come off each, and what is left on it.
local function spools_of(rows, item, need)
  for _, s in ipairs(import("buying.cuts").sticks(need)) do
    local cut = {}
    for i, x in ipairs(s.pieces) do cut[i] = (measure.wire(x.length)) end
    rows[#rows + 1] = { item, words.show(s.stock) .. " no. " .. s.number .. (s.in_hand and ", in hand" or ""),
        table.concat(cut, ", "), value(s.offcut) }
  end
  if #need.over > 0 or not need.plan and not need.met then
    rows[#rows + 1] = { item, "", need.plan and "no spool is long enough for all cuts" or
        "no spool is priced for all cuts", "" }
  end
end

-- Adds the spools that a run's wires come from, those of other runs on them; each once.  The order is of lumber and
-- concrete, too, and no number of wire rests on those.
local function spools(_, run, rows, seen)
  local order = import("model.unnoted").call(import("buying.results").order)
  local metal = " " .. run.insulation .. " " .. run.conductor
  for _, item in ipairs { words.show(run.wire) .. metal, words.show(run.ground_wire) .. metal } do
    for _, n in ipairs(order.needs) do
      if n.item == item and n.how == "wire" and not seen[n] then
        seen[n] = true
        spools_of(rows, item, n)
      end
    end
  end
end

-- What the length of a run is made of.
local function way(r)
  local risers, along, inside = given(r, "risers"), given(r, "along_wall"), given(r, "inside")
  return words.show(r.through.length) .. " trench, " .. (risers and "risers of " .. words.show(risers[1]) .. " and " ..
      words.show(risers[2]) or "two risers of " .. words.show(r.stub_up)) ..
      (along and ", " .. words.show(along) .. " along the wall" or "") ..
      (inside and ", " .. words.show(inside) .. " inside" or "")
end

-- What shuts the dc down at the building, as declared.
local function shutdown(r)
  local s = given(r, "rapid_shutdown")
  if not s then return nil end
  local listed, stands = given(s, "listed"), given(s, "initiator_stands")
  return "rapid shutdown by " .. s.equipment ..
      (listed and ", listed for it" or listed == nil and ", nobody said whether listed" or ", not listed for it") ..
      ", started by " .. s.initiator .. (stands and ", " .. stands or "")
end

local function one(d, r, rows_of_spools, seen)
  local bends, rows = {}, {}
  for a in record.each(r.conduit.bends) do bends[#bends + 1] = words.show(a) end
  local function row(what, is, note) rows[#rows + 1] = { what, is, note or "" } end
  row("raceway", r.conduit.kind .. " " .. r.conduit.size, of(r, "fill") .. " full of " .. of(r, "fill_limit") ..
      " allowed; bends " .. (#bends > 0 and table.concat(bends, ", ") or "none") .. ", sum " .. of(r, "bend_total"))
  row("one way", cell(r, "length"), way(r))
  row("conductors", r.conductors .. " x " .. words.show(r.wire), r.insulation .. " " .. r.conductor .. " " ..
      r.stranding .. ", terminals " .. r.terminals)
  local names, ends = {}, {}
  for i, s in ipairs(electrical.carried(r)) do
    names[i], ends[i] = record.inside[s].name or "strings", electrical.destination(s)
  end
  row("strings", util.list(names), "into " .. util.list(ends))
  row("ground", value(r.ground_wire), given(r, "ground") and "as declared" or
      "the smallest that the code allows for a device of " .. of(r, "device"))
  row("cut each", document.needed(r, "cut_length", measure.wire), of(r, "make_up") .. " left at each end")
  row("must carry", cell(r, "required_current"), "before the factors for ambient and count; " ..
      of(r, "max_current") .. " after them")
  row("can carry", cell(r, "terminal_ampacity"), "at its terminals, before the factors; " ..
      of(r, "corrected_ampacity") .. " after them")
  local rated = given(r, "overcurrent_voltage")
  row("device", given(r, "overcurrent") and cell(r, "overcurrent") or "none declared", "at least " ..
      of(r, "least_device") .. ", at most " .. of(r, "most_device") ..
      (rated and "; rated for " .. words.show(rated) .. " dc" or ""))
  row("loses", cell(r, "voltage_drop"), of(r, "volts_lost") .. " and " .. of(r, "watts_lost") .. " at " ..
      of(r, "working_current"))
  if r.may_jam then
    row("jam", "CAUTION", "three equal conductors of this size may jam in a bend of this raceway")
  end
  row("dc ends", r.dc_stops_at, shutdown(r))
  d:table({ { "", key = "what" }, { "", key = "value" }, { "", key = "with", wrap = true } }, rows)
  d:guarded(spools, r, rows_of_spools, seen)
end

return function(d)
  d:warning("Direct current stays live in daylight, at both ends: pull and land these wires before any string is " ..
      "connected. Where one is: open the load-break switch, prove with a dc clamp meter that no current flows, then " ..
      "part the connectors. Licensed electrician where required.")
  d:warning(digging.trenches())
  local rows, seen = {}, {}
  for _, r in ipairs(record.all "run") do
    d:gap()
    d:subheading(words.title(r) .. ", from " .. words.title(r.from) .. " to " .. words.title(r.to))
    d:inside(one, r, rows, seen)
  end
  if #rows == 0 then return end
  d:gap()
  d:subheading "spools, of all runs"
  d:inside(d.table, { { "wire", wrap = true }, "spool", { "cuts", wrap = true }, { "left", right = true } }, rows)
end
