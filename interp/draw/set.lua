-- SPDX-License-Identifier: MIT
-- The pages of a job: which there are, their numbers, and each as it is asked for.
local record = import "model.record"
local run = import "model.run"
local words = import "write.words"
local sheets = import "write.sheets"
local page = import "draw.page"
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

-- Each sheet of the job: { view = row of draw.views or draw.lists, kind = "index", "view" or "list", subject, label,
-- name = "side" or "side.east", page }, the index first.  A sheet of several pages is one, whose pages are its parts.
function set.pages()
  local list, numbers = {}, {}
  local function put(kind, view, name, digit, subject, letter)
    letter = letter or "S"
    local n = (numbers[letter .. digit] or 0) + 1
    numbers[letter .. digit] = n
    list[#list + 1] = { kind = kind, view = view, name = name, subject = subject, page = #list + 1,
        label = string.format("%s-%d%02d", letter, digit, n) }
  end
  if #record.all "rack" == 0 then return list end
  put("index", { name = "index", title = "Sheet index" }, "index", 0, nil, "G")
  for _, view in ipairs(import "draw.views") do
    local all = subjects(view)
    for _, one in ipairs(all) do
      put("view", view, #all == 1 and view.name or view.name .. "." .. record.inside[one].name, view.sheet, one,
          view.letter)
    end
  end
  for _, row in ipairs(lists()) do put("list", row, row.name, 6) end
  for _, one in ipairs(list) do one.pages = #list end
  return list
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

-- Calls f, which gives what is drawn or nil and why not; what is refused in it is why, too.
local function or_why(f, ...)
  local fine, made, why = pcall(f, ...)
  if fine then return made, why end
  if not host.class(made) then error(made, 0) end
  return nil, host.message(made) .. (made.who and "; ask " .. made.who or "")
end

local draw = {}

function draw.view(one, head, about, on)
  local view, why = or_why(import(one.view.module), one.subject, on)
  if not view then return nil, why end
  for k, v in next, head do view[k] = v end
  local made, none = or_why(page.of, view, about)
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
  head.notes = told.notes(sheet, on.groups, {}, foot)
  return or_why(import("draw.listed").pages, head, printed.blocks, about, import("write.document").tick)
end

-- paper: its name, where one is asked for.
local function about_of(one, from, paper)
  return { page = one.page, pages = one.pages, made_from = from, paper = paper, kind = one.kind }
end

-- "rack east"; "5 racks"
local function of_all()
  local racks = record.all "rack"
  return #racks == 1 and words.title(racks[1]) or #racks .. " racks"
end

local function head_of(one)
  return { title = one.view.title, label = one.label,
      subject = one.subject and words.title(one.subject) or of_all() }
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
  return { one.label, head.title, head.subject, first.scale or "none",
      first.paper .. (#list > 1 and ", " .. #list .. " pages" or ""), why and "WITHHELD, " .. reasons[why] or "" }
end

-- The index: each sheet, those that are withheld with the reason.
local function index(one, rows, reasons, from, on)
  local head, d = head_of(one), import("write.document").new("index", one.view.title)
  table.insert(rows, 1, { one.label, head.title, head.subject, "none", "this one", "" })
  local columns = { "sheet", { "what", wrap = true }, { "of", wrap = true }, "scale", "on paper" }
  if #reasons > 0 then columns[6] = "withheld" end
  d:table(columns, rows)
  for i, why in ipairs(reasons) do d:para(why .. ".", "Withheld, " .. i .. ": ") end
  head.notes = told.notes({ kinds = {} }, on.groups, { "Numbers of sheets: G of all, S of the structure, C of " ..
      "the ground; 1 plans, 2 elevations, 3 sections, 6 lists for the crew. A sheet on several pages is one, with " ..
      "its parts." }, {})
  local list = import("draw.listed").pages(head, d.blocks, about_of(one, from, on.paper))
  for _, p in ipairs(list) do p.entry = one end
  return list
end

-- Draws sheets of the job, the index among them or not: their pages, in order; of one with a `part` that part alone.
function set.draw(list, outcomes, options)
  local from, made, rows, reasons, wanted, pages = made_from(options), {}, {}, {}, {}, {}
  local on = { outcomes = outcomes, groups = sheets.by_id(outcomes), printed = {}, paper = options.paper and
      import("draw.sheet").named(options.paper) }
  for _, one in ipairs(list) do wanted[one.label] = one end
  local all = list[1].kind == "index" and set.pages() or list
  for i, one in ipairs(all) do
    if one.kind ~= "index" then
      made[i] = drawn(one, from, on)
      rows[#rows + 1] = row_of(one, made[i], reasons)
    end
  end
  for i, one in ipairs(all) do
    if wanted[one.label] then
      local own = made[i] or index(one, rows, reasons, from, on)
      local part = wanted[one.label].part
      if part then own = #own > 1 and { own[part] } or {} end
      table.move(own, 1, #own, #pages + 1, pages)
    end
  end
  return pages
end

return set
