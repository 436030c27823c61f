-- SPDX-License-Identifier: MIT
-- Screw log: what each ground screw, or driven post, must hold, how it is driven, and what was written down of it.
local record = import "model.record"
local document = import "write.document"
local words = import "write.words"
local measure = import "write.measure"
local digging = import "site.digging"
local feet = import "structure.feet"
local logs = import "screws.logs"

local given, cell, value, fill = record.given, document.of, document.value, document.fill
local function right(head, key) return { head, key = key, right = true } end

local function is_pierced(footing) return feet.kind(footing) == "screw" or feet.kind(footing) == "driven" end

local function any_of(rack)
  for _, g in ipairs(feet.of_rack(rack)) do if is_pierced(g.footing) then return true end end
  return false
end

-- What is driven, and how far.
local function described(d, f)
  local kind, helix = given(f, "shaft_kind"), given(f, "helix")
  if feet.kind(f) == "driven" then
    return d:para(words.title(f) .. ": posts driven " .. measure.up(f.driven_depth) .. " deep below the ground " ..
        "beside each.")
  end
  local top, head = given(f, "helix_depth"), measure.inches(f.head)
  d:para(words.title(f) .. ": ground screws " .. words.show(f.shaft) .. " thick" .. (kind and " (" .. kind .. ")" or
      "") .. ", " .. measure.inches(f.screw_length) .. " long, the tip " .. measure.up(feet.depth(f)) ..
      " below the ground, the head " .. head .. " above it" .. (helix and "; top helix " .. words.show(helix) .. " wide"
      or "") .. (top and ", " .. measure.inches(top) .. " below the ground" or "") .. ".")
  local target = given(f, "torque")
  d:para(target and "Torque, driven last: " .. words.show(target) .. " or more; read it off the gauge over the last " ..
      "turns." or "No torque to drive to is given: by pull tests, or the maker's " .. (given(f, "model") and
      "table of " .. f.model or "paper") .. ".")
end

-- What is logged already, or a place for it.
local function logged(log, name)
  local v = log and given(log, name)
  return v and value(v, name == "torque" and words.show or measure.inches) or fill
end

local function table_of(d, g)
  local rows, screws = {}, feet.kind(g.footing) == "screw"
  for i, post in ipairs(g.posts) do
    local log = logs.of(post)
    local refused = log and given(log, "refused")
    local row = { post.station, cell(post, "net_uplift"), cell(post, "pressed"), cell(post, "lateral"),
        cell(post, "anchor_holds") }
    if screws then row[#row + 1] = logged(log, "torque") end
    row[#row + 1] = refused and value(refused, measure.inches) or logged(log, "depth")
    row[#row + 1] = log and (refused and "refused; " .. (given(log, "plan") or "no plan") .. "; " or "") .. log.by ..
        ", " .. log.on or fill
    rows[i] = row
  end
  local columns = { "post", right "up", right "down", right "sideways", right("holds", "holds along itself") }
  if screws then columns[#columns + 1] = right("torque", "torque driven last") end
  columns[#columns + 1] = right("tip", "tip below the ground")
  columns[#columns + 1] = { "by, on", key = "by", wrap = true }
  d:table(columns, rows)
  d:unknowns(rows)
  return rows
end

-- The rows of the maker's table that answer for its posts, each once.
local function by_table(d, g)
  local tables, seen = import "screws.tables", {}
  for _, post in ipairs(g.posts) do
    local ok, row = pcall(function() return tables.sideways(post, post.load_height) end)
    if not ok and not host.class(row) then error(row, 0) end
    local text = ok and "Sideways it may take " .. words.show(row.sideways) .. " " .. measure.inches(row.load_at) ..
        " above the ground, by the " .. tables.cite(row) .. "." or "What it takes sideways is not known: " ..
        host.message(row) .. "."
    if not seen[text] then d:para(text) end
    seen[text] = true
  end
end

local function sideways(d, g)
  local f = g.footing
  local most, at, moved = given(f, "sideways"), given(f, "sideways_at"), given(f, "sideways_moved")
  local deep = given(f, "sideways_depth")
  if not most and given(f, "model") then return by_table(d, g) end
  if not most then
    return d:para("What it takes sideways is not known: neither torque nor a pull tells it.")
  end
  local height = at and " at " .. measure.inches(at) .. " above the ground" or " at the ground"
  local from = deep and ", from " .. measure.inches(deep) .. " deep on" or "; how deep that is for is not said"
  d:para("Sideways it may take " .. words.show(most) .. height .. from .. ", by " .. f.sideways_by ..
      (moved and "; it moved " .. words.show(moved) .. " there" or "") .. ".")
end

local function pulled(d)
  local rows, today = {}, given(record.root, "on")
  for _, test in ipairs(record.all "pull_test") do
    local of, moved, at = given(test, "of"), given(test, "moved"), {}
    for i = 1, #test.posts do at[i] = test.posts[i] end
    rows[#rows + 1] = { of and "one for trial, of " .. feet.title(of) or table.concat(at, ", "), value(test.load),
        moved and value(moved) or "not said", test.by .. ", " .. test.on ..
        (today and test.on > today and ": after the day judged, not counted" or "") }
  end
  if #rows == 0 then return end
  d:gap()
  d:subheading("Pull tests")
  d:table({ { "at", wrap = true }, right "held", right "moved", { "by, on", key = "by", wrap = true } }, rows)
  d:para("What a footing holds by pulls is the least of its tests, divided as the code divides a test.")
end

local function anything()
  for _, r in ipairs(record.all "rack") do if any_of(r) then return true end end
  return false
end

-- Where nothing is driven, nothing waits for a ticket.
local function waits()
  if anything() then return digging.waits() end
end

local function whole(d)
  if not anything() then return d:para("None of the posts stands on a ground screw, and none is driven.") end
  d:para(digging.ticket())
  d:para(digging.private_lines())
  d:para("up, down, sideways: what each must hold, allowable level, the frame's weight taken off what lifts. holds: " ..
      "along itself, push or pull, by torque or by pull tests, as logged where it is logged, else as designed; of a " ..
      "model that neither is known of, in pull by its maker's table.")
  for _, r in ipairs(record.all "rack") do
    if any_of(r) then
      d:gap()
      d:subheading(words.title(r))
      d:inside(function()
        for _, g in ipairs(feet.of_rack(r)) do
          if is_pierced(g.footing) then
            described(d, g.footing)
            table_of(d, g)
            sideways(d, g)
          end
        end
      end)
    end
  end
  d:inside(pulled)
  d:gap()
  d:para("One that reaches its depth with less torque, or is refused above it, is written down and left standing: " ..
      "whoever designs it says what is done, before the next is driven beside it.")
  d:para("Not judged: how far screws settle, rust, what screws close to each other take off each other, and whether " ..
      "the shaft itself bears the torque and bends.")
  d:warning("Who stands at the drive can be struck by its arm: it is held by the machine, and nobody stands within " ..
      "its swing.")
  d:warning(digging.overhead)
end

return { name = "screws", title = "Screw log", order = 12.5, build = true, crew = true, of = { "footing" },
    sorts = { "screw", "driven" }, kinds = {}, rules = { "R30", "R31", "R34", "R36" }, after = { "R09", "R73" },
    waits = waits, whole = whole }
