-- SPDX-License-Identifier: MIT
-- A document for programs: keys in a fixed order, every value as SI number, unit and text.
local words = import "write.words"
local document = import "write.document"
local encode = import "write.encode"

local object, array = encode.object, encode.array

-- ---- values --------------------------------------------------------------------------------------------------------

local function unit_of(v, unit, text)
  local _, hint, currency = host.unit(v)
  if currency ~= "" then return currency .. (hint:match("/.*$") or "") end
  return unit or words.unit(v) or hint == "ft-in" and "in" or text:match("^%-?[%d.e+-]+ (.+)$") or hint
end

-- { si, unit, text } of a quantity or a number; a flag or a text as it is.
local function value(v, unit, digits)
  if v == nil then return nil end
  if host.is_quantity(v) then
    local text = words.show(v, unit, digits)
    return object { { "si", host.si(v) }, { "unit", unit_of(v, unit, text) }, { "text", text } }
  end
  if type(v) == "number" then
    return object { { "si", v }, { "unit", unit or "" }, { "text", words.show(v, unit, digits) } }
  end
  if type(v) == "boolean" then return v end
  return words.show(v)
end

local as = { object = object, array = array, value = value, done = encode.done,
    plain = function(v) return encode.compact(encode.plain(v)) end }

-- ---- blocks --------------------------------------------------------------------------------------------------------

local function cell(c)
  if type(c) ~= "table" then return object { { "text", c or "" } } end
  local si, unit
  if host.is_quantity(c.value) then si, unit = host.si(c.value), unit_of(c.value, c.unit, c.text)
  elseif type(c.value) == "number" then si, unit = c.value, c.unit or "" end
  return object { { "text", c.text }, { "si", si }, { "unit", unit }, { "path", document.path(c) },
      { "rounded", c.round }, { "unknown", c.unknown }, { "to_fill_in", c.fill } }
end

local function table_block(block)
  local columns, rows = array {}, array {}
  for i, c in ipairs(block.columns) do
    columns[i] = object { { "key", document.key(c, i) }, { "heading", c[1] } }
  end
  for k, r in ipairs(block.rows) do
    local row = array {}
    for i = 1, #block.columns do row[i] = cell(r[i]) end
    rows[k] = row
  end
  return { { "kind", "table" }, { "depth", block.depth }, { "title", block.title }, { "columns", columns },
      { "rows", rows } }
end

local plain = { "text", "lead", "mark", "tone", "symbol", "formula", "put", "says", "source", "from", "unit",
    "count", "name", "title", "file" }

local function block_of(block)
  if block.kind == "table" then return object(table_block(block)) end
  local out = { { "kind", block.kind }, { "depth", block.depth } }
  for _, key in ipairs(plain) do out[#out + 1] = { key, block[key] } end
  if block.origins then out[#out + 1] = { "origins", array(block.origins) } end
  if block.result then out[#out + 1] = { "result", cell(block.result) } end
  if block.choices then out[#out + 1] = { "choices", array(block.choices) } end
  if block.heads then
    local heads = array {}
    for i, h in ipairs(block.heads) do heads[i] = object { { "text", h[1] }, { "unit", h[2] or "" } } end
    out[#out + 1] = { "heads", heads }
  end
  return object(out)
end

return function(d)
  local out = { { "stringline", 1 }, { "document", d.name }, { "title", d.title } }
  for _, f in ipairs(d.outcomes and import("write.facts").judged(d, as) or {}) do out[#out + 1] = f end
  for _, f in ipairs(d.facts) do
    local v = f[2]
    if type(v) == "function" then v = v(as) end
    out[#out + 1] = { f[1], v }
  end
  local blocks = array {}
  for _, b in ipairs(d.blocks) do if b.kind ~= "gap" then blocks[#blocks + 1] = encode.done(block_of(b), 2) end end
  out[#out + 1] = { "blocks", blocks }
  return encode.text(object(out))
end
