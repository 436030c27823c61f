-- SPDX-License-Identifier: MIT
-- Stores of sweeps: what SQLite is asked, what fails, what a store says.  What is expected follows from
-- tests/sweep_stores.lua, whose names are global here, or is what SQLite's file format says.
local store, merge = import "sweep.store", import "sweep.merge"

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
