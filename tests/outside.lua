#!/usr/bin/env lua5.4
-- SPDX-License-Identifier: MIT
-- Published cases against the command, from the top folder of the project: tests/outside.lua BINARY [FILE ...].
--
-- Every case of tests/outside/*.case is written into one script that calls the primitives as any script does, so that
-- literals, units, binding, tables and formulas are all in it.  A case that would also hold with another choice among
-- its inputs is refused, and so is one that hardly limits its value; every output of every primitive needs a case or a
-- reason why there is none.  `--document` prints docs/verification.md instead.
package.path = arg[0]:gsub("[^/]*$", "") .. "?.lua"
local lanes = require "lanes"
local outside_file = require "outside_file"

-- More than this share of a published value is no tolerance, unless a reason is given.
local WIDE = 0.05
local HINT_LITERAL = "a number with its unit as in a script (8.61ft, 28.40[USD]), true, false, or a text in quotes"

local binary, files, document = arg[1], {}, false
for i = 2, #arg do
  if arg[i] == "--document" then document = true else files[#files + 1] = arg[i] end
end
local whole = #files == 0
local handle = binary and io.open(binary, "rb")
if not handle then
  io.stderr:write("usage: tests/outside.lua BINARY [--document] [FILE ...], from the top folder of the project\n")
  os.exit(2)
end
handle:close()

local function output_of(command)
  local pipe = assert(io.popen(command))
  local text = pipe:read "a"
  pipe:close()
  return text
end

-- ---- the primitives, as the command tells them --------------------------------------------------------------------

-- name -> { outputs = { path ... }, is = { path = kind }, choices = { input = { word ... } } }, and their order
local function read_primitives(text)
  local ops, order, op = {}, {}, nil
  for line in text:gmatch "[^\n]+" do
    local name = line:match "^### calc%.([%w_]+)"
    if name then
      op = { outputs = {}, is = {}, choices = {} }
      ops[name], order[#order + 1] = op, name
    elseif line:find "^##" then op = nil
    end
    local way, path, is = line:match "^| (%l+)[^|]* | `([^`]+)` | (.-) |"
    if op and way == "out" then
      op.is[path] = is
      if is ~= "a list of tables" then op.outputs[#op.outputs + 1] = path end
    elseif op and way == "in" and is:find "^one of " and path ~= "edition" then
      local words = {}
      for word in is:gmatch '"([^"]+)"' do words[#words + 1] = word end
      op.choices[#op.choices + 1] = { input = path:match "[%w_]+$", words = words }
    end
  end
  return ops, order
end

-- ---- literals -----------------------------------------------------------------------------------------------------

-- A literal of a case -> { kind = "text"|"flag"|"number", text (for a script), digits, unit, half }, or nil
local function literal_of(text)
  if text == "true" or text == "false" then return { kind = "flag", text = text } end
  if text:find '^"[^"]*"$' then return { kind = "text", text = text } end
  local sign, money, number, unit = text:match "^(-?)(%$?)(%d[%d,]*%.?%d*)%s*(.*)$"
  if not number then return nil end
  number = number:gsub(",", "")
  local decimals = number:match "%.(%d+)$"
  local half = 0.5 * 10 ^ -(decimals and #decimals or 0)
  if money ~= "" then unit = "[USD]" end
  return { kind = "number", text = sign .. number .. unit, value = tonumber(sign .. number), unit = unit, half = half,
           decimals = decimals and #decimals or 0, shown = text }
end

-- What one of its unit is, as a difference; what is taken off a point before that.
local POINTS = { degC = { "1K", "0degC" }, degF = { "(1K/1.8)", "0degF" } }
local function unit_of(literal)
  local point = POINTS[literal.unit]
  if point then return point[1], point[2] end
  return literal.unit == "" and "1" or "1" .. literal.unit
end

-- ---- the script ---------------------------------------------------------------------------------------------------

local HEAD = [[
local function call(i, f) local ok, r = pcall(f) if ok then return r end print(i, "refused", r) end
local function plain(i, j, f) local ok, v = pcall(f) print(i, j, ok and "is" or "wrong", v) end
local function number(i, j, f)
  local ok, v, off = pcall(f)
  if ok then print(i, j, "is", string.format("%.15g %.15g", v, off)) else print(i, j, "wrong", v) end
end
]]

local function path_in_script(path)
  local list = path:match "^count (.+)$"
  return list and "#r." .. list or "r." .. path
end

-- The line of a call: its result is r; each expectation prints its value, in the published unit, and its difference in
-- tolerances.
local function script_line(i, call)
  local out = { ("do local r = call(%d, function() return calc.%s end) if r then"):format(i, call.calc) }
  for j, e in ipairs(call.expects) do
    local path = path_in_script(e.path)
    if e.literal_.kind ~= "number" then
      out[#out + 1] = ("plain(%d, %d, function() return %s end)"):format(i, j, path)
    else
      local unit, zero = unit_of(e.literal_)
      out[#out + 1] = ("number(%d, %d, function() local v = %s return (v%s) / %s, (v - %s) / (%s) end)")
          :format(i, j, path, zero and " - " .. zero or "", unit, e.literal_.text, e.tolerance)
    end
  end
  out[#out + 1] = "end end"
  return table.concat(out, " ")
end

-- Runs calls; each gets refused (a text) or got = { [j] = { value, off } or text }; returns what stopped the script.
local function run(calls)
  local lines, heads = { HEAD }, select(2, HEAD:gsub("\n", ""))
  for i, call in ipairs(calls) do lines[#lines + 1] = script_line(i, call) .. "\n" end
  local folder = output_of("mktemp -d"):gsub("\n", "")
  local path = folder .. "/cases.sline"
  lanes.write(path, table.concat(lines))
  local text = output_of(("%s check --steps 100000000 %s 2>&1"):format(lanes.quoted(binary), lanes.quoted(path)))
  os.execute("rm -rf " .. lanes.quoted(folder))
  for _, call in ipairs(calls) do call.got = {} end
  local stopped
  for line in text:gmatch "[^\n]+" do
    local said = line:match "^%S+:%d+: print: (.*)$"
    local i, j, how, rest
    if said then
      i, how, rest = said:match "^(%d+) (refused) (.*)$"
      if not i then i, j, how, rest = said:match "^(%d+) (%d+) (%l+) ?(.*)$" end
    end
    local call = i and calls[tonumber(i)]
    if call and how == "refused" then call.refused = rest
    elseif call and how == "wrong" then call.got[tonumber(j)] = { wrong = rest }
    elseif call then
      local value, off = rest:match "^(%S+) (%S+)$"
      call.got[tonumber(j)] = { text = rest, value = tonumber(value), off = tonumber(off) }
    else
      local at, why = line:match "cases%.sline:(%d+):?%d*:? error: (.*)$"
      if at and not stopped then stopped = { call = calls[tonumber(at) - heads], why = why } end
    end
  end
  return stopped
end

-- ---- judging ------------------------------------------------------------------------------------------------------

local function holds(call)
  if call.refused then return call.case.refuses and call.refused:find(call.case.refuses, 1, true) ~= nil end
  if call.case.refuses then return false end
  for j, e in ipairs(call.expects) do
    local got = call.got[j]
    if not got or got.wrong then return false end
    if e.literal_.kind == "number" then
      if not (got.off and math.abs(got.off) <= 1 + 1e-9) then return false end
    elseif got.text ~= e.literal_.text:gsub('"', "") then return false
    end
  end
  return true
end

local function differs(call)
  if call.refused then
    return call.case.refuses and "refuses with other words: " .. call.refused or "refuses: " .. call.refused
  end
  if call.case.refuses then return "does not refuse" end
  local out = {}
  for j, e in ipairs(call.expects) do
    local got = call.got[j] or { wrong = "nothing came" }
    if got.wrong then out[#out + 1] = e.path .. ": " .. got.wrong
    elseif e.literal_.kind == "number" then
      if not (got.off and math.abs(got.off) <= 1 + 1e-9) then
        out[#out + 1] = ("%s: published %s, ours %.7g (%.3g times the tolerance off)"):format(e.path, e.literal,
            got.value or 0 / 0, got.off or 0 / 0)
      end
    elseif got.text ~= e.literal_.text:gsub('"', "") then
      out[#out + 1] = ("%s: published %s, ours %s"):format(e.path, e.literal, got.text)
    end
  end
  return table.concat(out, "; ")
end

-- Literals and tolerances of a call's expectations; what is wrong with them.
local function settle(call, op, wrong)
  local function bad(e, what, hint) wrong[#wrong + 1] = { line = e.line or call.line, text = what, hint = hint } end
  for _, e in ipairs(call.expects) do
    local first = e.path:match "^[%a_][%w_]*"
    if first == "count" then first = e.path:match "%S+$" end
    local field = e.path:match "%]%.([%w_]+)$"
    local is = op.is[field and first .. "[n]." .. field or first]
    if not is then
      bad(e, call.case.op .. " gives no '" .. e.path .. "'", "stringline describe calc." .. call.case.op)
    end
    local l = literal_of(e.literal)
    e.literal_ = l
    if not l then
      bad(e, "'" .. e.literal .. "' is no value", HINT_LITERAL)
      e.literal_ = { kind = "flag", text = e.literal }
    elseif l.kind == "number" then
      local share
      if e.within then
        local t = literal_of(e.within)
        local percent = e.within:match "^([%d.]+)%s*%%$"
        if percent and l.unit ~= "%" then
          share = tonumber(percent) / 100
          e.tolerance = ("%.17g * %s"):format(share, "abs(" .. l.text .. ")")
        elseif not t or t.kind ~= "number" then bad(e, "'" .. e.within .. "' is no tolerance", "0.5%, or 0.01ft")
        else
          e.tolerance = t.text
          share = math.abs(t.value / l.value)
          if t.unit ~= l.unit and not POINTS[l.unit] then
            bad(e, "the tolerance is in another unit than the value", "write both in " .. l.unit)
          end
        end
        if not e.because then
          bad(e, "a tolerance of one's own wants its reason", "within 0.5% because the page rounds its steps")
        end
      elseif call.case.exact[e.path] or is == "a whole number" or e.path:find "^count " then
        e.tolerance, share = ("%.17g*%s"):format(1e-9 * math.max(1, math.abs(l.value)), (unit_of(l))), 0
      else
        local unit = unit_of(l)
        e.tolerance = ("%.17g*%s"):format(l.half, unit)
        share = l.half / math.abs(l.value)
      end
      if share and share > WIDE and l.value ~= 0 and not e.because then
        bad(e, ("%s leaves %.0f %% either way"):format(e.literal, 100 * share),
            "write the digits that are printed, or within ... because ...")
      end
      e.tolerance = e.tolerance or "1"
    end
  end
end

-- The same call with another word for one of its choices.
local function variants(call, op)
  local out = {}
  for _, choice in ipairs(op.choices) do
    local pattern = "([{,%s])(" .. choice.input .. '%s*=%s*)"([^"]*)"'
    local _, _, has = call.calc:match(pattern)
    if has and not call.case.alike[choice.input] then
      for _, word in ipairs(choice.words) do
        if word ~= has then
          out[#out + 1] = { case = call.case, line = call.line, of = call, expects = call.expects,
                            input = choice.input, from = has, to = word,
                            calc = call.calc:gsub(pattern, '%1%2"' .. word .. '"') }
        end
      end
    end
  end
  return out
end

-- Reads, runs and judges a text -> cases with their calls, what is wrong in it, what differs.
local function judge(text, ops)
  local file, wrong = outside_file.read(text)
  if #wrong > 0 then return file, wrong, {} end
  local calls, base = {}, {}
  for _, case in ipairs(file.cases) do
    local op = ops[case.op]
    if not op then
      wrong[#wrong + 1] = { line = case.line, text = "nothing is called calc." .. case.op,
                            hint = "stringline describe calc lists the primitives" }
    else
      case.calls = outside_file.calls(case)
      for _, call in ipairs(case.calls) do
        settle(call, op, wrong)
        calls[#calls + 1], base[#base + 1] = call, call
      end
      if not case.refuses then
        for _, call in ipairs(case.calls) do
          for _, other in ipairs(variants(call, op)) do calls[#calls + 1] = other end
        end
      end
    end
  end
  if #wrong > 0 then return file, wrong, {} end
  local stopped = run(calls)
  if stopped then
    wrong[1] = { line = stopped.call and stopped.call.line or 1, hint = "it must read as in a script",
                 text = (stopped.call and stopped.call.case.name .. ": " or "") .. stopped.why }
    return file, wrong, {}
  end
  local differences, told = {}, {}
  for _, call in ipairs(base) do
    call.good = holds(call)
    if not call.good then
      differences[#differences + 1] = { line = call.line, text = call.case.name ..
          (call.label ~= "" and " (" .. call.label .. ")" or "") .. ": " .. differs(call) }
    end
  end
  -- a choice that no line of the case tells from another
  for _, call in ipairs(calls) do
    if call.of then
      local key = ("%s\0%s\0%s\0%s"):format(call.case.name, call.input, call.from, call.to)
      told[key] = told[key] or { call = call, same = true }
      if not holds(call) then told[key].same = false end
    end
  end
  for _, call in ipairs(calls) do
    local key = call.of and ("%s\0%s\0%s\0%s"):format(call.case.name, call.input, call.from, call.to)
    if key and told[key].same and call.of.good and not told[key].said then
      told[key].said = true
      differences[#differences + 1] = { line = call.case.line, text = ("%s: %s = \"%s\" instead of \"%s\" passes too")
          :format(call.case.name, call.input, call.to, call.from),
          hint = "check an output that tells them apart, or: alike " .. call.input .. " because ..." }
    end
  end
  return file, wrong, differences
end

-- ---- what has no case ---------------------------------------------------------------------------------------------

local function output_name(path)
  if path:find "^count " then return path:match "%S+$" end
  return (path:gsub("%[%d+%]%.", "[n]."):gsub("%[%d+%]$", ""))
end

local function missing(read, ops, order)
  local seen, out, reasons = {}, {}, {}
  for _, file in ipairs(read) do
    for _, case in ipairs(file.cases) do
      for _, call in ipairs(case.calls or {}) do
        for _, e in ipairs(call.expects) do seen[case.op .. "." .. output_name(e.path)] = true end
      end
    end
    for _, none in ipairs(file.none) do reasons[none.output] = { none = none, path = file.path } end
  end
  local exists = {}
  for _, name in ipairs(order) do
    for _, path in ipairs(ops[name].outputs) do
      local output = name .. "." .. path
      exists[output] = true
      if not seen[output] and not reasons[output] then
        out[#out + 1] = { text = output .. " has no case from outside", hint = "or: none " .. output .. " because ..." }
      end
    end
  end
  for output, why in pairs(reasons) do
    if not exists[output] then
      out[#out + 1] = { path = why.path, line = why.none.line, text = "there is no output " .. output }
    elseif seen[output] then
      out[#out + 1] = { path = why.path, line = why.none.line, text = output .. " has a case: take the reason out" }
    end
  end
  table.sort(out, function(a, b) return a.text < b.text end)
  return out
end

-- ---- the document -------------------------------------------------------------------------------------------------

local function cell(text) return (text:gsub("|", "\\|"):gsub("[<>]", { ["<"] = "&lt;", [">"] = "&gt;" })) end

local function number_shown(value, decimals)
  local text = ("%." .. math.min(decimals + 2, 8) .. "f"):format(value)
  return (text:gsub("^-(0%.?0*)$", "%1"))
end

local function rows_of(call, first, write)
  local case = call.case
  for j, e in ipairs(call.expects) do
    local got, ours, off, share = call.got[j], "", "", ""
    if e.literal_.kind ~= "number" then ours = got.text
    else
      local l = e.literal_
      ours = number_shown(got.value, l.decimals)
      if l.value ~= 0 then off = number_shown(100 * (got.value - l.value) / math.abs(l.value), 0) .. " %" end
      share = number_shown(got.off, 0)
    end
    local name = call.label ~= "" and call.label or ""
    local by = case.by == "published" and "" or "; " .. case.by
    local source = first and j == 1 and ("**%s**: %s (%s%s)"):format(case.name, case.source, case.known, by) or ""
    local shown = e.literal:gsub('"', "")
    write(("| %s | %s | `%s` | %s | %s | %s | %s |"):format(cell(source), cell(name), cell(e.path), cell(shown),
        cell(ours), off, share))
  end
  if case.refuses then
    write(("| **%s**: %s (%s) |  | refuses | %s | refuses |  |  |"):format(cell(case.name), cell(case.source),
        case.known, cell(case.refuses)))
  end
end

local function write_document(read, ops, order)
  local out = {}
  local function write(line) out[#out + 1] = line end
  local counts, cases, values = {}, 0, 0
  for _, file in ipairs(read) do
    for _, case in ipairs(file.cases) do
      cases = cases + 1
      for _, call in ipairs(case.calls) do values = values + math.max(1, #call.expects) end
      counts[case.known] = (counts[case.known] or 0) + 1
    end
  end
  write [[
# What the primitives were checked against

Written by `make docs` from the cases in `tests/outside`; do not edit it. Each table sets a published value beside ours.
*Off* is the difference as a share of the published value; *of tolerance* the same in tolerances: beyond 1 or -1 the
test fails. The tolerance is half a unit of the last digit printed, or what the case gives a reason for.

How a source is known: **read**: whoever wrote the case had the page before them; **read before**: whoever collected the
case for the project had, and it was not opened again; **second-hand**: a reprint, a transcription or a quotation of the
work was; **memory**: nobody had; **practice**: the trade's word, no source; **theorem**: it follows from what is named,
and there is nothing to look up. *hand* names who worked the answer out from the page that is cited.
]]
  local words = {}
  for _, known in ipairs { "read", "read before", "second-hand", "memory", "practice", "theorem" } do
    if counts[known] then words[#words + 1] = counts[known] .. " " .. known end
  end
  write(("%d cases with %d values: %s.\n"):format(cases, values, table.concat(words, ", ")))
  for _, file in ipairs(read) do
    write("## " .. file.subject .. "\n")
    write "| case and source | with | output | published | ours | off | of tolerance |\n|---|---|---|---|---|---|---|"
    for _, case in ipairs(file.cases) do
      for i, call in ipairs(case.calls) do rows_of(call, i == 1, write) end
    end
    local notes = {}
    for _, case in ipairs(file.cases) do
      if case.note then notes[#notes + 1] = "- " .. case.name .. ": " .. case.note end
      for _, call in ipairs(case.calls) do
        for _, e in ipairs(call.expects) do
          local said = e.because and case.name .. ": " .. e.path .. " within " .. e.within .. " because " .. e.because
          if said and not notes[said] then
            notes[said] = true
            notes[#notes + 1] = "- " .. said
          end
        end
      end
      for input, why in pairs(case.alike) do
        notes[#notes + 1] = "- " .. case.name .. ": holds with another " .. input .. " too because " .. why
      end
    end
    table.sort(notes)
    if #notes > 0 then write("\n" .. table.concat(notes, "\n")) end
    write ""
  end
  local none = {}
  for _, file in ipairs(read) do
    for _, one in ipairs(file.none) do none[one.output] = one.why end
  end
  write "## Outputs without a case from outside\n"
  write "| output | why |\n|---|---|"
  for _, name in ipairs(order) do
    for _, path in ipairs(ops[name].outputs) do
      local why = none[name .. "." .. path]
      if why then write(("| `%s.%s` | %s |"):format(name, path, cell(why))) end
    end
  end
  return table.concat(out, "\n") .. "\n"
end

-- ---- the reader's own cases ---------------------------------------------------------------------------------------

local GOOD = "subject S\ncase a\nfrom W; read\nby published\ncalc diagonal { along = 3ft, across = 4ft }\n"
local FAULTS = {                                     -- text, line, part of the complaint
  { "case a\n", 1, "has no subject" },
  { "subject S\ncase a\nby published\ncalc diagonal { along = 3ft, across = 4ft }\ngives diagonal = 5ft\n", 2,
    "has no source" },
  { "subject S\ncase a\nfrom W\nby published\ncalc diagonal { along = 3ft, across = 4ft }\ngives diagonal = 5.0ft\n", 2,
    "how it is known" },
  { "subject S\ncase a\nfrom W; read\ncalc diagonal { along = 3ft, across = 4ft }\ngives diagonal = 5.0ft\n", 2,
    "who worked it out" },
  { GOOD, 2, "gives nothing" },
  { GOOD .. "given diagonal = 5.0ft\n", 6, "nothing is called 'given'" },
  { GOOD .. "gives length = 5.0ft\n", 6, "gives no 'length'" },
  { GOOD .. "gives diagonal = 5ft\n", 6, "leaves 10 % either way" },
  { GOOD .. "gives diagonal = 5.0ft within 0.2ft\n", 6, "wants its reason" },
  { GOOD .. "gives diagonal = 5.0ft within 1in because it is so\n", 6, "another unit" },
  { GOOD .. "gives diagonal = five\n", 6, "is no value" },
  { GOOD .. "gives diagonal = 5.01ft\n", 2, "published 5.01ft, ours 5" },
  { GOOD .. "gives diagonal = 5.00V\n", 2, "diagonal: " },
  { GOOD .. "refuses \"too long\"\n", 2, "does not refuse" },
  { GOOD .. "row 3 => 4\n", 6, "without columns" },
  { GOOD .. "columns along => diagonal\nrow 3ft => 5.0ft\n", 2, "does not stand in its calculation" },
  { GOOD:gsub("4ft", "4foot") .. "gives diagonal = 5.0ft\n", 2, "a: " },
  { GOOD:gsub("diagonal", "diagonals") .. "gives diagonal = 5.0ft\n", 2, "nothing is called calc.diagonals" },
  { "subject S\ncase a\nfrom W; read\nby published\ncalc conductor { edition = \"NEC 2023\", " ..
    "material = \"copper\", size = \"6\", stranding = \"stranded\" }\ngives diameter = 0.184in\n", 2,
    'material = "aluminum" instead of "copper" passes' },
}

-- ---- all of it ----------------------------------------------------------------------------------------------------

local ops, order = read_primitives(output_of(lanes.quoted(binary) .. " reference"))
if #order == 0 then
  print "the command tells no primitives"
  os.exit(1)
end
local passed, failed = 0, 0
local function fail(path, complaints)
  failed = failed + #complaints
  for _, c in ipairs(complaints) do
    print((c.path or path) .. (c.line and ":" .. c.line or "") .. ": " .. c.text ..
          (c.hint and "\n    help: " .. c.hint or ""))
  end
end

if whole then files = lanes.files("tests/outside", "%.case$") end
local read = {}
for _, name in ipairs(files) do
  local path = whole and "tests/outside/" .. name or name
  local text = lanes.read(path)
  if not text then fail(path, { { text = "cannot be read" } })
  else
    local file, wrong, differences = judge(text, ops)
    file.path = path
    read[#read + 1] = file
    fail(path, wrong)
    fail(path, differences)
    for _, case in ipairs(file.cases) do
      for _, call in ipairs(#wrong == 0 and case.calls or {}) do
        if call.good then passed = passed + 1 end
      end
    end
  end
end
if document then
  if failed > 0 then os.exit(1) end
  io.write(write_document(read, ops, order))
  os.exit(0)
end
if whole then
  for _, fault in ipairs(FAULTS) do
    local _, wrong, differences = judge(fault[1], ops)
    local w = wrong[1] or differences[1]
    if w and w.line == fault[2] and w.text:find(fault[3], 1, true) then passed = passed + 1
    else
      fail("tests/outside.lua", { { text = "'" .. fault[3] .. "' is not noticed in\n" .. fault[1] ..
          (w and "but at line " .. w.line .. ": " .. w.text or "") } })
    end
  end
  local gaps = missing(read, ops, order)
  fail("tests/outside", gaps)
  if #gaps == 0 then passed = passed + 1 end
  local current = lanes.read("docs/verification.md")
  if failed == 0 then
    if current == write_document(read, ops, order) then passed = passed + 1
    else fail("docs/verification.md", { { text = "is not current", hint = "run `make docs`" } }) end
  end
end
print(("outside: %d passed, %d failed"):format(passed, failed))
os.exit(failed == 0 and 0 or 1)
