-- SPDX-License-Identifier: MIT
-- A document as one page for a browser: nothing is fetched from elsewhere, and it prints on paper as it stands.
local document = import "write.document"

local marks = { ["&"] = "&amp;", ["<"] = "&lt;", [">"] = "&gt;", ['"'] = "&quot;" }
local function plain(text) return (text:gsub('[&<>"]', marks)) end

-- Running text: what stands between backquotes is typed as it is.
local function running(text) return (plain(text):gsub("`([^`]+)`", "<code>%1</code>")) end

-- A number and its unit stay on one line.
local function whole_numbers(text)
  return (text:gsub("(%d) ([^%s,;:.)]+)", function(digit, unit)
    return not unit:find("^%d") and host.literal("1" .. unit) ~= nil and digit .. "\u{a0}" .. unit or nil
  end))
end

local style = [[
body { font: 11pt/1.4 Georgia, "DejaVu Serif", serif; color: #111; background: #fff; max-width: 52em; margin: 2em auto;
  padding: 0 1em; overflow-wrap: break-word; }
h1 { font-size: 1.4em; } h2 { font-size: 1.15em; border-bottom: 1px solid #888; margin: 1.6em 0 .5em; }
h3 { font-size: 1em; margin: 1.1em 0 .3em; } p { margin: .35em 0; }
table { border-collapse: collapse; margin: .5em 0; } th, td { padding: .15em .6em; text-align: left;
  vertical-align: top; border-bottom: 1px solid #ccc; } th { border-bottom: 1px solid #555; font-weight: bold; }
.n { text-align: right; white-space: nowrap; font-variant-numeric: tabular-nums; }
.unknown { font-style: italic; } .fill { white-space: nowrap; } .tight .fill { min-width: 11em; padding-top: .9em; }
.stacked td { overflow-wrap: anywhere; } .stacked td.drawn { overflow-wrap: normal; }
.wide { font-size: 9pt; line-height: 1.25; } .wide th, .wide td { padding: .15em .4em; }
.wide th { white-space: normal; }
.drawn { font: 10pt/1.35 "DejaVu Sans Mono", monospace; white-space: pre; }
.in1 { margin-left: 1.2em; } .in2 { margin-left: 2.4em; } .in3 { margin-left: 3.6em; } .in4 { margin-left: 4.8em; }
.warning { border-left: 4px solid #b00; padding-left: .6em; } .outcome { margin-top: .9em; }
.bad .lead, p.bad { color: #a00; font-weight: bold; } .good { color: #060; font-weight: bold; }
.warn .lead, p.warn { color: #840; font-weight: bold; } .lead { font-weight: bold; }
pre, code { font: 10pt/1.35 "DejaVu Sans Mono", monospace; } pre { white-space: pre-wrap; }
.blank { display: flex; flex-wrap: wrap; gap: 0 1em; justify-content: space-between; break-inside: avoid; }
.blank p { margin: .15em 0; } .answer { margin-left: auto !important; text-align: right; }
.rule { display: inline-block; width: 7em; height: 1.3em; border-bottom: 1px solid #444; }
.figure { border: 1px solid #444; height: 16em; } .picture { margin: .9em 0; break-inside: avoid; }
.picture svg { max-width: 100%; height: auto; } .scroll { overflow-x: auto; }
.drawing { width: min(96vw, 1500px); margin: .9em 0 .9em calc(50% - min(48vw, 750px)); overflow-x: auto;
  box-sizing: border-box; border: 1px solid #888; break-inside: avoid; }
.drawing svg { display: block; width: 100%; height: auto; }
@media print { .scroll, .drawing { overflow: visible; border: 0; }
  .drawing { width: auto; margin: .9em 0; } .drawing div { min-width: 0 !important; }
  body { max-width: none; margin: 0; } h2, h3, .outcome { break-after: avoid; }
  tr, .warning { break-inside: avoid; } thead { display: table-header-group; }
  .tight { font-size: 9.5pt; line-height: 1.2; } .tight h2 { margin: .6em 0 .15em; } .tight table { margin: .15em 0; }
  .tight th, .tight td { padding: .05em .6em; } .tight .fill { padding-top: .9em; } .tight p { margin: .15em 0; }
  .tight .outcome { margin-top: .4em; } .tight .item { display: inline-block; margin-right: 1.5em; } }
@page { margin: 18mm 15mm; }
]]

local function class(...)
  local list = {}
  for i = 1, select("#", ...) do
    local name = select(i, ...)
    if name and name ~= "" then list[#list + 1] = name end
  end
  return #list > 0 and ' class="' .. table.concat(list, " ") .. '"' or ""
end

local function inner(block) return block.depth > 0 and "in" .. math.min(block.depth, 4) or "" end

local write = {}

function write.title(b) return "<h1>" .. running(b.text) .. "</h1>" end
function write.heading(b) return "<h2>" .. running(b.text) .. "</h2>" end
function write.subheading(b) return "<h3" .. class(inner(b)) .. ">" .. running(b.text) .. "</h3>" end
function write.gap() return nil end
function write.code(b) return "<pre" .. class(inner(b)) .. ">" .. plain(b.text) .. "</pre>" end

local function paragraph(b, kind)
  local lead = b.lead and '<span class="lead">' .. plain((b.lead:gsub("%s+$", ""))) .. "</span> " or ""
  return "<p" .. class(kind, b.tone, inner(b)) .. ">" .. lead .. running(whole_numbers(b.text)) .. "</p>"
end

function write.paragraph(b) return paragraph(b) end
function write.note(b) return paragraph(b, "note") end
function write.warning(b) return paragraph(b, "warning") end
function write.outcome(b) return paragraph(b, "outcome") end
function write.item(b)
  local mark = b.mark == "-" and "\u{2022}" or "\u{2610}"
  return "<p" .. class("item", inner(b)) .. ">" .. mark .. " " .. running(b.text) .. "</p>"
end

function write.step(b)
  local lines = { b.symbol .. " = " .. (b.formula or b.result.text) .. (b.says and " (" .. b.says .. ")" or "") }
  if b.put then lines[#lines + 1] = "  = " .. b.put end
  if b.formula then lines[#lines + 1] = "  = " .. b.result.text end
  lines[#lines] = lines[#lines] .. (b.source and " [" .. b.source .. "]" or "")
  return "<pre" .. class(inner(b)) .. ">" .. plain(table.concat(lines, "\n")) .. "</pre>"
end

local function cell(c, column)
  if type(c) ~= "table" then
    return "<td" .. class(column.right and "n") .. ">" .. running(whole_numbers(c or "")) .. "</td>"
  end
  return "<td" .. class(column.right and "n", c.unknown and "unknown", c.fill and "fill", column.drawn and "drawn") ..
      ">" .. plain(c.text) .. "</td>"
end

function write.table(b)
  local out = { '<div class="scroll"><table' .. class(inner(b), b.stacked and "stacked", b.wide and "wide") .. ">",
      "<thead><tr>" }
  local named = false
  for i, c in ipairs(b.columns) do
    named = named or c[1] ~= ""
    out[#out + 1] = "<th" .. class(c.right and "n") .. ">" .. plain(c[1] ~= "" and c[1] or c.key or "") .. "</th>"
  end
  if named then out[#out + 1] = "</tr></thead>" else out = { out[1] } end
  out[#out + 1] = "<tbody>"
  for _, row in ipairs(b.rows) do
    local line = { "<tr>" }
    for i, column in ipairs(b.columns) do line[#line + 1] = cell(row[i], column) end
    out[#out + 1] = table.concat(line) .. "</tr>"
  end
  out[#out + 1] = "</tbody></table></div>"
  return table.concat(out, "\n")
end

-- A line to write on, with its name before it and its unit behind it.
local function to_fill(name, unit)
  return (name and name ~= "" and plain(name) .. " " or "") .. '<span class="rule"></span> ' .. plain(unit or "")
end

function write.blank(b)
  local tail = {}
  if b.choices then
    for i, c in ipairs(b.choices) do tail[i] = "\u{25cb} " .. plain(c) end
  elseif b.heads then
    for _ = 1, b.count do for _, h in ipairs(b.heads) do tail[#tail + 1] = to_fill(h[1], h[2]) end end
  else tail[1] = to_fill(nil, b.unit) end
  return '<div class="blank ' .. inner(b) .. '"><p>\u{2610} ' .. running(b.text) ..
      (b.from and " (" .. plain(b.from) .. ")" or "") .. '</p><p class="answer">' .. table.concat(tail, " &nbsp; ") ..
      "</p></div>"
end

function write.figure(b)
  return (b.title and "<h2>" .. plain(b.title) .. "</h2>" or "") .. '<div class="figure"></div>'
end

function write.picture(b) return '<figure class="picture">\n' .. b.canvas:svg(true) .. "</figure>" end

-- A page of a drawing, never so small that its letters cannot be read: in a narrow window it is moved sideways.
function write.drawing(b)
  local least = math.max(1000, math.ceil(b.wide * 2.3))        -- px: letters of 2.6 mm in a font of 8 px and more
  return ('<figure class="drawing" tabindex="0"><div style="min-width: %dpx">\n'):format(least) .. b.svg ..
      "</div></figure>"
end

return function(d)
  local out = { "<!DOCTYPE html>", '<html lang="en">', "<head>", '<meta charset="utf-8">',
      '<meta http-equiv="Content-Security-Policy" content="default-src \'none\'; style-src \'unsafe-inline\'">',
      '<meta name="viewport" content="width=device-width">', "<title>" .. plain(d.title or d.name) .. "</title>",
      "<style>\n" .. style .. "</style>", "</head>", "<body" .. class(d.tight and "tight") .. ">" }
  for _, b in ipairs(d.blocks) do out[#out + 1] = write[b.kind](b) end
  out[#out + 1] = "</body>\n</html>"
  return table.concat(out, "\n") .. "\n"
end
