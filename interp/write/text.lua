-- SPDX-License-Identifier: MIT
-- A document as plain text, for a terminal and for paper.
local page = import "write.page"

local rep, columns_of = string.rep, host.columns
local write = {}

local function indent_of(block) return rep("  ", block.depth) end

function write.title(p, block) p:para(block.text, nil, nil, function(line) return p:paint(line, "head") end) end
function write.heading(p, block) p:head(block.text) end
function write.subheading(p, block) p:para(block.text, indent_of(block), indent_of(block) .. "  ") end
function write.gap(p) p:blank() end
function write.note(p, block) p:para(block.text, indent_of(block)) end
function write.warning(p, block) p:para(block.text, indent_of(block) .. "! ") end
function write.item(p, block) p:para(block.text, indent_of(block) .. block.mark .. " ") end

function write.paragraph(p, block)
  local indent = indent_of(block)
  local tone = block.tone
  p:para(block.text, indent .. (block.lead or ""), block.hang and indent .. rep(" ", block.hang),
      tone and function(line) return p:paint(line, tone) end)
end

-- The lead is a part of the text, so that the whole wraps as one; what is coloured is the lead alone.
function write.outcome(p, block)
  local lead, indent = block.lead, indent_of(block)
  p:para(lead .. " " .. block.text, indent, indent .. "  ", function(line, i)
    return i == 1 and block.tone and p:paint(lead, block.tone) .. line:sub(#lead + 1) or line
  end)
end

function write.code(p, block)
  for line in (block.text:gsub("\n$", "") .. "\n"):gmatch("(.-)\n") do p:line(indent_of(block) .. line) end
end

function write.step(p, block)
  local indent = indent_of(block)
  local source = block.source and " [" .. block.source .. "]" or ""
  if not block.formula then
    local says = block.says and " (" .. block.says .. ")" or ""
    return p:para(block.symbol .. " = " .. block.result.text .. says .. source, indent, indent .. "    ")
  end
  p:para(block.symbol .. " = " .. block.formula, indent, indent .. "    ")
  if block.put then p:para(block.put, indent .. "  = ") end
  p:para(block.result.text .. source, indent .. "  = ")
end

-- ---- tables --------------------------------------------------------------------------------------------------------

-- What stands beside the first cell of a row: a text for each cell that has one, or that is joined to the one before.
local function under(columns, row)
  local list = {}
  for i = 2, #columns do
    local c, text = columns[i], type(row[i]) == "table" and row[i].text or row[i]
    if text and text ~= "" then
      text = (c.lead and c.lead .. ": " or "") .. text
      if c.join and list[1] then list[#list] = list[#list] .. "; " .. text else list[#list + 1] = text end
    end
  end
  return list
end

-- The name in a column of its own, the rest beside it, one below the other.
local function stacked(p, block)
  local indent, width = indent_of(block), 0
  for _, row in ipairs(block.rows) do
    width = math.max(width, columns_of((row[1].text or row[1])) + (row.depth or 0) * 2)
  end
  width = math.min(width, 22) + #indent
  for _, row in ipairs(block.rows) do
    local first = indent .. rep("  ", row.depth or 0) .. (row[1].text or row[1])
    if columns_of(first) > width then
      p:line(first)
      first = ""
    end
    local blank = rep(" ", width + 2)
    for _, text in ipairs(under(block.columns, row)) do
      p:para(text, first .. blank:sub(columns_of(first) + 1), blank)
      first = ""
    end
    if first ~= "" then p:line(first) end
  end
end

function write.table(p, block)
  if block.stacked then return stacked(p, block) end
  p:table(block.columns, block.rows, indent_of(block))
end

-- ---- forms and figures ---------------------------------------------------------------------------------------------

local rule = rep("_", 10)

-- What is written or circled, behind the last line of what is asked where there is room, else below it.
local function behind(p, lines, hang, tail)
  local last = lines[#lines]
  local room = p.width - columns_of(last) - columns_of(tail)
  if room >= 2 then lines[#lines] = last .. rep(" ", room) .. tail
  elseif columns_of(tail) <= p.width - #hang then lines[#lines + 1] = rep(" ", p.width - columns_of(tail)) .. tail
  else for _, l in ipairs(page.wrap(tail, p.width - #hang)) do lines[#lines + 1] = hang .. l end end
  for _, l in ipairs(lines) do p:line(l) end
end

-- Blanks with their names, as many on a line as fit.
local function put_heads(p, block, hang)
  for _ = 1, block.count do
    local line = ""
    for _, h in ipairs(block.heads) do
      local one = ((h[1] ~= "" and h[1] .. " " or "") .. rule .. " " .. (h[2] or "")):gsub(" $", "")
      if line ~= "" and #hang + columns_of(line) + 3 + columns_of(one) > p.width then
        p:line(hang .. line)
        line = one
      else line = line == "" and one or line .. "   " .. one end
    end
    p:line(hang .. line)
  end
end

function write.blank(p, block)
  local first = indent_of(block) .. "[ ] "
  local hang, lines = rep(" ", #first), {}
  local asked = (block.text or "") .. (block.from and " (" .. block.from .. ")" or "")
  for i, l in ipairs(page.wrap(asked, p.width - #first)) do lines[i] = (i == 1 and first or hang) .. l end
  if block.choices then behind(p, lines, hang, table.concat(block.choices, " / "))
  elseif block.heads then
    for _, l in ipairs(lines) do p:line(l) end
    put_heads(p, block, hang)
  else behind(p, lines, hang, rule .. " " .. (block.unit or "")) end
end

function write.figure(p, block)
  if block.title then p:head(block.title) end
  for _ = 1, block.rows or 12 do p:line("  |" .. rep(" ", p.width - 6) .. "|") end
end

-- What a terminal cannot show is named, with where it can be seen.
function write.picture(p, block)
  p:para(block.title .. " (" .. (block.file or "drawn by --format html") .. ")", indent_of(block) .. "picture: ")
end

-- ---- the whole -----------------------------------------------------------------------------------------------------

return function(document, options)
  local p = page.new(options and options.width, options and options.colour)
  local blocks = document.blocks
  for i = 1, #blocks do write[blocks[i].kind](p, blocks[i]) end
  return p:text()
end
