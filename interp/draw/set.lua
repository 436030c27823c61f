-- SPDX-License-Identifier: MIT
-- The pages of a job: which there are, their numbers, and each as it is asked for.
local record = import "model.record"
local words = import "write.words"
local sheets = import "write.sheets"
local page = import "draw.page"
local set = {}

-- What a view is of: each rack, each trench, the last of racks behind each other, or each footing that a rack has,
-- once.
local function subjects(view)
  local racks, list, seen = record.all "rack", {}, {}
  if view.of == "rows" then return import("places.in_front").last() end
  if view.of ~= "footing" then return record.all(view.of or "rack") end
  for _, rack in ipairs(racks) do
    for _, g in ipairs(import("structure.feet").of_rack(rack)) do
      if not seen[g.footing] then seen[g.footing], list[#list + 1] = true, g.footing end
    end
  end
  return list
end

-- Each page of the job: { view = row of draw.views, subject, label, name = "side" or "side.east" }.
function set.pages()
  local list, numbers = {}, {}
  for _, view in ipairs(import "draw.views") do
    local all = subjects(view)
    for _, one in ipairs(all) do
      local kind = (view.letter or "S") .. "-" .. view.sheet
      local n = (numbers[kind] or 0) + 1
      numbers[kind] = n
      list[#list + 1] = { view = view, subject = one, page = #list + 1,
          label = string.format("%s%02d", kind, n),
          name = #all == 1 and view.name or view.name .. "." .. record.inside[one].name }
    end
  end
  for _, one in ipairs(list) do one.pages = #list end
  return list
end

local function made_from(options)
  for _, f in ipairs(import("write.identity").facts(options)) do
    if f.what == "script" then
      local program = host.program()
      return "Made from script " .. f.sha256:sub(1, 12) .. " by stringline " .. program.version
    end
  end
  return "Made from no script"
end

-- A view that was drawn in parts stands in both lists with each of them, or with the one that was asked for.
local function with_parts(list, drawn)
  for i = #list, 1, -1 do
    local one, pages = list[i], drawn[i]
    if pages.parts or one.part then
      table.remove(list, i)
      table.remove(drawn, i)
      for k = pages.parts and #pages or 0, 1, -1 do
        if not one.part or one.part == k then
          table.insert(list, i, { view = one.view, subject = one.subject, label = pages[k].label,
              name = one.name .. "." .. k })
          table.insert(drawn, i, pages[k])
        end
      end
    end
  end
  return drawn
end

-- Draws them: pages as host.svg and host.pages take them, each with `withheld`, the reason, where it is. The list then
-- has an entry for each of them.
function set.draw(list, outcomes, options)
  local from, drawn = made_from(options), {}
  local on = { outcomes = outcomes, groups = sheets.by_id(outcomes), printed = {} }
  for i, one in ipairs(list) do
    local about = { page = one.page, pages = one.pages, made_from = from }
    local head = { title = one.view.title, label = one.label, subject = words.title(one.subject) }
    local ok, view, why = pcall(import(one.view.module), one.subject, on)
    if not ok then
      if not host.class(view) then error(view, 0) end
      view, why = nil, host.message(view) .. (view.who and "; ask " .. view.who or "")
    end
    if view then
      for k, v in next, head do view[k] = v end
      local fine, made = pcall(page.of, view, about)
      if fine then drawn[i] = made
      elseif host.class(made) then why = host.message(made) .. (made.who and "; ask " .. made.who or "")
      else error(made, 0) end
    end
    if not drawn[i] then
      drawn[i] = page.withheld(head, why, about)
      drawn[i].withheld = why
    end
  end
  return with_parts(list, drawn)
end

return set
