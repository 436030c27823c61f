-- SPDX-License-Identifier: MIT
-- Tables of variants: what was kept of each, and where it is other than declared.  What all of them have alike is said
-- once beneath, and a heading is the end of a path, which stands in full above.
local path = import "model.path"
local util = import "model.util"
local say = import "write.sweep_words"

local MOST_AXES = 7        -- that have a column each; steps of more stand in one
local SHORT = 9            -- a name up to so long stays whole
local WIDE = 7             -- columns that a page has room for

-- ---- headings ------------------------------------------------------------------------------------------------------

-- A name cut to its last n keys; of several that move together ("a + b") to what all end in.
local function tail(name, n)
  local text
  for one in (name .. " + "):gmatch "(.-) %+ " do
    local parts = path.parse(one)
    if not parts then return name end
    local short = path.join(parts, math.max(#parts - n + 1, 1))
    if text and text ~= short then return name end
    text = short
  end
  return (text:gsub("_", " "))
end

-- What each name is called above its column: as short as tells it from the others.
local function headings(names)
  local list = {}
  for i, name in ipairs(names) do
    local n, text = 1, #name <= SHORT and name or nil
    while not text do
      local short, alone = tail(name, n), true
      for k, other in ipairs(names) do alone = alone and (k == i or tail(other, n) ~= short) end
      n = n + 1
      if alone or n > 20 then text = alone and short or name end
    end
    list[i] = text
  end
  return list
end

-- ---- which columns there are ---------------------------------------------------------------------------------------

-- Of what is kept those that have a column, and what is the same in all of the rows: { "job.power 6400 W" ... }
local function kept_of(f, rows)
  local shown, same = {}, {}
  for i, k in ipairs(f.kept) do
    local one = #rows > 1 and not k.goal and not k.of
    for _, row in ipairs(rows) do one = one and row.values[i] ~= nil and row.values[i] == rows[1].values[i] end
    if one then same[#same + 1] = k.name .. " " .. k.show(rows[1].values[i])
    elseif not k.of then shown[#shown + 1] = i end
  end
  return shown, same
end

-- Of the axes those that have a column, or nil where one column has all steps; and the steps that all rows but the
-- declared job have: { "rack.east.tilt=30deg" ... }
local function axes_of(f, rows, kept)
  local shown, same, covered, all_in_one = {}, {}, {}, false
  for _, i in ipairs(kept) do covered[f.kept[i].name] = true end
  for a, axis in ipairs(f.axes) do
    local first, one, moved, n = nil, true, false, 0
    for _, row in ipairs(rows) do
      if row.number ~= 0 then
        local step = f.space.steps(row.number)[a]
        first, n = first or step, n + 1
        one, moved = one and step == first, moved or step ~= 0
      end
    end
    if moved and axis.kind == "rows" then all_in_one = true
    elseif moved and one and n > 1 and not covered[axis.name] then
      same[#same + 1] = axis.name .. "=" .. axis.text(first)
    elseif moved and not covered[axis.name] then shown[#shown + 1] = a end
  end
  if all_in_one or #shown > MOST_AXES then return nil, {} end
  return shown, same
end

-- Of the columns that stand last those that say something: { head, texts } ...
local function behind_of(list, behind)
  local out = {}
  for _, column in ipairs(behind) do
    local any, texts = false, {}
    for r, row in ipairs(list) do
      texts[r] = column[2](row)
      any = any or texts[r] ~= ""
    end
    if any then out[#out + 1] = { head = column[1], texts = texts } end
  end
  return out
end

-- The same as a table of their own, where a page is too narrow for all columns.
local function beside(d, list, last)
  local columns, rows = { { "variant", right = true } }, {}
  for r, row in ipairs(list) do rows[r] = { { text = tostring(row.number), value = row.number } } end
  for _, column in ipairs(last) do
    columns[#columns + 1] = { column.head, wrap = true }
    for r in ipairs(rows) do rows[r][#rows[r] + 1] = column.texts[r] end
  end
  d:table(columns, rows)
end

-- ---- the table -----------------------------------------------------------------------------------------------------

-- heads, cells(row): columns that stand in front; behind: those that stand last, each { heading, of(row) }, left out
-- where all are empty.  Gives what is to be said beneath.
return function(d, f, list, heads, cells, behind)
  local kept, same = kept_of(f, list)
  local axes, steps = axes_of(f, list, kept)
  local names, columns, rows, says = {}, { { "variant", right = true }, table.unpack(heads) }, {}, {}
  for _, i in ipairs(kept) do names[#names + 1] = f.kept[i].name end
  for _, a in ipairs(axes or {}) do names[#names + 1] = f.axes[a].name end
  local short = headings(names)
  for n, name in ipairs(names) do
    columns[#columns + 1] = { short[n], key = name, right = n <= #kept, wrap = n > #kept }
  end
  if not axes then columns[#columns + 1] = { "other than declared", wrap = true } end
  local blank, base = false, false
  for r, row in ipairs(list) do
    local out = { { text = tostring(row.number), value = row.number }, table.unpack(cells(row)) }
    for _, i in ipairs(kept) do
      local k, v = f.kept[i], row.values[i]
      out[#out + 1] = v == nil and { text = "unknown", unknown = true } or
          { text = k.show(v), value = k.value(v), path = k.name }
    end
    local at = f.space.steps(row.number)
    base = base or row.number == 0
    for _, a in ipairs(axes or {}) do
      blank = blank or at[a] == 0 and row.number ~= 0
      out[#out + 1] = (at[a] ~= 0 or row.number == 0) and f.axes[a].text(at[a]) or ""
    end
    if not axes then out[#out + 1] = say.label(f, row) end
    rows[r] = out
  end
  local last = behind_of(list, behind or {})
  if #columns + #last > WIDE then
    d:table(columns, rows, { wide = true })
    if #last > 0 then
      d:gap()
      beside(d, list, last)
    end
  else
    for _, column in ipairs(last) do
      columns[#columns + 1] = { column.head, wrap = true }
      for r in ipairs(rows) do rows[r][#rows[r] + 1] = column.texts[r] end
    end
    d:table(columns, rows)
  end
  if blank then says[1] = "A blank step is as declared." end
  if #same > 0 then says[#says + 1] = "In all of them " .. util.list(same) .. "." end
  if #steps > 0 then
    says[#says + 1] = (base and "All but the job as declared" or "All of them") .. " have " .. util.list(steps) .. "."
  end
  return table.concat(says, " ")
end
