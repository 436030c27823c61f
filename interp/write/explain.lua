-- SPDX-License-Identifier: MIT
-- explain SCRIPT WHAT: a rule or a value, with its worked sheet and where everything in it comes from.
local run = import "model.run"
local record = import "model.record"
local path_of = import "model.path"
local whatif = import "model.whatif"
local schema = import "model.schema"
local graph = import "model.graph"
local rule = import "model.rule"
local in_force = import "model.in_force"
local words = import "write.words"
local document = import "write.document"
local worksheet = import "write.worksheet"
local trace = import "write.trace"
local util = import "model.util"
local explain = {}
local inside = record.inside

local function unknown(d, why)
  local text, help = host.message(why)
  d:para("unknown: " .. text)
  if why.who then d:fact_line("ask", why.who .. (why.tool and "; with " .. why.tool or ""))
  elseif help and help ~= "" then d:para(help) end
end

-- ---- where the inputs of a node come from --------------------------------------------------------------------------

local function input_line(d, r)
  if r.value == nil then return d:para(r.path .. " is not given") end
  local unit = words.input_unit(r.path, r.value)
  local source = words.source(r.path)
  d:para(r.path .. " = " .. words.precise(r.value, unit) .. (source ~= "" and " (" .. source .. ")" or ""), nil, 4)
end

-- Structure is no input: a record that was only walked through says nothing.
local function walked_through(v)
  local data = inside[v]
  return data and (data.v or data.order) ~= nil and not data.list
end

-- Lists and maps of which items were read: those say it.
local function of_items(list)
  local above = {}
  for _, r in ipairs(list) do
    local at = r.path:match "^(.*)%[%d+%]$" or r.path:match "^(.*)%.[%w_]+$" or r.path:match "^(.*)%['.*'%]$"
    if at then above[at] = true end
  end
  return above
end

local function reads(d, node, done)
  local above = of_items(node.reads or {})
  for _, r in ipairs(node.reads or {}) do
    local n = r.node
    if r.call or n and not n.def and walked_through(r.value) then      -- said above; how other records came to be
    elseif n and (not n.def or n.def.op or n.def.rows) then        -- one without a name: its inputs stand for it
      if not done[n] then done[n] = true; reads(d, n, done) end
    elseif n then
      local shown = n.unknown and "unknown" or words.precise_result(n.def, n.value)
      if done[n] then d:para(n.path .. " = " .. shown .. " (above)", nil, 4)
      else
        done[n] = true
        d:para(n.path .. " = " .. shown .. (n.def.says and ": " .. n.def.says or ""), nil, 4)
        d:inside(reads, n, done)
      end
    elseif not walked_through(r.value) and not done[r.path] and not above[r.path] then
      done[r.path] = true
      input_line(d, r)
    end
  end
end

local function basis_note(d, worked)
  local list = {}
  import("write.sources").basis(worked, list, {})
  for _, b in ipairs(list) do
    d:para(b.basis .. ": " .. table.concat(b.names, ", ") .. " of " .. words.cite(b.cite) ..
        (b.basis == "common practice" and "" or "; check it before you rely on it"))
  end
end

local function where_from(d, title, node, done)
  if not node.reads or #node.reads == 0 then return end
  d:gap()
  d:subheading(title)
  d:inside(reads, node, done)
end

local function worked_out(d, worked, origins)
  d:inside(function()
    worksheet.write(d, worked, origins)
    basis_note(d, worked)
  end)
end

-- Symbols of a worked sheet that are inputs of the primitive, so that what has no row there can be told beside it.
local function members_shown(worked)
  local _, rows = worked_sheet(worked)
  local shown = {}
  for _, r in ipairs(rows) do
    if (r.kind == "given" or r.kind == "word") and r.member then shown[r.member] = true end
  end
  return shown
end

-- What wants the outputs of each inline call: members of the input, "the result", or the inputs of another call.
local function wanted_by(node)
  local origins, by = trace.origins(node), {}
  local function look(members, what)
    for name, origin in host.sorted(members) do
      for _, r in ipairs(origin.read and { origin.read } or origin.from) do
        if r.call then
          local list = by[r.call] or {}
          by[r.call] = list
          local word = what or name
          if not list[word] then
            list[word] = true
            list[#list + 1] = word
          end
        end
      end
    end
  end
  if node.def.op then look(origins.members)
  else look(origins.members, node.def.finding and "the comparison" or "the result") end
  for i, members in ipairs(origins.calls) do look(members, node.calls[i].op) end
  return by
end

-- Whether two answers have one sheet.
local function same_sheet(a, b)
  local _, x = worked_sheet(a)
  local _, y = worked_sheet(b)
  for i = 1, math.max(#x, #y) do
    local r, other = x[i], y[i]
    if not r or not other or r.symbol ~= other.symbol or r.text ~= other.text or
        host.describe(r.value) ~= host.describe(other.value) then return false end
  end
  return true
end

-- The primitives that a node called itself, inline; but for one whose sheet is told already.
local function inline_calls(d, node, told_before)
  if not node.calls or #node.calls == 0 then return end
  local origins, by, told = trace.origins(node), wanted_by(node), {}
  for i, call in ipairs(node.calls) do
    local inputs, key = origins.calls[i] or {}, { call.op }
    for name, v in host.sorted(call.members) do
      key[#key + 1] = name .. "=" .. (worksheet.from_where(inputs[name]) or host.describe(v))
    end
    key = table.concat(key, "\0")
    if not told[key] and not (told_before and same_sheet(call.worked, told_before)) then    -- each once
      told[key] = true
      local wants = by[call]
      d:gap()
      d:subheading("worked out by " .. call.op .. (wants and ", for " .. util.list(wants) or ""))
      d:inside(function()
        local shown = members_shown(call.worked)
        for name, v in host.sorted(call.input) do
          if not shown[name] and type(v) ~= "table" then
            local says, names = worksheet.from_where(inputs[name])
            d:step { symbol = name, result = { text = words.show(v), value = v }, says = says, origins = names }
          end
        end
      end)
      worked_out(d, call.worked, inputs)
    end
  end
end

-- The names of all that a node read itself, and what reads for it without a name.
local function names_read(node, names, has)
  local above = of_items(node.reads)
  for _, r in ipairs(node.reads) do
    local n, name = r.node, trace.name(r)
    if n and not n.def then
      if not walked_through(r.value) and not has[n] then
        has[n] = true
        names_read(n, names, has)
      end
    elseif not walked_through(r.value) and not above[r.path] and not has[name] then
      has[name] = true
      names[#names + 1] = name
    end
  end
  return names
end

-- A result in plain Lua: what it was taken or made from.
local function in_lua(d, node)
  local names, one = trace.names(trace.origins(node).members.value)
  if #names == 0 then names = names_read(node, {}, {}) end
  d:gap()
  if one then d:subheading("taken from " .. names[1])
  elseif #names > 0 then d:subheading("worked out in Lua from: " .. table.concat(names, ", "))
  else d:subheading "worked out in Lua" end
end

local function worked_from(d, node)
  local def = node.def
  local source = trace.worked(node)
  if source and source.value then
    d:gap()
    d:subheading("worked out by " .. source.def.op .. (source ~= node and ", " .. source.def.says or ""))
    worked_out(d, source.value, trace.origins(source).members)
    inline_calls(d, source)
  elseif def.formula and not node.unknown then
    d:gap()
    d:subheading("worked out by its formula")
    d:inside(worksheet.formula, node)
  elseif def.work and not node.unknown then
    in_lua(d, node)
    inline_calls(d, node)
  end
  if def.shows and not node.unknown then
    d:gap()
    d:inside(def.shows, node.rec.proxy)
  end
  where_from(d, "where it comes from", source and def.of and source or node, { [node] = true })
end

local function explain_node(d, node)
  local def = node.def
  d:head(node.path .. ((node.unknown or def.op or def.rows) and "" or " = " .. words.precise_result(def, node.value)))
  d:inside(function()
    if def.says then d:para(def.says) end
    if def.scripted then import("write.own_results").stands(d, def) end
    local none = graph.none(node.rec.proxy, def)
    if none then d:para("there is none: " .. none)
    elseif node.unknown then unknown(d, node.unknown) end
  end)
  if def.given and #run.giving > 0 then import("write.papers").explain(d, node, worked_from, unknown)
  else worked_from(d, node) end
end

-- ---- rules ---------------------------------------------------------------------------------------------------------

-- The outputs of primitives that a finding compares: { { worked, out, by = the node or inline call, read } ... }.
local function compared(node)
  local list, has = {}, {}
  local members = trace.from_outputs(node)
  for _, key in ipairs { "value", "limit", "got", "want" } do
    local worked, out, by = trace.output(members[key])
    if worked and not (has[by] and has[by][out.path]) then
      has[by] = has[by] or {}
      has[by][out.path] = true
      list[#list + 1] = { worked = worked, out = out, by = by, read = members[key].read or members[key].from[1] }
    end
  end
  return list
end

-- The lines "work:" of a broken rule.
function explain.work_lines(o)
  local node = trace.rule(o.rule, o.proxy)
  local out = {}
  if node.unknown or type(node.value) ~= "table" then return out end
  for _, c in ipairs(compared(node)) do
    out[#out + 1] = worksheet.step_of(c.worked, c.out.out, c.out.item, c.out.field)
  end
  return out
end

local function explain_finding(d, f)
  local whose = words.whose(f)
  local head = words.finding(f) .. (words.over(f) and " (" .. words.over(f) .. ")" or f.ratio and ", margin " ..
      words.ratio(f) or "") .. (whose and "; " .. whose or "")
  local others = {}
  for i, other in ipairs(f.others or {}) do
    local unit = type(other.value) == "number" and "%" or words.unit(other.value)
    others[i] = "also under " .. words.show(other.value, unit) .. (other.whose and " of " .. other.whose or "")
  end
  return head, others
end

local function explain_outcome(d, o)
  local f = o.finding
  local subject = words.subject(o)
  local head = (subject ~= "" and subject .. ": " or "") .. o.outcome
  local others = {}
  if f then
    local says
    says, others = explain_finding(d, f)
    d:para(says, head .. ": ", 4)
  else d:para(head) end
  d.depth = d.depth + 2
  for _, text in ipairs(others) do d:para(text) end
  local told = words.told(o)
  if told then d:para(told) end
  for _, why in ipairs(o.whys or {}) do unknown(d, why) end
  if o.reason then d:para(o.reason) end
  local flip = o.outcome ~= "unknown" and o.outcome ~= "not applicable" and o.proxy and whatif.flip(o.rule, o.proxy)
  if flip then
    local source = words.source(flip.path)
    d:para("flips at " .. flip.path .. " = " .. words.precise(flip.value) .. "; it is " ..
        words.precise(record.at(flip.path)) ..
        (source ~= "" and " (" .. source .. ")" or ""), nil, 2)
  end
  if o.outcome == "broken" then
    whatif.remedy(o)
    if o.like then
      d:para("holds with changes that are told of " .. words.subject { rule = o.rule, proxy = o.like,
          subject = tostring(o.like) })
    end
    for _, s in ipairs(o.like and {} or o.suggestions) do d:para("holds with: " .. whatif.in_words(s)) end
    if o.advice then d:para(o.advice) end
    local gave_up = whatif.gave_up_in_words(o)
    if gave_up then d:para(gave_up) end
  end
  if o.refused then
    d:para("a waiver by " .. words.signer(o.refused) .. " does not count: nobody can sign for what nobody knows")
  end
  if o.waiver then
    d:para("waived by " .. words.signer(o.waiver) .. " on " .. o.waiver.on .. ": " .. o.waiver.reason)
  end
  d.depth = d.depth - 2
end

local function explain_rule(d, outcomes, def)
  local own = {}
  for _, o in ipairs(outcomes) do if o.rule == def then own[#own + 1] = o end end
  d:head(def.id .. "  " .. def.severity)
  d:inside(function()
    d:para(def.says, "says     ")
    d:para(words.cite(def.cite), "cite     ")
    d:para(def.caution, "if not   ")
    local may = rule.may_waive(def)
    d:para(may ~= "nobody" and "the " .. may or may, "waives   ")
    d:para(def.place and host.place(def.place) or "the standard rules", "stands   ")
    d:gap()
    for _, o in ipairs(own) do explain_outcome(d, o) end
  end)
  local worst
  for _, o in ipairs(own) do
    if o.finding and (not worst or (worst.finding.ok and not o.finding.ok) or
       worst.finding.ok == o.finding.ok and (o.finding.ratio or 9) < (worst.finding.ratio or 9)) then worst = o end
  end
  if not worst then return end
  local node = trace.rule(def, worst.proxy)
  if node.unknown then return end
  local told = {}
  if node.calls[1] then trace.origins(node) end          -- wanted below in any case
  for _, c in ipairs(compared(node)) do
    local r = c.read
    if r.node and not told[c.by] then
      told[c.by] = true
      d:gap()
      d:subheading(trace.name(r) .. " = " .. words.precise_result(r.node.def, r.value) ..
          (r.node.def.says and ": " .. r.node.def.says or ""))
      worked_out(d, c.worked, trace.origins(c.by).members)
      inline_calls(d, c.by, c.worked)
    end
  end
  inline_calls(d, node)
  where_from(d, "where it comes from" .. (#own > 1 and ", for " .. words.subject(worst) or ""), node, {})
end

-- ---- paths ---------------------------------------------------------------------------------------------------------

local function no_such(what, near, names)
  host.raise { code = "U003", text = "nothing to explain is called '" .. what .. "'", help = near and
      "did you mean '" .. near .. "'?" or
                 "name a rule (R41), a result (rack.east.top_edge) or an input (site.frost)" ..
                     (names and "; here there are " .. names or "") }
end

local function rule_near(what)
  local ids = {}
  for _, r in ipairs(rule.all()) do ids[#ids + 1] = r.id end
  return host.nearest(what, ids)
end

-- What one record answers to: fields, results, children.
local function step_names(rec)
  local names = schema.names(rec.def)
  if rec.root then for _, k in ipairs(schema.all()) do if not k.parent then names[#names + 1] = k.name end end end
  return names
end

-- Walks a path to: the record, and a result's name, or the path of a field.
local function resolve(what, parts)
  local x, path, rec = record.root, "", inside[record.root]
  local i = parts[1] == "job" and 2 or 1
  if i > #parts then return { record = x } end
  while i <= #parts do
    local key, data = parts[i], inside[x]
    if data and data.order then                            -- a collection: a name, or straight through the only one
      local named = type(key) == "string" and data.by[key] or nil
      if named then x = named
      elseif #data.order == 1 then x, i = data.order[1], i - 1
      else
        local names = {}
        for n, r in ipairs(data.order) do names[n] = inside[r].name or "?" end
        local near = type(key) == "string" and host.nearest(key, names)
        local good = {}
        for _, n in ipairs(names) do good[#good + 1] = path == "" and n or record.step(path, n) end
        no_such(what, near and record.step(path, near), table.concat(good, ", "))
      end
      if i == #parts then return { record = x } end
      rec, path = inside[x], inside[x].path
    elseif data and data.v and data.def then
      local def = data.def
      local kind = data.root and schema.kinds[key]
      if schema.result(def, key) then
        if i < #parts then no_such(what, table.concat({ path ~= "" and path or "job", tostring(key) }, ".")) end
        return { record = x, result = key }
      elseif def.by[key] then
        path = record.step(data.path, key)
        if i == #parts then return { record = x, field = path, value = record.given(x, key) } end
        x = record.given(x, key)
        if x == nil then return { record = data.proxy, field = path } end
      elseif def.list_field and def.list_field.name == key then              -- what stands without names: permits.list
        path = record.step(data.path, key)
        x = data.v[key]
        if i == #parts then return { record = data.proxy, field = path, value = x } end
      elseif def.children and def.children[key] or kind and not kind.parent then
        if kind and kind.single and not record.only(key) then record.missing_kind(kind) end
        if kind and not kind.single and #record.all(key) == 0 then record.missing_kind(kind) end
        x, path = x[key], record.step(data.root and "" or data.path, key)
        if inside[x].order and i == #parts then
          if #inside[x].order == 1 then return { record = inside[x].order[1] } end
          return { list = x, path = path }
        elseif i == #parts then return { record = x } end
      else
        local near = type(key) == "string" and host.nearest(key, step_names(data))
        near = near and record.step(data.root and "" or data.path, near)
        if not near and data.name and type(key) == "string" and host.nearest(key, { data.name }) then
            near = data.path end
        no_such(what, near or (#parts == 1 and rule_near(what)) or nil)
      end
    else                                                          -- a list or a map
      path = record.step(path, key)
      local v = (data and (data.list or data.names)) and x[key] or nil
      if v == nil then no_such(what) end
      if i == #parts then return { record = rec.proxy, field = path, value = v } end
      x = v
    end
    i = i + 1
  end
  return { record = x }
end

local function explain_record(d, proxy)
  local rec = inside[proxy]
  d:head(rec.root and "job" or rec.path)
  d:inside(function()
    d:para(rec.def.says)
    local place = not rec.root and words.place(proxy)
    if place then d:para("declared at " .. place) end
    local likeness = rec.like and import("write.likeness").in_words(proxy)
    if likeness then d:para(likeness) end
    d:gap()
    local rows = {}
    for _, f in ipairs(rec.def.fields) do
      local v = rec.v[f.name]
      if v ~= nil then
        local path = record.step(rec.path, f.name)
        rows[#rows + 1] = { f.name, { text = words.show(v, f.type == "ratio" and "%" or nil), value = v, path = path },
            words.source(path, true) }
      end
    end
    for _, r in ipairs(schema.results(rec.def)) do
      if not (r.op or r.rows) and not graph.none(proxy, r) then
        local v, why = graph.try(proxy, r.name)
        if v ~= nil or why then rows[#rows + 1] = { r.name, document.of(proxy, r.name), r.says or "" } end
      end
    end
    d:table({ { "", key = "name" }, { "", key = "value", wrap = true }, { "", key = "from", wrap = true } }, rows)
  end)
end

local function explain_field(d, found)
  input_line(d, { path = found.field, value = found.value })
  local def = inside[found.record].def
  local _, rest = record.locate(found.field)
  local f = { by = def.by }
  for _, key in ipairs(rest or {}) do f = f and f.by and f.by[key] end
  if not f then return end
  d:inside(function()
    if f.says then d:para(f.says) end
    if f.who or f.tool then
      d:fact_line("known by", (f.who or "designer") .. (f.tool and "; with " .. f.tool or ""))
    end
  end)
end

-- A fact that rules miss where nothing is declared yet: what is missing, and who wants it.
local function explain_missing(d, boot, what)
  local why, ids, seen = nil, {}, {}
  for _, o in ipairs(boot.judge()) do
    for _, w in ipairs(o.whys or { o.why }) do
      if w.path == what then
        why = why or w
        if not seen[o.rule.id] then seen[o.rule.id], ids[#ids + 1] = true, o.rule.id end
      end
    end
  end
  if not why then return false end
  d:head(what .. " is not known")
  d:inside(function()
    d:para((host.message(why)))
    if why.who or why.tool then
      d:fact_line("known by", (why.who or "designer") .. (why.tool and "; with " .. why.tool or ""))
    end
    d:fact_line("wanted by", table.concat(ids, " "))
  end)
  return true
end

-- limits, limits.height, limits.house.height: all of that name, whoever gives them.
local function explain_limits(d, outcomes, what, parts)
  local name = parts[#parts] ~= "limits" and parts[#parts] or nil
  if name and not in_force.field(name) then
    local near = host.nearest(tostring(name), in_force.names())
    no_such(what, near and record.step("limits", near), table.concat(in_force.names(), ", "))
  end
  if import("write.explain_limits")(d, outcomes, name) then return end
  d:para(name and "Nobody gives a limit " .. name .. " (" .. in_force.field(name).says .. ")." or
      "No place and no house gives a limit.")
end

-- A result's name alone: { kind, result, records, why = why those cannot be derived } of each kind that has one of that
-- name, and records.
local function of_that_name(name)
  local list = {}
  for _, def in ipairs(schema.all()) do
    local r = schema.result(def, name)
    local ok, found = pcall(record.all, r and not (r.op or r.rows) and def.name or "job")
    if not ok and not host.class(found) then error(found, 0) end
    if r and not (r.op or r.rows) and (not ok or found[1]) then
      list[#list + 1] = { kind = def.name, result = r, records = ok and found or {}, why = not ok and found or nil }
    end
  end
  return list
end

local function explain_name(d, found)
  for i, x in ipairs(found) do
    local r = x.result
    if i > 1 then d:gap() end
    d:head(x.kind .. "." .. r.name)
    d:inside(function()
      d:para(r.says)
      if r.scripted then import("write.own_results").stands(d, r) end
      if x.why then return unknown(d, x.why) end
      local rows = {}
      for _, proxy in ipairs(x.records) do
        if not graph.none(proxy, r) then rows[#rows + 1] = { words.path(proxy), document.of(proxy, r.name) } end
      end
      d:table({ { "", key = "of" }, { "", key = "value", wrap = true } }, rows)
      d:unknowns(rows)
    end)
  end
end

-- A rule by its id, or what a path leads to.
function explain.explain(boot, what)
  local d = document.new("explain", what)
  if rule.find(what) then
    explain_rule(d, boot.judge(), rule.find(what))
    return d
  end
  local parts = record.parse_path(what)
  if not parts then no_such(what, rule_near(what), nil) end
  if parts[1] == "limits" then
    explain_limits(d, boot.judge(), what, parts)
    return d
  end
  local job = schema.kinds.job
  local named = #parts == 1 and not job.by[what] and not schema.kinds[what] and of_that_name(what) or {}
  if #named == 1 and #named[1].records == 1 then
    explain_node(d, trace.result(named[1].records[1], what))
    return d
  elseif named[1] then
    explain_name(d, named)
    return d
  end
  local ok, found = pcall(resolve, what, parts)
  if not ok then
    if type(found) ~= "table" or not found.code or not explain_missing(d, boot, path_of.join(parts)) then
      error(found, 0)
    end
  elseif found.list then
    for _, x in ipairs(inside[found.list].order) do d:para(inside[x].path) end
  elseif found.result then explain_node(d, trace.result(found.record, found.result))
  elseif found.field then explain_field(d, found)
  else explain_record(d, found.record) end
  return d
end

return explain
