-- SPDX-License-Identifier: MIT
-- How far each input can move before a verdict flips, as a document: first the facts and the choices that are closest,
-- then all inputs, rules, where papers end, what flips nothing.
local record = import "model.record"
local inputs = import "model.inputs"
local margins = import "model.margins"
local util = import "model.util"
local document = import "write.document"
local flips = import "write.flips"
local verdict = import "write.verdict"

local SIDES, unit_of, by_how_much, place_of = flips.SIDES, flips.unit_of, flips.by_how_much, flips.place_of
local declared, found, name_of, described = flips.declared, flips.found, flips.name_of, flips.described
local verbs, verbs_of_many, becoming, in_words = flips.verbs, flips.verbs_of_many, flips.becoming, flips.in_words
local beyond, sided, ended, by_paper = flips.beyond, flips.sided, flips.ended, flips.by_paper
local first, nearest, not_flipped = flips.first, flips.nearest, flips.not_flipped

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
  d:table({ { "picture", drawn = true }, { "input", wrap = true }, { "down", wrap = true, lead = "down" },
      { "up", wrap = true, lead = "up" } }, rows, { stacked = true })
  d:gap()
  d:para("In the picture the middle is what was declared, x where a rule flips, < and > where none does as far as " ..
      "the field goes; the marks on each side stand at " .. table.concat(marks, ", ") .. " % and more. A count goes " ..
      "by what one is of it. Where percents say nothing a kelvin, a degree or a centimetre counts as one.")
end

-- Of each rule the input that flips it first, in the order of the rules; and ids of those that no input flips.
-- papers: also where only a paper ends.
local function by_rule(result, papers)
  local best, order, silent, seen = {}, {}, {}, {}
  for _, m in ipairs(result.moves) do
    for _, side in ipairs(SIDES) do
      for _, f in ipairs(m[side] and m.kind ~= "list" and m[side].flips or {}) do
        local old, apart = best[f.rule], f.stated or not papers and by_paper(f)
        if apart then seen[f.rule] = true
        elseif not old or f.percent < old.percent then best[f.rule] = f end
      end
    end
  end
  for _, o in ipairs(result.outcomes) do
    if best[o.rule] then
      order[#order + 1] = { rule = o.rule, flip = best[o.rule] }
      best[o.rule], seen[o.rule] = nil, true
    elseif not seen[o.rule] then
      seen[o.rule] = true
      silent[#silent + 1] = o
    end
  end
  return order, silent
end

local function put_rules(d, result)
  local order, silent = by_rule(result)
  if #order + #silent > 0 then d:heading("Rules, and the input that is tightest") end
  local rows = {}
  for i, x in ipairs(order) do
    local f = x.flip
    rows[i] = { x.rule.id .. " " .. x.rule.severity, x.rule.says, { text = name_of(f.input) .. " " .. sided(f) ..
        ": " .. becoming(f), value = f.value, path = f.input.path } }
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
      if not by[key] and #ended(o) == 0 then
        by[key] = { rule = o.rule, becomes = key:match "%S+$", at = {} }
        groups[#groups + 1] = by[key]
      end
      if #ended(o) == 0 then table.insert(by[key].at, e.at) end
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

local MOST = 5             -- facts, and choices, that stand first; own choice: what a person reads

local doubtful, looked_at = { told = true, guess = true }, { measured = true, looked_up = true }

-- Whether somebody can be wrong about it: told or guessed, measured or looked up, or nobody says which.
local function is_fact(input)
  return looked_at[input.how] or not input.how and record.kind_of(input.owner) == "site" and not input.field.design
end

-- "3.38 in up", "no margin"
local function how_close(f)
  if f.at_once then return "no margin" end
  return (by_how_much(f.input, f.value, f.percent) or "any") .. " " .. f.side
end

local function close_row(input, close, text, beside)
  return { { text = close }, { text = name_of(input) .. " = " .. described(input) .. (beside and ", and " .. beside ..
      " more of that line" or ""), value = input.value, path = input.path }, text }
end

-- What one line of the script declares many times, as a loop does, and flips the same rule stands once, by its closest:
-- { move, tight, beside = how many more of that line } ...
local function of_lines(list)
  local out, by = {}, {}
  for _, x in ipairs(list) do
    local place = place_of(x.move.input)
    local key = place and place .. " " .. x.tight.rule.id .. " " .. x.tight.becomes
    if by[key] then by[key].beside = (by[key].beside or 0) + 1
    else
      out[#out + 1] = { move = x.move, tight = x.tight }
      if key then by[key] = out[#out] end
    end
  end
  return out
end

-- One input and what flips first, for whoever reads no further.
local function first_row(x)
  local f = x.tight
  return close_row(x.move.input, how_close(f), beyond(f) .. ": " .. f.rule.id .. " " .. verbs[f.becomes] .. ": " ..
      (f.becomes == "unknown" and f.outcome.whys and host.message(f.outcome.whys[1]) or f.rule.says), x.beside)
end

local function put_closest(d, title, rows, more, result)
  if #rows == 0 then return end
  d:heading(title .. (#result.left > 0 and " of those moved" or ""))
  d:table({ { "how close" }, { "input", wrap = true }, { "flips", wrap = true } }, rows, { stacked = true })
  if more > 0 then d:para("And " .. more .. " more, which are further off: below.") end
end

-- What to make sure of: what somebody told or guessed first, then what was measured or looked up.
local function put_facts(d, list, result)
  local rows, rest = {}, {}
  for _, x in ipairs(list) do
    local how = x.move.input.how
    if doubtful[how] then rows[#rows + 1] = first_row(x)
    elseif is_fact(x.move.input) then rest[#rest + 1] = x end
  end
  for _, m in ipairs(result.moves) do
    local text = m.kind == "list" and doubtful[m.input.how] and list_in_words(m)
    if text then rows[#rows + 1] = close_row(m.input, "a choice", text) end
  end
  local most, more = math.max(MOST - #rows, MOST // 2), 0
  for i, x in ipairs(rest) do
    if i <= most then rows[#rows + 1] = first_row(x) else more = more + 1 end
  end
  put_closest(d, "Facts to make sure of: told or guessed first, then the closest", rows, more, result)
end

local function put_chosen(d, list, result)
  local rows, more = {}, 0
  for _, x in ipairs(list) do
    if x.move.input.field.design and not doubtful[x.move.input.how] then
      if #rows < MOST then rows[#rows + 1] = first_row(x) else more = more + 1 end
    end
  end
  put_closest(d, "Chosen, the closest", rows, more, result)
end

-- Whether something else flips first on that side: then it does not matter where a paper ends.
local function flips_before(m, f)
  local other = first(m, f.side)
  return other and (other.percent < f.percent or other.percent == f.percent and math.type(f.value) ~= "integer" and
      not f.at_once)
end

-- Where a move of one input ends papers: { paper, down, up = true for any move or where, at = entries of a list } ...
local function ends_of(m)
  local ends = {}
  local function at(paper)
    for _, x in ipairs(ends) do if x.paper == paper then return x end end
    ends[#ends + 1] = { paper = paper }
    return ends[#ends]
  end
  for _, side in ipairs(m.kind ~= "list" and SIDES or {}) do
    for _, f in ipairs(m[side] and m[side].flips or {}) do
      for _, paper in ipairs(by_paper(f) and not flips_before(m, f) and ended(f.outcome) or {}) do
        local x = at(paper)
        local step = math.type(f.value) == "integer" and math.abs(f.value - m.input.value) == 1
        x[side] = x[side] or (f.at_once or step) and true or beyond(f)
      end
    end
  end
  for _, e in ipairs(m.kind == "list" and m.entries or {}) do
    for _, o in host.sorted(e.flipped) do
      for _, paper in ipairs(ended(o)) do
        local x = at(paper)
        x.at = x.at or {}
        if x.at[#x.at] ~= e.at then table.insert(x.at, e.at) end
      end
    end
  end
  return ends
end

-- Where papers end: what they say is not said of such a job, and nothing that a rule judges need be wrong with it.
local function put_papers(d, result)
  local papers, by = {}, {}
  local function add(paper, how, text)
    if not by[paper] then
      by[paper] = { any = {}, more = {}, less = {}, other = {} }
      papers[#papers + 1] = paper
    end
    table.insert(by[paper][how], text)
  end
  for _, m in ipairs(result.moves) do
    local name = name_of(m.input)
    for _, x in ipairs(ends_of(m)) do
      if x.at then
        local entries = entries_in_words(m, x.at)
        local any = entries == "any other"
        add(x.paper, any and "any" or "other", any and name or name .. " " .. entries)
      elseif x.down == true and x.up == true then add(x.paper, "any", name)
      else
        if x.up then
          add(x.paper, x.up == true and "more" or "other", x.up == true and name or name .. " " .. x.up)
        end
        if x.down then
          add(x.paper, x.down == true and "less" or "other", x.down == true and name or name .. " " .. x.down)
        end
      end
    end
  end
  if #papers == 0 then return end
  d:heading("Where papers end")
  d:para("A paper holds for what it was made for. Where an input leaves that, before a rule is broken, nobody " ..
      "answers any more for what the paper covers, and it cannot be judged: ask its author before anything is changed.")
  for _, paper in ipairs(papers) do
    d:subheading(import("model.given").title(paper))
    d:inside(function()
      for _, row in ipairs { { "any", "any change of: " }, { "more", "more of: " }, { "less", "less of: " },
          { "other", "and: " } } do
        local list = by[paper][row[1]]
        if #list > 0 then d:para(table.concat(list, ", ") .. ".", row[2], 2) end
      end
    end)
  end
end

-- What a statement was made for, and any change undoes.
local function put_stated(d, result)
  local order, by = {}, {}
  for _, m in ipairs(result.moves) do
    for _, side in ipairs(SIDES) do
      for _, f in ipairs(m[side] and m[side].flips or {}) do
        if f.stated and not by_paper(f) then
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
    if none and #ends_of(m) == 0 then
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
        rows[#rows + 1] = { { text = sided(f), value = f.value }, becoming(f, " " .. f.rule.severity) }
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

local function put_method(d)
  d:heading("How it was searched")
  d:para("Each input goes up and down to the ends of its field. An amount moves in steps, from a thousandth on, " ..
      "each a quarter longer than the one before, and twice as long beyond the double: a window narrower than a " ..
      "step, in which a rule flips and flips back, can be missed.")
end

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
    for i, x in ipairs((by_rule(result, true))) do
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

-- What to name of those that were left: an amount of the design, where there is one.
local function suggested(left)
  for _, input in ipairs(left) do
    if input.field.design and (inputs.is_amount(input) or input.field.type == "count") then return input end
  end
  return left[1]
end

local function put_head(d, result, outcomes, status, options)
  d:para(verdict.line(outcomes, status), nil, nil, status == 0 and "good" or "bad")
  d:gap()
  local looked = {}
  for _, id in ipairs(options.rule) do looked[#looked + 1] = id end
  d:para("How far each input can move, alone, before a verdict " ..
      (#looked > 0 and "of " .. util.list(looked) .. " " or "") .. "flips, the others as declared. What several " ..
      "inputs do together is not covered. How it was searched stands at the end.")
  if #result.left > 0 then
    d:gap()
    d:warning("Given up after " .. result.work .. " outcomes were judged anew: " .. #result.left .. " inputs were " ..
        "not moved; they are listed at the end. Name those that count, as in --input " .. suggested(result.left).path ..
        ".")
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
  d.tight = true
  put_head(d, result, outcomes, status, options)
  local tightest = tightest_inputs(result)
  if not chosen then
    put_facts(d, of_lines(tightest), result)
    put_chosen(d, of_lines(tightest), result)
  end
  put_inputs(d, tightest)
  if chosen then put_along(d, result) else put_rules(d, result) end
  put_lists(d, result)
  put_papers(d, result)
  put_stated(d, result)
  put_silent(d, result)
  put_names(d, "Read by no rule", result.unread, "The prices rest on them.")
  put_names(d, "Unused", result.unused, "Nothing that is judged or priced reads them.")
  put_names(d, "Not moved", result.left, "The search was given up before their turn.")
  put_not_moved(d, result)
  put_method(d)
  facts(d, result, status)
  return d
end
