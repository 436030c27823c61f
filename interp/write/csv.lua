-- SPDX-License-Identifier: MIT
-- A document for a spreadsheet (RFC 4180): each text a record of one cell, each table its headings and its rows, in the
-- document's order.
local document = import "write.document"
local cell = import "write.csv_cell"

local function record_of(texts)
  for i, t in ipairs(texts) do texts[i] = cell(t) end
  return table.concat(texts, ",") .. "\r\n"
end

local function table_of(out, block)
  local heads = {}
  for i, c in ipairs(block.columns) do heads[i] = document.key(c, i) end
  out[#out + 1] = record_of(heads)
  for _, row in ipairs(block.rows) do
    local texts = {}
    for i = 1, #block.columns do
      local c = row[i]
      texts[i] = type(c) == "table" and c.text or c or ""
    end
    out[#out + 1] = record_of(texts)
  end
  out[#out + 1] = "\r\n"
end

local function step_of(block)
  return record_of { block.symbol, block.formula or "", block.put or "", block.result.text, block.says or "",
      block.source or "" }
end

-- What is asked, a place for the answer, its unit or what to choose from, how it is known, who can tell it; a list has
-- its lines below.
local function blank_of(out, block)
  local hint = block.choices and table.concat(block.choices, " / ") or block.unit or ""
  out[#out + 1] = record_of { block.text or "", block.heads and "" or document.fill.text, hint,
      block.from and "from: " .. block.from or "" }
  for _ = 1, block.heads and block.count or 0 do
    local texts = { "" }
    for _, h in ipairs(block.heads) do
      table.move({ h[1], document.fill.text, h[2] or "" }, 1, 3, #texts + 1, texts)
    end
    out[#out + 1] = record_of(texts)
  end
end

return function(d)
  local out = {}
  for _, block in ipairs(d.blocks) do
    if block.kind == "table" then table_of(out, block)
    elseif block.kind == "step" then out[#out + 1] = step_of(block)
    elseif block.kind == "blank" then blank_of(out, block)
    elseif block.kind == "figure" then out[#out + 1] = record_of { block.title or block.name }
    elseif block.kind == "picture" then out[#out + 1] = record_of { block.title, block.file or "" }
    elseif block.kind == "item" then out[#out + 1] = record_of { block.mark .. " " .. block.text }
    elseif block.kind ~= "gap" then
      local lead = block.lead and (block.lead:gsub("%s+$", "") .. " ") or ""
      out[#out + 1] = record_of { lead .. (block.text or "") }
    end
  end
  return table.concat(out)
end
