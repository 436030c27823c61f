-- SPDX-License-Identifier: MIT
-- Which variants there are: how many, and by number, as documents.
local document = import "write.document"
local count = import("write.sweep_words").count
local shard = import "sweep.shard"
local listing = {}

local most_rows = 1000000
local most_texts = 5           -- of an axis

local function steps_of(axis, sampled)
  if axis.kind == "between" then return "drawn" end
  return count(axis.size)
end

local function where(axis)
  return axis.at.option and "the command line" or host.place(axis.at.span {})
end

-- Of its steps but the declared one: all where they are few, else the ends.
local function others(axis)
  if axis.kind == "between" then return axis.spec end
  local texts = {}
  for i = 1, math.min(axis.size - 1, most_texts) do texts[i] = axis.text(i) end
  if axis.size - 1 > most_texts then texts[most_texts] = "... " .. axis.text(axis.size - 1) end
  return table.concat(texts, ", ")
end

-- How many there are, and of what.
function listing.how_many(space)
  local d = document.new("variants", "Variants")
  local axes = space.axes
  d:para(count(space.total) .. (space.total == 1 and " variant" or " variants") .. (space.sampled and
      ": the job as declared, and " .. count(space.total - 1) .. " drawn by lot." or #axes == 0 and
      ": the job as declared. Nothing is varied." or ": every step of each axis with every step of the others."))
  if #axes > 0 then
    local rows = {}
    for i, axis in ipairs(axes) do
      rows[i] = { axis.name, steps_of(axis), axis.text(0), others(axis), axis.says, where(axis) }
    end
    d:table({ "axis", { "steps", right = true }, "as declared", { "others", wrap = true },
        { "what it is", wrap = true }, "varied by" }, rows)
    for _, axis in ipairs(axes) do
      for _, note in ipairs(axis.notes) do d:note(axis.name .. ": " .. note .. ".") end
    end
  end
  return d
end

-- What a sweep that was stopped early leaves: store as sweep.store has it; part: of sweep.shard, or nil.
function listing.stopped(store, space, part)
  local d = document.new("sweep stopped", "Sweep")
  local done = store.db:one "SELECT count(*) FROM variant"
  local all = shard.size(space.total, part)
  d:para("Stopped early: " .. count(done) .. " of " .. count(all) .. " variants are judged and kept in " ..
      store.path .. ". The same command goes on from there.")
  return d
end

-- All of them by number.
function listing.list(space)
  if space.total > most_rows then
    host.raise { code = "W003", text = "--list would print " .. count(space.total) .. " rows, more than " ..
        count(most_rows), help = "--count says how many there are, --only 17 shows one" }
  end
  local d = document.new("variants", "Variants")
  local head, rows = { { "number", right = true } }, {}
  for i, axis in ipairs(space.axes) do head[i + 1] = axis.name end
  for number = 0, space.total - 1 do
    local row = { tostring(number) }
    for a, step in ipairs(space.steps(number)) do row[a + 1] = space.axes[a].text(step) end
    rows[number + 1] = row
  end
  d:table(head, rows)
  return d
end

return listing
