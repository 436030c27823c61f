-- SPDX-License-Identifier: MIT
-- Puts the language together: engine, library, and one job's run.
import "model.util"
local run = import "model.run"
local schema = import "model.schema"
local record = import "model.record"
local build = import "model.build"
local declare = import "model.declare"

assert(schema.kinds.job)               -- loaded: there is no run without one

local boot = { schema = schema, record = record, declare = declare }

-- measured(...) and its like come out of an alternate as tables, since they are a run's own.
local function retold(value)
  if type(value) ~= "table" then return value end
  local t = value["told value"]
  if t then return build.teller(t.how)(retold(t.value), t.by) end
  local out = {}
  for k, v in next, value do out[k] = retold(v) end
  return out
end

-- What stands at literals that are put in is told beside any error: the text shows what was there.
local function run_script(path)
  if not run.literals[1] then return declare.run(path) end
  local ok, err = pcall(declare.run, path)
  if ok then return end
  if type(err) == "table" and not err.told_literals then
    err.told_literals = true
    for i = 0, #(err.more or {}) do
      local e = i == 0 and err or err.more[i]
      e.notes = e.notes or {}
      for _, o in ipairs(run.literals) do
        if string.sub(e.text, 1, #o.from) ~= o.from then e.notes[#e.notes + 1] = "put in: " .. o.from end
      end
    end
  end
  error(err, 0)
end

-- Whose prices count.
local function only_vendors(p)
  local list = { from = p.from }
  for i, name in ipairs(p.vendors) do list[i], list[name] = name, true end
  return list
end

local function put_in(p)
  if p.drop then run.dropped[p.drop] = p.from
  elseif p.add then
    run.added[#run.added + 1] = { add = p.add, name = p.name, raw = retold(p.raw), from = p.from }
  elseif p.file then run.instead[p.file] = { with = p.with, from = p.from }
  elseif p.vendors then run.vendors = only_vendors(p)
  else import("model.overrides").add(p.path, retold(p.value), p.from, p.tolerance, p.text) end
end

-- How values print: as the job says.
local function set_style(us)
  run.sixteenths = us and record.given(record.root, "lengths") ~= "decimal"
  run.style = { us = us, fraction = run.sixteenths and 16 or 0 }
  host.style(run.style)
end

-- Declares a job in a fresh run. options: { script, plan = { { path, value, from, tolerance, text }, { drop, from },
-- { add, name, raw, from }, { file, with, from } or { vendors = { name ... }, from } ... }, listen = who listens to
-- what is read meanwhile, as record.watch has it, gathers = whether all that is wrong is told, or the first }.  text:
-- as the value was written on the command line, to be read as its field wants it; without it, value.  What an alternate
-- brings, with its name as `alternate`, is put in first, wherever it stands in the plan: anything else stands over it.
function boot.declare(options)
  run.new()
  local plan = options.plan or {}
  run.declared = { script = options.script, plan = plan }
  run.gathers = options.gathers or false
  for _, p in ipairs(plan) do if p.alternate then put_in(p) end end
  for _, p in ipairs(plan) do if not p.alternate then put_in(p) end end
  record.watch(options.listen or false)
  run_script(options.script)
  set_style(record.root.units == "US")
  record.watch(false)
end

-- Runs a file by itself in a fresh run, with or without a job, and gives its source.
function boot.alone(script)
  run.new()
  run.alone, run.declared = true, { script = script, plan = {} }
  local file = declare.alone(script)
  set_style(not record.only "job" or record.root.units == "US")
  return file.source
end

-- What a text of the command line or of a cell is where no field says what it wants; see model.written.
function boot.value(text, refuse) return import("model.written").plain(text, refuse) end

-- The name of a file there, in quotes or not.
function boot.file(text) return import("model.written").unquoted(text) end

-- Names joined by " + ", each in quotes or not.
function boot.joined(text)
  local list, at = {}, 1
  while at <= #text + 1 do
    local name, stop = text:match('^%s*"([^"]*)"%s+()%+%s', at)
    if not name then name, stop = text:match("^%s*(.-)%s+()%+%s", at) end
    if not name then name, stop = text:match('^%s*"([^"]*)"%s*$', at) or text:match("^%s*(.-)%s*$", at), #text + 1 end
    list[#list + 1] = name
    at = stop + 1
  end
  return list
end

-- "path=value" of the command line: an input, or "file NAME=OTHER" or "vendors=NAME + NAME".
function boot.setting(text)
  local path, value = text:match("^%s*(.-)%s*=%s*(.-)%s*$")
  local from = "--set " .. text
  local function refuse(why)
    host.raise { code = "U001", text = from .. ": " .. why, help = "as in --set rack.east.tilt=30deg" }
  end
  local unsafe, mend = host.unsafe(text)
  if unsafe then host.raise { code = "U001", text = "--set holds " .. unsafe, help = mend } end
  if value == "" then refuse "no value behind the equal sign" end
  if not path or path == "" then refuse "write --set PATH=VALUE" end
  local file = path:match "^file%s+(.+)$"
  if file then return { file = file, with = boot.file(value), from = from } end
  if path == "vendors" then return { vendors = boot.joined(value), from = from } end
  local v, tolerance = boot.value(value, refuse)
  return { path = path, value = v, tolerance = tolerance, text = value, from = from }
end

-- What an alternate of the job that was declared changes, as a plan for a run of its own.
function boot.alternate_plan(name)
  local plan = import("model.alternate").plan(name)
  for _, p in ipairs(plan) do p.alternate = name end
  return plan
end

function boot.judge()
  return import("model.judge").all(import("model.rule").all())
end

return boot
