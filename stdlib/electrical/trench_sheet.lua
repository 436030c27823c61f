-- SPDX-License-Identifier: MIT
-- Digging: the trench, what it crosses, and the holes.
local record = import "model.record"
local document = import "write.document"
local words = import "write.words"
local measure = import "write.measure"
local digging = import "site.digging"
local feet = import "structure.feet"
local sheet = {}

local given = record.given

local cell = document.value

local function holes(d)
  for _, r in ipairs(record.all "rack") do
    for _, g in ipairs(feet.of_rack(r)) do
      local kind, n = feet.kind(g.footing), #g.posts
      local wide = (kind == "hole" and measure.up or measure.inches)(feet.width(g.footing, r))
      local depth = feet.depth(g.footing)
      local many = n == 1 and "" or "s"
      if kind == "ballast" then
        d:para(words.title(r) .. ": no hole for " .. n .. " post" .. many .. " on blocks.")
      else
        local what = kind == "hole" and " hole" or kind == "screw" and " ground screw" or " driven post"
        d:para(words.title(r) .. ": " .. n .. what .. many .. ", " .. wide .. " wide, " .. measure.up(depth) ..
            " deep from the ground beside each.")
      end
    end
  end
end

function sheet.short(d)
  d:para(digging.ticket())
  d:para(digging.private_lines())
  holes(d)
  for _, t in ipairs(record.all "trench") do
    local crosses = given(t, "crosses")
    local cover = measure.up(t.cover)
    d:para(words.title(t) .. ": " .. words.show(t.length) .. " long, " .. cover ..
        " of cover over the conduit, " .. (crosses and (#crosses == 0 and "crosses nothing known" or "crosses " ..
        #crosses .. (#crosses == 1 and " line" or " lines")) or
        "crossings not stated") .. ".")
  end
end

local function section(d, t)
  d:para("finished ground")
  local tape = given(t, "tape_above_conduit")
  if tape then
    local above, down = measure.cut(tape), measure.cut(t.cover - tape)
    d:para("warning tape " .. above .. " above the conduit, " .. down .. " down")
  else d:para("no warning tape is declared") end
  local cover, bedding, width = measure.up(t.cover), given(t, "bedding"), given(t, "width")
  d:para("top of the conduit " .. cover .. " down; " .. digging.deeper(t))
  if bedding then d:para(digging.bed(bedding)) end
  if width then d:para("dig it " .. measure.inches(width) .. " wide") end
  local volume = bedding and width and digging.of_bedding(t)
  if volume then
    d:para("order at least " .. volume .. " of " .. bedding.of .. ": it is what lies below and above the conduit; " ..
        "what stands beside that comes on top")
  end
  local sum = digging.too_narrow(t)
  if sum then d:warning(digging.narrow(t, sum)) end
  local asks = digging.asked(t)
  if asks then d:warning("So deep a trench has " .. asks .. ": see below.") end
  d:para("above it: " .. t.under)
  local crosses = given(t, "crosses")
  local rows = {}
  for c in record.each(crosses or {}) do
    rows[#rows + 1] = { cell(c.at), c.what, "dig by hand; keep clear of the marks" }
  end
  if #rows > 0 then d:table({ { "from the array", right = true }, "crosses", { "", key = "do" } }, rows)
  else d:para(crosses and "crosses nothing known" or "nobody said what it crosses: ask before digging") end
  for _, r in ipairs(record.all "run") do
    if r.through == t then
      d:para("holds " .. r.conduit.kind .. " " .. r.conduit.size .. " of " .. words.title(r) .. "; least cover " ..
          words.of(r, "least_cover"))
    end
  end
  d:para("Do not cover before inspection.")
end

function sheet.whole(d)
  d:inside(sheet.short)
  for _, t in ipairs(record.all "trench") do
    d:gap()
    d:subheading(words.title(t) .. ", section")
    d:inside(section, t)
  end
  d:gap()
  d:warning(digging.trenches())
  d:warning(digging.covers)
  d:warning(digging.overhead)
end

return sheet
