-- SPDX-License-Identifier: MIT
-- parts "FILE" and prices "FILE": rows of a spreadsheet export become records, checked by the same schemas as a script.
local schema = import "model.schema"
local gather = import "model.gather"
local build = import "model.build"
local declare = import "model.declare"
local run = import "model.run"
local record = import "model.record"
local path_of = import "model.path"
local like = import "model.like"

-- Rows of the price lists, and the same by item; the days on which each vendor priced any, in the order of the rows;
-- where each vendor's price of an item stands; the currency, and where it was first met; all vendors, also those whose
-- prices do not count (run.vendors).
run.keep("prices", function() return { list = {}, of = {}, days = {}, at = {}, currency = nil, vendors = {} } end)

local function keep_price(v)
  local prices = run.prices
  if not prices.vendors[v.vendor] then
    prices.vendors[v.vendor], prices.vendors[#prices.vendors + 1] = true, v.vendor
  end
  if run.vendors and not run.vendors[v.vendor] then return end
  local of, day = prices.of[v.item] or {}, v.vendor .. "\0" .. v.priced_on
  prices.list[#prices.list + 1] = v
  prices.of[v.item], of[#of + 1] = of, v
  if not prices.days[day] then
    prices.days[day], prices.days[#prices.days + 1] = true, { vendor = v.vendor, on = v.priced_on,
        number = schema.day_number(v.priced_on) }
  end
end

local function refuse(source, cell, code, text, help, notes)
  host.raise { code = code, text = text, help = help, notes = notes,
      source = source, line = cell.line, col = cell.col, len = cell.len }
end

-- ---- columns and cells --------------------------------------------------------------------------------------------

local function refuse_column(csv, def, cell)
  local names = {}
  for _, g in ipairs(schema.all_fields(def)) do names[#names + 1] = g.name end
  local near = host.nearest(cell.text, names)
  refuse(csv.source, cell, "F030", "a list of " .. def.name .. "s has no column '" .. cell.text .. "'",
         near and "did you mean '" .. near .. "'?" or "its columns are " .. table.concat(names, ", "))
end

-- All columns that are missing, with what a cell of each looks like.
local function refuse_lacking(csv, lacking)
  local last, first = csv.head[#csv.head], lacking[1]
  if #lacking == 1 then
    refuse(csv.source, last, "F031", "the column '" .. first.name .. "' is missing: " .. first.says,
        "its cells hold " .. schema.wants(first))
  end
  local names, lines = {}, {}
  for i, f in ipairs(lacking) do
    names[i] = f.name
    lines[i] = f.name .. ": " .. schema.wants(f) .. "; " .. f.says
  end
  host.raise { code = "F031", text = #lacking .. " columns are missing: " .. table.concat(names, ", "),
      help = "add them to the heading, and a cell to each row:", write = table.concat(lines, "\n"),
      source = csv.source, line = last.line, col = last.col, len = last.len }
end

-- The fields behind the headings, and whether all is there; says which heading is missing or strange.
local function columns(csv, def, first)
  local fields, present, whole, meant = {}, {}, true, {}
  for i = first, #csv.head do
    local cell = csv.head[i]
    local f = def.by[cell.text]
    if f then fields[i], present[f.name] = f, true
    else
      gather.attempt(false, refuse_column, csv, def, cell)
      whole, meant[#meant + 1] = false, cell.text
    end
  end
  local lacking = {}
  for _, f in ipairs(def.fields) do
    if f.required and not present[f.name] and not host.nearest(f.name, meant) then lacking[#lacking + 1] = f end
  end
  if lacking[1] then gather.attempt(false, refuse_lacking, csv, lacking) end
  return fields, whole and not lacking[1]
end

local numeric = { quantity = true, ratio = true, count = true, number = true, money = true }

local function refuse_empty(csv, cell, f)
  refuse(csv.source, cell, "F033", "'" .. f.name .. "' is empty: " .. f.says, "it needs " .. schema.wants(f))
end

local function refuse_number(csv, cell, f, why, help)
  refuse(csv.source, cell, "F032",
      "'" .. f.name .. "' needs " .. schema.wants(f) .. ": " .. why, help ~= "" and help or nil)
end

local function no_origin() return nil end
local function as_it_is(_, value) return value end
local function unnoted() end

-- The checked values of a row, its cells by field, the tolerances that were written with them, what was put in of the
-- part of that name, and whether any value is wrong or has no column (whole).
local function row_values(csv, def, fields, whole, row, name)
  local raw, cells, tolerances = host.room(#csv.head), host.room(#csv.head), {}
  for i = 1, #csv.head do
    local f, cell = fields[i], row[i]
    if not f then goto next end
    cells[f.name] = cell
    if cell.text ~= "" then
      if numeric[f.type] then
        local value, why, help = host.literal(cell.text)
        if value == nil then
          raw[f.name] = gather.attempt(false, refuse_number, csv, cell, f, why, help)
        else
          raw[f.name], tolerances[f.name] = value, why
        end
      else
        raw[f.name] = cell.text
      end
    elseif f.required then
      raw[f.name] = gather.attempt(false, refuse_empty, csv, cell, f)
    end
    ::next::
  end
  local touched = name and build.put_in(def, name, raw) or {}
  local ctx = { what = record.title(def, name), partial = not whole, origin = no_origin, told = as_it_is,
      defaulted = unnoted, span = false, tolerance = false }
  function ctx.span(path)
    local put_in = like.override(touched, path)
    if put_in then
      ctx.what = put_in.from .. ": " .. record.title(def, name)
      return { source = 0, line = 0, col = 0, len = 0 }
    end
    local cell = cells[path[1]] or row[1]
    return { source = csv.source, line = cell.line, col = cell.col, len = cell.len }
  end
  function ctx.tolerance(path)
    if touched[path[1]] then return run.tolerances[path_of.join { def.name, name, path[1] }] end
    return tolerances[path[1]]
  end
  local v, wrong = gather.fields(ctx, def, raw)
  return v, cells, tolerances, touched, wrong ~= nil or not whole
end

-- Reads each row with f(row), and says which cannot be read at all.
local function each_row(csv, f)
  for _, err in ipairs(csv.bad) do gather.attempt("names", host.again, err) end
  for _, row in ipairs(csv.rows) do gather.attempt("names", f, row) end
end

-- ---- parts --------------------------------------------------------------------------------------------------------

local function part_kinds()
  local names = {}
  for _, k in ipairs(schema.all()) do if k.part and k.named then names[#names + 1] = k.name end end
  return names
end

declare.file_word("parts", function(path)
  local csv = host.csv(path)
  local first = csv.head[1]
  local def = schema.kinds[first.text]
  if not def or not def.part or not def.named then
    local names = part_kinds()
    local near = host.nearest(first.text, names)
    refuse(csv.source, first, "F034", "the first heading names the kind of part, got '" .. first.text .. "'",
           near and "did you mean '" .. near .. "'?" or "it is one of " .. table.concat(names, ", "))
  end
  local fields, whole = columns(csv, def, 2)
  run.part_lists[def.name] = run.part_lists[def.name] or path
  each_row(csv, function(row)
    local name = row[1].text
    if name == "" then
      refuse(csv.source, row[1], "F033", host.an(def.name) .. " without its part number",
          "the first cell of a row holds it")
    end
    local v, _, tolerances, touched, wrong = row_values(csv, def, fields, whole, row, name)
    build.add_part(def, name, v, { source = csv.source, line = row[1].line, col = row[1].col, len = row[1].len },
        tolerances, touched, wrong)
  end)
end)

-- ---- prices -------------------------------------------------------------------------------------------------------

-- One row of a price list: what only shows beside the rows before it is looked at here.
local function take_price(csv, fields, whole, row)
  local prices = run.prices
  local v, cells, tolerances, _, wrong = row_values(csv, schema.kinds.price, fields, whole, row)
  if wrong then return end
  local loose = tolerances.price and "price" or tolerances.length and "length"
  if loose then
    refuse(csv.source, cells[loose], "F032",
        "'" .. loose .. "' has a tolerance, but what is sold has one price and one length",
        "write the amount alone")
  end
  local place = { source = csv.source, line = row[1].line, col = row[1].col, len = row[1].len }
  local _, _, currency = host.unit(v.price)
  local money = cells.price
  if prices.currency and currency ~= prices.currency.code then
    refuse(csv.source, money, "F035",
        "two currencies: " .. currency .. " here, " .. prices.currency.code .. " before",
        "one currency in a job; nothing is converted",
        { "the first price stands at " .. host.place(prices.currency.place) })
  end
  prices.currency = prices.currency or { code = currency,
      place = { source = csv.source, line = money.line, col = money.col, len = money.len } }
  local key = v.vendor .. "\0" .. v.item .. "\0" .. (v.length and host.format(v.length, "mm", 12) or "") .. "\0" ..
      (v.box or "")
  local before = prices.at[key]
  if before then
    refuse(csv.source, row[1], "F036", v.vendor .. " has two prices for " .. v.item
        .. (v.length and " of " .. host.format(v.length) or v.box and " in boxes of " .. v.box or ""),
        "keep the one that is right", { "the other stands at " .. host.place(before) })
  end
  if host.is(v.price, "money per length") and not v.length then
    refuse(csv.source, money, "F037", "a price per length needs the length that is sold",
        "fill the column 'length' with the piece or the spool, as in 250 ft")
  end
  prices.at[key] = place
  v.place = place
  keep_price(v)
end

declare.file_word("prices", function(path)
  local csv = host.csv(path)
  local fields, whole = columns(csv, schema.kinds.price, 1)
  each_row(csv, function(row) take_price(csv, fields, whole, row) end)
end)

-- ---- after the script ---------------------------------------------------------------------------------------------

-- A job that does not say its currency counts in that of its price lists; one that says another is refused, whichever
-- of the two stands first in the script.
local function settle_currency(job, refuse_job)
  local prices, default = run.prices, nil
  if not prices.currency or prices.currency.code == job.currency then return end
  for _, d in ipairs(run.defaults) do if d.path == "job.currency" then default = d end end
  local code = prices.currency.code
  if default then
    default.value = code
    default.field = { says = "the one currency of the job: that of its price lists", type = default.field.type }
    record.amend(job, "currency", code)
    return
  end
  refuse_job({ "currency" }, "the job counts in " .. job.currency .. ", but the price lists are in " .. code,
      "the first price stands at " .. host.place(prices.currency.place) .. "; a price in " .. job.currency ..
      " is written 46 " .. job.currency .. ", $46 is USD; nothing is converted")
end

run.keep("slips_refused", function() return false end)   -- lists and parts do not change in a run

-- A price of what is nearly a part: it would be nobody's price.
local function refuse_slips()
  if run.slips_refused or run.unsure then return end         -- unsure: what a list lacks may be what is wrong there
  local exact, near = {}, {}
  for _, r in ipairs(run.records) do
    local rec = record.inside[r]
    if rec.def.part then
      local left = host.bones(rec.name)
      exact[rec.name], near[left] = true, near[left] or rec
    end
  end
  for _, p in ipairs(run.prices.list) do
    local rec = not exact[p.item] and near[host.bones(p.item)]
    if rec then
      host.raise { code = "D014", text = "a price of '" .. p.item .. "', which no parts file lists",
          source = p.place.source, line = p.place.line, col = p.place.col, len = p.place.len,
          notes = { rec.def.name .. " " .. rec.name .. " is listed at " .. host.place(rec.at) },
          help = "did you mean '" .. rec.name .. "'?" }
    end
  end
  run.slips_refused = true
end

schema.kinds.job.settle = function(job, refuse_job)
  settle_currency(job, refuse_job)
  refuse_slips()
end
