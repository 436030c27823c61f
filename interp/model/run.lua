-- SPDX-License-Identifier: MIT
-- The run: all that is known of the job at hand, by name, in one table.  Kinds, results and the standard rules are
-- definitions, loaded once; everything else is made whole and dropped whole by run.new().
local run = {
  -- proxy of a record, list, map or collection -> its data; one table for good: it is emptied.  Those of a variant go
  -- with whoever held them.
  inside = setmetatable({}, { __mode = "k" }),
}

-- { name, make, hold }: what modules above this one, and the library's domains, keep of a run.
local keepers = {}

-- run[name] is made by make() at the start of each run.  What a module keeps of a run outside of `run`, hold() gives
-- back: it returns a function that puts it there again, once the run is the one at hand again (run.aside).
function run.keep(name, make, hold)
  keepers[#keepers + 1] = { name = name, make = make, hold = hold }
  run[name] = make()
end

function run.new()
  host.fresh()           -- random numbers, steps, files read, how values print
  for proxy in next, run.inside do run.inside[proxy] = nil end

  run.declared = nil     -- { script, plan } of boot.declare
  run.alone = false      -- a file is run by itself (boot.alone), which may be a house's or a place's

  -- What was declared.
  run.groups = {}        -- kind name -> { def, order = { proxy ... }, by = { name -> proxy }, proxy }
  run.unused = {}        -- proxies of what a place or a house file offers and the job does not use
  run.telling = {}       -- measured(...) and its like -> { how, value, by }
  run.told = {}          -- path -> { how, by }
  run.defaults = {}      -- { path, value, field } ... that nobody gave and a schema filled in
  run.tolerances = {}    -- path -> tolerance, of values whose text the scanner did not see
  run.heads = {}         -- declaration heads, until their table has come
  run.gathers = false    -- what is wrong is kept and told all at once: see model.gather
  run.hole = false       -- what stands for a value that is wrong, from the first such on: see model.faults
  run.unsure = false     -- what is wrong hides names: what nobody declared may stand there
  run.settled = false    -- the script is over: nothing more can be declared
  run.sixteenths = false -- lengths print in feet, inches and sixteenths
  run.crew = false       -- a sheet is printed for a crew: lengths in both ways of a tape
  run.style = nil        -- how values print once all is declared, as host.style takes it
  run.limits = {}        -- name -> { limit ... }, as model.in_force has them
  run.rules = { by = {} }                        -- rules of scripts, in their order and by id
  run.results = {}       -- results of scripts, in their order
  run.results_of = {}    -- kind name -> its own of them { def ..., by = { name -> def } }
  run.waivers = {}       -- { rule, subject, reason, by, as, on, licence, state, paper, place, on_place } ...
  run.alternates = {}    -- names in their order, and name -> bundle
  run.open_alternates = {}                       -- heads, until their table has come
  run.papers = {}        -- records that somebody else answers for, in the order declared
  run.giving = {}        -- those of them that give values instead of ours

  -- What the command line or an alternate changes.
  run.overrides = {}     -- { path, parts, value, from, tolerance, text, used; of the last declaration it met:
                         -- stood = what the script says there, put, at = its path, keys } ...
  run.overrides_of = {}  -- kind name -> which of them may be for its records: see model.build
  run.dropped = {}       -- path -> who dropped it, until it was met: then false
  run.added = {}         -- { add, name, raw, from, built } ...
  run.literals = {}      -- { path, file, line, col, value, from, used } ...: see model.literals
  run.limit_changes = {} -- { path, parts, name, whose, value, from, used, met } ...: see model.limits
  run.instead = {}       -- name of a file -> { with, from, used }, the name of the one in its place
  run.vendors = nil      -- { name ..., from, [name] = true }: those whose prices count; nil: all

  -- Files.
  run.reading = {}       -- files being run, outermost first: { path, role, whose, name, used, source, version }
  run.read = {}          -- "role path" of place, house, parts and price files
  run.named = {}         -- path -> { word, name }, as the script wrote it: for write.identity
  run.role_files = {}    -- { role, name, path, version } ... of place and house files
  run.used = {}          -- path, of a place's behind whose -> { what `use` gave }
  run.scripts = {}       -- path -> source, of files that were run
  run.bases = {}         -- role -> the names that all its files may read

  -- What was worked out.
  run.noting = false     -- keep what each result reads
  resting.cites = {}     -- sources of values from memory: see memo.cites
  run.with_tolerance = nil                       -- inputs written with a tolerance, once they were looked for

  for _, k in ipairs(keepers) do run[k.name] = k.make() end
end

run.new()


-- What follows from another fault ends, and nobody is told.
function run.follow() host.raise { code = "D000", class = "follows", text = "this follows from another fault" } end

-- Calls f in a run of its own, beside this one, which is back whole afterwards: also where f raises.
function run.aside(f, ...)
  local kept, inside, cites = {}, {}, resting.cites
  for name, value in next, run do kept[name] = value end
  for proxy, data in next, run.inside do inside[proxy] = data end
  local given, held = table.pack(...), {}
  for _, k in ipairs(keepers) do held[#held + 1] = k.hold and k.hold() end
  return host.aside(function()
    run.new()
    return f(table.unpack(given, 1, given.n))
  end, function()
    for proxy in next, run.inside do run.inside[proxy] = nil end
    for proxy, data in next, inside do run.inside[proxy] = data end
    for name in next, run do if kept[name] == nil then run[name] = nil end end
    for name, value in next, kept do run[name] = value end
    resting.cites = cites
    for _, put_back in ipairs(held) do put_back() end
  end)
end

-- A record is an empty proxy with its data inside.
function run.is_record(x)
  local data = type(x) == "table" and run.inside[x]
  return data and data.v ~= nil or false
end

return run
