-- SPDX-License-Identifier: MIT
-- Reports for programs: keys in a fixed order, every value as SI number, unit and text.
local record = import "model.record"
local graph = import "model.graph"
local whatif = import "model.whatif"
local words = import "write.words"
local json = {}

-- ---- encoder -------------------------------------------------------------------------------------------------------

local object_meta, array_meta = {}, {}
local function object(pairs_of) return setmetatable(pairs_of,
    object_meta) end     -- { { key, value } ... }; a nil value is left out
local function array(list) return setmetatable(list, array_meta) end
json.object, json.array = object, array

local short = { ['"'] = '\\"', ["\\"] = "\\\\", ["\b"] = "\\b", ["\f"] = "\\f", ["\n"] = "\\n", ["\r"] = "\\r",
    ["\t"] = "\\t" }

local function quoted(text)
  if not utf8.len(text) then                    -- bytes that are no UTF-8 are taken for Latin-1
    text = text:gsub("[\128-\255]", function(c) return utf8.char(c:byte()) end)
  end
  return '"' .. text:gsub('[%z\1-\31"\\\127]', function(c) return short[c] or
      string.format("\\u%04x", c:byte()) end) .. '"'
end

local function number(n)
  if math.type(n) == "integer" then return tostring(n) end
  if n ~= n or n == math.huge or n == -math.huge then return "null" end       -- JSON has no such number
  local whole = math.tointeger(n)
  if whole and math.abs(whole) < 1e15 then return tostring(whole) end
  return string.format("%.17g", n)
end

local function encode(v, indent)
  local kind = getmetatable(v)
  if kind == object_meta or kind == array_meta then
    local parts, inner = {}, indent .. "  "
    for _, x in ipairs(v) do
      if kind == array_meta then parts[#parts + 1] = inner .. encode(x, inner)
      elseif x[2] ~= nil then parts[#parts + 1] = inner .. quoted(x[1]) .. ": " .. encode(x[2], inner) end
    end
    local open, close = "{", "}"
    if kind == array_meta then open, close = "[", "]" end
    if #parts == 0 then return open .. close end
    return open .. "\n" .. table.concat(parts, ",\n") .. "\n" .. indent .. close
  end
  if type(v) == "string" then return quoted(v) end
  if type(v) == "number" then return number(v) end
  return tostring(v)
end

function json.encode(v) return encode(v, "") .. "\n" end

-- ---- values --------------------------------------------------------------------------------------------------------

local function value(v, unit, digits)
  if v == nil then return nil end
  if host.is_quantity(v) then
    local _, hint, currency = host.unit(v)
    local text = words.show(v, unit, digits)
    if currency ~= "" then unit = currency .. (hint:match("/.*$") or "")
    else unit = unit or words.unit(v) or text:match("^%-?[%d.e+-]+ (.+)$") or hint end
    return object { { "si", host.si(v) }, { "unit", unit }, { "text", text } }
  end
  if type(v) == "number" then return object { { "si", v }, { "unit", unit or "" },
      { "text", words.show(v, unit, digits) } } end
  if type(v) == "boolean" then return v end
  return words.show(v)
end

local function place_of(o)
  local s = o.proxy and words.span(o.proxy)
  if not s then return nil end
  local file = host.place { source = s.source, line = 0, col = 0 }
  return object { { "file", file }, { "line", s.line }, { "column", s.col } }
end

local function waiver(w)
  return w and object { { "reason", w.reason }, { "by", w.by }, { "as", w.as }, { "on", w.on } } or nil
end

local function outcome(o)
  local f, why, help = o.finding, nil, nil
  if o.why then why, help = host.message(o.why) end
  if o.outcome == "broken" then whatif.remedy(o) end
  local unit, digits
  if f and f.limit ~= nil then
    unit = type(f.limit) == "number" and (words.numbers(f):find("%%$") and "%" or nil) or words.unit(f.limit)
    digits = host.digits_apart(f.value, f.limit, unit)
  end
  return object {
    { "id", o.rule.id }, { "severity", o.rule.severity }, { "says", o.rule.says }, { "subject", o.subject or "" },
        { "outcome", o.outcome },
    { "value", f and value(f.value, unit, digits) }, { "comparison", f and f.op },
        { "limit", f and value(f.limit, unit, digits) },
    { "limit_of", f and f.whose }, { "margin", f and value(f.margin, unit, 3) }, { "ratio", f and f.ratio },
        { "words", f and f.words },
    { "cite", words.cite(o.rule.cite) }, { "caution", o.rule.caution }, { "may_waive", o.rule.may_waive or "nobody" },
        { "place", place_of(o) },
    { "flip", o.flip and object { { "path", o.flip.path }, { "value", value(o.flip.value) } } },
        { "nearest", o.nearest },
    { "unknown", why and object { { "text", why }, { "help", help ~= "" and help or nil }, { "path", o.why.path },
        { "who", o.why.who }, { "tool", o.why.tool } } },
    { "waiver", waiver(o.waiver) },
  }
end

local function rules_of(outcomes, all)
  local list = {}
  for _, o in ipairs(outcomes) do
    if all or o.outcome == "broken" or o.outcome == "unknown" then list[#list + 1] = outcome(o) end
  end
  return array(list)
end

local function job_of(options)
  local job, codes = record.root, {}
  local given = record.given(job, "codes")
  for _, k in ipairs { "electrical", "loads", "wood", "building" } do codes[#codes + 1] = { k, given and
      record.given(given, k) } end
  return object { { "name", record.given(job, "name") }, { "client", record.given(job, "client") },
      { "stage", job.stage },
                  { "on", record.given(job, "on") }, { "units", job.units }, { "alternate", options.alternate },
                      { "codes", object(codes) } }
end

local function verdict_of(outcomes, status)
  local verdict = import("write.verdict")
  local counts = verdict.counts(outcomes)
  return object { { "ready", status == 0 }, { "exit", status }, { "text", verdict.line(outcomes, status) },
      { "broken", array(counts.broken) },
                  { "unknown", array(counts.unknown) }, { "waived", array(counts.waived) }, { "rules", counts.rules } }
end

-- ---- results -------------------------------------------------------------------------------------------------------

local function results()
  local list = {}
  local function add(path, v) list[#list + 1] = { path, v } end
  local function unknown(path, why) add(path, object { { "unknown", (host.message(why)) } }) end
  record.each_record(function(proxy)
    local rec = record.inside[proxy]
    for _, def in ipairs(rec.def.result_order) do
      if not def.op then
        local v, why = graph.try(proxy, def.name)
        local path = record.step(rec.path, def.name)
        if v ~= nil then add(path, value(v, words.result_unit(def, v)))
        elseif why then unknown(path, why) end
      end
    end
  end, unknown)
  return object(list)
end

local function order()
  local o, list, unpriced = import("buying.results").order(), {}, {}
  for _, l in ipairs(o.lines) do
    list[#list + 1] = object { { "vendor", l.vendor }, { "item", l.item }, { "length", value(l.offer.length) },
        { "count", l.count },
                               { "each", value(l.each) }, { "line", value(l.total) },
                                   { "priced_on", l.offer.priced_on } }
  end
  for _, u in ipairs(o.unpriced) do unpriced[#unpriced + 1] = object { { "item", u.need.item }, { "why", u.why } } end
  return array(list), array(unpriced)
end

-- ---- documents -----------------------------------------------------------------------------------------------------

-- An order that cannot be worked out has already made its rules unknown.
local function tried_order()
  local ok, lines, unpriced = pcall(order)
  if ok then return lines, unpriced end
  if not host.class(lines) then error(lines, 0) end
  return nil, nil, (host.message(lines))
end

function json.report(boot, outcomes, status, options)
  local lines, unpriced, why = tried_order()
  local withheld = {}
  for _, s in ipairs(import("write.sheets").state(outcomes)) do
    withheld[#withheld + 1] = object { { "name", s.sheet.name }, { "withheld", s.withheld or false } }
  end
  return json.encode(object {
    { "stringline", 1 }, { "job", job_of(options) }, { "verdict", verdict_of(outcomes, status) },
        { "rules", rules_of(outcomes, true) },
    { "results", results() }, { "order", lines }, { "unpriced", unpriced }, { "order_unknown", why },
    { "total", value((graph.try(record.root, "total"))) }, { "sheets", array(withheld) },
  })
end

function json.check(boot, outcomes, status, options)
  return json.encode(object { { "stringline", 1 }, { "job", job_of(options) },
      { "verdict", verdict_of(outcomes, status) }, { "rules", rules_of(outcomes, false) } })
end

return json
