-- SPDX-License-Identifier: MIT
-- What the suite of the workers has at hand, in the host's own Lua: a made-up sweep of N variants, whose rows follow
-- from their numbers by a formula, so that each expected table is computed here, without workers.
-- tests/workers_test.c adds: path, spin, burn_until_counted, die, leave, signal_parent, once, nap, script, arrive,
-- wait_for.
local crew = {}

local COLUMNS = "number INTEGER PRIMARY KEY, status TEXT NOT NULL, why TEXT, a REAL, b TEXT"

function crew.open()
  host.database_new(path, function(db) db:run("CREATE TABLE variant(" .. COLUMNS .. ")") end)
  return host.database(path, { alone = true })
end

-- The values behind a number: a quarter of its square; a text for the odd ones.
function crew.values(n) return n, "holds", nil, n * n / 4, n % 2 == 1 and ("v%d"):format(n) or nil end

local function text_of(n, status, why, a, b)
  return ("%d|%s|%s|%.17g|%s"):format(n, status, tostring(why), a or -1, tostring(b))
end

-- The table as it stands, and as it has to be; `other` has, by number, a status with its reason.
function crew.table_of(db)
  local lines = {}
  for n, status, why, a, b in db:each "SELECT number, status, why, a, b FROM variant ORDER BY number" do
    lines[#lines + 1] = text_of(n, status, why, a, b)
  end
  return lines
end

function crew.expected(total, other)
  local lines = {}
  for n = 0, total - 1 do
    local row = other and other[n]
    lines[#lines + 1] = row and text_of(n, row[1], row[2]) or text_of(crew.values(n))
  end
  return lines
end

function crew.same(got, want)
  if #got ~= #want then error(("%d rows, wanted %d"):format(#got, #want)) end
  for i, line in ipairs(want) do
    if got[i] ~= line then error(("row %d: %s, wanted %s"):format(i, got[i], line)) end
  end
end

function crew.blocks(total, size)
  local at = 0
  return function()
    if at >= total then return nil end
    local list = {}
    for n = at, math.min(at + size, total) - 1 do list[#list + 1] = n end
    at = at + size
    return list
  end
end

-- Does what `at[number]` says before the row of a number.
function crew.work(at)
  return function(numbers, alone)
    for _, n in ipairs(numbers) do
      if not host.variant(n) then return end
      if at and at[n] then at[n](n, alone) end
      host.row(crew.values(n))
    end
  end
end

function crew.run(db, o)
  local total = o.total or 100
  return host.workers {
    jobs = o.jobs or 2, db = db, insert = o.insert or "INSERT OR IGNORE INTO variant VALUES (?,?,?,?,?)",
    skip = "SELECT number FROM variant", next = o.next or crew.blocks(total, o.block or 7),
    work = o.work or crew.work(o.at), lost = o.lost or function(n, how, text) return n, how, text end,
    tick = o.tick, best = o.best, steps = o.steps, seconds = o.seconds,
  }
end

function crew.want(got, want)
  if got ~= want then error(("got %s, wanted %s"):format(tostring(got), tostring(want))) end
end

-- One sweep from its beginning to its end.
function crew.whole(o, other)
  local db <close> = crew.open()
  crew.want(crew.run(db, o), "done")
  crew.same(crew.table_of(db), crew.expected(o.total or 100, other))
end

-- What it raises: code and text.
function crew.raises(o, part, code)
  local db <close> = crew.open()
  local ok, err = pcall(crew.run, db, o)
  crew.want(ok, false)
  local text = host.message(err)
  if not text:find(part, 1, true) then error(("says '%s', wanted '%s'"):format(text, part)) end
  if code then crew.want(err.code, code) end
  crew.want(alive(), false)
  return crew.table_of(db)
end

return crew
