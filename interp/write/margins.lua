-- SPDX-License-Identifier: MIT
-- How far each input can move before a verdict flips, as a document: inputs, rules, what is only told, what flips
-- nothing.
local run = import "model.run"
local record = import "model.record"
local inputs = import "model.inputs"
local margins = import "model.margins"
local util = import "model.util"
local document = import "write.document"
local words = import "write.words"
local verdict = import "write.verdict"

local SIDES = { "down", "up" }

-- ---- values ---------------------------------------------------------------------------------------------------------

local function unit_of(input)
  if input.field.type == "ratio" then return "%" end
  return nil
end

-- What was declared, as it was written; a record by its name.
local function declared(input, value)
  if value == nil then value = input.value end
  if input.field.axis then return words.position(value, input.field.axis) end
  return words.as_written(value, unit_of(input))
end

-- A value that was found, to five digits; a length without feet and fractions, in the unit of what was declared.
local function found(input, value)
  if input.field.axis then return words.position(value, input.field.axis) end
  if math.type(value) == "integer" or not (type(value) == "number" or host.is_quantity(value)) then
    return declared(input, value)
  end
  return words.decimal(value, unit_of(input) or words.unit(value), 5)
end

local spoken = { temperature = "temperature difference", angle = "angle", length = "length" }

-- By how much: percents of what was declared, or where those say nothing degrees or lengths.
local function by_how_much(input, value, percent)
  if math.type(value) == "integer" then return tostring(math.abs(value - input.value)) end
  local dim = margins.without_zero(input)
  local si = math.abs(margins.si_of(value) - margins.si_of(input.value))
  if dim then
    local q = host.quantity(si, spoken[dim])
    if dim == "length" then q = host.like(input.value, si) end
    return words.decimal(q, dim == "temperature" and "K" or dim == "angle" and "deg" or words.unit(q), 3)
  end
  if percent == math.huge then return nil end
  return host.format(percent / 100, "%", 3)
end

local function place_of(input) return input.place and host.place(input.place) or nil end

-- "told (a neighbour)", "default", "--set ...".
local function how_known(input)
  if not input.how then return nil end
  return input.how:gsub("_", " ") .. (input.by and " (" .. input.by .. ")" or "")
end

local function name_of(input)
  return input.path .. (input.alike and " and " .. #input.alike .. " alike" or "")
end

-- "90 ft, told (the owner), job.sline:56:26"
local function described(input)
  local parts = { declared(input), how_known(input), place_of(input) }
  local list = {}
  for i = 1, 3 do if parts[i] then list[#list + 1] = parts[i] end end
  return table.concat(list, ", ")
end

-- ---- flips ----------------------------------------------------------------------------------------------------------

local verbs = { broken = "is broken", unknown = "cannot be judged", holds = "holds" }
local verbs_of_many = { broken = "are broken", unknown = "cannot be judged", holds = "hold" }

local function subject_of(f)
  local text = f.rule.each and f.proxy and words.subject { rule = f.rule, proxy = f.proxy } or ""
  return text ~= "" and ", " .. text or ""
end

-- "by 26 %, beyond 113.39 ft"
local function where(f)
  local much = by_how_much(f.input, f.value, f.percent)
  local at = math.type(f.value) == "integer" and "at " or f.side == "up" and "beyond " or "below "
  return (f.at_once and "at once, " or much and "by " .. much .. ", " or "") .. at .. found(f.input, f.value)
end

local function in_words(f)
  return where(f) .. ": " .. f.rule.id .. " " .. verbs[f.becomes] .. subject_of(f)
end

-- The first of a side; what was stated for just what is declared is told apart.
local function first(m, side)
  for _, f in ipairs(m[side] and m[side].flips or {}) do if not f.stated then return f end end
end

-- What is said where nothing flips: how far it was moved.
local function not_flipped(m, side)
  local s = m[side]
  if s.refused then
    return "nothing as far as it is declared: at " .. found(m.input, s.refused.value) .. " it is refused, " ..
        host.message(s.refused.why)
  end
  if host.same(s.edge, m.input.value) then return "it stands at the end of its range" end
  return "nothing as far as " .. found(m.input, s.edge)
end

local function nearest(m)
  local best
  for _, side in ipairs(SIDES) do
    local f = first(m, side)
    if f and (not best or f.percent < best.percent) then best = f end
  end
  return best
end

-- ---- the picture ----------------------------------------------------------------------------------------------------

-- Marks of a side: from one to the next, percent.
local marks = { 0.1, 1, 2, 5, 10, 20, 50, 100 }

-- How far it can move on one side as marks from the middle: "--x" where it flips, "------->" where it does not.
local function bar_of(f, none)
  if not f then return none and string.rep(" ", #marks) or string.rep("-", #marks - 1) .. ">" end
  local n = 1
  while n < #marks and f.percent >= marks[n] do n = n + 1 end
  return string.rep("-", n - 1) .. "x" .. string.rep(" ", #marks - n)
end

local function picture(m)
  local function side(name)
    return bar_of(first(m, name), not first(m, name) and host.same(m[name].edge, m.input.value))
  end
  return (side("down"):reverse():gsub(">", "<")) .. "|" .. side "up"
end

-- ---- parts ----------------------------------------------------------------------------------------------------------

local function by_tightness(list)
  for i, x in ipairs(list) do x.at = i end
  table.sort(list, function(a, b)
    if a.tight.percent ~= b.tight.percent then return a.tight.percent < b.tight.percent end
    return a.at < b.at
  end)
  return list
end

-- Amounts and counts that flip something, tightest first.
local function tightest_inputs(result)
  local list = {}
  for _, m in ipairs(result.moves) do
    local tight = (m.kind == "amount" or m.kind == "count") and nearest(m)
    if tight then list[#list + 1] = { move = m, tight = tight } end
  end
  return by_tightness(list)
end

local function put_inputs(d, list)
  if #list == 0 then return end
  d:heading("Inputs, tightest first")
  local rows = {}
  for i, x in ipairs(list) do
    local m = x.move
    local row = { { text = picture(m) },
        { text = name_of(m.input) .. " = " .. described(m.input), value = m.input.value, path = m.input.path } }
    for k, side in ipairs(SIDES) do
      local f = first(m, side)
      row[2 + k] = { text = f and in_words(f) or not_flipped(m, side), value = f and f.value or nil }
    end
    rows[i] = row
  end
  d:table({ { "picture" }, { "input", wrap = true }, { "down", wrap = true, lead = "down" },
      { "up", wrap = true, lead = "up" } }, rows, { stacked = true })
  d:gap()
  d:para("In the picture the middle is what was declared, x where a rule flips, < and > where none does as far as " ..
      "the field goes; the marks on each side stand at " .. table.concat(marks, ", ") .. " % and more. A count goes " ..
      "by what one is of it. Where percents say nothing a kelvin, a degree or a centimetre counts as one.")
end

-- Of each rule the input that flips it first, in the order of the rules; and ids of those that no input flips.
local function by_rule(result)
  local best, order, silent, seen = {}, {}, {}, {}
  for _, m in ipairs(result.moves) do
    for _, side in ipairs(SIDES) do
      for _, f in ipairs(m[side] and m.kind ~= "list" and m[side].flips or {}) do
        local old = best[f.rule]
        if not f.stated and (not old or f.percent < old.percent) then best[f.rule] = f end
      end
    end
  end
  for _, o in ipairs(result.outcomes) do
    if not seen[o.rule] then
      seen[o.rule] = true
      if best[o.rule] then order[#order + 1] = { rule = o.rule, flip = best[o.rule] }
      else silent[#silent + 1] = o end
    end
  end
  return order, silent
end

local function put_rules(d, result)
  local order, silent = by_rule(result)
  d:heading("Rules, and the input that is tightest")
  local rows = {}
  for i, x in ipairs(order) do
    local f = x.flip
    rows[i] = { x.rule.id .. " " .. x.rule.severity, x.rule.says, { text = name_of(f.input) .. " " .. f.side .. " " ..
        in_words(f), value = f.value, path = f.input.path } }
  end
  if #rows > 0 then
    d:table({ "rule", { "says", wrap = true }, { "tightest", wrap = true } }, rows, { stacked = true })
  end
  local ids, unknown = {}, {}
  for _, o in ipairs(silent) do
    if o.outcome == "unknown" then unknown[#unknown + 1] = o.rule.id
    elseif o.outcome ~= "not applicable" then ids[#ids + 1] = o.rule.id end
  end
  if #ids > 0 then
    d:gap()
    d:para("No amount or count flips, alone: " .. table.concat(ids, ", ") .. ".")
  end
  if #unknown > 0 then
    d:gap()
    d:para("Unknown as declared, so that there is no margin to tell: " .. table.concat(unknown, ", ") .. ".")
  end
end

-- ---- choices and sizes ----------------------------------------------------------------------------------------------

-- Entries of a list in words: of an ordered one those that follow each other as "18 AWG to 8 AWG".
local function entries_in_words(m, at)
  if #at > 1 and #at == #m.list - 1 then return "any other" end
  local parts, i = {}, 1
  while i <= #at do
    local k = i
    while inputs.ordered(m.input) and at[k + 1] == at[k] + 1 do k = k + 1 end
    parts[#parts + 1] = declared(m.input, m.list[at[i]]) .. (k > i and " to " .. declared(m.input, m.list[at[k]]) or "")
    i = k + 1
  end
  return util.list(parts)
end

-- What becomes of which rules with which entries: { ids, becomes, at = places in the list }, those with the same
-- entries together.
local function alike_entries(groups)
  local out, by = {}, {}
  for _, g in ipairs(groups) do
    local id = g.becomes .. " " .. table.concat(g.at, " ")
    if not by[id] then
      by[id] = { ids = {}, becomes = g.becomes, at = g.at }
      out[#out + 1] = by[id]
    end
    table.insert(by[id].ids, g.rule.id)
  end
  return out
end

local function list_flips(m)
  local groups, by = {}, {}
  for _, e in ipairs(m.entries) do
    for key, o in host.sorted(e.flipped) do
      if not by[key] then
        by[key] = { rule = o.rule, becomes = key:match "%S+$", at = {} }
        groups[#groups + 1] = by[key]
      end
      table.insert(by[key].at, e.at)
    end
  end
  return alike_entries(groups)
end

local function refused_entries(m)
  local at = {}
  for _, e in ipairs(m.entries) do if e.refused then at[#at + 1] = e.at end end
  return at
end

-- "R48 is broken with 18 AWG to 8 AWG; not declared with 6 mm2"; nil where nothing flips.
local function list_in_words(m)
  local lines, refused = {}, refused_entries(m)
  for i, g in ipairs(list_flips(m)) do
    lines[i] = util.list(g.ids) .. " " .. (#g.ids > 1 and verbs_of_many or verbs)[g.becomes] .. " with " ..
        entries_in_words(m, g.at)
  end
  if #lines == 0 then return nil end
  if #refused > 0 then lines[#lines + 1] = "not declared with " .. entries_in_words(m, refused) end
  return table.concat(lines, "; ")
end

local function put_lists(d, result)
  local rows = {}
  for _, m in ipairs(result.moves) do
    local text = m.kind == "list" and list_in_words(m)
    if text then
      rows[#rows + 1] = { { text = name_of(m.input), path = m.input.path }, described(m.input), text }
    end
  end
  if #rows == 0 then return end
  d:heading("Choices and sizes, each entry tried")
  d:table({ "input", { "declared", wrap = true }, { "flips", wrap = true } }, rows, { stacked = true })
end

-- ---- what stands apart ----------------------------------------------------------------------------------------------

-- Facts of which nobody says more than that somebody told or guessed them.
local function put_told(d, list, result)
  local rows = {}
  local function add(m, text)
    local input = m.input
    if text and (input.how == "told" or input.how == "guess") then
      rows[#rows + 1] = { { text = name_of(input), path = input.path }, described(input), text }
    end
  end
  for _, x in ipairs(list) do add(x.move, x.tight.side .. " " .. in_words(x.tight)) end
  for _, m in ipairs(result.moves) do add(m, m.kind == "list" and list_in_words(m)) end
  if #rows == 0 then return end
  d:heading("Only told or guessed, and near enough to count")
  d:table({ "input", { "declared", wrap = true }, { "flips", wrap = true } }, rows, { stacked = true })
end

-- What a statement was made for, and any change undoes.
local function put_stated(d, result)
  local order, by = {}, {}
  for _, m in ipairs(result.moves) do
    for _, side in ipairs(SIDES) do
      for _, f in ipairs(m[side] and m[side].flips or {}) do
        if f.stated then
          local id = f.rule.id .. " " .. f.becomes
          if not by[id] then
            by[id] = { rule = f.rule, becomes = f.becomes, names = {} }
            order[#order + 1] = by[id]
          end
          table.insert(by[id].names, name_of(m.input) .. " " .. side)
        end
      end
    end
  end
  if #order == 0 then return end
  d:heading("Stated for just what is declared")
  for _, x in ipairs(order) do
    d:para(x.rule.id .. " (" .. x.rule.says .. ") " .. verbs[x.becomes] .. " as soon as one of these moves: " ..
        table.concat(x.names, ", ") .. ".")
  end
end

local function put_names(d, title, list, says)
  if #list == 0 then return end
  local names = {}
  for i, input in ipairs(list) do names[i] = name_of(input) end
  d:heading(title)
  if says then d:para(says) end
  d:para(table.concat(names, ", ") .. ".")
end

local function how_far(m)
  local down, up = m.down.edge, m.up.edge
  local room = math.max(margins.percent(m.input, margins.si_of(down)), margins.percent(m.input, margins.si_of(up)))
  if room < margins.at_once then return " only as declared" end
  return " from " .. found(m.input, down) .. " to " .. found(m.input, up)
end

-- Read by a rule, and flipping none as far as they go: "site.coldest from -80 degC to 30 degC".
local function put_silent(d, result)
  local names = {}
  for _, m in ipairs(result.moves) do
    local none = m.kind and (m.kind == "list" and #list_flips(m) == 0 or m.kind ~= "list" and not nearest(m))
    if none then
      names[#names + 1] = name_of(m.input) .. (m.kind ~= "list" and how_far(m) or "")
    end
  end
  if #names == 0 then return end
  d:heading("Flip nothing, alone")
  d:para("As far as their field goes, or as they are declared at all: " .. table.concat(names, ", ") .. ".")
end

-- Along the inputs that were asked for: every rule that flips, as it comes.
local function put_along(d, result)
  for _, m in ipairs(result.moves) do
    local rows = {}
    for _, side in ipairs(m.kind ~= "list" and SIDES or {}) do
      for _, f in ipairs(m[side] and m[side].flips or {}) do
        rows[#rows + 1] = { { text = f.side .. " " .. where(f), value = f.value },
            f.rule.id .. " " .. f.rule.severity .. " " .. verbs[f.becomes] .. subject_of(f) }
      end
    end
    if #rows > 0 then
      d:heading("Along " .. m.input.path)
      d:table({ { "where", wrap = true }, { "flips", wrap = true } }, rows)
    end
  end
end

local SKIPPED = { { "paper", "what papers say" }, { "alone", "choices of which there is one" },
  { "text", "texts, names, dates and lists of them" } }

local function put_not_moved(d, result)
  local parts = {}
  for _, row in ipairs(SKIPPED) do
    local n = 0
    for _, m in ipairs(result.moves) do if m.skipped == row[1] then n = n + 1 end end
    if n > 0 then parts[#parts + 1] = n .. " " .. row[2] end
  end
  if #parts == 0 then return end
  d:gap()
  d:para("Not moved: " .. table.concat(parts, "; ") .. ".")
end

-- ---- for programs ---------------------------------------------------------------------------------------------------

local function place_for(as, input)
  local s = input.place
  if not s then return nil end
  return as.object { { "file", host.place { source = s.source, line = 0, col = 0 } }, { "line", s.line },
      { "column", s.col } }
end

local function flip_for(as, f)
  local why = f.becomes == "unknown" and f.outcome.whys
  return as.object { { "rule", f.rule.id }, { "subject", f.subject or "" }, { "side", f.side },
      { "becomes", f.becomes },
      { "value", as.value(f.value, unit_of(f.input)) }, { "last", as.value(f.last, unit_of(f.input)) },
      { "percent", f.percent ~= math.huge and f.percent or nil }, { "at_once", f.at_once },
      { "stated", f.stated }, { "why", why and (host.message(why[1])) or nil } }
end

local function side_for(as, m, side)
  local s = m[side]
  if not s or m.kind == "list" then return nil end
  local flips = as.array {}
  for i, f in ipairs(s.flips) do flips[i] = flip_for(as, f) end
  return as.object { { "moved_to", as.value(s.edge, unit_of(m.input)) },
      { "refused", s.refused and as.object { { "value", as.value(s.refused.value, unit_of(m.input)) },
          { "text", (host.message(s.refused.why)) } } }, { "flips", flips } }
end

local function entries_for(as, m)
  if m.kind ~= "list" then return nil end
  local list = as.array {}
  for i, e in ipairs(m.entries) do
    local flips = as.array {}
    for key, o in host.sorted(e.flipped) do
      flips[#flips + 1] = as.object { { "rule", o.rule.id }, { "subject", o.subject or "" },
          { "becomes", key:match "%S+$" } }
    end
    list[i] = as.object { { "value", as.value(m.list[e.at]) }, { "refused", e.refused and (host.message(e.refused)) },
        { "flips", flips } }
  end
  return list
end

-- Whether a rule reads it, or a price alone, or nothing.
local function read_for(result, m)
  if not m.unread then return not m.skipped and "judged" or nil end
  for _, input in ipairs(result.unread) do if input == m.input then return "priced" end end
  for _, input in ipairs(result.unused) do if input == m.input then return "unused" end end
end

local function input_for(as, result, m)
  local input = m.input
  return as.object { { "path", input.path }, { "alike", input.alike and as.array(input.alike) },
      { "declared", as.value(input.value, unit_of(input)) }, { "how", input.how }, { "by", input.by },
      { "place", place_for(as, input) }, { "moved_as", m.kind }, { "not_moved", m.skipped },
      { "read", read_for(result, m) }, { "down", side_for(as, m, "down") }, { "up", side_for(as, m, "up") },
      { "entries", entries_for(as, m) } }
end

local function facts(d, result, status)
  d:fact("exit", status)
  d:fact("inputs", function(as)
    local list = as.array {}
    for i, m in ipairs(result.moves) do list[i] = input_for(as, result, m) end
    return list
  end)
  d:fact("tightest", function(as)
    local list = as.array {}
    for i, x in ipairs((by_rule(result))) do
      local f = flip_for(as, x.flip)
      table.insert(f, 1, { "input", x.flip.input.path })
      list[i] = f
    end
    return list
  end)
  d:fact("left", function(as)
    local list = as.array {}
    for i, input in ipairs(result.left) do list[i] = input.path end
    return list
  end)
  d:fact("judged_anew", result.work)
end

-- ---- the whole ------------------------------------------------------------------------------------------------------

local function put_head(d, result, outcomes, status, options)
  d:para(verdict.line(outcomes, status), nil, nil, status == 0 and "good" or "bad")
  d:gap()
  local looked = {}
  for _, id in ipairs(options.rule) do looked[#looked + 1] = id end
  d:para("How far each input can move, alone, before a verdict flips" ..
      (#looked > 0 and " of " .. util.list(looked) or "") .. ": up and down to the ends of its field, the others as " ..
      "declared. What several inputs do together is not covered. An amount moves in steps, from a thousandth on, " ..
      "each a quarter longer than the one before, and twice as long beyond the double: a window narrower than a " ..
      "step, in which a rule flips and flips back, can be missed.")
  if #result.left > 0 then
    d:gap()
    local names = {}
    for i, input in ipairs(result.left) do names[i] = name_of(input) end
    d:warning("Given up after " .. result.work .. " outcomes were judged anew: " .. #result.left .. " inputs, on " ..
        "which most rests, were not moved. Name those that count, as in --input " .. result.left[1].path ..
        ". Left: " .. table.concat(names, ", ") .. ".")
  end
end

-- The document of a job that was declared and judged; options: input, rule = lists of the command line.
return function(outcomes, status, options)
  local list, chosen, ids = inputs.all(), nil, nil
  if #options.input > 0 then
    chosen = {}
    for i, path in ipairs(options.input) do chosen[i] = inputs.find(path, list) end
  end
  if #options.rule > 0 then
    ids = {}
    for i, id in ipairs(options.rule) do ids[i] = margins.rule(id).id end
  end
  local result = margins.of(outcomes, { inputs = chosen or list, rules = ids })
  local d = document.new("margins", "Margins")
  put_head(d, result, outcomes, status, options)
  local tightest = tightest_inputs(result)
  if not chosen then put_told(d, tightest, result) end
  put_inputs(d, tightest)
  if chosen then put_along(d, result) else put_rules(d, result) end
  put_lists(d, result)
  put_stated(d, result)
  put_silent(d, result)
  put_names(d, "Read by no rule", result.unread, "The prices rest on them.")
  put_names(d, "Unused", result.unused, "Nothing that is judged or priced reads them.")
  put_not_moved(d, result)
  facts(d, result, status)
  return d
end
