-- SPDX-License-Identifier: MIT
-- Along one axis of a sweep, step by step: the share of the variants tried in which each rule is broken.
--
--   heat { title, says = a sentence more,
--          axis = { name, steps = { text ... }, declared = place of the declared step (1), tried = { how many ... } },
--          rules = { { id, says, share = { 0..1 at each step, or false: none tried } } ... } }
--
-- Rules stand below each other, steps side by side.  A rule that is never broken is counted in words.  Of many steps
-- some stand together, weighed by how many were tried; the declared one stays alone.
local canvas = import "write.canvas"

local WIDTH, MOST, ROW, TEXT, TITLE = 720, 40, 28, 11, 15
local NAMES, LONGEST = 280, 130                  -- what the rules' names take; what a step's text may take
local NUMBERED = 26                              -- columns that are narrower have no numbers

-- From none to all, darker in grey, too; hatching is what nobody tried.
local shades = {
  { most = 0, fill = "#ffffff", text = "none" }, { most = 0.2, fill = "#fdebd0", text = "to 20 %" },
  { most = 0.4, fill = "#fbcf93", text = "to 40 %" }, { most = 0.6, fill = "#f0a04b", text = "to 60 %" },
  { most = 0.8, fill = "#d4711f", text = "to 80 %" }, { most = 1 - 1e-12, fill = "#9c4a0b", text = "below 100 %" },
  { most = 1, fill = "#4f2404", text = "all" },
}

local function shade(share)
  for _, s in ipairs(shades) do if share <= s.most then return s end end
  return shades[#shades]
end

-- None is none and all is all: what lies between never rounds to them.
local function percent(share)
  if share == 0 then return "0" end
  local n = math.floor(share * 100 + 0.5)
  if n == 0 then return "<1%" end
  if n >= 100 and share < 1 - 1e-12 then return ">99%" end
  return n .. "%"
end

local function tried(share) return type(share) == "number" and share == share end

-- The columns: { from, to, declared, text }.
local function columns_of(axis)
  local steps, declared = axis.steps, axis.declared or 1
  local each = #steps <= MOST and 1 or math.ceil((#steps - 1) / (MOST - 2))
  local list, i = {}, 1
  while i <= #steps do
    local last = i
    if i ~= declared then
      last = math.min(i + each - 1, #steps)
      if i < declared and last >= declared then last = declared - 1 end
    end
    list[#list + 1] = { from = i, to = last, declared = i == declared,
        text = last == i and steps[i] or steps[i] .. " to " .. steps[last] }
    i = last + 1
  end
  return list, each
end

-- The share of a column, nil where nothing was tried.
local function share_of(rule, column, weights)
  local sum, all = 0, 0
  for i = column.from, column.to do
    local w = weights and weights[i] or 1
    if tried(rule.share[i]) then sum, all = sum + rule.share[i] * w, all + w end
  end
  if all > 0 then return sum / all end
end

local function ever_broken(rule, steps)
  for i = 1, steps do if tried(rule.share[i]) and rule.share[i] > 0 then return true end end
  return false
end

local function count(n) return string.format("%d", n) end

local function notes(o, drawn, left, each)
  local list = { "A share counts the variants tried at that step, whatever their other inputs. What is " ..
      "unknown is not counted as broken. Tolerances and guesses are not tried.", o.says }
  if left > 0 and drawn > 0 then
    table.insert(list, 1, (left == 1 and "1 other rule is" or count(left) .. " other rules are") ..
        " broken in no variant that was tried, and not drawn.")
  end
  if each > 1 and drawn > 0 then
    table.insert(list, 1, "Of " .. count(#o.axis.steps) .. " steps up to " .. each .. " stand together in a column, " ..
        "the declared one alone.")
  end
  return table.concat(list, " ")
end

-- ---- the picture ---------------------------------------------------------------------------------------------------

local function cell(c, x, y, width, share)
  if not share then
    c:group({ name = "none-tried", stroke = "#8c8c8c", width = 0.8 }, function()
      c:hatch({ x, y, x + width, y, x + width, y + ROW, x, y + ROW }, 6)
    end)
    return
  end
  local s = shade(share)
  if share > 0 then c:group({ fill = s.fill }, function() c:rect(x, y, width, ROW) end) end
  if width < NUMBERED then return end
  c:text(x + width / 2, y + ROW / 2 + 4, percent(share), { size = 10, anchor = "middle",
      fill = share > 0.6 and canvas.ground or share == 0 and canvas.quiet or canvas.ink })
end

local function legend(c, x, y)
  c:text(x, y + 4, "share:", { size = TEXT })
  x = x + canvas.width("share:", TEXT) + 4
  for _, s in ipairs(shades) do
    c:group({ fill = s.fill, stroke = canvas.quiet, width = 0.8 }, function() c:rect(x, y - 6, 14, 12) end)
    c:text(x + 18, y + 4, s.text, { size = TEXT })
    x = x + 26 + canvas.width(s.text, TEXT)
  end
  c:group({ stroke = canvas.quiet, width = 0.8 }, function()
    c:rect(x, y - 6, 14, 12)
    c:hatch({ x, y - 6, x + 14, y - 6, x + 14, y + 6, x, y + 6 }, 5)
  end)
  c:text(x + 18, y + 4, "none tried", { size = TEXT })
end

-- The steps' texts: side by side where they fit, else aslant, of narrow columns every second or third.
local function heads(c, list, left, bottom, width, aslant)
  local every, declared = aslant and math.ceil(17 / width) or 1, -1
  for i, col in ipairs(list) do if col.declared then declared = i end end
  for i, col in ipairs(list) do
    local x = left + (i - 0.5) * width
    if col.declared then
      c:group({ name = "declared", fill = canvas.ink }, function()
        c:polygon { x - 4, bottom - 7, x + 4, bottom - 7, x, bottom - 1 }
      end)
    end
    if not aslant then c:text(x, bottom - 11, col.text, { size = TEXT, anchor = "middle", bold = col.declared })
    elseif col.declared or i % every == 1 % every and math.abs(i - declared) >= every then
      c:text(x + 3, bottom - 11, canvas.cut(col.text, aslant, TEXT), { size = TEXT, rotate = -45, bold = col.declared })
    end
  end
end

-- A rule's id, and beside it what it says, where there is room, in two lines at most.
local function name(c, rule, y)
  c:text(24, y + ROW / 2 + 4, canvas.cut(rule.id, (NAMES - 32) / 1.15, TEXT), { size = TEXT, bold = true })
  local at = 24 + math.max(36, canvas.width(rule.id, TEXT, true) + 8)
  if at > NAMES - 90 then return end
  local lines = canvas.wrap(rule.says or "", NAMES - 8 - at, 10)
  if lines[3] then lines[2] = lines[2] .. " " .. lines[3] end
  for i = 1, math.min(2, #lines) do
    c:text(at, y + ROW / 2 + 4 + (#lines > 1 and i * 12 - 18 or 0), canvas.cut(lines[i], NAMES - 8 - at, 10),
        { size = 10 })
  end
end

-- The width of a column, and what a step's text takes where it stands aslant; nil: they stand side by side.
local function widths(list)
  local function even(right) return math.min(64, (WIDTH - NAMES - right) / math.max(1, #list)) end
  local widest = 0
  for _, col in ipairs(list) do widest = math.max(widest, canvas.width(col.text, TEXT)) end
  if widest <= even(28) - 6 then return even(28), nil end
  local aslant = math.min(widest, LONGEST)
  return even(math.max(28, math.ceil(aslant * 0.72))), aslant
end

local function grid(c, o, list, rules, top, width, aslant)
  heads(c, list, NAMES, top, width, aslant)
  for k, rule in ipairs(rules) do
    local y = top + ROW * (k - 1)
    c:group({ name = "rule" }, function()
      name(c, rule, y)
      for i, col in ipairs(list) do
        cell(c, NAMES + (i - 1) * width, y, width, share_of(rule, col, o.axis.tried))
      end
    end, rule.id .. ": " .. (rule.says or ""))
  end
  c:group({ name = "frame", stroke = "#8c8c8c", width = 0.8 }, function()
    local right, bottom = NAMES + width * #list, top + ROW * #rules
    for k = 0, #rules do c:line(NAMES, top + ROW * k, right, top + ROW * k) end
    for i = 0, #list do c:line(NAMES + width * i, top, NAMES + width * i, bottom) end
  end)
end

return function(o)
  local list, each = columns_of(o.axis)
  local rules, left = {}, 0
  for _, rule in ipairs(o.rules) do
    if ever_broken(rule, #o.axis.steps) then rules[#rules + 1] = rule else left = left + 1 end
  end
  local function wrap(text, size) return canvas.wrap(text, WIDTH - 48, size) end
  local title, said = wrap(o.title, TITLE), wrap(notes(o, #rules, left, each), TEXT)
  local width, aslant = widths(list)
  local top = 14 + 20 * #title + 26
  local first = #rules > 0 and top + 24 + (aslant and math.ceil(aslant * 0.72) or 14) or top
  local below = first + (#rules > 0 and ROW * #rules + 52 or 46)
  local c = canvas.new { width = WIDTH, height = below + 15 * #said, title = o.title,
      says = (#rules == 1 and "1 rule" or count(#rules) .. " rules") .. " along " .. o.axis.name .. ", " ..
          count(#o.axis.steps) .. " steps. " .. notes(o, #rules, left, each) }
  for i, text in ipairs(title) do c:text(24, 8 + 20 * i, text, { size = TITLE, bold = true }) end
  if #rules > 0 then
    c:text(24, top, canvas.cut(o.axis.name, NAMES - 30, 12), { size = 12 })
    c:text(24, top + 15, "\u{25bc} marks the declared step", { size = TEXT, fill = canvas.quiet })
    grid(c, o, list, rules, first, width, aslant)
    legend(c, 24, below - 28)
  else
    c:text(WIDTH / 2, top + 4, "no rule is broken in any variant that was tried",
        { size = 13, anchor = "middle", fill = canvas.quiet })
  end
  for i, text in ipairs(said) do c:text(24, below + 15 * (i - 1), text, { size = TEXT, fill = canvas.quiet }) end
  return c
end
