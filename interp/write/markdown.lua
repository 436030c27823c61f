-- SPDX-License-Identifier: MIT
-- A document as Markdown with tables: what docs/reference.md is written by.
local page = import "write.page"

-- Running text: no tag in it is one; what stands between backquotes is kept as it is.
local function running(text)
  local parts, at = {}, 1
  while true do
    local from, to = text:find("`[^`]+`", at)
    parts[#parts + 1] = text:sub(at, (from or #text + 1) - 1):gsub("<", "\\<")
    if not from then return table.concat(parts) end
    parts[#parts + 1] = text:sub(from, to)
    at = to + 1
  end
end

local function lines(out, text) for _, l in ipairs(page.wrap(running(text), 116)) do out[#out + 1] = l end end

-- A cell: no line breaks, and a bar is no border.
local function cell(c)
  local text = type(c) == "table" and c.text or c or ""
  return (running(text):gsub("\n", " "):gsub("|", "\\|"))
end

local function row(out, cells) out[#out + 1] = "| " .. table.concat(cells, " | ") .. " |" end

local write = {}

function write.title(out, b) out[#out + 1] = "# " .. running(b.text) end
function write.heading(out, b) out[#out + 1] = "## " .. running(b.text) end
function write.subheading(out, b) out[#out + 1] = "### " .. running(b.text) end
function write.gap() return true end
function write.paragraph(out, b) lines(out, (b.lead or "") .. b.text) end
function write.note(out, b) lines(out, b.text) end
function write.warning(out, b) lines(out, "**" .. b.text .. "**") end
function write.outcome(out, b) lines(out, "**" .. b.lead .. "** " .. b.text) end
function write.item(out, b) lines(out, "- " .. (b.mark ~= "-" and b.mark .. " " or "") .. b.text) end
function write.figure(out, b) lines(out, "(" .. (b.title or b.name) .. ")") end
-- An image where it stands in a file of its own, else its name.
function write.picture(out, b)
  if not b.file then return lines(out, "(picture: " .. b.title .. ")") end
  out[#out + 1] = "![" .. running(b.title):gsub("[%[%]]", "\\%0") .. "](<" .. b.file:gsub("[<>\\]", "\\%0") .. ">)"
end

-- A head, a place to write, and its unit.
local function to_write(name, unit)
  return ((name ~= "" and name .. " " or "") .. "______ " .. (unit or "")):gsub(" $", "")
end

function write.blank(out, b)
  local answer = b.choices and "circle one: " .. table.concat(b.choices, " / ") or b.heads and "" or
      to_write("", b.unit)
  lines(out, "- [ ] " .. (b.text or "") .. (b.from and " (from: " .. b.from .. ")" or "") .. ": " .. answer)
  for _ = 1, b.heads and b.count or 0 do
    local texts = {}
    for i, h in ipairs(b.heads) do texts[i] = to_write(h[1], h[2]) end
    out[#out + 1] = "  - " .. running(table.concat(texts, ", "))
  end
end

function write.code(out, b)
  for line in (b.text:gsub("\n$", "") .. "\n"):gmatch("(.-)\n") do out[#out + 1] = "    " .. line end
end

function write.step(out, b)
  out[#out + 1] = "    " .. b.symbol .. " = " .. (b.formula or b.result.text) ..
      (b.says and " (" .. b.says .. ")" or "")
  if b.put then out[#out + 1] = "      = " .. b.put end
  if b.formula then out[#out + 1] = "      = " .. b.result.text end
  out[#out] = out[#out] .. (b.source and " [" .. b.source .. "]" or "")
end

function write.table(out, b)
  local cells = {}
  for i, c in ipairs(b.columns) do cells[i] = cell(c[1]) end
  row(out, cells)
  out[#out + 1] = ("|---"):rep(#b.columns) .. "|"
  for _, r in ipairs(b.rows) do
    cells = {}
    for i = 1, #b.columns do cells[i] = cell(r[i]) end
    row(out, cells)
  end
end

-- Blocks of these kinds stand under each other without an empty line.
local close = { item = true, step = true }

return function(d)
  local out, before = {}, nil
  if d.name == "reference" then
    out[1] = "<!-- SPDX-License-Identifier: MIT. Written by `stringline reference`; do not edit. -->"
  end
  for _, b in ipairs(d.blocks) do
    if #out > 0 and b.kind ~= "gap" and not (before == b.kind and close[b.kind]) and
        not (before == nil and #out == 1) then out[#out + 1] = "" end
    if not write[b.kind](out, b) then before = b.kind end
  end
  return table.concat(out, "\n") .. "\n"
end
