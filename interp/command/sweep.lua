-- SPDX-License-Identifier: MIT
-- `stringline sweep`: a job varied, what came of each variant kept, and the answer.
local judging = import "host.judging"
local shard = import "sweep.shard"

local function wrong(code, text, help) host.raise { code = code, text = text, help = help } end

-- ---- options -------------------------------------------------------------------------------------------------------

-- "I/N" -> { I, N }
local function shard_of(o)
  if not o.shard then return nil end
  local read = shard.read(o.shard)
  if not read then
    wrong("U008", "--shard " .. o.shard .. ": that is no part of a whole",
        "of four parts the first is --shard 0/4, the last --shard 3/4")
  end
  return read
end

-- What only a sweep that is judged and kept has.
local kept_only = { "shard", "jobs", "store", "retry", "seconds", "pictures", "keep", "least", "most" }

-- Of what excludes each other only one can be asked for; and what cannot be had at all.
local function refuse_both(o)
  local asked
  for _, name in ipairs { "count", "list", "only" } do
    if o[name] then
      if asked then wrong("U008", "--" .. asked .. " and --" .. name .. " say two things", "leave one of them out") end
      asked = name
    end
  end
  for _, name in ipairs(asked and kept_only or {}) do
    local given = o[name]
    if given and (type(given) ~= "table" or given[1]) then
      wrong("U008", "--" .. name .. " says nothing with --" .. asked .. ", which keeps no variants",
          "leave one of them out")
    end
  end
  if o.seed and not o.sample then
    wrong("U008", "--seed draws other lots, and without --sample nothing is drawn",
        "as in --sample 2000 --seed " .. o.seed)
  end
end

-- The store of a script is called after it, and lies where the person is.
local function store_of(o, part)
  if o.store then return o.store end
  local name = string.match(o.script, "([^/]+)$")
  name = string.match(name, "^(.+)%.sline$") or name
  return name .. (part and "." .. part[1] .. "-of-" .. part[2] or "") .. ".sweep"
end

-- ---- one variant ---------------------------------------------------------------------------------------------------

-- Declares the job with all that the options change; plan: what else does.
local function declare(o, plan)
  local boot, set = import "model.boot", {}
  for i, text in ipairs(o.set) do set[i] = boot.setting(text) end
  table.move(plan or {}, 1, #(plan or {}), #set + 1, set)
  return judging.declare(o, set)
end

local function whole_number(o, total)
  local n = string.find(o.only, "^%d+$") and math.tointeger(tonumber(o.only))
  if not n then wrong("U008", "--only needs the number of a variant, got " .. o.only, "as in --only 17") end
  if n >= total then
    wrong("U008", "--only " .. o.only .. ": there are " .. total .. (total == 1 and " variant" or " variants") ..
        ", numbered from 0 to " .. total - 1, "--list shows them")
  end
  return n
end

-- One variant as `run` has it, with its sheets: as if what it varies had been said on the command line, so that its
-- page says how to have it without a sweep, and `verify` can tell.
local function only(o, space)
  local n = whole_number(o, space.total)
  local own = setmetatable({ variant = n .. " of the sweep: " .. space.label(n) }, { __index = o })
  local sets, alternate = space.words(n)
  if sets then
    own.set = table.move(sets, 1, #sets, #o.set + 1, table.move(o.set, 1, #o.set, 1, {}))
    own.alternate = alternate or o.alternate
    declare(own)
  else declare(o, space.plan(n)) end
  local outcomes, status = judging.judge(import "model.boot")
  return status, import "write.variant"(outcomes, status, own)
end

-- ---- progress ------------------------------------------------------------------------------------------------------

local function lasting(seconds)
  if seconds < 90 then return string.format("%.0f s", seconds) end
  if seconds < 5400 then return string.format("%.0f min", seconds / 60) end
  return string.format("%.1f h", seconds / 3600)
end

-- The line that a terminal shows: how many are done, how fast, how long yet, the best so far of the kept result `best`.
local function progress(all, best)
  local count = import("write.sweep_words").count
  return function(done, rows, seconds, value, number)
    local line = count(done) .. " of " .. count(all)
    local rate = seconds > 0 and rows / seconds or 0
    if rate > 0 then line = line .. string.format(", %.0f a second, %s left", rate, lasting((all - done) / rate)) end
    if not value then return line end
    return line .. "; best " .. best.text(value) .. ", variant " .. number
  end
end

-- ---- the sweep -----------------------------------------------------------------------------------------------------

-- For host.workers: what the first goal is, and the best of what is in the store already.
local function best_of(kept, goal)
  if not goal then return nil end
  local best = { column = 6 + goal.i, most = goal.most }
  best.value, best.number = kept:best(goal)
  return best
end

-- Judges what is not in the store yet; "done" or "stopped".
local function judged(o, space, goals, kept, part)
  collectgarbage()                       -- what making a store of many samples leaves behind
  local walk = import("sweep.walk").new(space, goals.kept, { shard = part })
  local best = goals.goals[1]
  collectgarbage()                       -- what the workers start with
  return host.workers {
    db = kept.db, insert = kept:insert_sql(), skip = kept:skip_sql(),
    jobs = o.jobs, steps = o.steps, seconds = o.seconds,
    next = walk.next,
    work = function(numbers) walk.work(numbers, host.row, host.variant) end,
    lost = function(number, how, text) return number, how, nil, nil, nil, text end,
    best = best_of(kept, best),
    tick = progress(shard.size(space.total, part), best and goals.kept[best.i]),
  }
end

-- Each as a file of its own in a folder.
local function write_pictures(list, folder)
  host.folder(folder)
  for _, p in ipairs(list) do
    p.file = folder .. "/" .. p.name .. ".svg"
    host.write(p.file, p.canvas:svg())
  end
end

-- (options) -> status, document
return function(o)
  refuse_both(o)
  local part = shard_of(o)
  declare(o)
  local space = import("sweep.space").new(import("sweep.axes").of(o), o)
  if o.count then return 0, import("sweep.listing").how_many(space) end
  if o.list then return 0, import("sweep.listing").list(space) end
  if o.only then return only(o, space) end
  local goals, store = import("sweep.goals").of(o), import "sweep.store"
  local kept <close> = store.open(store_of(o, part), store.meta(o, space, goals))
  if o.retry then kept:retry() end
  if judged(o, space, goals, kept, part) == "stopped" then
    return 75, import("sweep.listing").stopped(kept, space, part)
  end
  local findings = import("sweep.answer").of(kept, space, goals, o)
  if o.pictures then write_pictures(findings.pictures, o.pictures) end
  return part and 0 or findings.status, import("write.sweep")(findings, o)         -- of a part nothing is decided
end
