-- SPDX-License-Identifier: MIT
-- Digging: the trench, what it crosses, and the holes.
local record = import "model.record"
local words = import "write.words"
local measure = import "write.measure"

local given = record.given

local function holes(p)
  for _, r in ipairs(record.all "rack") do
    local f, n = r.posts.footing, 2 * r.post_pairs
    p:para(words.title(r) .. ": " .. n .. " holes, " .. measure.up(f.hole_diameter) .. " wide, " ..
        measure.up(f.hole_depth) .. " deep from the ground beside each.", "  ")
  end
end

local function short(p)
  local l = record.root.locate
  p:para("Ticket " .. l.ticket .. ", valid " .. l.valid_from .. " to " .. l.valid_to ..
      "; it does not mark private lines (asked of " .. l.private_lines.asked .. ": " .. l.private_lines.found .. ").",
      "  ")
  holes(p)
  for _, t in ipairs(record.all "trench") do
    local crosses = given(t, "crosses")
    p:para(words.title(t) .. ": " .. words.show(t.length) .. " long, " .. measure.up(t.cover) ..
        " of cover over the conduit, " .. (crosses and (#crosses == 0 and "crosses nothing known" or "crosses " ..
        #crosses .. (#crosses == 1 and " line" or " lines")) or
           "crossings not stated") .. ".", "  ")
  end
end

local function whole(p)
  short(p)
  for _, t in ipairs(record.all "trench") do
    p:blank()
    p:line(words.title(t) .. ", section")
    p:para("finished ground", "  ")
    local tape = given(t, "tape_above_conduit")
    if tape then p:para("warning tape " .. words.show(tape) .. " above the conduit, " .. words.show(t.cover - tape) ..
        " down", "  ") else p:para("no warning tape is declared", "  ") end
    p:para("top of the conduit " .. measure.up(t.cover) ..
        " down; dig deeper by the conduit's outside diameter and its bedding", "  ")
    p:para("above it: " .. t.under, "  ")
    local crosses = given(t, "crosses")
    local rows = {}
    for c in record.each(crosses or {}) do rows[#rows + 1] = { words.show(c.at), c.what,
        "dig by hand; keep clear of the marks" } end
    if #rows > 0 then p:table({ { "from the array", right = true }, "crosses", "" }, rows, "  ")
    else p:para(crosses and "crosses nothing known" or "nobody said what it crosses: ask before digging", "  ") end
    for _, r in ipairs(record.all "run") do
      if r.through == t then p:para("holds " .. r.conduit.kind .. " " .. r.conduit.size .. " of " .. words.title(r) ..
          "; least cover " .. words.of(r, "least_cover"), "  ") end
    end
    p:para("Do not cover before inspection.", "  ")
  end
  p:blank()
  p:para("Cover or fence every open hole and trench. Nobody in an unshored trench deeper than 5 ft (OSHA 29 CFR " ..
      "1926.652, from memory). Watch overhead lines when an auger mast or a long post goes up.", "! ")
end

return { order = 60, of = { "rack", "trench" },
  name = "trench", title = "Digging", build = true, kinds = { "trench" },
    rules = { "R06", "R07", "R57", "R30" }, after = { "R09" }, short = short, whole = whole }
