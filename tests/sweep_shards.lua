-- SPDX-License-Identifier: MIT
-- Stores of sweeps: whether two are of the same sweep, and shards that are joined.  What is expected follows from
-- tests/sweep_stores.lua, whose names are global here.
local store, merge, parts = import "sweep.store", import "sweep.merge", import "sweep.parts"

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
