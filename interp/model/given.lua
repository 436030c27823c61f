-- SPDX-License-Identifier: MIT
-- Values given instead of worked out: by the paper of an engineer, a maker or an office.  A kind of paper says so
-- (paper = true), a result says what of a paper it may be (given = "loads.up"), and the kind that the result is of says
-- where a paper would name it (on_paper = function(post) return { { "east", "front" }, { "front" } } end, nearest
-- first).  Loaded with the first paper.
--
-- A paper that was not made for the job makes what it gives unknown: it is not worked out in its place, since somebody
-- who may know more said another number.
local run = import "model.run"
local schema = import "model.schema"
local record = import "model.record"
local memo = import "model.memo"
local util = import "model.util"
local conditions = import "model.conditions"
local given = {}

local inside = record.inside

-- ---- finding -------------------------------------------------------------------------------------------------------

local function part(x, key)
  local d = inside[x]
  if not d then return nil end
  if d.names then return x[key] end
  return d.def and d.def.by[key] and record.given(x, key) or nil
end

-- What a paper says under field and word of a record, and where; nil if it says nothing of it.
local function said(paper, proxy, field, word)
  local places = inside[proxy].def.on_paper
  if not places or not inside[paper].def.by[field] then return nil end
  local all = record.given(paper, field)
  for _, keys in ipairs(all and places(proxy) or {}) do
    local x = all
    for _, key in ipairs(keys) do x = x and part(x, key) end
    local v = x and part(x, word)
    if v ~= nil then return v, record.step(inside[x].path, word) end
  end
end

local halves = {}        -- "loads.up" -> { "loads", "up" }: there are as many as results that papers may give

local function split(path)
  local two = halves[path]
  if not two then
    two = { path:match("^([^.]+)%.(.+)$") }
    halves[path] = two
  end
  return two[1], two[2]
end

-- The paper that gives "loads.up" of a record, the value, and where it stands; nil without one.
function given.paper(proxy, path)
  local field, word = split(path)
  for _, paper in ipairs(run.giving) do
    local v, at = said(paper, proxy, field, word)
    if v ~= nil then return paper, v, at end
  end
end

-- ---- whether it was made for the job -------------------------------------------------------------------------------

-- engineer Ione Castellan's paper S1 to S4
function given.title(paper)
  local d = inside[paper]
  return d.def.name .. " " .. d.name .. "'s paper " .. record.given(paper, "paper")
end

local function refuse(paper, path, text, tool, lacks)
  host.raise { code = "G005", class = "missing", text = given.title(paper) .. " " .. text, lacks = lacks,
      path = inside[paper].path .. "." .. path, who = inside[paper].name, tool = tool or "a paper made for this job" }
end

-- The items of a list: "300 mm, 1347 mm"; "size 2x4, from back" of a group among them.
local function listed(v)
  local d, parts = inside[v], {}
  if not d then return type(v) == "userdata" and host.format(v) or tostring(v) end
  if d.list then
    for i = 1, #v do parts[i] = listed(v[i]) end
  else
    for _, f in ipairs(d.def.fields) do
      local x = record.given(v, f.name)
      if x ~= nil then parts[#parts + 1] = f.name .. " " .. listed(x) end
    end
  end
  return table.concat(parts, ", ")
end

-- A value here and a paper's, with as many digits as tell them apart.
local function both(f, here, paper_value)
  local digits = host.is_quantity(here) and host.digits_apart(here, paper_value) or nil
  local function show(v, decimal)
    if type(v) == "userdata" then return host.format(v, nil, digits, decimal) end
    if f.type == "list" then return listed(v) end
    if f.type == "ratio" then return host.format(v, "%", digits) end
    return inside[v] and inside[v].name or tostring(v)
  end
  local a, b = show(here), show(paper_value)
  if a == b then return show(here, true), show(paper_value, true) end       -- alike to a sixteenth of an inch
  return a, b
end

local ways = { more = "more is worse", less = "less is worse", other = "it was made for that alone" }

local function whole_name(paper) return inside[paper].def.name .. " " .. inside[paper].name end

-- Definitions of what is worked out of a paper, by what it is about: they are asked for again and again.
run.keep("of_papers", function() return {} end)

-- make(paper, more or about) gives one.
local function of_paper(paper, about, make, more)
  local all = run.of_papers[paper]
  if not all then all = {}; run.of_papers[paper] = all end
  local def = all[about]
  if not def then
    def = make(paper, more or about)
    def.paper = paper
    all[about] = def
  end
  return def
end

local function hold(rec, def)
  local paper = def.paper
  conditions.each(paper.made_for, rec.proxy, function(f, path, here, paper_value, group, why)
    if conditions.worse(f, here, paper_value, group) then
      local a, b = both(f, here == nil and paper_value or here, paper_value)
      refuse(paper, "made_for", "is made for " .. record.step(path, f.name) .. " = " .. b .. ", and here " ..
          (here == nil and (why or "there is none") or "it is " .. a .. ": " .. ways[f.worse]))
    end
  end)
  return true
end

local function on_conditions(paper)
  return { name = "made_for of " .. whole_name(paper), find = hold,
      says = "whether the job is as the paper's, or better" }
end

-- Whether a job's values are none worse than those that a paper was made for. Once for all that hangs on one record.
local function conditions_hold(paper, first)
  return memo.value(first, of_paper(paper, "conditions", on_conditions))
end

local nothing = {}

-- What a paper's made_for names for a record, as conditions.named; raises where its date says that it speaks of nothing
-- yet, whatever the job is like.
local function named(paper, rec)
  local on = record.root.on
  if paper.dated > on then                                     -- dates as texts are in their order
    refuse(paper, "dated", "is dated " .. paper.dated .. ", after the day judged, " .. on, "its date")
  end
  local made_for = record.given(paper, "made_for")
  return made_for and conditions.named(made_for, rec.proxy) or nothing
end

-- Whom to ask for what of a paper that does not name these, with the lines to write: its values, not the job's.
function given.wanted(paper, lacks)
  local lines = lacks[1] and conditions.lines(lacks) or inside[paper].def.by.made_for.example
  return record.given(paper, "made_for") and "these facts, for made_for: " .. lines or
      "what it was made for: made_for = { " .. lines .. " }"
end

-- Raises what a paper would have to name; so_its: of which words of it.
local function refuse_lacks(paper, lacks, so_its)
  refuse(paper, "made_for", record.given(paper, "made_for") and
      "does not say for which " .. util.list(lacks) .. " it was made" .. so_its or
      "does not say what it was made for, so it covers nothing", given.wanted(paper, lacks), true)
end

local function speaks(rec, def)
  local by_name, lacks = named(def.paper, rec), {}
  for _, path in ipairs(inside[def.paper].def.by[def.field].needs or {}) do
    -- What the record has not at all, such as other tilts of modules that keep one, no paper need name.
    if not by_name[path] and not conditions.idle(path, rec.proxy) then lacks[#lacks + 1] = path end
  end
  if lacks[1] then
    refuse_lacks(def.paper, lacks, ", so its " .. def.field .. " are none for " .. tostring(rec.proxy))
  end
  return true
end

local function on_words(paper, field)
  return { name = field .. " by " .. whole_name(paper), field = field, find = speaks,
      says = "whether the paper was made for it" }
end

-- Raises why not, where a paper's field does not hold for a record. Worked out once for all that hangs on one record.
function given.covers(paper, proxy, field)
  local first = record.line_of(proxy)[1]
  memo.value(inside[first], of_paper(paper, field, on_words))
  return conditions_hold(paper, inside[first])
end

-- The needs of which a paper says nothing.  It names the same in every variant, as a rule: what was found for that very
-- table is kept with the definition.
local function unsaid(def, needs, by_name)
  if def.named ~= by_name then def.named, def.unsaid = by_name, {} end
  local list = def.unsaid[needs]
  if not list then
    list = host.room(0, #needs)
    for i = 1, #needs do if not by_name[needs[i]] then list[#list + 1] = needs[i] end end
    def.unsaid[needs] = list
  end
  return list
end

-- What of these the job has; nil where that is nothing. idle: what is known of paths, true, false or the error that
-- says why it cannot be told, which is raised.
local function lacking(paths, idle, proxy)
  local lacks
  for i = 1, #paths do
    local path = paths[i]
    local known = idle[path]
    if known == nil then
      local ok, found = pcall(conditions.idle, path, proxy)
      if not ok and not host.class(found) then error(found, 0) end
      known = found
      idle[path] = known
    end
    if known ~= true and known ~= false then error(known, 0) end
    if not known then
      lacks = lacks or {}
      lacks[#lacks + 1] = path
    end
  end
  return lacks
end

-- Of the subjects that a paper names and that a record is about, what it does not say and would have to: word ->
-- { path ... }, or the error that says why that cannot be told. All of them at once: their needs are much the same.
local function find_lacks(rec, def)
  local by_name, idle, met, found = named(def.paper, rec), {}, {}, {}
  local subjects, kind = def.subjects(def.paper), rec.def.name
  for i = 1, #subjects do
    local subject = subjects[i]
    for k = 1, #subject.each do
      if subject.each[k] == kind then
        local needs = subject.needs
        if met[needs] == nil then                              -- several subjects have the same
          local ok, lacks = pcall(lacking, unsaid(def, needs, by_name), idle, rec.proxy)
          if not ok and not host.class(lacks) then error(lacks, 0) end
          met[needs] = lacks or false
        end
        found[subject[1]] = met[needs] or nil
      end
    end
  end
  return found
end

local function on_subjects(paper, subjects)
  return { name = "not said by " .. whole_name(paper), find = find_lacks, subjects = subjects,
      says = "what the paper would have to name" }
end

-- Of one of the subjects that a paper names, what it does not say for a record: paths, nil, or an error.
-- subjects(paper): all that it names.
function given.lacks(paper, proxy, subject, subjects)
  local first = inside[record.line_of(proxy)[1]]
  return memo.value(first, of_paper(paper, "covers", on_subjects, subjects))[subject[1]]
end

-- Raises why not, where a paper does not cover one of the subjects that it names for a record.
function given.covers_subject(paper, proxy, subject, subjects)
  local lacks = given.lacks(paper, proxy, subject, subjects)
  if lacks and host.class(lacks) then host.again(lacks) end
  if lacks or not record.given(paper, "made_for") then refuse_lacks(paper, lacks or subject.needs, "") end
  return conditions_hold(paper, inside[record.line_of(proxy)[1]])
end

-- ---- the value of a result -----------------------------------------------------------------------------------------

-- What the paper says of a result, or what find(rec, def) works out.
function given.value(rec, def, find)
  local paper, value = given.paper(rec.proxy, def.given)
  if not paper then return find(rec, def) end
  given.covers(paper, rec.proxy, (split(def.given)))
  if def.takes then value = def.takes(rec.proxy, record.root, value, paper) end
  if value == nil then return find(rec, def) end
  return value
end

-- Calls f as if there were no papers.
function given.without(f, ...)
  local before = run.giving
  run.giving = {}
  local packed = table.pack(pcall(memo.afresh, f, ...))
  run.giving = before
  if not packed[1] then error(packed[2], 0) end
  return table.unpack(packed, 2, packed.n)
end

-- ---- once all is declared ------------------------------------------------------------------------------------------

-- Fields of a paper whose values are named by place: { field, word } ...
local function words_of(def)
  local list = {}
  for _, f in ipairs(def.fields) do
    if f.type == "map" then
      for _, g in ipairs(f.item.fields) do
        if g.type ~= "group" then list[#list + 1] = { f.name, g.name } end
      end
    end
  end
  return list
end
given.words_of = words_of

-- The records that papers can name.
local function named_on_paper()
  local list = {}
  local function look(def)
    if def.on_paper then for _, x in ipairs(record.all(def.name)) do list[#list + 1] = x end end
    for _, child in ipairs(schema.children(def)) do look(child) end
  end
  for _, group in host.sorted(run.groups) do if not group.def.parent then look(group.def) end end
  return list
end

-- Each place that a field names is one of the job's.
local function check_places(paper, records, refuse_at)
  local known, first = {}, {}
  for _, x in ipairs(records) do
    for _, keys in ipairs(inside[x].def.on_paper(x)) do
      known[table.concat(keys, ".")] = true
      if not first[keys[1]] then first[keys[1]], first[#first + 1] = true, keys[1] end
    end
  end
  for _, f in ipairs(inside[paper].def.fields) do
    local map = f.type == "map" and record.given(paper, f.name)
    for _, key in ipairs(map and inside[map].names or {}) do
      local near = host.nearest(key, first)
      local help = near and "did you mean '" .. near .. "'?" or first[1] and "there are " ..
          table.concat(first, ", ") or "no rack is declared"
      if not first[key] then refuse_at({ f.name, key }, f.name .. " names nothing called '" .. key .. "'", help) end
      for _, g in ipairs(f.item.fields) do
        local inner = part(map[key], g.name)
        local at = g.type == "group" and key .. "." .. g.name or key
        if inner ~= nil and not known[at] then
          refuse_at({ f.name, key, g.name }, g.type == "group" and "'" .. key .. "' is no rack: it has no line " ..
              g.name or "'" .. key .. "' is a rack: say which of its lines '" .. g.name .. "' is for",
              g.type == "group" and "write " .. key .. " = { up = ... }" or
              "write " .. key .. " = { front = { " .. g.name .. " = ... } }")
        end
      end
    end
  end
end

-- One value comes off one paper: two that give the same are refused, whichever stands last.
local function check_twice(paper, records, refuse_at)
  for _, other in ipairs(run.giving) do
    if other == paper then return end
    for _, word in ipairs(words_of(inside[paper].def)) do
      for _, x in ipairs(records) do
        local a, at = said(paper, x, word[1], word[2])
        local b = a ~= nil and said(other, x, word[1], word[2])
        if b then
          local parts = record.parse_path(at)
          refuse_at(table.move(parts, 3, #parts, 1, {}), word[1] .. "." .. word[2] .. " of " .. tostring(x) ..
              " is given by " .. given.title(other) .. " too (" .. host.format(b) .. " there, " .. host.format(a) ..
              " here)", "keep the paper that counts, or name the rack that each is for: " .. word[1] ..
              " = { east = { front = { ... } } }")
        end
      end
    end
  end
end

-- The settle function of a kind of paper.
function given.settle(paper, refuse_at)
  local made_for = record.given(paper, "made_for")
  if made_for then
    conditions.each_name(made_for, function(kind, name)
      if not record.group(kind).by[name] then
        local names = {}
        for _, x in ipairs(record.all(kind.name)) do names[#names + 1] = inside[x].name end
        local near = host.nearest(name, names)
        refuse_at({ "made_for", kind.name, name }, "no " .. kind.name .. " is named '" .. name ..
            "', and it has no such field", near and "did you mean '" .. near .. "'?" or #names > 0 and
            "there are " .. table.concat(names, ", ") or nil)
      end
    end)
  end
  for _, giving in ipairs(run.giving) do
    if giving == paper then
      local records = named_on_paper()
      check_places(paper, records, refuse_at)
      check_twice(paper, records, refuse_at)
    end
  end
end

return given
