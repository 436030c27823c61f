-- SPDX-License-Identifier: MIT
-- The pages of a job: which there are, their numbers, and each as it is asked for.
local record = import "model.record"
local run = import "model.run"
local words = import "write.words"
local sheets = import "write.sheets"
local page = import "draw.page"
local alike = import "draw.alike"
local told = import "draw.told"
local set = {}

-- What a view is of: each rack, each trench, the last of racks behind each other, or each footing that a rack has,
-- once.
local function subjects(view)
  local racks, list, seen = record.all "rack", {}, {}
  if view.of == "rows" then return racks[2] and import("places.in_front").last() or {} end
  if view.of ~= "footing" then return record.all(view.of or "rack") end
  for _, rack in ipairs(racks) do
    for _, g in ipairs(import("structure.feet").of_rack(rack)) do
      if not seen[g.footing] then seen[g.footing], list[#list + 1] = true, g.footing end
    end
  end
  return list
end

-- The sheets of the text kind that the job has something for.
local function lists()
  local found = {}
  for _, row in ipairs(import "draw.lists") do
    if sheets.wanted(row.name) then found[#found + 1] = row end
  end
  return found
end

-- The sheets of a view of racks, or of rows of them by the last: one for those of which it shows the same; and each of
-- these alone, which has the number of their sheet.
local function of_racks(put, view, racks, on)
  local groups, singles = alike.groups(view, racks, on, on.apart[view.name] or {}), {}
  for _, group in ipairs(groups) do
    local first, several = group.racks[1], #group.racks > 1
    local name = view.name .. "." .. tostring(record.inside[first].name)
    local one = put("view", view, #groups == 1 and view.name or several and name .. " and " .. #group.racks - 1 ..
        " more" or name, view.sheet, first, view.letter)
    one.group = several and group or nil
    for _, rack in ipairs(several and group.racks or {}) do
      singles[#singles + 1] = { kind = "view", view = view, name = view.name .. "." .. record.inside[rack].name,
          subject = rack, label = one.label, page = one.page, of = one }
    end
  end
  return singles
end

-- Each sheet of the job: { view = row of draw.views or draw.lists, kind = "index", "view" or "list", subject, label,
-- name = "side" or "side.east", page, group = { racks, views } that it shows alike }, the index first.  A sheet of
-- several pages is one, whose pages are its parts.  And the views of single racks that stand on the sheet of others.
local function all_sheets(on)
  local list, numbers, singles = {}, {}, {}
  local function put(kind, view, name, digit, subject, letter)
    letter = letter or "S"
    local n = (numbers[letter .. digit] or 0) + 1
    numbers[letter .. digit] = n
    local one = { kind = kind, view = view, name = name, subject = subject, page = #list + 1,
        label = string.format("%s-%d%02d", letter, digit, n) }
    list[#list + 1] = one
    return one
  end
  if #record.all "rack" == 0 then return list, singles end
  put("index", { name = "index", title = "Sheet index" }, "index", 0, nil, "G")
  for _, view in ipairs(import "draw.views") do
    local all = subjects(view)
    if not view.of or view.of == "rows" then
      local more = of_racks(put, view, all, on)
      table.move(more, 1, #more, #singles + 1, singles)
    else
      for _, one in ipairs(all) do
        put("view", view, #all == 1 and view.name or view.name .. "." .. record.inside[one].name, view.sheet, one,
            view.letter)
      end
    end
  end
  for _, row in ipairs(lists()) do put("list", row, row.name, 6) end
  for _, one in ipairs(list) do one.pages = #list end
  for _, one in ipairs(singles) do one.pages = #list end
  return list, singles
end

local function made_from(options)
  for _, f in ipairs(import("write.identity").facts(options)) do
    if f.what == "script" then
      local program = host.program()
      return "Script " .. f.sha256:sub(1, 12) .. ", stringline " .. program.version
    end
  end
  return "Made from no script"
end

-- ---- one sheet -----------------------------------------------------------------------------------------------------

-- "rack east"; "5 racks"
local function of_all()
  local racks = record.all "rack"
  return #racks == 1 and words.title(racks[1]) or #racks .. " racks"
end

local function head_of(one)
  local subject, note
  if one.group then subject, note = alike.subject(one.group)
  else subject = one.subject and words.title(one.subject) or of_all() end
  return { title = one.view.title, label = one.label, subject = subject, note = note }
end

local draw = {}

function draw.view(one, head, about, on)
  local group, of = one.group, one.of
  local view, why = page.or_why(alike.view, import(one.view.module), one.subject, group and alike.on(on,
      group.racks) or on, group and group.at_any_height)
  if not view then return nil, why end
  local note = head.note or of and "Sheet " .. one.label .. " of the set is " .. head_of(of).subject ..
      ", and this is one of them."
  if note then table.insert(view.notes, 1, note) end
  for k, v in next, head do view[k] = v end
  local made, none = page.or_why(page.of, view, about)
  return made and (made.parts and made or { made }), none
end

-- For the crew: its lengths in both ways of a tape.
function draw.list(one, head, about, on)
  local sheet, why = told.sheet(one.name, on.groups)
  if why then return nil, why end
  local was = run.crew
  run.crew = true
  local printed, foot = told.printed(sheet, { printed = {} })
  run.crew = was
  head.notes = told.notes(sheet, on, {}, foot)
  return page.or_why(import("draw.listed").pages, head, printed.blocks, about, import("write.document").tick)
end

-- paper: its name, where one is asked for.
local function about_of(one, from, paper)
  return { page = one.page, pages = one.pages, made_from = from, paper = paper, kind = one.kind }
end

-- One sheet: its pages, as host.svg and host.pages take them, each with its `entry`, and with `withheld`, the reason,
-- where it is.
local function drawn(one, from, on)
  local head, about = head_of(one), about_of(one, from, on.paper)
  local list, why = draw[one.kind](one, head, about, on)
  if not list then
    list = { page.withheld(head, why, about) }
    list[1].withheld = why
  end
  for _, p in ipairs(list) do p.entry = one end
  return list
end

-- What the index says of a sheet that is drawn; reasons: those for which sheets are withheld, by number and by text.
local function row_of(one, list, reasons)
  local first, head, why = list[1], head_of(one), list[1].withheld
  if why and not reasons[why] then
    reasons[#reasons + 1] = why
    reasons[why] = #reasons
  end
  return { one.label, head.title, one.group and head.note and head.subject .. ", " .. alike.title(
      one.group) or head.subject, first.scale or "none",
      first.paper .. (#list > 1 and ", " .. #list .. " pages" or ""), why and "WITHHELD, " .. reasons[why] or "" }
end

-- The index: each sheet, those that are withheld with the reason; and each rack, where sheets stand for several.
local function index(one, list, rows, reasons, from, on)
  local head, d = head_of(one), import("write.document").new("index", one.view.title)
  table.insert(rows, 1, { one.label, head.title, head.subject, "none", "this one", "" })
  local columns = { "sheet", { "what", wrap = true }, { "of", wrap = true }, "scale", "on paper" }
  if #reasons > 0 then columns[6] = "withheld" end
  d:table(columns, rows)
  for i, why in ipairs(reasons) do d:para(why .. ".", "Withheld, " .. i .. ": ") end
  import "draw.racks"(d, list, not select(2, told.sheet("posts", on.groups)))
  head.notes = told.notes({ kinds = {} }, on, { "Numbers of sheets: G of all, S of the structure, C of " ..
      "the ground; 1 plans, 2 elevations, 3 sections, 6 lists for the crew. A sheet on several pages is one, with " ..
      "its parts." }, {})
  local pages = import("draw.listed").pages(head, d.blocks, about_of(one, from, on.paper))
  for _, p in ipairs(pages) do p.entry = one end
  return pages
end

-- The sheets of a list that are wanted: their pages, in order; of one with a `part` that part alone.
local function pages_of(all, made, wanted)
  local pages, is_wanted = {}, {}
  for _, one in ipairs(wanted) do is_wanted[one] = true end
  for _, one in ipairs(all) do
    local own = is_wanted[one] and made[one] or {}
    if one.part and #own > 0 then own = #own > 1 and { own[one.part] } or {} end
    table.move(own, 1, #own, #pages + 1, pages)
  end
  return pages
end

-- Notes which racks differ from the others of their group at the scale of its pages; whether any do.
local function differ(one, pages, apart)
  local name, others = one.view.name, alike.others(one.group, pages)
  apart[name], apart.round = apart[name] or {}, apart.round + 1
  for _, rack in ipairs(others) do apart[name][rack] = apart.round end
  return #others > 0
end

-- Draws sheets of the job: pick(list of all, those of single racks) gives which.  Gives their pages, in order, and the
-- list of all.
function set.draw(pick, outcomes, options)
  local from = made_from(options)
  local on = { outcomes = outcomes, groups = sheets.by_id(outcomes), printed = {}, apart = { round = 0 },
      paper = options.paper and import("draw.sheet").named(options.paper) }
  while true do
    local list, singles = all_sheets(on)
    local wanted, made, rows, reasons, again = pick(list, singles), {}, {}, {}, false
    local all = wanted[1] and wanted[1].kind == "index" and list or wanted
    for _, one in ipairs(all) do
      if one.kind ~= "index" then
        made[one] = drawn(one, from, on)
        rows[#rows + 1] = row_of(one, made[one], reasons)
        again = one.group and differ(one, made[one], on.apart) or again
      end
    end
    if not again then
      if all[1] and all[1].kind == "index" then made[all[1]] = index(all[1], list, rows, reasons, from, on) end
      return pages_of(all, made, wanted), list
    end
  end
end

return set
