-- SPDX-License-Identifier: MIT
-- What stands in the strip of a sheet: titles, notes, the bar, the number of the sheet.
local record = import "model.record"
local words = import "write.words"
local lettering = import "draw.lettering"
local strip = {}

local function family() return words.metric() and "metric" or "US" end

-- ---- titles --------------------------------------------------------------------------------------------------------

local function codes()
  local given, list = record.given(record.root, "codes"), {}
  if not given then return "no codes are named" end
  for _, name in ipairs { "electrical", "loads", "wood", "building" } do list[#list + 1] = record.given(given, name) end
  return table.concat(list, ", ")
end

-- Whose job and what is shown, and how, in two lists of { text, key } from the top down; a key names the height of its
-- letters.
function strip.titles(view, paper, scale, about)
  local job, what, how = record.root, nil, {}
  what = { { record.given(job, "name") or "a job without a name", "view" } }
  local client, on = record.given(job, "client"), record.given(job, "on")
  if client then what[#what + 1] = { "for " .. client, "text" } end
  what[#what + 1] = { view.title, "title" }
  what[#what + 1] = { view.subject .. (view.seen and ", " .. view.seen or ""), "text" }
  local function put(text) how[#how + 1] = { text, "text" } end
  put(scale and "Scale " .. scale.name .. " on " .. paper.name .. " paper" or "To no scale, on " .. paper.name ..
      " paper")
  put(words.metric() and "Lengths in millimetres as marked" or "Lengths in feet and inches as marked")
  put("Stage " .. job.stage .. (on and ", judged on " .. on or ", no day judged"))
  if about.revision then put(about.revision) end
  put(codes())
  put(about.made_from)
  put "A planning aid, not a sealed design."
  return what, how
end

-- ---- lines ---------------------------------------------------------------------------------------------------------

-- The lines of a list of { text, key } in a width, each with its key and with which of the texts it is of.
function strip.broken(d, list, width)
  local lines = {}
  for i, one in ipairs(list) do
    for _, line in ipairs(lettering.wrap(d, one[1], width, one[2])) do lines[#lines + 1] = { line, one[2], of = i } end
  end
  return lines
end

function strip.height(d, lines)
  local sum = 0
  for _, line in ipairs(lines) do sum = sum + 1.65 * d:paper(line[2]) end
  return sum
end

function strip.write(d, x, top, lines)
  for _, line in ipairs(lines) do top = lettering.lines(d, x, top, { line[1] }, line[2]) end
  return top
end

-- Lines that have room above `low`, and those that have not; no text is parted.
function strip.shared(d, lines, top, low)
  local here, rest, full = {}, {}, nil
  for _, line in ipairs(lines) do
    top = top - 1.65 * d:paper(line[2])
    if top < low then
      full = line.of
      break
    end
  end
  for _, line in ipairs(lines) do table.insert(full and line.of >= full and rest or here, line) end
  return here, rest
end

-- ---- the bar -------------------------------------------------------------------------------------------------------

-- How long it is on paper, as a ruler shows it.
local function on_paper_long(metres)
  if words.metric() then return string.format("%.4g mm", metres * 1000) end
  return host.feet(host.quantity(metres, "length"), 64, true)
end

-- A part of the bar: the first of these lengths that is long enough on paper, and what stands at its ends.  Gives how
-- long it is in all.
local parts = { US = { "1in", "2in", "3in", "6in", "1ft", "2ft", "5ft", "10ft", "20ft", "50ft", "100ft" },
                metric = { "10mm", "20mm", "50mm", "100mm", "200mm", "500mm", "1m", "2m", "5m", "10m", "20m", "50m" } }

function strip.bar(d, x, y, ratio, most)
  local least = d:paper "part"
  for _, text in ipairs(parts[family()]) do
    local length = host.literal(text)
    local unit, one = text:match "%a+$", tonumber(text:match "^%d+")
    local step, texts = host.si(length) / ratio, {}
    local count = math.min(4, math.floor(most / step))
    for i = 0, count do texts[i + 1] = string.format("%d", i * one) end
    if count > 1 and step >= math.max(least, d:wide(texts[count + 1]) + 2e-3) then
      d:bar(x, y, host.si(length), count, ratio, texts)
      d:text(x + count * step + 2e-3, y, unit)
      return count * step
    end
  end
end

-- The foot of the strip: the number of the sheet, its page and part, its revision, and how long the bar is on paper, so
-- that who prints it smaller knows.  Gives a revision that has no room there.
function strip.numbers(d, left, right, low, label, about, bar_long)
  local revision, wide = record.given(record.root, "revision"), nil
  d:pen "medium"
  d:text(left, low + 3.5e-3, label, "number")
  d:pen "thin"
  local lines = { "page " .. about.page .. " of " .. about.pages }
  revision = revision and "revision " .. host.safe(revision) or "no revision named"
  local both = about.part and bar_long
  if not both and d:wide(revision) <= right - left - d:wide(label, "number") - 4e-3 then lines[2] = revision
  else wide = revision end
  lines[#lines + 1] = about.part
  lines[#lines + 1] = bar_long and "bar " .. on_paper_long(bar_long) .. " long"
  for i, line in ipairs(lines) do d:text(right, low + 2e-3 + (i - 1) * 4.2e-3, line, "text", 0, "right") end
  return wide
end

return strip
