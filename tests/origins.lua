-- SPDX-License-Identifier: MIT
-- Where a number is said to come from, held against what really changes it: run in the host's Lua by origin_test.c.
-- Each function raises with what is wrong, or gives how much it looked at.
local boot, noting = import "model.boot", import "model.noting"
local record, schema, graph = import "model.record", import "model.schema", import "model.graph"
local run, memo = import "model.run", import "model.memo"
local trace, worksheet = import "write.trace", import "write.worksheet"
local document, words = import "write.document", import "write.words"
local origins = {}

local function fail(...) error(table.concat { ... }, 0) end

-- Declares a job with some inputs changed: { path = value or text of the command line }.
local function declare(script, settings)
  host.beside(script)
  local plan = {}
  for path, v in host.sorted(settings or {}) do
    plan[#plan + 1] = type(v) == "string" and boot.setting(path .. "=" .. v) or
        { path = path, value = v, from = "test" }
  end
  boot.declare { script = script, plan = plan }
end

-- Calls f(node, path) for every result of the job that could be worked out, noted.
local function each_result(f)
  noting.start()
  record.each_record(function(proxy)
    local rec = record.inside[proxy]
    for _, def in ipairs(schema.results(rec.def)) do
      local v, _, node = graph.try(proxy, def.name)
      if v ~= nil then f(node, record.step(rec.path, def.name)) end
    end
  end)
end

local function name_of(origin)
  local names, one = trace.names(origin)
  return (one and "" or "from ") .. table.concat(names, ", "), names
end

-- ---- two equal inputs ----------------------------------------------------------------------------------------------

-- "path member" -> what it is said to come from; with the rows of the primitives' sheets, and the names one by one, by
-- the same key.
local function told()
  local by, rows, parts = {}, {}, {}
  each_result(function(node, path)
    for member, origin in next, trace.origins(node).members do
      local key = path .. " " .. member
      by[key], parts[key] = name_of(origin)
    end
    if node.def.op then
      local _, sheet = worked_sheet(node.value)
      for _, r in ipairs(sheet) do
        if r.kind == "given" and r.member then
          local item = r.item and "[" .. r.item .. "]" .. (r.field and "." .. r.field or "") or ""
          rows[path .. " " .. r.member .. item] = host.si(r.value)
        end
      end
    end
  end)
  return by, rows, parts
end

-- Inputs that are amounts, by what they can be equal to.
local function amounts()
  local by, order = {}, {}
  record.walk(function(path, v)
    local kind
    if host.is_quantity(v) then
      local dim, _, currency = host.unit(v)
      kind = currency == "" and dim or nil
    elseif type(v) == "number" then kind = math.type(v) end
    local told_of = kind and run.told[path] == nil
    if told_of then
      if not by[kind] then by[kind] = {}; order[#order + 1] = kind end
      table.insert(by[kind], { path = path, value = v })
    end
  end)
  return by, order
end

local function chance(seed)
  local x = seed
  return function(n)
    x = (x * 6364136223846793005 + 1442695040888963407)
    return ((x >> 33) % n) + 1
  end
end

local function near(v, by)
  if host.is_quantity(v) then return host.like(v, host.si(v) + by * (math.abs(host.si(v)) * 1e-4 + 1e-7)) end
  if math.type(v) == "integer" then return v + by end
  return v + by * 1e-5
end

local function try(script, settings)
  local ok, names, rows, parts = pcall(function()
    declare(script, settings)
    return told()
  end)
  if ok then return names, rows, parts end
  if type(names) ~= "table" then error(names, 0) end          -- no message for a person
end

local function set(list)
  local out = {}
  for _, name in ipairs(list) do out[name] = true end
  return out
end

-- Whether a list of names is what could be said between two others: each of its names is one of theirs, and it has all
-- that both have.
function origins.between(list, less, more)
  local has, l, m = set(list), set(less), set(more)
  for name in next, has do if not l[name] and not m[name] then return false end end
  for name in next, l do if m[name] and not has[name] then return false end end
  return true
end

-- Makes pairs of inputs equal, drawn by the seed: what each member is said to come from is what was said when one of
-- them was a hair less or a hair more, and a member that is said to be one of them follows that one, not the other.
--
-- A count cannot be a hair more. One row of modules more makes other lengths and weights, and what is chosen by their
-- size ("the heaviest piece") may turn with others of them: half of a post's weight is less than a bag of concrete with
-- two rows, and more with three. So of counts a list may stand between the two; a member that is said to be a single
-- thing may not, nor one of which both say the same.
function origins.equal(script, seed, pairs_wanted)
  declare(script)
  local by, kinds = amounts()
  local draw, looked, followed, members = chance(seed), 0, { all = 0 }, 0
  for _ = 1, pairs_wanted * 8 do
    if looked == pairs_wanted then break end
    local kind = kinds[draw(#kinds)]
    local a, b = by[kind][draw(#by[kind])], by[kind][draw(#by[kind])]
    local as_a = math.type(a.value) == "integer" and a.value or host.like(a.value, host.si(a.value))
    local equal, _, parts
    if a ~= b then equal, _, parts = try(script, { [b.path] = as_a }) end
    if equal then
      local less, _, parts_of_less = try(script, { [b.path] = near(a.value, -1) })
      local more, rows_of_more, parts_of_more = try(script, { [b.path] = near(a.value, 1) })
      if less and more then
        looked = looked + 1
        for key, name in host.sorted(equal) do
          members = members + 1
          local l, m = less[key], more[key]
          local said = not l and not m or l == name or m == name
          if not said and math.type(a.value) == "integer" and l and m and l ~= m and name:find "^from " then
            said = origins.between(parts[key], parts_of_less[key], parts_of_more[key])
          end
          if not said then
            fail(script, ": with ", b.path, " = ", a.path, ", ", key, " is said to come from ", name, ", else from ",
                tostring(l), " or ", tostring(m))
          end
        end
        for _, x in ipairs { a, b } do
          local other = x == a and b or a
          local moved = near(a.value, 1)
          local names, rows = more, rows_of_more                -- b moved, and a as it is
          if x == a then names, rows = try(script, { [a.path] = moved, [b.path] = a.value }) end
          for key, name in host.sorted(names or {}) do
            if rows[key] and (equal[key] == x.path or equal[key] == other.path) and name == equal[key] then
              local want = host.si(equal[key] == x.path and moved or a.value)
              if rows[key] ~= want and type(a.value) ~= "number" or math.abs(rows[key] - want) > 1e-12 then
                fail(script, ": ", key, " is said to be ", equal[key], ", but is ", rows[key], " where that is ", want)
              end
              followed[kind], followed.all = (followed[kind] or 0) + 1, followed.all + 1
            end
          end
        end
      end
    end
  end
  return looked, members, followed
end

-- ---- the foot of a sheet -------------------------------------------------------------------------------------------

local recorded                      -- answers of all primitives, while somebody counts
for _, op in ipairs(primitives()) do
  local primitive = memo.primitives[op.name]
  memo.primitives[op.name] = function(input)
    local worked = primitive(input)
    if recorded then recorded[#recorded + 1] = worked end
    return worked
  end
end

-- What a sheet reads and its numbers do not rest on is not counted.
local unnoted = import "model.unnoted"
local call = unnoted.call
function unnoted.call(f, ...)
  if not recorded then return call(f, ...) end
  local kept = recorded
  recorded = nil
  local packed = table.pack(memo.afresh(f, ...))
  recorded = kept
  return table.unpack(packed, 1, packed.n)
end

-- "basis: citation (symbols)" of all rows that primitives looked up while the body of a sheet was written, none of
-- which was worked out before.
local function counted(sheet)
  recorded = {}
  local d = document.new("count", "Count")
  memo.afresh(d.guarded, d, sheet.whole)
  local list = recorded
  recorded = nil
  local want = {}
  for _, worked in ipairs(list) do
    local _, rows = worked_sheet(worked)
    for _, r in ipairs(rows) do
      if r.kind == "table" and r.basis ~= "read" and r.basis ~= "derived" then
        want[r.basis .. ": " .. words.cite(r.cite) .. " (" .. r.symbol .. ")"] = true
      end
    end
  end
  return want, #list
end

local function printed(sheet, outcomes, script)
  local d = import "write.sheet"(outcomes, 0, sheet.name, { command = "sheet", words = { script, sheet.name }, set = {},
      script = script })
  local function same(v) return v end
  local got, text = {}, ""
  for _, b in ipairs(d.blocks) do text = text .. "\n" .. (b.text or "") end
  for _, fact in ipairs(d.facts) do
    for _, source in ipairs(fact[1] == "sources" and fact[2] { object = same, array = same } or {}) do
      local by = {}
      for _, pair in ipairs(source) do by[pair[1]] = pair[2] end
      for _, symbol in ipairs(by.symbols) do got[by.known .. ": " .. by.cite .. " (" .. symbol .. ")"] = true end
      -- A person reads it by its name, behind how it is known.
      local group = text:match("\n" .. by.known:gsub("%-", "%%-") .. ": ([^\n]*)") or ""
      if not group:find(by.says and by.says .. " (" or "(" .. by.cite .. ")", 1, true) then
        fail(script, ", sheet ", sheet.name, ": the foot does not name ", by.says or by.cite)
      end
    end
  end
  return got
end

-- The foot of one sheet as a text, unwrapped.
function origins.foot_text(script, name)
  declare(script)
  local outcomes = boot.judge()
  local d = import "write.sheet"(outcomes, 0, name, { command = "sheet", words = { script, name }, set = {},
      script = script })
  return (import "write.text"(d, { width = 2000 }):match "Numbers that were not read.*$" or "")
end

-- Every sheet of a job that is printed says at its foot just what a count of its own finds.
function origins.feet(script, settings)
  declare(script, settings)
  local outcomes = boot.judge()
  local looked, rows = 0, 0
  for _, s in ipairs(import("write.sheets").state(outcomes)) do
    if not s.withheld and s.sheet.whole then
      local want, calls = counted(s.sheet)
      local got = printed(s.sheet, outcomes, script)
      for row in host.sorted(want) do
        rows = rows + 1
        if not got[row] then fail(script, ", sheet ", s.sheet.name, ": the foot leaves out ", row) end
      end
      for row in host.sorted(got) do
        if not want[row] then fail(script, ", sheet ", s.sheet.name, ": nothing on it rests on ", row) end
      end
      if calls > 0 then looked = looked + 1 end
    end
  end
  return looked, rows
end

-- ---- formulas ------------------------------------------------------------------------------------------------------

-- What the build made of each formula gives what the evaluator gives, and every name in it is shown with its origin.
function origins.formulas(script)
  declare(script)
  local n = 0
  each_result(function(node, path)
    local def = node.def
    if not def.formula then return end
    n = n + 1
    local again = import("model.formula").read(def.formula).run(node.rec.proxy)
    if host.si(again) ~= host.si(node.value) or math.type(again) ~= math.type(node.value) then
      fail(path, " is ", host.format(node.value), ", its formula by the evaluator ", host.format(again))
    end
    local d = document.new("formula", "Formula")
    worksheet.formula(d, node)
    local names = import("model.formula").of(def).names
    if #d.blocks ~= #names + 1 then fail(path, ": ", #d.blocks - 1, " of ", #names, " names are shown") end
    for i, name in ipairs(names) do
      if d.blocks[i].symbol ~= name.path or not d.blocks[i].says:find(name.keys[#name.keys], 1, true) then
        fail(path, ": ", name.path, " is said to come from ", d.blocks[i].says)
      end
    end
  end)
  return n
end

-- ---- what is spared ------------------------------------------------------------------------------------------------

local comparisons = import "write.comparisons"

-- Calls f with each check run again whole for each other value, and nothing of a run kept for the next one.
local function run_whole(f, ...)
  local first, again = comparisons.first, noting.again
  comparisons.first = function() return false end
  function noting.again(node, g, how)
    return again(node, g, { instead = how.instead, calls = how.calls })
  end
  local packed = table.pack(pcall(f, ...))
  comparisons.first, noting.again = first, again
  if not packed[1] then error(packed[2], 0) end
  return table.unpack(packed, 2, packed.n)
end

local function list_of(origin) return origin and name_of(origin) or "" end

-- Where the numbers of each finding come from, and the members of the primitives that its check calls, is the same
-- whether the check is run again whole or only what another value may move; and where only outputs of primitives are
-- asked for, what trace.output finds of it.  Gives how many findings there were, how many members, and outputs.
function origins.spared(script, settings)
  declare(script, settings)
  local findings, members, outputs = 0, 0, 0
  for _, o in ipairs((import("host.judging").judge(boot))) do
    if o.finding and o.proxy then
      local name = o.rule.id .. " of " .. tostring(o.subject)
      local function origins_of()
        run.noted = {}
        return trace.origins(trace.rule(o.rule, o.proxy))
      end
      local now, whole = origins_of(), run_whole(origins_of)
      findings = findings + 1
      local function compare(a, b, of)
        for member, origin in next, b do
          members = members + 1
          if list_of(a[member]) ~= list_of(origin) then
            fail(name, of, ", ", member, ": ", list_of(a[member]), ", and run whole ", list_of(origin))
          end
        end
      end
      compare(now.members, whole.members, "")
      if #now.calls ~= #whole.calls then fail(name, ": ", #now.calls, " calls, and run whole ", #whole.calls) end
      for i, call in ipairs(whole.calls) do compare(now.calls[i], call, ", call " .. i) end
      run.noted = {}
      local asked = trace.from_outputs(trace.rule(o.rule, o.proxy))
      for _, member in ipairs { "value", "limit", "got", "want" } do
        local _, a = trace.output(asked[member])
        local _, b = trace.output(whole.members[member])
        if b then outputs = outputs + 1 end
        if (a and a.path) ~= (b and b.path) then
          fail(name, ", ", member, " is ", a and a.path or "no output", ", and run whole ", b and b.path or "none")
        end
      end
    end
  end
  return findings, members, outputs
end

-- ---- for single questions ------------------------------------------------------------------------------------------

-- The text of `explain`, unwrapped.
function origins.explained(script, what, settings)
  declare(script, settings)
  noting.start()
  return import "write.text"(import("write.explain").explain(boot, what), { width = 500 })
end

-- The first paragraphs of what `check` says, and the verdict for programs.
function origins.first_screen(script, settings, rules)
  declare(script, settings)
  if rules then rules() end
  local outcomes, status = import("host.judging").judge(boot)
  local options = { command = "check", words = { script }, set = {}, script = script }
  local report = import "write.report"
  return import "write.text"(report.check(outcomes, status, options), { width = 2000 }), outcomes,
      import("write.json")(report.check(outcomes, status, options), options),
      import("write.html")(report.check(outcomes, status, options), options),
      import("write.tap")(report.check(outcomes, status, options), { before = "" })
end

return origins
