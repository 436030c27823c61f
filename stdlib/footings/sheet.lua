-- SPDX-License-Identifier: MIT
-- What the sheet of loads says of holes: what counts against uplift, depths with what freezes left out, what the soil
-- below bears; and of the soil.
local record = import "model.record"
local graph = import "model.graph"
local document = import "write.document"
local words = import "write.words"
local util = import "model.util"
local feet = import "structure.feet"
local by_post = import "structure.by_post"
local sheet = {}

local given, cell = record.given, document.of

-- The most of a result over the posts of a rack; nil where it is known of none.
function sheet.most(rack, name)
  local most
  for p in record.each(rack.post) do
    local value = graph.try(p, name)
    if value and (not most or value > most) then most = value end
  end
  return most
end

local function holes_of(rack)
  local list = {}
  for p in record.each(rack.post) do if feet.in_hole(p) then list[#list + 1] = p end end
  return list
end

-- What of all that stands in the ground is counted against uplift, told once for the posts that have it alike.
function sheet.counted(d, rack)
  local order, posts = {}, {}
  for _, p in ipairs(holes_of(rack)) do
    local told = import("footings.hole").counted(p, record.root)
    if told then
      if not posts[told] then order[#order + 1], posts[told] = told, {} end
      table.insert(posts[told], p.station)
    end
  end
  for _, told in ipairs(order) do
    d:para("Against uplift of " .. util.list(posts[told]) .. ": " .. told .. ".")
  end
end

-- A depth by sl_embed_neglecting with so much soil left out; what kept it from being worked out is told elsewhere.
local function depth_of(p, neglect, from_grade)
  local ok, found = pcall(function()
    return calc.embed_neglecting(import("footings.hole").embedding(p, record.root, neglect, from_grade)).depth
  end)
  if ok then return found end
  if not host.class(found) then error(found, 0) end
end

local function depth_cell(p, neglect, from_grade)
  local found = neglect and depth_of(p, neglect, from_grade)
  return found and document.value(found) or "unknown"
end

-- The two readings of how far down pressure grows, where they differ.
function sheet.readings(d, posts)
  for _, p in ipairs(posts) do
    local needed, older = graph.try(p, "embedment_needed"), graph.try(p, "embedment_older")
    if needed and older and older > needed and not host.near(host.si(older), host.si(needed)) then
      d:para("Post " .. p.station .. ": " .. words.show(needed) .. " by the text, which caps the depth that is put " ..
          "into the pressure; an older reading caps it before its third is taken, and asks for " ..
          words.show(older) .. ". The text is judged.")
    end
  end
end

-- Two tables: what the ground under and beside each hole is asked for, and what it has.
function sheet.put(d, rack)
  local posts = holes_of(rack)
  if #posts == 0 then return end
  local frost, depths, pressed = given(record.root.site, "frost"), {}, {}
  for i, p in ipairs(posts) do
    depths[i] = { p.station, by_post.long(p, "embedment_needed"), depth_cell(p, frost, true),
        depth_cell(p, frost, false), by_post.long(p, "embedment") }
    pressed[i] = { p.station, cell(p, "pressed"), cell(p, "soil_pressure"), cell(p, "soil_allowable"),
        cell(p, "soil_used") }
  end
  d:gap()
  d:table(by_post.right("embedment", "frozen out", "from below", "has"), depths)
  d:para("frozen out: what embedment would be needed if the soil down to frost depth held nothing, pressure growing " ..
      "from the ground; from below: growing from frost depth. Neither is judged: site.soil.neglect makes it so.")
  sheet.readings(d, posts)
  d:gap()
  d:table(by_post.right("pressed", "on the soil", "it bears", "used"), pressed)
  d:para("on the soil: what presses the post, with post and concrete taken heavy, over the base; it bears: " ..
      "allowable, by " .. words.cite "{post_bearing}" .. ". How far it settles nobody says.")
end

-- What is declared of the soil beside its class.
function sheet.soil(d, of)
  local list = {}
  local function put(name, text)
    local value = given(of, name)
    if value ~= nil then list[#list + 1] = text:gsub("%%", (words.show(value):gsub("%%", "%%%%"))) end
  end
  put("vertical", "bears % below")
  put("dry_to", "holes stay dry to %")
  put("neglect", "% on top do not count")
  put("pressure_from", "pressure grows from %")
  put("cone", "a cone of % off plumb counts above a bell")
  put("firmness", "it is %")
  if given(of, "dry_to") == nil then
    list[#list + 1] = "how deep holes stay dry is not given, so all in them is weighed as in water"
  end
  d:para("Of the soil: " .. table.concat(list, "; ") .. ".")
end

return sheet
