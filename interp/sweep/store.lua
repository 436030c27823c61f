-- SPDX-License-Identifier: MIT
-- The store of a sweep: one SQLite file with what was varied and a row for each variant that was judged.  Its tables
-- are told in docs/sweeps.md; they are layout 1.
--
-- It goes on only with the very sweep that it was made for: its parts (program, files, command line, axes, what is
-- kept) are kept in it, so that a message can say which of them differs.
local in_sql = import("sweep.columns").quoted
local parts_of = import "sweep.parts"
local store = {}

local LAYOUT = 1
local LISTED = 100000          -- steps of an axis that are written down one by one
local MOST_KEPT = 1900         -- SQLite's columns, without our own

-- How a variant ended: judged, or cut short, which --retry tries again.
store.judged = { "holds", "broken", "unknown", "refused" }
store.cut = { "error", "steps", "memory", "time", "crash" }

local function quoted(list)
  local out = {}
  for i, s in ipairs(list) do out[i] = "'" .. s .. "'" end
  return "(" .. table.concat(out, ", ") .. ")"
end
store.is_judged, store.is_cut = "status IN " .. quoted(store.judged), "status IN " .. quoted(store.cut)

-- ---- tables --------------------------------------------------------------------------------------------------------

local tables = {
  "CREATE TABLE sweep (key TEXT PRIMARY KEY, value) WITHOUT ROWID",
  "CREATE TABLE axis (axis INTEGER PRIMARY KEY, name TEXT NOT NULL, size INTEGER NOT NULL, stride INTEGER, " ..
      "unit TEXT, place TEXT)",
  "CREATE TABLE step (axis INTEGER, step INTEGER, text TEXT, si REAL, PRIMARY KEY (axis, step)) WITHOUT ROWID",
  "CREATE TABLE choice (number INTEGER, axis INTEGER, step INTEGER, PRIMARY KEY (number, axis)) WITHOUT ROWID",
  "CREATE TABLE kept (place INTEGER PRIMARY KEY, name TEXT NOT NULL, unit TEXT, goal TEXT, says TEXT, " ..
      "field TEXT NOT NULL)",
  "CREATE TABLE pareto (number INTEGER PRIMARY KEY)",
  "CREATE TABLE best (rank INTEGER PRIMARY KEY, number INTEGER NOT NULL)",
}

-- Columns of kept results are called by their paths. SQLite takes east.top and EAST.top for one name.
local function name_fields(kept)
  local taken = {}
  for _, name in ipairs { "number", "status", "broken", "unknown", "cautions", "why" } do taken[name] = true end
  for i, k in ipairs(kept) do
    local field = k.name
    while taken[field:lower()] do field = field .. " (" .. i .. ")" end
    taken[field:lower()], k.field = true, field
  end
  return kept
end

-- An amount is REAL; a text is kept as it came, even one that looks like a number.
local function variant_table(kept, total)
  local columns = { ("number INTEGER PRIMARY KEY CHECK (number BETWEEN 0 AND %d)"):format(total - 1),
      "status TEXT NOT NULL CHECK (" .. store.is_judged .. " OR " .. store.is_cut .. ")", "broken TEXT",
      "unknown TEXT", "cautions INTEGER CHECK (typeof(cautions) IN ('integer', 'null'))", "why TEXT" }
  for _, k in ipairs(kept) do columns[#columns + 1] = in_sql(k.field) .. (k.real and " REAL" or "") end
  return "CREATE TABLE variant (" .. table.concat(columns, ", ") .. ")"
end

-- All tables, empty, for so many variants.
function store.create(db, kept, total)
  for _, sql in ipairs(tables) do db:run(sql) end
  db:run(variant_table(kept, total))
  for i, k in ipairs(kept) do
    db:run("INSERT INTO kept VALUES (?, ?, ?, ?, ?, ?)", i, k.name, k.unit, k.goal, k.says, k.field)
  end
end

-- ---- what the sweep is ---------------------------------------------------------------------------------------------

-- All or nothing.
function store.transaction(db, f)
  db:run "BEGIN IMMEDIATE"
  local ok, why = pcall(function()
    f()
    db:run "COMMIT"
  end)
  if ok then return end
  pcall(db.run, db, "ROLLBACK")
  error(why, 0)
end

local function kept_of(goals)
  local kept = {}
  for i, k in ipairs(goals.kept) do kept[i] = { name = k.name, unit = k.unit, says = k.says, real = k.number } end
  for _, g in ipairs(goals.goals) do kept[g.i].goal = g.most and "most" or "least" end
  if #kept > MOST_KEPT then
    host.raise { code = "F057", text = ("a store keeps at most %d results of each variant, and %d are to be kept")
        :format(MOST_KEPT, #kept), help = "keep those that are looked at afterwards: --only N has all of a variant" }
  end
  return name_fields(kept)
end

-- What the sweep of this job is, before a store is there.
function store.meta(o, space, goals)
  local kept = kept_of(goals)
  local parts = parts_of.all(o, space, kept, LISTED)
  return { parts = parts, hash = parts_of.hash(parts), script = o.script and o.script:match "[^/]*$", shard = o.shard,
      space = space, kept = kept, total = space.total }
end

local function write_axes(db, space)
  local stride = space.total
  for a, axis in ipairs(space.axes) do
    stride = not space.sampled and stride // axis.size or nil
    db:run("INSERT INTO axis VALUES (?, ?, ?, ?, ?, ?)", a, axis.name, axis.size, stride, axis.unit,
        axis.place and host.place(axis.place):gsub("^/.*/", "") or nil)
    if axis.size <= LISTED then
      for i = 0, axis.size - 1 do
        db:run("INSERT INTO step VALUES (?, ?, ?, ?)", a, i, axis.text(i), (axis.si(i)))
      end
    end
  end
end

local function write_choices(db, space)
  for number = 0, space.total - 1 do
    for a, step in ipairs(space.steps(number)) do db:run("INSERT INTO choice VALUES (?, ?, ?)", number, a, step) end
  end
end

local function write_new(db, meta)
  store.create(db, meta.kept, meta.total)
  for _, p in ipairs(meta.parts) do db:run("INSERT INTO sweep VALUES (?, ?)", p.key, p.value) end
  for _, p in ipairs { { "layout", LAYOUT }, { "hash", meta.hash }, { "total", meta.total },
      { "script", meta.script or "" }, { "shard", meta.shard } } do
    if p[2] ~= nil then db:run("INSERT INTO sweep VALUES (?, ?)", p[1], p[2]) end
  end
  write_axes(db, meta.space)
  if meta.space.sampled then write_choices(db, meta.space) end
end

-- ---- opening -------------------------------------------------------------------------------------------------------

local methods = {}
local closing = { __index = methods, __close = function(s) s.db:close() end }

-- What a store says of itself: { [key] = value }; the kept results; all its tables are there, with their columns.
local function read_head(db)
  local sweep, kept = {}, {}
  for key, value in db:each "SELECT key, value FROM sweep" do sweep[key] = value end
  for place, name, unit, goal, says, field in
      db:each "SELECT place, name, unit, goal, says, field FROM kept ORDER BY place" do
    kept[place] = { name = name, unit = unit, goal = goal, says = says, field = field }
  end
  local columns, types = {}, {}
  for name, kind in db:each "SELECT name, type FROM pragma_table_info('variant')" do types[name] = kind end
  for i, k in ipairs(kept) do
    k.real = types[k.field] == "REAL"
    columns[i] = "variant." .. in_sql(k.field)
  end
  for _, sql in ipairs { "SELECT number, status, broken, unknown, cautions, why" ..
      (columns[1] and ", " .. table.concat(columns, ", ") or "") .. " FROM variant LIMIT 0",
      "SELECT axis, name, size, stride, unit, place FROM axis LIMIT 0", "SELECT axis, step, text, si FROM step LIMIT 0",
      "SELECT number, axis, step FROM choice LIMIT 0", "SELECT number FROM pareto LIMIT 0",
      "SELECT rank, number FROM best LIMIT 0" } do
    db:run(sql)
  end
  return sweep, kept
end

local function opened(path, db, fresh)
  local s = setmetatable({ db = db, path = path, fresh = fresh }, closing)
  local ok, why = pcall(function()
    if not fresh then db:check() end
    s.sweep, s.kept = read_head(db)
    s.done = db:one "SELECT count(*) FROM variant"
    s.total = s.sweep.total
    if math.type(s.total) ~= "integer" then
      host.raise { code = "F054", text = "the store '" .. path .. "' is damaged (it does not say how many variants " ..
          "there are); what is in it stays", help = "give the sweep another store, as in --store tilt.sweep" }
    end
  end)
  if ok then return s end
  db:close()
  error(why, 0)
end

-- The store at hand, to be read beside others: merged, or looked at.
function store.read(path) return opened(path, host.database(path)) end
-- The same, held alone and written to.
function store.hold(path, fresh) return opened(path, host.database(path, { alone = true }), fresh) end

local function refuse_other(s, meta)
  local differ = parts_of.differences(parts_of.from(s.sweep), meta.parts, "the store", "this run")
  host.raise { code = "F056", text = "the store '" .. s.path .. "' is of another sweep: " .. differ[1],
      notes = { table.unpack(differ, 2, 8) }, help = "nothing in it was changed; give this sweep another store, as " ..
      "in --store another.sweep, or move that one away" }
end

-- A shard says so as long as all that is in it is of it; which result is sought is no matter of the rows.
local function bring_up(s, meta)
  local shard = s.sweep.shard
  if shard and shard ~= meta.shard then
    s.db:run "DELETE FROM sweep WHERE key = 'shard'"
    s.sweep.shard = nil
  end
  for i, k in ipairs(meta.kept) do
    if s.kept[i].goal ~= k.goal then
      s.db:run("UPDATE kept SET goal = ? WHERE place = ?", k.goal, i)
      s.kept[i].goal = k.goal
    end
  end
end

-- The store of this sweep, held alone: made where there is none; else gone on with, if it is of the very same.
function store.open(path, meta)
  local fresh = host.database_new(path, function(db) write_new(db, meta) end)
  local s = store.hold(path, fresh)
  local ok, why = pcall(function()
    if s.sweep.hash ~= meta.hash then refuse_other(s, meta) end
    if not fresh then store.transaction(s.db, function() bring_up(s, meta) end) end
  end)
  if ok then return s end
  s.db:close()
  error(why, 0)
end

-- ---- rows ----------------------------------------------------------------------------------------------------------

-- For host.workers: a row that is there already stays. OR IGNORE would drop one of a status that there is none of, too.
function methods:insert_sql()
  return "INSERT INTO variant VALUES (?" .. (", ?"):rep(5 + #self.kept) .. ") ON CONFLICT (number) DO NOTHING"
end
function methods:skip_sql() return "SELECT number FROM variant" end

-- Number, status, broken, unknown, cautions, why, and what was kept, of each variant in the order of numbers; `where`
-- is SQL behind WHERE, its values follow.
function methods:rows(where, ...)
  return self.db:each("SELECT * FROM variant" .. (where and " WHERE " .. where or "") .. " ORDER BY number", ...)
end

-- How many variants ended so: { holds = n, ... }; all together.
function methods:counts()
  local counts, all = {}, 0
  for status, n in self.db:each "SELECT status, count(*) FROM variant GROUP BY status" do
    counts[status], all = n, all + n
  end
  return counts, all
end

-- Of the variants that hold the best value of a goal { i = which is kept, most }, and the first number that has it; nil
-- where none is known.
function methods:best(goal)
  local field = in_sql(self.kept[goal.i].field)
  local number, value = self.db:one("SELECT number, " .. field .. " FROM variant WHERE status = 'holds' AND typeof(" ..
      field .. ") IN ('integer', 'real') ORDER BY " .. field .. (goal.most and " DESC" or "") .. ", number LIMIT 1")
  return value, number
end

-- Forgets what was cut short, so that it is judged again; how many.
function methods:retry()
  local n
  store.transaction(self.db, function() n = self.db:run("DELETE FROM variant WHERE " .. store.is_cut) end)
  self.done = self.done - n
  return n
end

-- Numbers of the Pareto set, in any order, and of the best, the first first; and that they are of all rows there are.
function methods:finish(pareto, best)
  local db = self.db
  store.transaction(db, function()
    db:run "DELETE FROM pareto"
    db:run "DELETE FROM best"
    for _, number in ipairs(pareto) do db:run("INSERT INTO pareto VALUES (?)", number) end
    for rank, number in ipairs(best) do db:run("INSERT INTO best VALUES (?, ?)", rank, number) end
    db:run "INSERT OR REPLACE INTO sweep SELECT 'ranked', count(*) FROM variant"
  end)
end

function methods:close() self.db:close() end

store.insert_sql, store.rows, store.counts, store.finish = methods.insert_sql, methods.rows, methods.counts,
    methods.finish
store.retry = methods.retry

return store
