-- SPDX-License-Identifier: MIT
-- Which posts are meant where a person names one, or a line of them: "east.F4", "back".
local record = import "model.record"
local memo = import "model.memo"
local util = import "model.util"
local named = {}

local inside = record.inside

local function rack_named(name)
  for _, rack in ipairs(record.all "rack") do if rack.name == name then return rack end end
end

-- The posts of a rack that a word means: one by its name, or all of a line.
local function of_rack(rack, word)
  local one = inside[rack.post].by[word]
  if one then return { one } end
  local list = {}
  for post in record.each(rack.post) do
    if post.line == word or post.letter == word then list[#list + 1] = post end
  end
  return list
end

-- The posts that a text means, and the racks in which there are some.
local function meant(text)
  for at in string.gmatch(text, "()%.") do
    local rack = rack_named(string.sub(text, 1, at - 1))
    if rack then return of_rack(rack, string.sub(text, at + 1)), { rack } end
  end
  local posts, racks = {}, {}
  for _, rack in ipairs(record.all "rack") do
    local list = of_rack(rack, text)
    if #list > 0 then racks[#racks + 1] = rack end
    table.move(list, 1, #list, #posts + 1, posts)
  end
  return posts, racks
end

-- The names that there are, each line from its first post to its last.
local function names()
  local list, racks = {}, record.all "rack"
  for _, rack in ipairs(racks) do
    local before, posts = #racks > 1 and rack.name .. "." or "", {}
    for post in record.each(rack.post) do
      local line = posts[post.letter] or { first = post.name, line = post.line }
      posts[post.letter], line.last = line, post.name
    end
    for line in record.each(rack.post_line) do
      local of = posts[inside[line].name]
      list[#list + 1] = before .. of.first .. (of.last ~= of.first and " to " .. of.last or "") .. " (" .. before ..
          of.line .. ")"
    end
  end
  if #list > 8 then list = table.move(list, 1, 8, 1, { [9] = "others" }) end
  return util.list(list)
end

-- The posts of a declaration, in the order in which it names them.
function named.posts(declared)
  local list = {}
  for i = 1, #declared.posts do
    local posts = meant(declared.posts[i])
    table.move(posts, 1, #posts, #list + 1, list)
  end
  return list
end

-- Each text names posts of one rack, each post once.  f(i, post) is called for each.
function named.settle(declared, refuse, f)
  local seen = {}
  if #declared.posts == 0 then
    refuse({}, "it names no post", 'as in "F4", or "east.F4" where there are several racks')
  end
  for i = 1, #declared.posts do
    local text = declared.posts[i]
    local posts, racks = meant(text)
    if #posts == 0 then
      refuse({ i }, "no post and no line of posts is named '" .. text .. "'", "there are " .. names())
    end
    if #racks > 1 then
      local list = {}
      for k, rack in ipairs(racks) do list[k] = '"' .. rack.name .. "." .. text .. '"' end
      refuse({ i }, text .. " is in " .. #racks .. " racks", "write " .. table.concat(list, " or "))
    end
    for _, post in ipairs(posts) do
      if seen[post] then refuse({ i }, "the post " .. post.name .. " is named twice", "once is enough") end
      seen[post] = true
      if f then f(i, post) end
    end
  end
end

-- ---- posts with a footing of their own -----------------------------------------------------------------------------

-- A post has one footing of its own, and another than its rack's.
function named.settle_at(at, refuse)
  local before, mine = {}, false
  for _, other in ipairs(record.all "at") do
    if other == at then break end
    for _, post in ipairs(named.posts(other)) do before[post] = true end
  end
  named.settle(at, refuse, function(i, post)
    if before[post] then
      refuse({ i }, "the post " .. post.name .. " has a footing of its own already", "keep the one that is right")
    end
    mine = mine or record.parent(post).posts.footing ~= at.footing
  end)
  if not mine then
    refuse({ "footing" }, "its posts stand in " .. import("write.words").title(at.footing) .. " anyway",
        "name another footing, or leave it out")
  end
end

-- The declaration that gives a post another footing, or nil.
function named.at(rack, post)
  local by = memo.remember(inside[record.root], "posts with a footing of their own", function()
    local list = {}
    for _, at in ipairs(record.all "at") do
      for _, p in ipairs(named.posts(at)) do list[tostring(p)] = at end
    end
    return list
  end)
  return by[tostring(rack) .. ".post." .. post.name]
end

return named
