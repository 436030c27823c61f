-- SPDX-License-Identifier: MIT
-- Post schedule: hole, height and cut of each post.
local record = import "model.record"
local run = import "model.run"
local words = import "write.words"
local measure = import "write.measure"
local cutting = import "buying.cuts"

-- Ground levels that nobody measured give posts of the wrong length.
local function waits()
  local ground = record.only "ground"
  if not ground then return "the ground at the posts is not declared" end
  for _, f in ipairs { "elevation", "rod" } do
    local told = run.told["ground." .. f]
    if record.given(ground, f) ~= nil then
      if not told then return "the ground is not given as measured: write measured({ ... }, \"water level\") " ..
          "around ground." .. f end
      if told.how ~= "measured" then return "the ground is given as " .. told.how:gsub("_", " ") ..
          ", not as measured" end
    end
  end
end

local function posts_of(rack)
  local list = {}
  for p in record.each(rack.post) do list[#list + 1] = p end
  return list
end

-- In words, for a person to confirm on the ground.
local function lower_and_higher(list, datum)
  local low, high
  for _, p in ipairs(list) do
    if not low or p.ground < low.ground then low = p end
    if not high or p.ground > high.ground then high = p end
  end
  local function says(p, word) return "the ground at " .. p.station .. " is " .. measure.inches(host.abs(p.ground)) ..
      " " .. word .. " than at " .. datum end
  local parts = {}
  if host.si(low.ground) < 0 then parts[#parts + 1] = says(low, "lower") end
  if host.si(high.ground) > 0 then parts[#parts + 1] = says(high, "higher") end
  if #parts == 0 then return "the ground is level with " .. datum .. " at all posts" end
  return "Lowest and highest: " .. table.concat(parts, "; ") .. ". Confirm this on the ground before cutting."
end

-- The cut once more in inches; a metric job has one way to say it.
local function in_inches(v)
  if words.metric() then return "" end
  return v and measure.inches(v) or "in inches"
end

local function short(p)
  for _, r in ipairs(record.all "rack") do
    local f = r.posts.footing
    p:para(words.title(r) .. ": " .. r.post_pairs .. " pairs of " .. r.posts.size .. " " .. r.posts.treatment ..
        ", holes " .. measure.up(f.hole_diameter) .. " wide and " ..
           measure.up(f.hole_depth) .. " deep with " .. words.show(f.gravel) .. " of gravel, then " .. f.fill, "  ")
    local rows = {}
    for _, x in ipairs(posts_of(r)) do
      rows[#rows + 1] = { x.station, measure.level(x.ground), measure.up(f.hole_depth), measure.cut(x.cut_length),
          in_inches(x.cut_length),
                          measure.inches(x.above_ground), measure.inches(x.embedment), tostring(x.bags) }
    end
    p:table({ "post", { "ground", right = true }, { "hole", right = true }, { "cut", right = true },
        { in_inches(), right = true },
              { "above", right = true }, { "below", right = true }, { "bags", right = true } }, rows, "  ")
  end
end

local function whole(p)
  local order = import("buying.results").order()
  local datum = record.root.ground.datum
  for _, r in ipairs(record.all "rack") do
    local f, list = r.posts.footing, posts_of(r)
    p:blank()
    p:line(words.title(r) .. ", posts west to east")
    p:para("Posts " .. r.posts.size .. " " .. r.posts.treatment .. ". Hole " .. measure.up(f.hole_diameter) ..
        " wide, depth from the ground beside it, " ..
           words.show(f.gravel) .. " of gravel at the bottom. Depths are rounded deeper: gravel brings the " ..
               "bottom back up, never the post down. " ..
           "Cut length from the gravel to the saddle. Levels from the ground at " .. datum .. "; + is higher.", "  ")
    p:para(lower_and_higher(list, datum), "  ")
    local rows = {}
    for _, x in ipairs(list) do
      rows[#rows + 1] = { x.station, x.line, measure.level(x.ground), measure.up(f.hole_depth),
          measure.level(r[x.line .. "_height"]), measure.cut(x.cut_length),
                          in_inches(x.cut_length), "______" }
    end
    p:blank()
    p:table({ "post", "line", { "ground", right = true }, { "hole", right = true }, { "top", right = true },
        { "cut", right = true },
              { in_inches(), right = true }, "as dug" }, rows, "  ")
    p:blank()
    rows = {}
    local stock = cutting.stock_of(order, r.posts.size .. " " .. r.posts.treatment)
    local total = 0
    for i, x in ipairs(list) do
      local label = cutting.post_label(r, x)
      total = total + x.bags
      rows[#rows + 1] = { x.station, measure.inches(x.above_ground), measure.inches(x.embedment),
          measure.up(x.embedment_needed), words.show(x.concrete), tostring(x.bags), tostring(total),
                          stock[label] or "not priced" }
    end
    p:table({ "post", { "above ground", right = true }, { "embedded", right = true }, { "needed", right = true },
        { "concrete", right = true }, { "bags", right = true },
              { "running", right = true }, "cut from" }, rows, "  ")
    p:para("Bags hole by hole, each rounded up, waste included; the order counts all holes together.", "  ")
  end
end

return { name = "posts", title = "Posts and holes", build = true, kinds = { "rack", "post" }, waits = waits,
    short = short, whole = whole }
