-- SPDX-License-Identifier: MIT
-- Mark-out: what is painted white before the locating service comes, and what to tell it.  Nobody digs by this sheet.
local record = import "model.record"
local document = import "write.document"
local words = import "write.words"
local measure = import "write.measure"
local set_out = import "structure.set_out"
local digging = import "site.digging"
local feet = import "structure.feet"

local given, value = record.given, document.value

-- Where the job is, as a map or a satellite receiver has it.
local function place(d)
  local site = record.only "site"
  local parts = {}
  for _, name in ipairs { "latitude", "longitude" } do
    local v = site and given(site, name)
    parts[#parts + 1] = name .. " " .. (v and words.position(v, name) or "______")
  end
  d:para("Where: " .. table.concat(parts, ", ") .. "; the nearest address and crossing: ____________")
  d:para("The zero of each rack, tied to two things that stay: ______ from ____________, ______ from ____________")
end

local made = { hole = "drilled", screw = "screwed in", driven = "driven" }
local counted = { hole = " hole", screw = " ground screw", driven = " post" }
local function plural(n, word) return n .. word .. (n == 1 and "" or "s") end

-- A line all round the holes of a rack, one hole's width outside the posts.
local function round_holes(d, r)
  local lines, groups, widest = set_out.lines(r), feet.of_rack(r), nil
  for _, g in ipairs(groups) do
    local wide = feet.width(g.footing, r)
    if not widest or wide > widest then widest = wide end
  end
  local around, zero = 2 * widest, lines[1].posts[1]
  local west, east                                       -- outermost posts of all lines
  for _, line in ipairs(lines) do
    local marks = set_out.along(r, line, zero)
    local first, last = marks[1].at, marks[#marks].at
    west, east = west and west < first and west or first, east and east > last and east or last
  end
  local along, across = east - west, set_out.across(lines)[#lines].at
  d:para("Zero: centre of post " .. zero.station .. ", the west end of the front line. The rows run square to " ..
      words.show(r.true_azimuth, "deg") .. " true" ..
      (r.north == "compass" and " (" .. words.show(r.azimuth, "deg") .. " by compass)" or "") .. ".")
  d:table({ "paint white", { "along the row", right = true }, { "across it", right = true } }, {
    { "post centres, end to end and front to back", value(along, measure.mark), value(across, measure.mark) },
    { "a line all round, a hole's width outside them", value(along + around, measure.up),
      value(across + around, measure.up) } })
  for _, g in ipairs(groups) do
    local kind, depth = feet.kind(g.footing), feet.depth(g.footing)
    if depth then
      local wide = (kind == "hole" and measure.up or measure.inches)(feet.width(g.footing, r))
      d:para("To be " .. made[kind] .. " there: " .. plural(#g.posts, counted[kind]) .. ", " .. wide .. " wide, " ..
          (measure.up(depth)) .. " deep.")
    else
      d:para("To be set there, on the ground: blocks for " .. plural(#g.posts, " post") .. ", each " ..
          (measure.up(g.footing.block_length)) .. " long and " .. (measure.up(g.footing.block_width)) .. " wide.")
    end
  end
end

local function trench(d, t)
  d:para("Paint a white line along the whole trench, with an arrow at each end and at each bend.")
  local wide = given(t, "width")
  d:para("To be dug there: " .. words.show(t.length) .. (wide and ", " .. (measure.inches(wide)) .. " wide" or "") ..
      ", deeper than " .. (measure.up(digging.depth(t))) .. " by the conduit" ..
      (given(t, "bedding") and "." or " and its bedding."))
end

local function answers(d)
  local l = record.only "locate"
  d:para("What the service said, in pencil:")
  local row = {}
  for i, name in ipairs { "ticket", "valid_from", "valid_to" } do row[i] = l and l[name] or document.fill end
  d:table({ "ticket", "first day", "last day" }, { row })
  local rows = {}
  for answer in record.each(l and given(l, "answers") or {}) do
    local utility, word = string.match(answer, "^%s*(.-)%s*:%s*(.-)%s*$")
    rows[#rows + 1] = { utility, word }
  end
  for _ = #rows + 1, 4 do rows[#rows + 1] = { document.fill, document.fill } end
  d:table({ "utility", "answer: marked or clear" }, rows)
end

local function whole(d)
  d:warning("DO NOT DIG, drill or drive by this sheet. It goes out before the ticket; the sheets to dig by come " ..
      "when the ticket is valid and each utility has answered it.")
  place(d)
  for _, r in ipairs(record.all "rack") do
    d:gap()
    d:subheading(words.title(r))
    d:guarded(function() d:inside(round_holes, r) end)
  end
  for _, t in ipairs(record.all "trench") do
    d:gap()
    d:subheading(words.title(t))
    d:inside(trench, t)
  end
  d:gap()
  d:para(digging.private_lines())
  d:gap()
  answers(d)
end

return { name = "mark-out", title = "Mark-out for the locating service", order = 15, build = true, crew = true,
    of = { "rack", "trench" }, rules = { "R02", "R06", "R80" }, whole = whole }
