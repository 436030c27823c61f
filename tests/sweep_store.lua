-- SPDX-License-Identifier: MIT
-- Stores of sweeps.  The sweeps are made up here: two axes of 3 and 4 steps, whose results are known by hand from the
-- number of a variant.  All that is expected follows from that, or is what SQLite's file format says.
local store, merge, parts = import "sweep.store", import "sweep.merge", import "sweep.parts"
import "model.boot"

local folder = os.tmpname()
os.remove(folder)
make_folder(folder)
set_mode(folder, 511)                                                  -- 0777: for whoever has fewer rights

local tests = {}
local function test(name, f)
  tests[#tests + 1] = { name = name, run = function()
    local ok, why = pcall(f)
    os.execute("rm -rf '" .. folder .. "'")
    if not ok then error(why, 0) end
  end }
end
local function at(name) return folder .. "/" .. name end

-- ---- helpers -------------------------------------------------------------------------------------------------------

local function same(got, want, what)
  if got ~= want then
    error(("%s: got %s, wanted %s"):format(what or "value", tostring(got), tostring(want)), 2)
  end
end

-- The error of f: its code, and all its words.
local function fails(code, f, ...)
  local ok, why = pcall(f, ...)
  if ok then error("no error, where " .. code .. " is wanted", 2) end
  if type(why) ~= "table" then error("a plain error: " .. tostring(why), 2) end
  local words = why.text .. " | " .. table.concat(why.notes or {}, " | ") .. " | " .. (why.help or "")
  if why.code ~= code then error("got " .. tostring(why.code) .. ": " .. words, 2) end
  return words
end
local function has(text, part)
  if not text:find(part, 1, true) then error("'" .. part .. "' is not in: " .. text, 2) end
end

local function bytes(path)
  local f = io.open(path, "rb")
  if not f then return nil end
  local text = f:read "a"
  f:close()
  return text
end
local function write(path, text)
  local f <close> = assert(io.open(path, "wb"))
  f:write(text)
end
local function listing()
  local f <close> = io.popen("ls '" .. folder .. "'")
  return (f:read "a":gsub("\n$", ""):gsub("\n", " "))
end

local tilt = { name = "rack.east.tilt", size = 3, unit = "deg", place = nil,
    text = function(i) return ({ [0] = "35deg", "25deg", "45deg" })[i] end,
    si = function(i) return math.rad(({ [0] = 35, 25, 45 })[i]) end }
local wire = { name = "run.west.wire", size = 4,
    text = function(i) return ({ [0] = "6 AWG", "8 AWG", "4 AWG", "2 AWG" })[i] end, si = function() end }

local function grid(axes)
  local total = 1
  for _, a in ipairs(axes) do total = total * a.size end
  return { axes = axes, total = total, sampled = false }
end
local function goals_of(names, goal)
  local kept = {}
  for i, name in ipairs(names) do
    kept[i] = { name = name, unit = "USD", number = true, says = "what " .. name .. " says" }
  end
  return { kept = kept, goals = goal and { { name = names[1], i = 1, most = goal == "most" } } or {} }
end
local SPACE, GOALS = grid { tilt, wire }, goals_of({ "job.total", "rack.east.top" }, "least")
local function meta_of(o, space, goals) return store.meta(o or {}, space or SPACE, goals or GOALS) end

-- The row of a variant, by hand: cents that no float holds, a broken rule for every third, nothing kept of a crash.
local function put(s, number, status, ...)
  if status then return s.db:run(s:insert_sql(), number, status, nil, nil, 0, ...) end
  local broken = number % 3 == 2
  s.db:run(s:insert_sql(), number, broken and "broken" or "holds", broken and "R12 R41" or nil, nil, number % 2, nil,
      1000.01 + number, number / 7)
end
local function fill(path, numbers, o)
  local s <close> = store.open(path, meta_of(o))
  for _, n in ipairs(numbers) do put(s, n) end
end
local function dump(path)
  local s <close> = store.read(path)
  local lines = {}
  for n, status, broken, unknown, cautions, why, total, top in s:rows() do
    lines[#lines + 1] = ("%d %s %s %s %s %s %a %a"):format(n, status, broken or "-", unknown or "-", cautions or "-",
        why or "-", total or 0, top or 0)
  end
  return table.concat(lines, "\n"), #lines
end
local function merged(all, ...)
  local status, d = merge { store = at(all), words = { ... } }
  same(status, 0, "status")
  local facts = {}
  for _, f in ipairs(d.facts) do facts[f[1]] = f[2] end
  for _, b in ipairs(d.blocks) do if b.kind == "table" then facts.rows = b.rows end end
  return facts
end
local function range(a, b, step)
  local list = {}
  for n = a, b, step or 1 do list[#list + 1] = n end
  return list
end

-- ---- the database --------------------------------------------------------------------------------------------------

local function made(path, options)
  host.database_new(path, function() end)
  return host.database(path, options)
end

test("values come back as they went, to the last bit", function()
  local db <close> = made(at "a")
  db:run "CREATE TABLE t (a INTEGER PRIMARY KEY, b)"
  local values = { 1, -1, math.maxinteger, math.mininteger, 0.1, -0.5, 1e308, 5e-324, 1 / 0, "", "x", "a\0b", "30deg" }
  for i, v in ipairs(values) do db:run("INSERT INTO t VALUES (?, ?)", i, v) end
  db:run("INSERT INTO t VALUES (?, ?)", 14, nil)
  db:run("INSERT INTO t VALUES (?, ?)", 15, 0 / 0)
  local n = 0
  for a, b in db:each "SELECT a, b FROM t ORDER BY a" do
    n = n + 1
    same(a, n)
    same(b, values[n], "value " .. n)
    same(math.type(b), math.type(values[n]), "type of value " .. n)
  end
  same(n, 15, "rows")
end)

test("a loop that ends early, one in another, and a closed database", function()
  local db = made(at "a")
  db:run "CREATE TABLE t (a INTEGER)"
  same(db:run "INSERT INTO t VALUES (1), (2), (3)", 3, "rows changed")
  local pairs_seen = 0
  for a in db:each "SELECT a FROM t" do
    for b in db:each "SELECT a FROM t" do
      if b > a then pairs_seen = pairs_seen + 1 end
    end
    if a == 2 then break end
  end
  same(pairs_seen, 3, "pairs: 1-2, 1-3, 2-3")
  db:run "DROP TABLE t"                                                 -- SQLite refuses while rows are being read
  local ok = pcall(db.run, db, "INSERT INTO sqlite_master VALUES (1)")
  same(ok, false)
  db:close()
  db:close()
  same(select(2, pcall(db.run, db, "SELECT 1")):match "closed", "closed")
end)

test("a name that SQLite has a meaning for is a file", function()
  go_to(folder)
  local db = made(":memory:")
  db:run "CREATE TABLE t (a)"
  db:close()
  go_to(top)
  same(bytes(at ":memory:"):sub(1, 15), "SQLite format 3", "file")
end)

test("a store is marked as one: application_id and user_version", function()
  made(at "a"):close()
  local text = bytes(at "a")
  same(text:sub(69, 72), "SLsw", "bytes 68 to 71 of the file")          -- SQLite file format, 1.3.14
  same(string.unpack(">I4", text, 61), 1, "layout, bytes 60 to 63")     -- 1.3.12
end)

test("held alone, then one file remains", function()
  do
    local db <close> = made(at "a", { alone = true })
    db:run "CREATE TABLE t (a)"
    same(listing(), "a a-wal", "while it is open: no memory is shared")
  end
  same(listing(), "a", "closed")
  same(bytes(at "a"):byte(19), 1, "byte 18: no log of changes")         -- 1.3.3
end)

test("made whole or not at all", function()
  local words = fails("D000", host.database_new, at "a", function(db)
    db:run "CREATE TABLE t (a)"
    host.raise { text = "stopped" }
  end)
  has(words, "stopped")
  same(listing(), "", "nothing is left")
  same(host.database_new(at "a", function(db) db:run "CREATE TABLE t (a)" end), true)
  same(host.database_new(at "a", function() error "never called" end), false, "one is there")
  same(listing(), "a")
end)

test("of two that make it at once, one does, and nothing is lost", function()
  local made = host.database_new(at "a", function(db)
    db:run "CREATE TABLE mine (a)"
    same(host.database_new(at "a", function(other) other:run "CREATE TABLE theirs (a)" end), true, "the other")
  end)
  same(made, false, "the later one")
  local db <close> = host.database(at "a")
  same(db:one "SELECT name FROM sqlite_master", "theirs")
  same(listing(), "a")
end)

-- ---- errors --------------------------------------------------------------------------------------------------------

test("no folder, a folder, nothing there", function()
  has(fails("F050", host.database_new, at "none/a", function() end), "no such folder")
  has(fails("F050", host.database, folder), "is a folder")
  has(fails("F050", host.database, at "a"), "cannot be opened")
  same(listing(), "", "nothing was made")
end)

test("a folder that cannot be written, and a file", function()
  fill(at "a", { 0, 1 })
  set_mode(at "a", 292)                                                 -- 0444
  make_folder(at "shut")
  set_mode(at "shut", 365)                                              -- 0555
  local function code(f, ...)
    local ok, why = pcall(f, ...)
    return ok and "none" or why.code
  end
  same(apart(function() return code(host.database_new, at "shut/b", function() end) end, { nobody = true }), "F050")
  same(apart(function() return code(store.hold, at "a") end, { nobody = true }), "F050", "to write")
  same(apart(function()
    local s <close> = store.read(at "a")
    return s.done
  end, { nobody = true }), "2", "reading needs no more rights")
end)

test("what is no store is left as it is", function()
  for name, text in host.sorted { text = ("not a database\n"):rep(100), short = "x", empty = "" } do
    write(at(name), text)
    has(fails("F051", host.database, at(name), { alone = true }), at(name))
    same(bytes(at(name)), text, name)
  end
  local db = made(at "other")
  db:run "PRAGMA application_id = 7"
  db:close()
  local text = bytes(at "other")
  has(fails("F051", store.open, at "other", meta_of()), "is no store of a sweep")
  same(bytes(at "other"), text, "another program's database")
end)

test("a later layout", function()
  local db = made(at "a")
  db:run "PRAGMA user_version = 2"
  db:close()
  has(fails("F052", host.database, at "a"), "its layout is 2, this one knows 1")
end)

test("another process holds it", function()
  fill(at "a", range(0, 4))
  local was = dump(at "a")
  local let_go = beside(function() kept = store.open(at "a", meta_of()) end)
  has(fails("F053", store.open, at "a", meta_of()), "the store '" .. at "a" .. "' is held by another process")
  has(fails("F053", store.read, at "a"), at "a")
  let_go()
  same(dump(at "a"), was, "afterwards")
end)

test("killed while it holds rows: they are there, and it goes on", function()
  fill(at "a", range(0, 4))
  local said, status = apart(function()
    kept = store.open(at "a", meta_of())
    kept.db:run "BEGIN"
    for n = 5, 7 do put(kept, n) end
    kept.db:run "COMMIT"
    kept.db:run "BEGIN"
    put(kept, 8)
    return "written"
  end, { die = true })
  same(said, "written")
  same(status, -9, "killed")
  same(listing(), "a a-wal")
  do
    local s <close> = store.open(at "a", meta_of())
    same(s.done, 8, "0 to 7; 8 was not committed")
    put(s, 8)
  end
  same(listing(), "a")
  fill(at "b", range(0, 8))
  same(dump(at "a"), dump(at "b"))
end)

test("a fork that ends leaves its parent's store alone", function()
  local s <close> = store.open(at "a", meta_of())
  put(s, 0)
  apart(function()
    s.db:close()
    return "closed"
  end, {})
  same(listing(), "a a-wal", "what is not in the file yet")
  put(s, 1)
  same(select(2, s:counts()), 2)
  same(select(2, apart(function() return pcall(s.db.run, s.db, "SELECT 1") end, {})), 0)
  same(apart(function() return select(2, pcall(s.db.run, s.db, "SELECT 1")) end, {}):match "another process",
      "another process")
end)

-- 2000 rows fill some thirty pages of 4096 bytes.
local function fill_many(path)
  local long = { name = "x", size = 1000, text = tostring, si = tonumber }
  local s <close> = store.open(path, meta_of({}, grid { tilt, long }))
  store.transaction(s.db, function() for n = 0, 1999 do put(s, n) end end)
end

test("bytes overwritten", function()
  fill_many(at "a")
  local text = bytes(at "a")
  local broken = text:sub(1, 8192) .. ("\xA5"):rep(#text - 12288) .. text:sub(-4096)
  write(at "a", broken)
  has(fails("F054", function()
    local s <close> = store.read(at "a")
    for _ in s:rows() do end
  end), "is damaged")
  same(bytes(at "a"), broken, "it is left as it is")
end)

test("a word overwritten, in pages that are whole", function()
  fill(at "a", range(0, 4))
  local text = bytes(at "a")
  local broken, n = text:gsub("([^'])holds", "%1h0lds", 1)              -- not the one in the words of the table
  same(n, 1)
  write(at "a", broken)
  has(fails("F054", store.open, at "a", meta_of()), "CHECK constraint failed in variant")
end)

test("a number that there is none of, and a count that is none", function()
  for name, change in pairs { a = "INSERT INTO variant (number, status) VALUES (%d, 'holds')",
      b = "UPDATE variant SET cautions = 'few' WHERE number = %d - 12" } do
    fill(at(name), range(0, 4))
    local db = host.database(at(name))
    db:run "PRAGMA ignore_check_constraints = ON"
    db:run(change:format(12))                                             -- SPACE has 12, numbered from 0
    db:close()
    has(fails("F054", store.open, at(name), meta_of()), "CHECK constraint failed in variant")
  end
end)

test("no word of how many variants there are", function()
  fill(at "a", range(0, 4))
  local db = host.database(at "a")
  db:run "DELETE FROM sweep WHERE key = 'total'"
  db:close()
  has(fails("F054", store.open, at "a", meta_of()), "how many variants")
  fails("F054", merge, { store = at "all", words = { at "a" } })
end)

test("a store that is moved, removed or replaced while it is written to", function()
  for i, change in ipairs { "mv '%s' '%s.away'", "rm '%s'", "cp '%s' '%s.new' && mv '%s.new' '%s'" } do
    local path = at("moved" .. i)
    fill(path, range(0, 4))
    local s = store.open(path, meta_of())
    os.execute((change:gsub("%%s", (path:gsub("%%", "%%%%")))))
    has(fails("F059", s.db.close, s.db), "the store '" .. path .. "' was moved")
    s.db:close()                                                          -- it is closed nevertheless
  end
  same(select(2, dump(at "moved1.away")), 5, "what was written is where the file is")
end)

test("cut off", function()
  fill_many(at "a")
  local text = bytes(at "a")
  write(at "a", text:sub(1, #text // 2))
  has(fails("F054", function()
    local s <close> = store.read(at "a")
    for _ in s:rows() do end
  end), "is damaged")
end)

test("a table that is gone", function()
  for _, name in ipairs { "variant", "kept", "sweep", "axis", "step", "choice", "pareto", "best" } do
    fill(at(name), { 0 })
    local db = host.database(at(name))
    db:run("DROP TABLE " .. name)
    db:close()
    has(fails("F054", store.open, at(name), meta_of()), name)
  end
end)

test("a disk that is full: what is stored stays, and it goes on", function()
  fill(at "a", range(0, 4))
  local was = dump(at "a")
  local said = apart(function()
    local s = store.open(at "a", meta_of())
    local ok, why = pcall(store.transaction, s.db, function()
      for n = 5, 11 do put(s, n, "error", ("why "):rep(20000), nil, nil) end
    end)
    local said = ok and "written" or why.code .. " " .. why.text
    pcall(s.db.close, s.db)
    return said
  end, { most = 150000 })
  has(said, "F055 the store '" .. at "a" .. "' cannot be written")
  same(dump(at "a"), was, "what was stored")
  fill(at "a", range(5, 11))
  same(select(2, dump(at "a")), 12, "and all of it in the end")
end)

test("a disk that is full while the store is made", function()
  same(apart(function()
    local ok, why = pcall(store.open, at "a", meta_of())
    return ok and "made" or why.code
  end, { most = 5000 }), "F055")
  same(listing(), "", "nothing half-made")
end)

test("more results than a row can have", function()
  local names = {}
  for i = 1, 1900 do names[i] = "post.F" .. i .. ".length" end
  local s = store.open(at "a", meta_of({}, SPACE, goals_of(names)))
  s:close()
  names[1901] = "job.total"
  has(fails("F057", meta_of, {}, SPACE, goals_of(names)), "1901")
end)

-- ---- what a store says ---------------------------------------------------------------------------------------------

local function all_of(db, sql)
  local out = {}
  for a, b, c, d, e, f in db:each(sql) do
    out[#out + 1] = table.concat({ tostring(a), tostring(b), tostring(c), tostring(d), tostring(e), tostring(f) }, "|")
  end
  return table.concat(out, "\n")
end

test("axes, steps and strides of a grid", function()
  local s <close> = store.open(at "a", meta_of { on = "2026-11-02", alternate = "six", script = "/x/job.sline" })
  same(s.fresh, true)
  same(s.done, 0)
  same(s.total, 12, "3 x 4")
  same(all_of(s.db, "SELECT axis, name, size, stride, unit, place FROM axis ORDER BY axis"),
      "1|rack.east.tilt|3|4|deg|nil\n2|run.west.wire|4|1|nil|nil")
  same(s.db:one "SELECT text FROM step WHERE axis = 1 AND step = (7 / 4) % 3", "25deg", "variant 7, first axis")
  same(s.db:one "SELECT text FROM step WHERE axis = 2 AND step = (7 / 1) % 4", "2 AWG", "variant 7, second axis")
  same(s.db:one "SELECT si FROM step WHERE axis = 1 AND step = 2", math.pi / 4, "45 degrees")
  same(s.db:one "SELECT count(*) FROM choice", 0)
  same(all_of(s.db, "SELECT place, name, unit, goal, says, field FROM kept ORDER BY place"),
      "1|job.total|USD|least|what job.total says|job.total\n" ..
      "2|rack.east.top|USD|nil|what rack.east.top says|rack.east.top")
  for key, value in host.sorted { on = "2026-11-02", alternate = "six", script = "job.sline", total = 12, layout = 1,
      program = host.program().version, tables = host.program().tables, rules = host.program().rules } do
    same(s.sweep[key], value, key)
  end
end)

test("the question that docs/sweeps.md asks of a store", function()
  local sql = bytes "docs/sweeps.md":match '    sqlite3 job.sweep "(.-)"\n'
  fill(at "a", range(0, 11))
  local db <close> = host.database(at "a")
  -- holds what is no 2, 5, 8, 11; the price grows with the number; 0 to 3 have the first step, 4 to 7 the second
  local said = all_of(db, sql):gsub("|nil", "")
  same(said, "0|1000.01|35deg\n1|1001.01|35deg\n3|1003.01|35deg\n4|1004.01|25deg\n" ..
      "6|1006.01|25deg\n7|1007.01|25deg\n9|1009.01|45deg\n10|1010.01|45deg")
end)

test("samples have the steps of each", function()
  local drawn = { [0] = { 0, 0 }, { 2, 3 }, { 1, 1 } }
  local space = { axes = { tilt, wire }, total = 3, sampled = true, seed = 7, steps = function(n) return drawn[n] end }
  local s <close> = store.open(at "a", meta_of({ seed = 7 }, space))
  same(all_of(s.db, "SELECT number, axis, step FROM choice ORDER BY number, axis"),
      "0|1|0|nil|nil|nil\n0|2|0|nil|nil|nil\n1|1|2|nil|nil|nil\n" ..
      "1|2|3|nil|nil|nil\n2|1|1|nil|nil|nil\n2|2|1|nil|nil|nil")
  same(s.db:one "SELECT stride FROM axis WHERE axis = 1", nil)
  same(s.sweep.sampled, 2)
  same(s.sweep.seed, 7)
end)

test("a long range has no rows of steps", function()
  local long = { name = "x", size = 100001, text = tostring, si = tonumber, spec = "0 to 100000" }
  local s <close> = store.open(at "a", meta_of({}, grid { long }))
  same(s.db:one "SELECT count(*) FROM step", 0)
  local full = { name = "x", size = 100000, text = tostring, si = tonumber }
  local t <close> = store.open(at "b", meta_of({}, grid { full }))
  same(t.db:one "SELECT count(*) FROM step", 100000)
end)

test("results whose paths differ by a capital, and texts that look like numbers", function()
  local goals = { kept = { { name = "strings.a.n", number = true },
      { name = "strings.A.n", number = true }, { name = "run.wire", number = false } },
      goals = { { i = 2, most = true } } }
  local s <close> = store.open(at "a", meta_of({}, SPACE, goals))
  s.db:run(s:insert_sql(), 0, "holds", nil, nil, 0, nil, 1.5, 2.5, "012")
  local n, a, b, text = s.db:one('SELECT number, variant."strings.a.n", variant."strings.A.n (2)", ' ..
      'variant."run.wire" FROM variant')
  same(n, 0) same(a, 1.5) same(b, 2.5) same(text, "012")
  same(s.db:one "SELECT goal FROM kept WHERE place = 2", "most")
end)

test("counts, rows, retry, finish", function()
  do
    local s <close> = store.open(at "a", meta_of())
    for _, n in ipairs { 5, 3, 0, 4, 2, 1 } do put(s, n) end
    put(s, 7, "crash", "signal 11", nil, nil)
    put(s, 6, "steps", "more than 400 million steps", nil, nil)
    put(s, 8, "refused", "R17 cannot be", nil, nil)
    local counts, all = s:counts()
    same(all, 9) same(counts.holds, 4, "0 1 3 4") same(counts.broken, 2, "2 5") same(counts.crash, 1)
    same(counts.time, nil)
    local list = {}
    for n in s:rows "status = 'holds'" do list[#list + 1] = n end
    same(table.concat(list, " "), "0 1 3 4", "in the order of numbers")
    list = {}
    for n in s:rows("number > ? AND broken IS NOT NULL", 2) do list[#list + 1] = n end
    same(table.concat(list, " "), "5")
    same(pcall(put, s, 9, "approved", nil, nil, nil), false, "no such status")
    s:finish({ 4, 1 }, { 3, 0, 1 })
    s:finish({ 4, 0 }, { 1, 0 })
  end
  local s <close> = store.open(at "a", meta_of())
  same(s.fresh, false)
  same(s.done, 9)
  same(s.sweep.ranked, 9)
  same(all_of(s.db, "SELECT number FROM pareto ORDER BY number"), "0|nil|nil|nil|nil|nil\n4|nil|nil|nil|nil|nil")
  same(all_of(s.db, "SELECT rank, number FROM best ORDER BY rank"), "1|1|nil|nil|nil|nil\n2|0|nil|nil|nil|nil")
  same(s:retry(), 2, "the crash and the steps; a job that cannot be declared so stays refused")
  same(s.done, 7)
  same(select(2, s:counts()), 7)
end)

test("the best of what holds, of equals the first", function()
  local s <close> = store.open(at "a", meta_of())
  same(s:best { i = 1 }, nil, "nothing is there")
  for _, n in ipairs { 5, 4, 3, 2, 1 } do put(s, n) end
  put(s, 0, "holds", nil, nil, nil)                       -- of which the total is unknown
  put(s, 6, "holds", nil, 1001.01, 3 / 7)                 -- as much as number 1
  local value, number = s:best { i = 1 }                  -- from hand: 1000.01 + 1; 2 and 5 are broken
  same(value, 1001.01) same(number, 1)
  value, number = s:best { i = 2, most = true }           -- from hand: 4 / 7
  same(value, 4 / 7) same(number, 4)
end)

test("stopped early: of how many", function()
  fill(at "a", { 1, 4 })
  local s <close> = store.read(at "a")
  local function told(total, shard)
    return import("sweep.listing").stopped(s, { total = total }, shard).blocks[1].text
  end
  has(told(12), "2 of 12 variants")
  has(told(11, { 1, 3 }), "2 of 4 variants", "from hand: 1, 4, 7 and 10")
  has(told(11, { 2, 3 }), "2 of 3 variants", "from hand: 2, 5 and 8")
end)

test("a row that is there stays", function()
  local s <close> = store.open(at "a", meta_of())
  put(s, 1)
  put(s, 1, "crash", "again", nil, nil)
  same(s.db:one "SELECT status FROM variant WHERE number = 1", "holds")
end)

-- ---- the same sweep, or another ------------------------------------------------------------------------------------

-- Opening the store of `a` for `b`: what is said; the store is as it was.
local function refused(a, b)
  do
    local s <close> = store.open(at "a", a)
    put(s, 0)
  end
  local was = dump(at "a")
  local words = fails("F056", store.open, at "a", b)
  same(dump(at "a"), was, "what is stored")
  same(listing(), "a")
  os.remove(at "a")
  return words
end

-- The parts of a sweep, one of them made another.
local function with(key, value)
  local meta = meta_of { on = "2026-11-02" }
  for _, p in ipairs(meta.parts) do if p.key == key then p.value = value end end
  meta.hash = parts.hash(meta.parts)
  return meta
end

test("another sweep is named by what differs", function()
  local o = { on = "2026-11-02" }
  local m = meta_of(o)
  has(refused(m, meta_of {}), "the day judged: the store has 2026-11-02; this run has none")
  has(refused(m, meta_of { on = "2026-11-02", alternate = "six" }),
      "the alternate: the store has none; this run has six")
  has(refused(m, meta_of { on = "2026-11-02", set = { "a=1", "b=2" } }),
      "values put in: the store has none; this run has --set a=1 and --set b=2")
  has(refused(m, meta_of(o, grid { wire, tilt })), "what is varied: the store has rack.east.tilt and run.west.wire; " ..
      "this run has run.west.wire and rack.east.tilt")
  local steeper = setmetatable({ text = function(i) return i == 2 and "46deg" or tilt.text(i) end }, { __index = tilt })
  local words = refused(m, meta_of(o, grid { steeper, wire }))
  has(words, "the steps of rack.east.tilt differ")
  same(words:find("run.west.wire", 1, true), nil, "the other axis is the same")
  has(refused(m, meta_of(o, SPACE, goals_of { "job.total" })), "what is kept: the store has job.total and " ..
      "rack.east.top; this run has job.total")
  has(refused(m, with("program", "0.0.1")), "the version of stringline: the store has " .. host.program().version)
  has(refused(m, with("tables", "0")), "the tables of stringline differ")
  has(refused(m, with("rules", "0")), "the standard rules of stringline differ")
  local steps = function() return { 0, 0 } end
  local function sample(n, seed)
    return { axes = { tilt, wire }, total = n + 1, sampled = true, seed = seed, steps = steps }
  end
  has(refused(m, meta_of(o, sample(11, 1))), "the number of samples: the store has none; this run has 11")
  has(refused(meta_of(o, sample(5, 1)), meta_of(o, sample(5, 2))), "the seed: the store has 1; this run has 2")
end)

test("files: one changed, one more, one less; where the script lies does not matter", function()
  write(at "job.sline", "a\n1\n")
  write(at "lot.csv", "b\n1\n")
  host.csv(at "job.sline")                                              -- whatever reads it: here it is rows
  same(#host.files_read(), 1)
  local first = meta_of()
  host.fresh()
  os.execute("mkdir -p '" .. at "deep" .. "'")
  write(at "deep/job.sline", "a\n1\n")
  host.csv(at "deep/job.sline")
  same(meta_of().hash, first.hash, "the same script elsewhere")
  host.csv(at "lot.csv")
  local more = meta_of()
  os.execute("mv '" .. folder .. "' '" .. folder .. ".files' && mkdir '" .. folder .. "'")
  has(refused(first, more), "lot.csv is read for this run alone")
  has(refused(more, first), "lot.csv is read for the store alone")
  host.fresh()
  make_folder(at "new")
  write(at "new/job.sline", "a\n2\n")
  host.csv(at "new/job.sline")
  local changed = meta_of()
  os.execute("rm -rf '" .. at "new" .. "'")
  has(refused(first, changed), "job.sline is not the same")
  os.execute("rm -rf '" .. folder .. ".files'")
end)

test("files that only some steps read are parts of it", function()
  local place = { name = "file plateau", size = 2, text = function(i) return i == 0 and "plateau" or "loup" end,
      si = function() end, files = function(i)
        return i == 1 and { { path = "/x/loup.sline", sha256 = "3e23" } } or {}
      end }
  local meta = meta_of({}, grid { place })
  local found
  for _, p in ipairs(meta.parts) do if p.key == "file loup.sline" then found = p.value end end
  same(found, "3e23")
end)

test("the hash tells a value that is divided otherwise", function()
  local a = { { key = "set 1", value = "x" }, { key = "set 2", value = "y" } }
  local b = { { key = "set 1", value = "xset 2y" } }
  same(parts.hash(a) == parts.hash(b), false)
end)

test("another shard, another goal: the same sweep", function()
  store.open(at "a", meta_of { shard = "0/2" }):close()
  do
    local s <close> = store.open(at "a", meta_of { shard = "0/2" })
    same(s.sweep.shard, "0/2")
  end
  local most = goals_of({ "job.total", "rack.east.top" }, "most")
  local s <close> = store.open(at "a", meta_of({ shard = "1/2" }, SPACE, most))
  same(s.sweep.shard, nil, "no longer of one shard alone")
  same(s.db:one "SELECT goal FROM kept WHERE place = 1", "most")
end)

-- ---- shards --------------------------------------------------------------------------------------------------------

local function shards()
  fill(at "s0", range(0, 11, 3), { shard = "0/3" })
  fill(at "s1", range(1, 11, 3), { shard = "1/3" })
  fill(at "s2", range(2, 11, 3), { shard = "2/3" })
  fill(at "whole", range(0, 11))
  return dump(at "whole")
end

test("joined in any order, twice: as if judged in one go", function()
  local whole = shards()
  local orders = { { "s0", "s1", "s2" }, { "s2", "s1", "s0" }, { "s1", "s2", "s0" }, { "s1", "s0", "s2" },
      { "s0", "s2", "s1" }, { "s2", "s0", "s1" } }
  for i, order in ipairs(orders) do
    local all = "all" .. i
    local f = merged(all, at(order[1]), at(order[2]), at(order[3]))
    same(dump(at(all)), whole, table.concat(order, " "))
    same(f.total, 12) same(f.variants, 12) same(f.missing, 0)
    f = merged(all, at(order[2]))
    same(dump(at(all)), whole, "again")
    same(f.rows[1][5].value, 0, "new") same(f.rows[1][7].value, 4, "here before")
  end
  local s <close> = store.open(at "all1", meta_of())
  same(s.done, 12, "sweep goes on with it")
  same(s.sweep.shard, nil)
  same(s.db:one "SELECT count(*) FROM step", 7, "3 and 4 steps came along")
end)

test("one by one, and what is missing", function()
  shards()
  local f = merged("all", at "s1")
  same(f.variants, 4) same(f.missing, 8)
  f = merged("all", at "s0")
  same(f.rows[1][5].value, 4, "new") same(f.rows[1][2], "0/3", "shard")
  same(f.missing, 4)
end)

test("of twelve variants a fifth is three: 0, 5 and 10", function()
  fill(at "s", { 0, 10 }, { shard = "0/5" })
  fill(at "t", { 1, 6, 11 }, { shard = "1/5" })
  fill(at "u", { 2, 7 }, { shard = "2/5" })
  local f = merged("all", at "s", at "t", at "u")
  same(f.rows[1][4].value, 1, "5 is missing") same(f.rows[2][4].value, 0) same(f.rows[3][4].value, 0)
end)

test("what was a shard is none any more, and is not ranked", function()
  fill(at "a", { 0, 2 }, { shard = "0/2" })
  fill(at "b", { 1, 3 }, { shard = "1/2" })
  do
    local s <close> = store.open(at "a", meta_of { shard = "0/2" })
    s:finish({ 0 }, { 0 })
  end
  for _, all in ipairs { "a", "new" } do
    local others = all == "a" and { at "b" } or { at "a", at "b" }
    merged(all, table.unpack(others))
    local s <close> = store.read(at(all))
    same(s.sweep.shard, nil) same(s.sweep.ranked, nil) same(s.db:one "SELECT count(*) FROM best", 0)
    same(s.db:one "SELECT count(*) FROM pareto", 0)
  end
end)

test("shards that overlap", function()
  fill(at "a", range(0, 7))
  fill(at "b", range(5, 11))
  fill(at "whole", range(0, 11))
  local f = merged("all", at "a", at "b")
  same(dump(at "all"), dump(at "whole"))
  same(f.rows[2][5].value, 4, "8 to 11 are new") same(f.rows[2][7].value, 3, "5 to 7 were there")
end)

test("the same variant with another result: named, and nothing of that shard came", function()
  fill(at "a", range(0, 7), { shard = "0/2" })
  fill(at "b", range(5, 11))
  for _, change in ipairs { { '"job.total" = 1006.02' }, { "why = 'x'" }, { "cautions = 2" }, { "broken = 'R12'" },
      { "unknown = 'R12'" }, { "status = 'refused'" } } do
    local db = host.database(at "b")
    db:run("UPDATE variant SET " .. change[1] .. " WHERE number = 6")
    db:close()
    local words = fails("F058", merge, { store = at "all", words = { at "a", at "b" } })
    has(words, "variant 6 came out otherwise in '" .. at "b" .. "' than in '" .. at "all" .. "'")
    same(dump(at "all"), dump(at "a"), "what came before it stays")
    do
      local s <close> = store.read(at "all")
      same(s.sweep.shard, nil, "which is not of one shard")
    end
    os.remove(at "all")
    os.remove(at "b")
    fill(at "b", range(5, 11))
  end
end)

test("a crash gives way to what was judged, in either order", function()
  local function cut(path, status, why, from)
    local s <close> = store.open(path, meta_of())
    for n = from, 11 do if n == 4 then put(s, n, status, why, nil, nil) else put(s, n) end end
  end
  cut(at "a", "crash", "signal 11", 0)
  cut(at "b", "time", "60 seconds", 3)
  fill(at "c", range(2, 5))
  fill(at "whole", range(0, 11))
  local f = merged("ac", at "a", at "c")
  same(f.rows[2][6].value, 1, "judged at last")
  merged("ca", at "c", at "a")
  same(dump(at "ac"), dump(at "whole"))
  same(dump(at "ca"), dump(at "whole"))
  f = merged("ab", at "a", at "b")
  same(f.cut_short, 1)
  merged("ba", at "b", at "a")
  same(dump(at "ab"), dump(at "ba"), "two that were cut short")
  merged("bac", at "b", at "a", at "c")
  same(dump(at "bac"), dump(at "whole"))
end)

test("unlike shards: refused before anything is written", function()
  fill(at "a", range(0, 5))
  fill(at "b", range(6, 11), { set = { "site.frost=20in" } })
  local words = fails("F056", merge, { store = at "all", words = { at "a", at "b" } })
  has(words, "'" .. at "a" .. "' and '" .. at "b" .. "' are not of the same sweep")
  has(words, "--set site.frost=20in")
  same(bytes(at "all"), nil, "no store was made")
  merged("all", at "a")
  local was = bytes(at "all")
  fails("F056", merge, { store = at "all", words = { at "b" } })
  same(bytes(at "all"), was, "nor was one that is there changed")
end)

test("a shard that is being written", function()
  fill(at "a", range(0, 5))
  fill(at "b", range(6, 11))
  local let_go = beside(function() kept = store.open(at "b", meta_of()) end)
  has(fails("F053", merge, { store = at "all", words = { at "a", at "b" } }), "'" .. at "b" .. "'")
  same(bytes(at "all"), nil, "no store was made")
  let_go()
  merged("all", at "a", at "b")
end)

test("a shard whose writer was killed, and one that is damaged", function()
  apart(function()
    kept = store.open(at "a", meta_of())
    for n = 0, 5 do put(kept, n) end
    return ""
  end, { die = true })
  same(merged("all", at "a").variants, 6)
  fill_many(at "m")
  local text = bytes(at "m")
  write(at "m", text:sub(1, 8192) .. ("\xA5"):rep(#text - 12288) .. text:sub(-4096))
  fails("F054", merge, { store = at "other", words = { at "m" } })
end)

test("a shard that may only be read", function()
  fill(at "a", range(0, 5))
  make_folder(at "shut")
  os.rename(at "a", at "shut/a")
  set_mode(at "shut/a", 292)
  set_mode(at "shut", 365)
  same(apart(function()
    local ok, why = pcall(merge, { store = at "all", words = { at "shut/a" } })
    return ok and "joined" or why.code .. why.text
  end, { nobody = true }), "joined")
  same(select(2, dump(at "all")), 6)
end)

test("wrong words", function()
  fails("U001", merge, { words = { at "a" } })
  has(fails("U006", merge, { store = at "a", words = { at "a" } }), "leave it out")
  fails("U006", merge, { store = at "b", words = { at "a", at "a" } })
  has(fails("F050", merge, { store = at "b", words = { at "a" } }), at "a")
end)

return tests
