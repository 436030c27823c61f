-- SPDX-License-Identifier: MIT
-- What stands beside a view: cautions and waivers of the rules that touch it, what must not be built from, what is not
-- judged, and whose paper is behind its numbers.
local record = import "model.record"
local run = import "model.run"
local document = import "write.document"
local words = import "write.words"
local own = import "draw.own"
local sheets = import "write.sheets"
local told = {}

-- The texts of a document's blocks of some kinds.
local function texts(d, list)
  for _, b in ipairs(d.blocks) do
    if b.text then list[#list + 1] = (b.kind == "warning" and "! " or "") .. (b.lead or "") .. b.text end
  end
  return list
end

-- The sheet of that name, and why it is withheld.
function told.sheet(name, groups)
  local sheet = sheets.named(name)
  if not sheet then return nil, "the sheet " .. name .. " is not there" end
  return sheet, sheets.withheld(sheet, groups)
end

-- What a sheet prints, as a document, and what its numbers rest on that was not read in the source; once for all pages.
function told.printed(sheet, on)
  local kept = on.printed[sheet.name]
  if kept then return kept.d, kept.foot end
  local d = document.new(sheet.name, sheet.title)
  local answers = import("model.called").by(d.guarded, d, sheet.whole)
  local foot = document.new("foot", "Foot")
  import("write.sources").foot(foot, answers)
  kept = { d = d, foot = texts(foot, {}) }
  on.printed[sheet.name] = kept
  return d, kept.foot
end

-- Of what the sheet of posts prints of this rack: its tables.
function told.tables(printed, rack)
  local title, list, on = words.title(rack) .. ", posts west to east", {}, false
  for _, b in ipairs(printed.blocks) do
    if b.kind == "subheading" then on = b.text == title end
    if on and b.kind == "table" then list[#list + 1] = b end
  end
  return list
end

-- A table as a page that stands for several racks has it: without what is one rack's own, as the stick that a post is
-- cut from, and without columns in which a pencil writes what was found, since it has one line for all of them. Where
-- the ground of these racks lies on other levels, without levels, and with posts as that page names them.
function told.shared(block, rack)
  local kept, columns, rows, names = {}, {}, {}, own.names(rack)
  for k, column in ipairs(block.columns) do
    local of_one = type(column) == "table" and (column.own or column.level and own.left_out())
    local pencil = #block.rows > 0
    for _, row in ipairs(block.rows) do pencil = pencil and type(row[k]) == "table" and row[k].fill ~= nil end
    if not of_one and not pencil then
      kept[#kept + 1], columns[#columns + 1] = k, column
      local head = type(column) == "table" and column[1]
      local before, zero = (head or ""):match "^(east of )(.+)$"
      if names[zero] then columns[#columns] = { before .. names[zero], right = column.right } end
    end
  end
  for i, row in ipairs(block.rows) do
    rows[i] = {}
    for n, k in ipairs(kept) do rows[i][n] = n == 1 and names[row[k]] or row[k] end
  end
  return { kind = block.kind, columns = columns, rows = rows }
end

-- On a page that stands for several racks: all of which a rule does not hold.
local function every(outcomes)
  local racks, met = {}, {}
  for _, o in ipairs(outcomes) do
    local rack = o.proxy
    while rack and record.inside[rack].def and record.inside[rack].def.name ~= "rack" do rack = record.parent(rack) end
    if not rack or not record.inside[rack].def then return words.subjects(outcomes) end
    if not met[rack] then met[rack], racks[#racks + 1] = true, rack end
  end
  if #racks <= words.few then return words.subjects(outcomes) end
  local all = import("draw.alike").racks(racks)
  if #racks == #outcomes and outcomes[1].proxy == racks[1] then return all end
  return words.subject(outcomes[1]) .. " and " .. #outcomes - 1 .. " more (on " .. all .. ")"
end

-- Kinds whose facts a drawing of racks rests on.
local drawn = { site = true, ground = true, rack = true, rack_type = true, footing = true, at = true, module = true,
    benchmark = true, dug = true }

-- The racks that an outcome is about: one, or that of what hangs on it, or those of a joint; nil where it is no rack's.
local function racks_of(outcome)
  local proxy = outcome.proxy
  if not proxy then return nil end
  if record.inside[proxy].def.name == "joint" then return import("joints.on").racks(proxy) end
  local top = record.line_of(proxy)[1]
  return record.inside[top].def.name == "rack" and { top } or nil
end

-- Of each rule that does not hold: the outcomes of each rack, and those of none; once for all views.
local function parted(groups)
  if groups.parted then return groups.parted end
  local list = {}
  for _, g in ipairs(groups) do
    if g.outcome ~= "holds" and g.outcome ~= "not applicable" then
      local of = { all = {}, by = {} }
      list[#list + 1] = of
      for _, o in ipairs(g.list) do
        local racks = racks_of(o)
        if not racks then of.all[#of.all + 1] = o end
        for _, rack in ipairs(racks or {}) do
          of.by[rack] = of.by[rack] or {}
          table.insert(of.by[rack], o)
        end
      end
    end
  end
  groups.parted = list
  return list
end

-- What does not hold of the racks of a view, and of all else that is no rack.
local function of_view(groups, racks)
  local list = {}
  for _, of in ipairs(parted(groups)) do
    local seen = {}
    table.move(of.all, 1, #of.all, #list + 1, list)
    for _, rack in ipairs(racks) do
      for _, o in ipairs(of.by[rack] or {}) do
        if not seen[o] then list[#list + 1], seen[o] = o, true end
      end
    end
  end
  return sheets.by_id(list)
end

-- For told.notes: of a page for several, all; while it is found out which these are, no matter which; or the one.
function told.racks(on, rack)
  if on.alike == true then return nil end
  return on.alike or { rack }
end

-- like: the sheet with the rules that touch the view; on: what views are asked with (draw.set, draw.alike); more: notes
-- of the view itself, which stand first; foot: what is said of its sources; racks: which the view is of, where it is
-- not of all.
function told.notes(like, on, more, foot, racks)
  local d, list = document.new("notes", "Notes"), {}
  if record.root.stage == "quote" then list[1] = "! QUOTE: not for a permit, not to build from." end
  table.move(more, 1, #more, #list + 1, list)
  local several = type(on.alike) == "table"
  sheets.warnings(d, like, racks and of_view(on.groups, racks) or on.groups, false, several and every)
  for path, how in host.sorted(run.told) do
    if how.how == "guess" and not how.unused and drawn[path:match "^%a+"] then
      d:warning("GUESS: " .. path .. " is a guess" .. (how.by and " (" .. how.by .. ")" or "") .. ", " ..
          words.input(path, record.at(path)) .. ".")
    end
  end
  texts(d, list)
  local open = {}
  for _, subject in ipairs(import("job.not_judged").here()) do open[#open + 1] = subject[1] end
  if #open > 0 then list[#list + 1] = "No rule judges: " .. table.concat(open, ", ") .. "." end
  table.move(foot, 1, #foot, #list + 1, list)
  if #run.papers > 0 then list[#list + 1] = "Papers of others are behind some numbers: the report names them." end
  return list
end

return told
