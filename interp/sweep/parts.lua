-- SPDX-License-Identifier: MIT
-- What makes two sweeps the same: program, tables, rules, each file that is read, the command line, the axes with all
-- their steps, the sampling, what is kept.  Each is a part { key, value }; the hash of a sweep is over all of them, and
-- the parts stand in its store, so that it can be said which of them differ.
local run = import "model.run"
local util = import "model.util"
local parts = {}

-- The same for whoever calls the script from another folder, or keeps it in one of another name.
local function file_name(path)
  local named = run.named[path]
  return named and named.name or path:match "[^/]*$"
end

-- Of the texts of all steps, in their order; of very many, of the text that they all rest on.
local function steps_hash(axis, listed)
  if axis.size > listed then return host.sha256(axis.spec) end
  local texts = {}
  for i = 0, axis.size - 1 do texts[#texts + 1] = axis.text(i) or "" end
  return host.sha256(table.concat(texts, "\0"))
end

-- The files of the job, and then those that only some steps read, each once, in the order of reading.
local function each_file(axes, add)
  local known = {}
  local function all(files)
    for _, f in ipairs(files) do
      if not known[f.path] then add("file " .. file_name(f.path), f.sha256) end
      known[f.path] = true
    end
  end
  all(host.files_read())
  for _, axis in ipairs(axes) do
    for i = 1, axis.files and axis.size - 1 or 0 do all(axis.files(i)) end
  end
end

function parts.all(o, space, kept, listed)
  local program, list, known = host.program(), {}, {}
  local function add(key, value)
    while known[key] do key = key .. "'" end                      -- two files of one name
    known[key] = true
    list[#list + 1] = { key = key, value = value }
  end
  add("program", program.version)
  add("tables", program.tables)
  add("rules", program.rules)
  each_file(space.axes, add)
  for i, text in ipairs(o.set or {}) do add("set " .. i, text) end
  if o.alternate then add("alternate", o.alternate) end
  if o.on then add("on", o.on) end
  for a, axis in ipairs(space.axes) do
    add("axis " .. a, axis.name)
    add("steps " .. a, axis.size .. " " .. steps_hash(axis, listed))
  end
  if space.sampled then
    add("sampled", space.total - 1)
    add("seed", space.seed or o.seed or 1)
  end
  for i, k in ipairs(kept) do add("keep " .. i, k.name) end
  return list
end

function parts.hash(list)
  local lines = {}
  for i, p in ipairs(list) do lines[i] = ("%s\0%s\0"):format(p.key, p.value) end
  return host.sha256(table.concat(lines))
end

-- The parts among what a store says of itself.
function parts.from(sweep)
  local list = {}
  for key, value in host.sorted(sweep) do
    local kind = key:match "^%a+"
    if kind ~= "layout" and kind ~= "hash" and kind ~= "total" and kind ~= "script" and kind ~= "shard" and
        kind ~= "ranked" then
      list[#list + 1] = { key = key, value = value }
    end
  end
  return list
end

-- ---- what differs --------------------------------------------------------------------------------------------------

local function by_key(list)
  local map = {}
  for _, p in ipairs(list) do map[p.key] = p.value end
  return map
end

-- The values of "set 1", "set 2", ...
local function numbered(map, kind)
  local list = {}
  while map[kind .. " " .. #list + 1] do list[#list + 1] = map[kind .. " " .. #list + 1] end
  return list
end

local function in_words(list, prefix)
  local out = {}
  for i, s in ipairs(list) do out[i] = prefix .. s end
  return out[1] and util.list(out) or "none"
end

-- Texts, at least one, of how the sweep of `a` differs from that of `b`, which the words `one` and `other` call so.
function parts.differences(a, b, one, other)
  local x, y, out = by_key(a), by_key(b), {}
  local function say(...) out[#out + 1] = string.format(...) end
  local function listed(kind, label, prefix)
    local p, q = in_words(numbered(x, kind), prefix), in_words(numbered(y, kind), prefix)
    if p ~= q then say("%s: %s has %s; %s has %s", label, one, p, other, q) end
    return p == q
  end
  local function single(key, label)
    if x[key] ~= y[key] then say("%s: %s has %s; %s has %s", label, one, x[key] or "none", other, y[key] or "none") end
  end
  single("program", "the version of stringline")
  if x.tables ~= y.tables then say "the tables of stringline differ" end
  if x.rules ~= y.rules then say "the standard rules of stringline differ" end
  local met = {}
  for _, list in ipairs { a, b } do
    for _, p in ipairs(list) do
      local name = p.key:match "^file (.*)"
      if name and not met[name] then
        met[name] = true
        local p1, p2 = x[p.key], y[p.key]
        if not (p1 and p2) then say("%s is read for %s alone", name, p1 and one or other)
        elseif p1 ~= p2 then say("%s is not the same", name) end
      end
    end
  end
  listed("set", "values put in", "--set ")
  single("alternate", "the alternate")
  single("on", "the day judged")
  if listed("axis", "what is varied", "") then
    for i, name in ipairs(numbered(x, "axis")) do
      if x["steps " .. i] ~= y["steps " .. i] then say("the steps of %s differ", name) end
    end
  end
  single("sampled", "the number of samples")
  if x.sampled and y.sampled then single("seed", "the seed") end
  listed("keep", "what is kept", "")
  if not out[1] then say "what it says of itself does not fit its own hash" end
  return out
end

return parts
