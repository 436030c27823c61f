-- SPDX-License-Identifier: MIT
-- Documents: what a command has to say, as blocks, before anybody decides how it looks.
--
-- A document is { name, title, blocks = { block ... }, facts = { { key, value } ... }, outcomes, status, tight = true
-- where it is to be printed on few pages, whole = { [format] = text } where that says it all }.
-- A block is a table with a `kind` and a `depth` (how far in it stands, 0 at the margin):
--
--   title      text             what the whole document is
--   heading    text             of a section; below it comes all up to the next one
--   subheading text             of a part of a section
--   paragraph  text, lead       running text; lead is a word or two in front, such as "rule: "
--   note       text             a remark; warning: what keeps somebody from harm
--   item       text, mark       one of a list; mark "-" or "[ ]"
--   outcome    text, lead       of a rule, with its tone; what belongs to it follows one step further in
--   step       symbol, formula, put, result, source       one line of a worked sheet
--   code       text             lines to be kept as they are
--   blank      text, of, choices, unit, count             a place on a form where somebody writes
--   figure     name, title, rows                          a place for a drawing
--   picture    name, title, canvas, file                  a drawing (write.canvas), and the file that it was written to
--   drawing    svg, wide        a page of a drawing, so many mm wide; only a report as HTML has some
--   gap                                                   some air; only paper needs it
--   table      columns, rows    see below
--
-- `tone` of a block: "good", "bad" or "warn", for a writer that has colours.
--
-- A table's column is { "heading", right = true, wrap = true, key = "name for programs", drawn = true where its blanks
-- count, own = true where its cells are one rack's own, however alike racks are, level = true of levels }; its rows
-- are lists of cells; document.fill and document.tick are places for a pencil.  A cell is a text, or
-- { text, value, unit, of, name, round }: the text that all writers print alike,
-- the quantity behind it, the record and the field or result it was read from, and the side to which it was rounded
-- ("nearest", "up").  `stacked` says that the cells of a row stand under each other, beside the first; there a column
-- may have a `lead`, words before its cells, and with `join` they stand on the line of the cell before.
local schema = import "model.schema"
local record = import "model.record"
local graph = import "model.graph"
local words = import "write.words"
local document = {}

local methods = {}
local safe, shown = host.safe, host.shown
local meta = { __index = methods }

function document.new(name, title)
  return setmetatable({ name = name, title = title and safe(title), blocks = {}, facts = {}, depth = 0 }, meta)
end

-- The one door for what a person sees: past it no text ends a line of its own or is obeyed by a terminal.
local function put(d, block)
  shown(block)
  block.depth = d.depth
  d.blocks[#d.blocks + 1] = block
  return block
end

-- ---- running text --------------------------------------------------------------------------------------------------

function methods:head(text) put(self, { kind = "title", text = text }) end
function methods:heading(text) put(self, { kind = "heading", text = text }) end
function methods:subheading(text) put(self, { kind = "subheading", text = text }) end
function methods:gap() put(self, { kind = "gap" }) end
function methods:note(text) put(self, { kind = "note", text = text }) end
function methods:warning(text) put(self, { kind = "warning", text = text }) end
function methods:item(text, mark) put(self, { kind = "item", text = text, mark = mark or "-" }) end
function methods:code(text) put(self, { kind = "code", text = text }) end

-- lead: words in front; hang: how many columns further in the lines after the first begin, instead of under the text.
function methods:para(text, lead, hang, tone)
  put(self, { kind = "paragraph", text = text, lead = lead, hang = hang, tone = tone })
end

-- "rule: ...": one thing that is said of what stands above.
function methods:fact_line(label, text) put(self, { kind = "paragraph", text = text, lead = label .. ": " }) end

function methods:outcome(lead, text, tone) put(self, { kind = "outcome", text = text, lead = lead, tone = tone }) end

-- Calls f with the document one step further in.
function methods:inside(f, ...)
  self.depth = self.depth + 1
  f(self, ...)
  self.depth = self.depth - 1
end

-- ---- tables, figures, forms ----------------------------------------------------------------------------------------

-- options: stacked, title
function methods:table(columns, rows, options)
  for i = 1, #columns do
    local c = columns[i]
    if type(c) == "string" then columns[i] = { c } end
  end
  local block = { kind = "table", columns = columns, rows = rows }
  for k, v in next, options or {} do block[k] = v end
  put(self, block)
end

-- Why cells of these rows are unknown, each reason once.
function methods:unknowns(...)
  local told = {}
  for _, rows in ipairs { ... } do
    for i = 1, #rows do
      local row = rows[i]
      for i = 1, #row do
        local c = row[i]
        local text = type(c) == "table" and c.why and host.message(c.why)
        if text and not told[text] then
          told[text] = true
          self:para(text .. (c.why.who and "; ask " .. c.why.who or ""), "unknown: ")
        end
      end
    end
  end
end

function methods:step(step)
  step.kind = "step"
  put(self, step)
end

function methods:figure(name, title, rows) put(self, { kind = "figure", name = name, title = title, rows = rows }) end

-- file: where the picture stands for readers of a form that can only name it; it may be missing.
function methods:picture(name, canvas, file)
  put(self, { kind = "picture", name = name, title = canvas.title, canvas = canvas, file = file })
end

function methods:drawing(svg, wide)
  self.blocks[#self.blocks + 1] = { kind = "drawing", depth = self.depth, svg = svg, wide = wide }
end

-- A place to write: { choices, unit, count, heads }.
function methods:blank(text, answer)
  answer.kind, answer.text = "blank", text
  put(self, answer)
end

-- ---- for programs --------------------------------------------------------------------------------------------------

-- A value under a name of its own beside the blocks; a function is called only if a writer wants it.
function methods:fact(key, value) self.facts[#self.facts + 1] = { key, value } end

-- Runs a body; what it wrote is taken back if something in it cannot be worked out, and that is said instead.
function methods:guarded(body, ...)
  local kept, depth, facts = #self.blocks, self.depth, #self.facts
  local ok, why = pcall(body, self, ...)
  if ok then return end
  if not host.class(why) then error(why, 0) end
  for i = #self.blocks, kept + 1, -1 do self.blocks[i] = nil end
  for i = #self.facts, facts + 1, -1 do self.facts[i] = nil end
  self.depth = depth
  local unknown = host.class(why) ~= "none" and ", since something is unknown" or ""   -- or a paper answers for it
  self:para("not printed" .. unknown .. ": " .. host.message(why) .. (why.who and "; ask " .. why.who or ""))
end

-- ---- cells ---------------------------------------------------------------------------------------------------------

local inside = record.inside

-- A field or a result of a record. `as` is a way to print (write.measure): it gives the text and the side rounded to.
-- What cannot be worked out makes the cell "unknown"; document.needed lets the whole body know instead.
function document.of(proxy, name, as)
  local rec = inside[proxy]
  local def = schema.result(rec.def, name)
  local value, why
  if def then value, why = graph.try(proxy, name) else value = record.given(proxy, name) end
  if value == nil then return { text = "unknown", of = rec, name = name, unknown = true, why = why } end
  local unit = def and words.result_unit(def, value) or nil
  if not as then return { text = words.show(value, unit), value = value, unit = unit, of = rec, name = name } end
  local text, round = as(value)
  return { text = text, value = value, of = rec, name = name, round = round }
end

function document.needed(proxy, name, as)
  local value = proxy[name]
  local rec = inside[proxy]
  if not as then
    local def = schema.result(rec.def, name)
    local unit = def and words.result_unit(def, value) or nil
    return { text = words.show(value, unit), value = value, unit = unit, of = rec, name = name }
  end
  local text, round = as(value)
  return { text = text, value = value, of = rec, name = name, round = round }
end

-- A value that no record holds.
function document.value(value, as)
  if not as then return { text = words.show(value), value = value } end
  local text, round = as(value)
  return { text = text, value = value, round = round }
end

-- An empty place in a table, to be written in by hand, and one to be ticked off.
document.fill = { text = "______", fill = true }
document.tick = { text = "[ ]", fill = true }

-- Where a cell's value stands, as --set and explain want it; nil where it is no record's.
function document.path(cell)
  if not cell.of then return cell.path end
  return record.step(cell.of.root and "" or cell.of.path, cell.name)
end

-- What programs call a column.
function document.key(column, i)
  local key = column.key or column[1]
  return key ~= "" and key or "column " .. i
end

return document
