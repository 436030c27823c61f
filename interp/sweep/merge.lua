-- SPDX-License-Identifier: MIT
-- `stringline merge --store ALL SHARD ...`: the rows of shards, which several machines may have judged, in one store.
--
-- All stores are looked at before anything is written; then each shard is one transaction.  The rows that come out do
-- not depend on the order of shards, nor on how often one is joined: a judged row takes the place of one that was cut
-- short (a crash, a limit), of two cut short the first by their words stays, and two that were judged otherwise are an
-- error, since the same variant of the same sweep can come out in one way only.
local parts_of = import "sweep.parts"
local store = import "sweep.store"
local in_sql = import("sweep.columns").quoted
local shards = import "sweep.shard"
local document = import "write.document"
local say = import "write.sweep_words"
local util = import "model.util"
local words = import "write.words"

local SHOWN = 5          -- numbers that a message names

local function refuse(code, text, help, notes) host.raise { code = code, text = text, help = help, notes = notes } end

-- Files that are in the way, before any is opened.
local function want_files(o)
  if not o.store then
    refuse("U001", "merge needs the store that the others are joined into",
        "as in: stringline merge --store all.sweep shard-0.sweep shard-1.sweep")
  end
  local seen = {}
  for _, path in ipairs(o.words) do
    if path == o.store then
      refuse("U006", "'" .. path .. "' is the store that the others are joined into; leave it out of the list",
          "as in: stringline merge --store all.sweep shard-0.sweep shard-1.sweep")
    elseif seen[path] then refuse("U006", "'" .. path .. "' is named twice", "name each shard once")
    end
    seen[path] = true
  end
end

-- What is known of a store without its rows.
local function head_of(path)
  local s <close> = store.read(path)
  return { path = path, sweep = s.sweep, kept = s.kept, rows = s.done }
end

local function want_same(a, b)
  if a.sweep.hash == b.sweep.hash then return end
  local differ = parts_of.differences(parts_of.from(a.sweep), parts_of.from(b.sweep), a.path, b.path)
  refuse("F056", "'" .. a.path .. "' and '" .. b.path .. "' are not of the same sweep: " .. differ[1],
      "nothing was written; shards are made by the same files, the same program and the same command line, --shard " ..
      "and --store aside", { table.unpack(differ, 2, 8) })
end

-- ---- one shard -----------------------------------------------------------------------------------------------------

local function same_columns(kept)
  local list = { "m.status IS p.status", "m.broken IS p.broken", "m.unknown IS p.unknown",
      "m.cautions IS p.cautions", "m.why IS p.why" }
  for _, k in ipairs(kept) do
    local field = in_sql(k.field)
    list[#list + 1] = "m." .. field .. " IS p." .. field
  end
  return list
end

-- SQLite takes no expression deeper than a thousand.
local function unlike(kept)
  local groups, columns = {}, same_columns(kept)
  for i = 1, #columns, 500 do
    groups[#groups + 1] = "(" .. table.concat(columns, " AND ", i, math.min(i + 499, #columns)) .. ")"
  end
  return "NOT (" .. table.concat(groups, " AND ") .. ")"
end

local function of(table_name, sql) return (sql:gsub("status", table_name .. ".status")) end

local function refuse_conflicts(all, shard)
  local numbers = {}
  for number in all.db:each("SELECT m.number FROM main.variant AS m JOIN part.variant AS p USING (number) WHERE " ..
      of("m", store.is_judged) .. " AND " .. of("p", store.is_judged) .. " AND " .. unlike(all.kept) ..
      " ORDER BY m.number LIMIT " .. SHOWN + 1) do
    numbers[#numbers + 1] = number
  end
  if not numbers[1] then return end
  local more = numbers[SHOWN + 1] and " and more" or ""
  numbers[SHOWN + 1] = nil
  local several = #numbers > 1 and "s " or " "
  refuse("F058", "variant" .. several .. table.concat(numbers, ", ") .. more .. " came out otherwise in '" ..
      shard.path .. "' than in '" .. all.path .. "'", "one of the two was changed, or judged by a program built " ..
      "otherwise; judge it again with --only " .. numbers[1] .. ", and leave out the store that is wrong")
end

-- Rows that came, that took the place of one cut short, and that were there already.
local function join(all, shard)
  local db, counts = all.db, {}
  db:run("ATTACH ? AS part", shard.path:find "^/" and shard.path or "./" .. shard.path)
  local ok, why = pcall(store.transaction, db, function()
    refuse_conflicts(all, shard)
    local before = db:one "SELECT count(*) FROM main.variant"
    local came = db:one "SELECT count(*) FROM part.variant"
    local left = db:run("DELETE FROM main.variant WHERE number IN (SELECT m.number FROM main.variant AS m JOIN " ..
        "part.variant AS p USING (number) WHERE " .. of("m", store.is_cut) .. " AND (" .. of("p", store.is_judged) ..
        " OR (p.status, ifnull(p.why, '')) < (m.status, ifnull(m.why, ''))))")
    db:run "INSERT INTO main.variant SELECT * FROM part.variant WHERE true ON CONFLICT (number) DO NOTHING"
    db:run "DELETE FROM main.sweep WHERE key IN ('shard', 'ranked')"       -- not of one shard, and not ranked, any more
    db:run "DELETE FROM main.pareto"
    db:run "DELETE FROM main.best"
    local new = db:one "SELECT count(*) FROM main.variant" - before
    counts = { path = shard.path, shard = shard.sweep.shard, rows = came, new = new, replaced = left,
        known = came - new - left }
  end)
  pcall(db.run, db, "DETACH part")
  if not ok then error(why, 0) end
  return counts
end

-- A store of the same sweep without rows.
local function make_like(path, first)
  return host.database_new(path, function(db)
    db:run("ATTACH ? AS part", first.path:find "^/" and first.path or "./" .. first.path)
    store.create(db, first.kept, first.sweep.total)
    for _, name in ipairs { "axis", "step", "choice" } do
      db:run("INSERT INTO main." .. name .. " SELECT * FROM part." .. name)
    end
    db:run "INSERT INTO main.sweep SELECT * FROM part.sweep WHERE key NOT IN ('shard', 'ranked')"
  end)
end

-- ---- what is said --------------------------------------------------------------------------------------------------

local function plural(n, one, many) return words.show(n) .. " " .. (n == 1 and one or many) end

local function told(all, joined, fresh, before)
  local d = document.new("merge", "Shards joined: " .. all.path)
  local total, there = all.total, all.db:one "SELECT count(*) FROM variant"
  local missing = total - there
  d:para((fresh and "'" .. all.path .. "' is new." or "'" .. all.path .. "' had " ..
      plural(before, "variant", "variants") .. ".") .. " Now it has " .. words.show(there) .. " of " ..
      plural(total, "variant", "variants") .. (missing == 0 and ", all of the sweep." or "."))
  local rows, replaced = {}, 0
  local function whole(n) return { text = words.show(n), value = n } end
  for i, c in ipairs(joined) do
    local part = shards.read(c.shard)
    local left = part and shards.size(total, part) - c.rows
    replaced = replaced + c.replaced
    rows[i] = { c.path, c.shard or "", whole(c.rows), left and whole(left) or "", whole(c.new),
        whole(c.replaced), whole(c.known) }
  end
  local function column(heading, right) return { heading, key = heading:gsub(" ", "_"), right = right } end
  d:table({ column "store", column "shard", column("variants", true), column("missing", true), column("new", true),
      column("replaced", true), column("there before", true) }, rows)
  if replaced > 0 then
    d:para(plural(replaced, "variant", "variants") .. " had been cut short here, and stand now as that store has them.",
        "replaced: ")
  end
  if missing > 0 then
    local first = all.db:one("SELECT CASE WHEN NOT EXISTS (SELECT 1 FROM variant WHERE number = 0) THEN 0 ELSE " ..
        "(SELECT number + 1 FROM variant AS v WHERE NOT EXISTS (SELECT 1 FROM variant WHERE number = v.number + 1) " ..
        "ORDER BY number LIMIT 1) END")
    d:warning(plural(missing, "variant is", "variants are") .. " still missing, number " .. first ..
            " the first of them: join the other shards, or run those again that were stopped, and join them again.")
  end
  local cut = all.db:one("SELECT count(*) FROM variant WHERE " .. store.is_cut)
  if cut > 0 then
    d:warning(plural(cut, "variant was", "variants were") .. " cut short by an error, a limit or a crash and " ..
        (cut == 1 and "is" or "are") .. " not judged; sweep with --retry tries again.")
  end
  d:para("The answer over all of them, with the options that the shards had: stringline sweep " ..
      util.typed(all.sweep.script) .. " --store " .. util.typed(all.path) ..
      (missing > 0 and ", which judges what is missing first." or "."))
  d:fact("total", total)
  d:fact("variants", there)
  d:fact("missing", missing)
  d:fact("replaced", replaced)
  d:fact("cut_short", cut)
  return d
end

return function(o)
  want_files(o)
  local heads = {}
  for i, path in ipairs(o.words) do
    heads[i] = head_of(path)
    want_same(heads[1], heads[i])
  end
  local fresh = make_like(o.store, heads[1])
  if not fresh then want_same(head_of(o.store), heads[1]) end
  local all <close> = store.hold(o.store, fresh)
  local before, joined = all.done, {}
  for i, head in ipairs(heads) do joined[i] = join(all, head) end
  return 0, told(all, joined, fresh, before)
end
