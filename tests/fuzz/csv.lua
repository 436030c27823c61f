-- SPDX-License-Identifier: MIT
-- A list of parts or prices, declared: each cell of it came as what it says.  (script, file, word) raises where one did
-- not, and whatever the declaration raises.
local boot = import "model.boot"
local record = import "model.record"
local schema = import "model.schema"
local run = import "model.run"

local numeric = { quantity = true, ratio = true, count = true, number = true, money = true }
local verbatim = { text = true, date = true, choice = true }

local function broken(cell, what) error("the cell '" .. cell.text .. "' at line " .. cell.line .. " " .. what, 0) end

local function is(cell, f, value)
  if cell.text == "" then
    if value ~= nil and f.default == nil then broken(cell, "is empty, and has a value") end
  elseif value == nil then broken(cell, "is lost")
  elseif numeric[f.type] then
    if host.si(host.literal(cell.text)) ~= host.si(value) then broken(cell, "has another value") end
  elseif verbatim[f.type] and tostring(value) ~= cell.text then broken(cell, "is another text") end
end

local function is_row(csv, def, first, row, values)
  for i = first, #csv.head do is(row[i], def.by[csv.head[i].text], values[csv.head[i].text]) end
end

return function(script, file, word)
  boot.declare { script = script, gathers = true }
  local csv = host.csv(file)
  if word == "prices" then
    if #run.prices.list ~= #csv.rows then error("a row is lost", 0) end
    for i, row in ipairs(csv.rows) do is_row(csv, schema.kinds.price, 1, row, run.prices.list[i]) end
    return
  end
  local def, by = schema.kinds[csv.head[1].text], {}
  for _, part in ipairs(record.all(def.name)) do by[record.inside[part].name] = record.inside[part].v end
  for _, row in ipairs(csv.rows) do
    if not by[row[1].text] then broken(row[1], "names no " .. def.name) end
    is_row(csv, def, 2, row, by[row[1].text])
  end
  if #record.all(def.name) ~= #csv.rows then error("a row came twice", 0) end
end
