-- SPDX-License-Identifier: MIT
-- Kinds and results of the tests' own, so that the suites of records, results and rules do not lean on the library.
-- `out` holds what a script prints, `calls` how often each result was worked out.
local schema, record, graph = import "model.schema", import "model.record", import "model.graph"

out, calls, derived = {}, setmetatable({}, { __index = function() return 0 end }), 0
function host.print(value) out[#out + 1] = value end
local function count(name) calls[name] = calls[name] + 1 end

local function shelf_fields()
  return {
    { "depth", "quantity", dim = "length", above = 0, max = 3, says = "front to back" },
    { "boards", "count", min = 1, max = 9, default = 2, says = "how many" },
    { "label", "text", default = "none", quiet = true, says = "words on it" },
    { "finish", "choice", choices = { "oil", "paint" }, says = "finish" },
    { "brackets", "group", says = "what holds it",
      fields = { { "size", "text", says = "size" }, { "gap", "quantity", dim = "length", says = "gap" } } },
    { "marks", "list", item = { "mark", "quantity", type = "quantity", dim = "length" }, says = "marks" },
    { "heights", "map", item = { "height", "quantity", type = "quantity", dim = "length" }, says = "heights" },
  }
end

schema.kind { "room", single = true, design = true, says = "the room",
  fields = {
    { "width", "quantity", dim = "length", required = true, says = "wall to wall", who = "owner", tool = "a tape" },
    { "warm", "quantity", dim = "temperature", says = "air" },
  } }

schema.kind { "shelf", named = true, types = true, design = true, says = "a shelf", fields = shelf_fields(),
  check = function(v)
    if v.depth and v.boards == 9 then return "too many boards", "fewer", "boards" end
  end }

schema.kind { "hook", may_name = true, types = true, design = true, says = "a hook",
  fields = {
    { "on", "ref", of = { "shelf" }, required = true, says = "its shelf" },
    { "at", "quantity", dim = "length", says = "where" },
  },
  settle = function(hook, refuse)
    local at = record.given(hook, "at")
    if at and at > hook.on.depth then refuse({ "at" }, "hangs in the air", "nearer") end
  end }

-- Two levels down, and declared before the kind that it hangs on.
schema.kind { "bolt", parent = "peg", design = true, says = "a bolt of a peg",
  fields = {
    { "torque", "quantity", dim = "length", says = "how tight, in turns of thread" },
    { "of", "text", says = "its peg" },
  },
  derive = function(peg)
    local list = {}
    for i = 1, 2 do list[i] = { name = tostring(i), torque = peg.place * i, of = peg.name } end
    return list
  end }

schema.kind { "peg", parent = "shelf", design = true, says = "a peg",
  fields = { { "place", "quantity", dim = "length", says = "where" } },
  derive = function(shelf)
    derived = derived + 1
    local list = {}
    for m in record.each(shelf.marks) do list[#list + 1] = { name = "P" .. #list + 1, place = m } end
    return list
  end }

local result = graph.result
result { "shelf", "area", dim = "area", says = "area",
  work = function(s, job) count "area" return s.depth * job.room.width end }
result { "shelf", "twice", dim = "area", says = "area", work = function(s) count "twice" return s.area + s.area end }
result { "shelf", "first", says = "a circle", work = function(s) return s.second end }
result { "shelf", "second", says = "a circle", work = function(s) return s.third end }
result { "shelf", "third", says = "a circle", work = function(s) return s.first end }
result { "shelf", "own", says = "a circle", work = function(s) return s.own end }
result { "shelf", "nothing", says = "nil", work = function() count "nothing" end }
result { "shelf", "heavy", dim = "force", says = "a length", work = function(s) return s.depth end }
result { "shelf", "needs", dim = "length", says = "gap", work = function(s) count "needs" return s.brackets.gap end }
result { "shelf", "broken", says = "a mistake", work = function(s) return s.depth + 1 end }
result { "bolt", "twice", dim = "length", says = "twice as tight", work = function(b) return b.torque + b.torque end }
result { "room", "all", dim = "area", says = "of all shelves",
  work = function(_, job)
    local sum
    for s in record.each(job.shelf) do sum = sum and sum + s.area or s.area end
    return sum
  end }

local diagonal = calc.diagonal
function calc.diagonal(inputs) count "diagonal" return diagonal(inputs) end
graph.work { "shelf", "square", op = "diagonal", says = "corner to corner",
  input = function(s, job) count "input" return { along = job.room.width, across = s.depth } end,
  gives = { diagonal = { says = "corner to corner" } } }
