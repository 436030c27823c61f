-- SPDX-License-Identifier: MIT
-- The job declared anew with something changed, in a run beside this one: for changes that shape the declarations, so
-- that putting a value into a record would not do.
--
-- changes = { [path] = value }: of an input, of a limit ("limits.height"), of a literal by its place
-- ("job.sline:12:9").  Values are what a declaration made of them: quantities, numbers, texts, records of this run.
local run = import "model.run"
local record = import "model.record"
local schema = import "model.schema"
local build = import "model.build"
local boot = import "model.boot"
local judge = import "model.judge"
local rule = import "model.rule"
local in_force = import "model.in_force"
local memo = import "model.memo"
local util = import "model.util"
local literals = import "model.literals"
local keeping = import "model.keeping"
local path_of = import "model.path"
local like = import "model.like"
local anew = {}

local inside, step = record.inside, path_of.step

-- What is known here of the job as declared: early, keeps, held, settling: see below; shapes: path -> whether it does;
-- proxies, at: by path; base: by list of rules.
run.keep("anew", function() return { shapes = {}, proxies = {}, at = {}, base = {} } end)

-- ---- values as a script would write them ---------------------------------------------------------------------------

-- Degrees that are read back as just that angle, with their letter.
local function position(value, f)
  local si = host.si(value)
  local sides = f.axis == "latitude" and "NS" or "EW"
  local degrees = math.deg(math.abs(si))
  for _, ulps in ipairs { 0, 1, -1 } do
    local d = degrees + ulps * degrees * 2 ^ -53
    if math.rad(d) == math.abs(si) then degrees = d break end
  end
  return string.format("%.25f %s", degrees, si < 0 and sides:sub(2) or sides:sub(1, 1))
end

local function written(value, f)
  local d = inside[value]
  if d and d.v and not d.group then return d.name end
  if d then
    local out = {}
    for k, v in next, d.list or d.map or d.v do out[k] = written(v, d.group and d.def.by[k] or f and f.item) end
    return out
  end
  if f and f.type == "position" and host.is_quantity(value) then return position(value, f) end
  return value
end

local function in_words(path, value)
  local d = inside[value]
  return path .. " = " .. (d and (d.name or d.path) or host.format(value))
end
anew.in_words = in_words

-- The plan of this run with these changes behind it.
local function planned(changes)
  local plan = table.move(run.declared.plan, 1, #run.declared.plan, 1, {})
  for path, value in host.sorted(changes) do
    local f = not literals.place(path) and not path_of.is_limit(path) and record.field_at(path) or nil
    plan[#plan + 1] = { path = path, value = written(value, f), from = in_words(path, value) }
  end
  return plan
end

-- Declares the job so in a run beside this one, and gives what f() gives there.
local function aside(changes, f)
  local options = { script = run.declared.script, plan = planned(changes) }
  return run.aside(function()
    boot.declare(options)
    return f()
  end)
end

-- ---- what is declared ----------------------------------------------------------------------------------------------

local function paths_of_records()
  local list = {}
  for i, proxy in ipairs(run.records) do list[i] = inside[proxy].path end
  for _, proxy in ipairs(run.unused) do list[#list + 1] = inside[proxy].path end
  return list
end

-- Calls f(path, value) for all that stands in a value; of a record that it refers to: the path.
local function each_value(path, value, f)
  local d = inside[value]
  if not d then f(path, value)
  elseif d.list then for i, v in ipairs(d.list) do each_value(step(path, i), v, f) end
  elseif d.map then for _, k in ipairs(d.names) do each_value(step(path, k), d.map[k], f) end
  elseif d.group then
    for _, g in ipairs(d.def.fields) do
      if d.v[g.name] ~= nil then each_value(step(path, g.name), d.v[g.name], f) end
    end
  else f(path, d.path, true) end
end

-- What records, and the limits of place and house, hold: { { path, value, refers } ... } and the same by path.
local function declared()
  local list, by = {}, {}
  local function add(path, value, refers)
    list[#list + 1] = { path = path, value = value, refers = refers }
    by[path] = list[#list]
  end
  for _, proxy in ipairs(run.records) do
    local rec = inside[proxy]
    local def = rec.def
    for _, f in ipairs(def.partial and {} or def.fields) do
      if rec.v[f.name] ~= nil then each_value(step(rec.path, f.name), rec.v[f.name], add) end
    end
    local items = def.list_field and rec.v[def.list_field.name]
    if items ~= nil then each_value(step(rec.path, def.list_field.name), items, add) end
  end
  for _, limits in host.sorted(run.limits) do
    for _, l in ipairs(limits) do add(in_force.path(l), l.value) end
  end
  return list, by
end

local function same(a, b)
  if host.is_quantity(a) and host.is_quantity(b) then return host.same_kind(a, b) and host.si(a) == host.si(b) end
  return a == b
end

-- What is in b and not in a, in b's order.
local function beyond(a, b)
  local has, list = {}, {}
  for _, path in ipairs(a) do has[path] = true end
  for _, path in ipairs(b) do if not has[path] then list[#list + 1] = path end end
  return list
end

-- What records and limits hold here and otherwise in the job declared with another plan, to the last bit: { { path,
-- here, there, refers } ... } in the order declared, nil where it is not there; only_here, only_there: paths of
-- records.
local function apart(plan)
  local script, records, list, by = run.declared.script, paths_of_records(), declared()
  return run.aside(function()
    boot.declare { script = script, plan = plan }
    local other, others = declared()
    local out = {}
    for _, x in ipairs(list) do
      local o = others[x.path]
      if not o or not same(x.value, o.value) then
        out[#out + 1] = { path = x.path, here = x.value, there = o and o.value, refers = x.refers or o and o.refers }
      end
    end
    for _, o in ipairs(other) do
      if not by[o.path] then out[#out + 1] = { path = o.path, there = o.value, refers = o.refers } end
    end
    local now = paths_of_records()
    out.only_here, out.only_there = beyond(now, records), beyond(records, now)
    return out
  end)
end

-- { { path, was, is, refers } ... } in the order declared: what the changes move of what records and limits hold; nil
-- where it is not there. added, gone: paths of records that are declared with them alone, or without them alone.
function anew.moved(changes)
  local list = apart(planned(changes))
  local moved = { added = list.only_there, gone = list.only_here }
  for i, x in ipairs(list) do moved[i] = { path = x.path, was = x.here, is = x.there, refers = x.refers } end
  return moved
end

-- The same of the literals that are put in as the job is declared: what they moved.
function anew.moved_by_literals()
  local plan = {}
  for _, p in ipairs(run.declared.plan) do
    if not (p.path and literals.place(p.path)) then plan[#plan + 1] = p end
  end
  local list = apart(plan)
  local moved = { added = list.only_here, gone = list.only_there }
  for i, x in ipairs(list) do moved[i] = { path = x.path, was = x.there, is = x.here, refers = x.refers } end
  return moved
end

-- ---- which changes shape -------------------------------------------------------------------------------------------

local function scripted() return run.rules[1] ~= nil or run.results[1] ~= nil end

-- Paths that the script itself reads, or the checks of declarations: what was made from them is no record's to tell.
-- Beside it known.keeps: whether rules of the script keep something.
local function early()
  local known = run.anew
  if not known.early then
    local seen = {}
    local options = { script = run.declared.script, plan = run.declared.plan, listen = function(holder, key, value)
      seen[step(holder.path, key)] = true
      return value
    end }
    known.keeps = run.aside(function()
      boot.declare(options)
      return scripted() and keeping.anything()
    end)
    known.early = seen
  end
  return known.early
end

-- Values of these are no amounts and no choices: they name something, or hold others.
local whole = { ref = true, part = true, text = true, list = true, map = true, group = true, conditions = true,
    lot = true, func = true, limit = true }

-- Fields of the job that are read past their record: by the price lists, and by who asks whether a code is kept.
local past = { currency = true, codes = true }

-- The records and groups that hold an input, outermost first, and the key of it in the last; nil where there are none.
local function holders(proxy, rest)
  local list, x = { proxy }, proxy
  for i = 1, #rest - 1 do
    local d = inside[x]
    x = d and (d.list or d.map or d.v)[rest[i]]
    if x == nil or not inside[x] then return nil end
    if inside[x].v then list[#list + 1] = x end
  end
  return list
end

-- Whether rules of the script keep something from one call to the next: then the job is declared anew for each variant.
function anew.keeps()
  return scripted() and early() and run.anew.keeps
end

-- Whether they kept something since the job as declared was judged, which values that were put in made them do; from
-- then on the job is declared anew for each variant.
function anew.kept_since()
  local known = run.anew
  if not known.held or known.held() then return false end
  early()
  known.held, known.keeps, known.shapes = nil, true, {}
  return true
end

local function find_shapes(path)
  if anew.keeps() then return true end
  local proxy, rest = record.locate(path)
  if not proxy or not rest[1] then return true end
  local def, f = inside[proxy].def, record.field_at(path)
  if def.partial or def.paper or def.name == "job" and past[rest[1]] then return true end
  if like.taken_over(inside[proxy], rest) then return true end
  local held = holders(proxy, rest)
  if not held or inside[held[#held]].def.lot then return true end
  return not f or not f.type or whole[f.type] or early()[path] or false
end

-- Whether a change of that input shapes the declarations. Any other may be put into its record, if anew.refuse lets it.
function anew.shapes(path)
  if literals.place(path) or path_of.is_limit(path) then return true end
  local known = run.anew.shapes
  if known[path] == nil then known[path] = find_shapes(path) end
  return known[path]
end

-- ---- what a declaration would refuse -------------------------------------------------------------------------------

-- Where an input is kept: { proxy of its record, rest of its path, holders }; found once.
local function known_at(path)
  local known = run.anew.at
  if not known[path] then
    local proxy, rest = record.locate(path)
    known[path] = { proxy = proxy, rest = rest, holders = holders(proxy, rest) }
  end
  return known[path]
end

-- The records whose cross-checks are asked again, each with a function that does. A paper's looks for names alone.
-- A field that is put in may be the first of its domain: what that asks of a record must be known before it is asked.
local function settling()
  local known = run.anew
  if not known.settling then
    known.settling = {}
    for _, proxy in ipairs(run.records) do
      local def = inside[proxy].def
      schema.all_fields(def)
      if def.settle and not def.paper then
        known.settling[#known.settling + 1] = { proxy = proxy, rec = inside[proxy], ask = function()
          build.settle_record(proxy)
          return true
        end }
      end
    end
  end
  return known.settling
end

local function check(holder, at, touched)
  local d = inside[holder]
  local text, help, field = d.def.check(d.v)
  if not text then return end
  local rec, path = inside[at.proxy], {}
  if holder ~= at.proxy then
    path = table.move(at.rest, 1, #record.parse_path(d.path) - #record.parse_path(rec.path), 1, path)
  end
  path[#path + 1] = field
  schema.bad(build.context(rec.def, rec.name, rec, touched), path, text, help, "D006")
end

-- What is put into which record, by path, as messages want it.
local function touched_by(changes)
  local touched = {}
  for path, value in host.sorted(changes) do
    local at = known_at(path)
    touched[at.proxy] = touched[at.proxy] or {}
    touched[at.proxy][path_of.join(at.rest)] = { from = in_words(path, value) }
  end
  return touched
end

-- Paths of changes in the order in which their records are declared, as their checks are asked then.
local function in_order(changes)
  local place, list = {}, {}
  for i, proxy in ipairs(run.records) do place[proxy] = i end
  for path in host.sorted(changes) do list[#list + 1] = { path = path, place = place[known_at(path).proxy] or 0 } end
  table.sort(list, function(a, b) return a.place < b.place or a.place == b.place and a.path < b.path end)
  return list
end

local function refuse(changes, touched)
  for _, change in ipairs(in_order(changes)) do
    local at = known_at(change.path)
    for _, holder in ipairs(at.holders) do
      if inside[holder].def.check then check(holder, at, touched[at.proxy]) end
    end
  end
  for _, s in ipairs(settling()) do build.settle_record(s.proxy, touched[s.proxy]) end
end

local function ask_each()
  for _, s in ipairs(settling()) do memo.remember(s.rec, "settled", s.ask) end
  return true
end

-- Asks what records say of each other. What a cross-check rests on is noted as for any result: once it was asked of the
-- job as declared, a variant asks only what it reaches.
local function ask_records() memo.remember(inside[record.root], "all settled", ask_each) end

-- To be called once the engine notes what is read, for variants to differ from.
function anew.ready()
  pcall(ask_records)
  if scripted() then run.anew.held = keeping.held() end
end

-- Whether a declaration would take what is put in.
local function ask(changes)
  for path in next, changes do
    for _, holder in ipairs(known_at(path).holders) do
      local d = inside[holder]
      if d.def.check and d.def.check(d.v) then return false end
    end
  end
  ask_records()
  return true
end

-- Raises what a declaration would refuse of values that are put in: what the check of a record or a group says of its
-- fields, and what records say of each other, in words as before the job said how it prints. Ranges are checked by
-- whoever makes a value.
function anew.refuse(changes)
  local ok, taken = pcall(ask, changes)
  if ok and taken then return end
  local touched = touched_by(changes)
  local sixteenths = run.sixteenths
  host.style { us = true, fraction = 0 }
  run.sixteenths = false
  local _, err = pcall(refuse, changes, touched)
  run.sixteenths = sixteenths
  host.style(run.style)
  error(err or taken, 0)
end

-- ---- judging -------------------------------------------------------------------------------------------------------

-- What outlives its run: numbers, texts, and errors as they are; of tables a copy without what scripts hold or proxies.
local function plain(x, seen)
  if type(x) == "function" then return nil end
  if type(x) ~= "table" then return x end
  if seen[x] then return seen[x] end
  if inside[x] then return inside[x].path end
  if getmetatable(x) ~= nil then return nil end
  local out = {}
  seen[x] = out
  for k, v in next, x do out[k] = plain(v, seen) end
  return out
end

-- Errors are shared, not copied.
local function errors(list)
  return list and table.move(list, 1, #list, 1, {}) or nil
end

local function portable(o)
  local out = { outcome = o.outcome, subject = o.subject, reason = o.reason, why = o.why, whys = errors(o.whys),
      waiver = plain(o.waiver, {}), refused = plain(o.refused, {}), rests = o.rests, rule = o.rule }
  local f = o.finding
  if f then
    out.finding = plain(f, { [f.unknowns or 0] = errors(f.unknowns) or 0 })
  end
  return out
end

-- The rules of the run beside this one that stand for those of this one.
local function there(rules)
  if not rules then return nil end
  local list = {}
  for _, def in ipairs(rules) do
    list[#list + 1] = def.scripted and (run.rules.by[def.id] or nil) or not def.scripted and def or nil
  end
  return list
end

-- These rules and all of the script's, in their order: where those keep something, each may change what the next says.
local function with_all_of_script(rules)
  if not rules then return nil end
  local list = {}
  for _, def in ipairs(rules) do if not def.scripted then list[#list + 1] = def end end
  for _, def in ipairs(rule.loaded()) do if def.scripted then list[#list + 1] = def end end
  return list
end

-- The outcomes of these rules alone.
local function of_rules(outcomes, rules)
  if not rules then return outcomes end
  local wanted, list = {}, {}
  for _, def in ipairs(rules) do wanted[def.id] = true end
  for _, o in ipairs(outcomes) do if wanted[o.rule.id] then list[#list + 1] = o end end
  return list
end

-- The bits of a citation's place in one run as those of its place in this one.
local function rests_here(bits, cites)
  local own = 0
  for i, cite in ipairs(cites) do
    if (bits or 0) >> (i - 1) & 1 == 1 then
      local at
      for k, c in ipairs(resting.cites) do at = at or c == cite and k end
      if not at then
        at = #resting.cites + 1
        resting.cites[at] = cite
      end
      own = own | 1 << (at - 1)
    end
  end
  return own
end

local function proxy_of(path)
  if path == "job" then return record.root end
  local known = run.anew.proxies
  if known[path] == nil then
    local ok, proxy, rest = pcall(record.locate, path)
    if not ok and not host.class(proxy) then error(proxy, 0) end
    known[path] = ok and proxy and not rest[1] and proxy or false
  end
  return known[path] or nil
end

-- Where an input, a limit or a literal stands in the person's text.
local function place_of(path)
  local file, line, col = literals.place(path)
  if file then
    for name in host.sorted(run.scripts) do
      local spot = literals.is_called(name, file) and host.spot(name, line, col)
      if spot and spot.hit then return spot end
    end
  elseif path_of.is_limit(path) then
    local l = import("model.limits").at(path)
    if l then return l.place end
  else
    local proxy, rest = record.locate(path)
    local rec = inside[proxy]
    local from = rec and like.giver(rec, rest)
    if from and (from.source or 0) ~= 0 then return host.span(from.source, from.mark, from.line, rest) end
  end
  return { source = 0, line = 0, col = 0, len = 0 }
end
anew.place_of = place_of

-- Raises that the script declares other records under the changes.
local function refuse_shape(changes, added, gone)
  local whens, first = {}, nil
  for path, value in host.sorted(changes) do
    first = first or path
    whens[#whens + 1] = path .. " is " .. (in_words(path, value):sub(#path + 4))
  end
  local s, what = place_of(first), {}
  if #gone > 0 then what[1] = util.list(gone) .. " no more" end
  if #added > 0 then what[#what + 1] = util.list(added) .. " as well" end
  host.raise { code = "D019", text = "the script declares " .. util.list(what) .. " when " .. util.list(whens),
      help = "what another number of declarations makes of the job is another job: give it a script or an alternate",
      source = s.source, line = s.line, col = s.col, len = s.len, added = added, gone = gone }
end

local function judge_aside(changes, rules, reshaped)
  local records, added, gone, keeps = paths_of_records(), {}, {}, anew.keeps()
  local outcomes, cites = aside(changes, function()
    local now = paths_of_records()
    added, gone = beyond(records, now), beyond(now, records)
    if not reshaped and (added[1] or gone[1]) then return nil end
    local list = {}
    local asked = there(rules)
    for _, o in ipairs(of_rules(judge.all(keeps and with_all_of_script(asked) or asked), asked)) do
      list[#list + 1] = portable(o)
    end
    return list, resting.cites
  end)
  if not outcomes then refuse_shape(changes, added, gone) end
  for _, o in ipairs(outcomes) do
    if o.rule.scripted then o.rule = run.rules.by[o.rule.id] or plain(o.rule, {}) end
    o.proxy, o.rests = o.subject and proxy_of(o.subject), rests_here(o.rests, cites)
  end
  return outcomes, added, gone
end

-- What f() gives in the job declared anew with these changes: copies of tables, without records and functions.
function anew.with(changes, f)
  return aside(changes, function()
    local got = table.pack(f())
    for i = 1, got.n do got[i] = plain(got[i], {}) end
    return table.unpack(got, 1, got.n)
  end)
end

-- The outcomes of the job declared anew with these changes, as judge.all gives them for these rules (nil: all that are
-- loaded), but with tables of their own: no limit, record or function of the other run is in them, and proxy is this
-- run's record of that path, or nil.  nil, and the error, where the job is refused so, or where it declares other
-- records, unless `reshaped` lets it: then second and third what is added and gone.
function anew.judge(changes, rules, reshaped)
  local ok, outcomes, added, gone = pcall(judge_aside, changes, rules, reshaped)
  if ok then return outcomes, added, gone end
  if type(outcomes) ~= "table" then error(outcomes, 0) end
  return nil, outcomes
end

-- The outcomes of the job as declared, where its rules keep something.
function anew.base(rules)
  local known, name = run.anew.base, rules or "loaded"
  if not known[name] then
    local outcomes, why = anew.judge({}, rules)
    if not outcomes then error(why, 0) end
    known[name] = outcomes
  end
  return known[name]
end

return anew
