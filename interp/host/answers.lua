-- SPDX-License-Identifier: MIT
-- A judged script that answers a program in C (interp/host/job.c): all that it asks of the host's Lua, nothing else.
--
-- options: { script, on, alternate, set = { { path, literal = ... or text = ... }, ... } }
-- Gives the judged job: status, verdict, how many outcomes, and functions for values, outcomes and the report.
local judging = import "host.judging"

local function put_in(set)
  local boot = import "model.boot"
  local list = {}
  for i, s in ipairs(set) do
    local p = s.text and { value = s.text } or boot.setting("value=" .. s.literal)
    p.path, p.from = s.path, "--set " .. s.path .. "=" .. (s.literal or '"' .. s.text .. '"')
    list[i] = p
  end
  return list
end

return function(options)
  local set, told = put_in(options.set), {}
  for i, s in ipairs(set) do told[i] = s.from:match("^%-%-set (.*)$") end
  local boot = judging.declare(options, set)
  local record, schema = import "model.record", import "model.schema"
  local path_of = import "model.path"
  local outcomes, status = judging.judge(boot)
  local words = import "write.words"
  local judged = { status = status, outcomes = #outcomes }
  judged.verdict = import("write.verdict").line(outcomes, status)

  local function unknown(why)
    local text, help = host.message(why)
    return { kind = "unknown", text = text, help = help }
  end

  local function number(v, unit, digits)
    local text = words.show(v, unit, digits)
    if type(v) == "number" then return { kind = "number", si = v, dimension = "number", unit = unit, text = text } end
    local dimension, hint, currency = host.unit(v)
    if currency ~= "" then unit = currency .. (hint:match("/.*$") or "")
    else unit = unit or words.unit(v) or hint == "ft-in" and "in" or text:match("^%-?[%d.e+-]+ (.+)$") or hint end
    return { kind = "number", si = host.si(v), dimension = dimension, unit = unit, currency = currency, text = text }
  end

  local function value(v, unit, digits)
    if v == nil then return { kind = "none" } end
    if type(v) == "number" or host.is_quantity(v) then return number(v, unit, digits) end
    if type(v) == "boolean" then return { kind = "yes or no", yes = v, text = words.show(v) } end
    local data = record.inside[v]
    if not data then return { kind = "text", text = words.show(v) } end
    if not data.order then
      return { kind = "group", text = words.show(v), items = data.list and #data.list or 0 }
    end
    local titles = {}
    for i, proxy in ipairs(data.order) do titles[i] = words.title(proxy) end
    return { kind = "group", text = table.concat(titles, ", "), items = #titles }
  end

  -- What holds the last key of a path, and that key.
  local function holder_of(path)
    local parts = record.parse_path(path)
    local key = table.remove(parts)
    local holder = #parts > 0 and record.at(path_of.join(parts)) or record.root
    local data = record.inside[holder]
    if data and data.order and #data.order == 1 then holder = data.order[1] end
    return holder, key
  end

  -- A result's own unit, or that of an input that is a share.
  local function unit_of(holder, key, v)
    local data = record.inside[holder]
    local def = data and data.def
    if not def then return nil end
    local result, field = schema.result(def, key), def.by and def.by[key]
    if result then return words.result_unit(result, v) end
    return field and field.type == "ratio" and "%" or nil
  end

  function judged.value(path)
    local ok, v, input = pcall(record.input, path)
    if ok and v == nil and input then      -- reading it says who can tell it
      local holder, key = holder_of(path)
      ok, v = pcall(function() return holder[key] end)
    end
    if not ok then
      if not host.class(v) then error(v, 0) end
      return unknown(v)
    end
    if v == nil then host.raise { code = "D019", text = "nothing has the path " .. path } end
    local holder, key = holder_of(path)
    return value(v, unit_of(holder, key, v))
  end

  function judged.record(kind, i)
    local def = schema.kinds[kind]
    local proxy = def and record.all(kind)[i]
    return proxy and record.inside[proxy].path
  end

  function judged.outcome(i)
    local o = outcomes[i]
    if not o then return nil end
    local f, r = o.finding, o.rule
    local out = { rule = r.id, severity = r.severity, outcome = o.outcome, waived = o.waiver ~= nil, says = r.says,
                  subject = words.subject(o), cite = words.cite(r.cite), caution = r.caution }
    if o.why then out.words, out.help = host.message(o.why) end
    if f then
      local unit, digits
      if f.limit ~= nil and f.value ~= nil then
        unit = words.unit_of_finding(f)
        digits = host.digits_apart(f.value, f.limit, unit)
      end
      out.comparison, out.limit_of, out.words = f.op, f.whose, words.finding(f)
      out.value, out.limit = value(f.value, unit, digits), value(f.limit, unit, digits)
      out.margin = value(f.margin, unit, 3)
    end
    local place = o.proxy and words.span(o.proxy)
    if place then
      out.file = host.place { source = place.source, line = 0, col = 0 }
      out.line, out.column = place.line, place.col
    end
    return out
  end

  -- As `run` writes it; format: its row, as { format, writer, before, after }.
  function judged.report(format)
    local o = { command = "run", script = options.script, words = { options.script }, alternate = options.alternate,
                on = options.on, set = told, number = 1, width = 80 }
    for k, v in next, format do o[k] = v end
    local d = import("write.report").report(outcomes, status, o)
    return import("write.identity").seal(d, import(o.writer)(d, o), o.format)
  end

  return judged
end
