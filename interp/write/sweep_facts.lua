-- SPDX-License-Identifier: MIT
-- What a sweep found (sweep.answer), for programs: facts of its document, and the shapes that these have.
local columns = import "sweep.columns"
local encode = import "write.encode"
local say = import "write.sweep_words"
local facts = {}

local MOST = 200000        -- rows that stand in JSON; --format csv has all of them

-- ---- shapes, for write.schema_json ---------------------------------------------------------------------------------

local function optional(key, shape) return { key, shape, optional = true } end

local margin = { one = true, { "rule", "text" }, { "subject", "text" }, { "words", "text" }, { "ratio", "number" } }
local rows = { { "number", "count" }, optional("rank", "count"), { "status", "text" }, { "steps", "text" },
  { "broken", { "text" } }, { "unknown", { "text" } }, { "cautions", { "text" } },
  { "kept", { { "name", "text" }, optional("value", "value"), optional("text", "text") } },
  optional("limited_by", margin) }
local row = table.move(rows, 1, #rows, 1, { one = true })

facts.shape = {
  { "sweep", { one = true, { "total", "count" }, { "wanted", "count" }, { "done", "count" }, { "missing", "count" },
      optional("shard", "text"), { "sampled", "flag" }, { "complete", "flag" },
      { "counts", { { "status", "text" }, { "variants", "count" } } }, { "with_cautions", "count" } } },
  { "axes", { { "name", "text" }, { "steps", "count" }, optional("has_effect", "flag") } },
  { "goals", { { "name", "text" }, { "seeks", "text" } } },
  optional("winner", "count"), { "ties", "count" }, { "best", rows }, { "nearest", rows }, { "declared", row },
  { "stops", { { "rule", "text" }, optional("says", "text"), { "broken", "count" }, { "broken_alone", "count" },
      { "unknown", "count" }, { "unknown_alone", "count" }, optional("for_example", "text"),
      optional("unknown_for_example", "text") } },
  { "not_judged", { { "status", "text" }, { "variants", "count" }, { "example", "count" }, optional("why", "text") } },
  optional("pareto", { "count" }),
  optional("waiting", { one = true, { "variants", "count" }, { "rules", { "text" } }, optional("best", "count") }),
  { "duplicates", { one = true, optional("variants", "count"), optional("lots", "count"),
      optional("drawn_twice", "count") } },
  { "columns", { "text" } }, { "variants", "cells" }, { "variants_left_out", "count" }, optional("patch", "text"),
}

-- ---- values --------------------------------------------------------------------------------------------------------

local function texts(as, list) return as.array(table.move(list, 1, #list, 1, {})) end

local function split(text)
  local list = {}
  for id in text:gmatch "%S+" do list[#list + 1] = id end
  return list
end

local function row_for(as, f, r)
  local kept = as.array {}
  for i, k in ipairs(f.kept) do
    local v = r.values[i]
    local value = v ~= nil and k.value(v)
    local amount = value and (host.is_quantity(value) or type(value) == "number")
    kept[i] = as.object { { "name", k.name }, { "value", amount and as.value(value) or nil },
        { "text", not amount and (v == nil and (k.of and "nothing" or "unknown") or tostring(v)) or nil } }
  end
  local m = r.limit
  return as.object { { "number", r.number }, { "rank", r.rank }, { "status", r.status }, { "steps", say.label(f, r) },
      { "broken", texts(as, r.broken) }, { "unknown", texts(as, r.unknown) },
      { "cautions", texts(as, split(say.cautions(r))) }, { "kept", kept },
      { "limited_by", m and as.object { { "rule", m.id }, { "subject", m.subject }, { "words", m.words },
          { "ratio", m.ratio } } or nil } }
end

local function list_of(as, list, f)
  local out = as.array {}
  for i, x in ipairs(list) do out[i] = f(x) end
  return out
end

-- All rows as JSON that is written already: [number, status, a step of each axis, broken, unknown, cautions, why,
-- kept].
local function variants(f)
  local json, parts = host.json, {}
  local function number_text(v)
    if math.type(v) == "integer" then return tostring(v) end
    local whole = math.tointeger(v)
    return whole and math.abs(whole) < 1e15 and tostring(whole) or v - v == 0 and string.format("%.17g", v) or "null"
  end
  local function cell(v) return v == nil and "null" or type(v) == "string" and json(v) or number_text(v) end
  local n_kept = #f.kept
  local function row(number, status, broken, unknown, cautions, why, ...)
    local line = { number_text(number), cell(status) }
    for _, step in ipairs(f.space.steps(number)) do line[#line + 1] = tostring(step) end
    line[#line + 1], line[#line + 2], line[#line + 3], line[#line + 4] = cell(broken), cell(unknown), cell(cautions),
        cell(why)
    for i = 1, n_kept do line[#line + 1] = cell((select(i, ...))) end
    parts[#parts + 1] = "[" .. table.concat(line, ",") .. "]"
  end
  local names = { "number, status, broken, unknown, cautions, why", table.unpack(columns.kept(f.kept)) }
  columns.each(row, f.db:each("SELECT " .. table.concat(names, ", ") .. " FROM variant ORDER BY number LIMIT " .. MOST))
  return encode.raw("[" .. table.concat(parts, ",\n    ") .. "]")
end

local function column_names(as, f)
  local names = { "number", "status" }
  for _, axis in ipairs(f.axes) do names[#names + 1] = "step of " .. axis.name end
  for _, name in ipairs { "broken", "unknown", "cautions", "why" } do names[#names + 1] = name end
  for _, k in ipairs(f.kept) do names[#names + 1] = k.name end
  return texts(as, names)
end

-- ---- all -----------------------------------------------------------------------------------------------------------

local function put_sweep(d, f)
  d:fact("sweep", function(as)
    local counts = as.array {}
    for status, n in host.sorted(f.counts) do
      counts[#counts + 1] = as.object { { "status", status }, { "variants", n } }
    end
    return as.object { { "total", f.total }, { "wanted", f.wanted }, { "done", f.done }, { "missing", f.missing },
        { "shard", f.shard }, { "sampled", f.sampled }, { "complete", f.complete }, { "counts", counts },
        { "with_cautions", f.cautioned } }
  end)
  d:fact("axes", function(as)
    local list = as.array {}
    for a, axis in ipairs(f.axes) do
      list[a] = as.object { { "name", axis.name }, { "steps", axis.size }, { "has_effect", f.effects[a] } }
    end
    return list
  end)
  d:fact("goals", function(as)
    return list_of(as, f.goals, function(g)
      return as.object { { "name", g.name }, { "seeks", g.most and "most" or "least" } }
    end)
  end)
end

local function put_rows(d, f)
  local function row_list(list)
    return function(as) return list_of(as, list, function(r) return row_for(as, f, r) end) end
  end
  if f.winner then d:fact("winner", f.winner.number) end
  d:fact("ties", f.ties)
  d:fact("best", row_list(f.best))
  d:fact("nearest", row_list(f.nearest))
  d:fact("declared", function(as) return row_for(as, f, f.base) end)
end

local function put_stops(d, f)
  d:fact("stops", function(as)
    return list_of(as, f.rules, function(r)
      return as.object { { "rule", r.id }, { "says", r.says }, { "broken", r.broken }, { "broken_alone", r.alone },
          { "unknown", r.unknown }, { "unknown_alone", r.open_alone }, { "for_example", r.reason },
          { "unknown_for_example", r.open_reason } }
    end)
  end)
  d:fact("not_judged", function(as)
    return list_of(as, f.ended, function(e)
      return as.object { { "status", e.status }, { "variants", e.n }, { "example", e.example }, { "why", e.why } }
    end)
  end)
end

-- o: the options of the command; the rows are read at once, while their store is open, and only where they are written.
function facts.put(d, f, o)
  put_sweep(d, f)
  put_rows(d, f)
  put_stops(d, f)
  if f.pareto then d:fact("pareto", function(as) return texts(as, f.pareto.numbers) end) end
  local w = f.waiting
  if w then
    d:fact("waiting", function(as)
      return as.object { { "variants", w.n }, { "rules", texts(as, w.rules) }, { "best", w.best } }
    end)
  end
  d:fact("duplicates", function(as)
    return as.object { { "variants", f.alike }, { "lots", f.lots }, { "drawn_twice", f.drawn_twice } }
  end)
  d:fact("columns", function(as) return column_names(as, f) end)
  if o.format == "json" then d:fact("variants", variants(f)) end
  d:fact("variants_left_out", math.max(f.done - MOST, 0))
end

return facts
