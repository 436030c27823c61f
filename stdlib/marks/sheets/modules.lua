-- SPDX-License-Identifier: MIT
-- Module map: a number for each module, rows from below and columns from the west, with a place for its serial number;
-- and the order in which the modules of a row are mounted.
local record = import "model.record"
local graph = import "model.graph"
local document = import "write.document"
local words = import "write.words"
local measure = import "write.measure"
local marks = import "marks.marks"

local given, value = record.given, document.value
local function right(head, key) return { head, key = key, right = true } end

-- Other models lie in the same rows: which of them goes where, the crew writes down.
local function model_of(r)
  return given(r, "with_modules") and document.fill or r.modules.name
end

local function map(d, r)
  local rows, string, model = {}, marks.string_of(r) or document.fill, model_of(r)
  for row = 1, r.rows do
    for column = 1, r.columns do
      rows[#rows + 1] = { row .. "-" .. column, value(row), value(column), model, string, document.fill }
    end
  end
  d:table({ "module", right("row from below", "row"), right("from the west", "column"), "model", "string", "serial" },
      rows)
end

-- Mounted from the middle outward; what widths and gaps are off by at most is known where somebody measured it.
local function order(d, r)
  local turns, why = graph.try(r, "mounting")
  if not turns then
    d:para("Mounting order: from the middle of the row outward, east and west by turns. How far the row may drift " ..
        "is not known: " .. host.message(why) .. (why.who and "; ask " .. why.who or "") .. ".")
    return
  end
  local list, places, rows = turns.turns, {}, {}
  for _, t in ipairs(list) do places[math.tointeger(t.column)] = t.along end
  local running = measure.running(places)
  for i, t in ipairs(list) do
    local column = math.tointeger(t.column)
    rows[i] = { value(i), value(column), value(running[column].at, measure.mark), value(t.drift, measure.inches),
        document.fill }
  end
  d:para("Mounted from the middle of the row outward. At the last module the row may be off by " ..
      measure.inches(r.row_drift) .. ", of an end allowance of " .. measure.inches(r.end_allowance) ..
      "; from one end to the other it would be " .. measure.inches(r.row_drift_one_way) .. ".")
  d:table({ right "turn", right "column", right("its west edge from the modules' west end", "along"),
      right("may be off", "drift"), "measured" }, rows)
end

local function whole(d)
  d:para("A module's number is its row from below and its column from the west. Write down each serial number " ..
      "before the next module covers the label.")
  for _, r in ipairs(record.all "rack") do
    d:gap()
    d:subheading(words.title(r) .. ", " .. r.rows .. " x " .. r.columns)
    d:inside(function()
      map(d, r)
      d:gap()
      order(d, r)
    end)
  end
  d:gap()
  d:warning("Modules are live in daylight: do not open a connector under load, and keep the ends capped.")
  d:warning("No module is handled in wind beyond the house's limit, and none stays unclamped.")
end

return { name = "modules", title = "Module map", order = 75, build = true, crew = true, of = { "rack" }, kinds = {},
    rules = { "R19", "R20", "R23" }, whole = whole }
