-- SPDX-License-Identifier: MIT
-- What was worked out is kept, each thing once: a value, or the error that said why there is none.  The engine is
-- interp/host/nodes.c; while run.noting is there (model.noting), that keeps what is worked out, with all that was read.
--
-- A node is known by the data of its record and a name.  It rests on values from memory, a bit for each source of one
-- (see memo.cites).
local run = import "model.run"
local step = import("model.path").step
local engine = nodes(run.inside)
local memo = { primitives = calc, engine = engine }      -- primitives: themselves, whoever listens to `calc`

-- A run beside this one has an engine of its own, behind the same names.
--
-- memo.value(rec, def): what a definition { name, find = function(rec, def) } gives of a record; picks = true: it is
-- the output def.out of what def.of gives.  memo.result(rec, def): the same of a result, which may be read by its name.
local function set_engine(functions)
  for name, f in next, functions do engine[name] = f end
  memo.value, memo.result = engine.of, engine.result
end
set_engine(engine)

run.keep("tracked", function()
  engine.fresh()
  return false
end, function()
  local kept, other = {}, nodes(run.inside)
  for name, f in next, engine do kept[name] = f end
  table.move(kept.model, 1, #kept.model, 1, other.model)
  set_engine(other)
  return function()
    engine.fresh()
    set_engine(kept)
  end
end)

-- Raises that results go in a circle; chain: { record's data, name } ..., the last that asked first.
function memo.circle(chain)
  local names = {}
  for i = #chain, 1, -1 do names[#names + 1] = step(chain[i][1].path, chain[i][2]) end
  names[#names + 1] = names[1]
  host.raise { code = "G001", text = "results go in a circle: " .. table.concat(names, " -> "),
      help = "one of them must not need the next" }
end
engine.model[2] = memo.circle

-- Kept under a name that is no result's.  Where it is worked out again f is called as it was given first: it rests on
-- what it reads, and on nothing else that changes.
function memo.remember(rec, name, f)
  if run.noting then return run.noting.remember(rec, name, f) end
  return engine.value(rec, name, f)
end

engine.model[3] = function(rec, def)
  if run.noting then return run.noting.value(rec, def) end
  return engine.value(rec.root or rec, def.name, def.find, def)
end

-- The value, or nil and the error that says why there is none; the node, while they are noted.
function memo.try(rec, def)
  if run.noting then return run.noting.try(rec, def) end
  return engine.try(rec.root or rec, def.name, def.find, def)
end

-- What find(rec, def) gives of each of a list { false, def, rec, ask again in each variant } or { outcome }.
function memo.outcomes(list, find)
  if not run.noting then return engine.outcomes(list, find) end
  local out = {}
  for i, x in ipairs(list) do
    engine.rests(0)
    out[i] = x[3] and find(x[3], x[2]) or x[1]
    if x[3] then out[i].rests = engine.rests() end
  end
  return out
end

-- Calls f with all worked out again, apart from what is known.
function memo.afresh(f, ...)
  if run.noting then return run.noting.apart(f, ...) end
  engine.begin(true)
  local packed = table.pack(pcall(f, ...))
  engine.finish()
  if not packed[1] then error(packed[2], 0) end
  return table.unpack(packed, 2, packed.n)
end

-- ---- from memory ---------------------------------------------------------------------------------------------------

-- The bits of what is being worked out now.
function memo.rests() return engine.rests() end

-- The citations that stand for these bits, in the order of their texts: that in which they came is a variant's own.
function memo.cites(rests)
  local list = { nil, nil, nil, nil, nil, nil, nil, nil }
  for i, cite in ipairs(resting.cites) do if rests >> (i - 1) & 1 == 1 then list[#list + 1] = cite end end
  table.sort(list)
  return list
end

return memo
