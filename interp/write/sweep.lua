-- SPDX-License-Identifier: MIT
-- What a sweep found (sweep.answer), as a document: one sentence, the ten best, what stops the others, the Pareto set,
-- what had no effect, what is not covered, how to go on.
local record = import "model.record"
local document = import "write.document"
local identity = import "write.identity"
local sheets = import "write.sheets"
local say = import "write.sweep_words"
local table_of = import "write.sweep_table"

local count, of_many = say.count, say.of_many

-- ---- the head ------------------------------------------------------------------------------------------------------

local function head(d, f, o)
  local rows = {}
  for a, axis in ipairs(f.axes) do
    rows[a] = { a == 1 and "varied" or "", axis.name .. ": " .. say.steps(axis) }
  end
  local function row(what, says) rows[#rows + 1] = { what, says } end
  row("variants", say.counts(f))
  if #f.goals > 0 then row("sought", say.goals(f)) end
  row("the job", (record.given(record.root, "name") or "without a name") .. ", stage " .. record.root.stage ..
      (record.given(record.root, "on") and ", judged on " .. record.given(record.root, "on") or
          ", no day given to judge on"))
  local days = say.prices(f)
  if days then row("prices", days) end
  for _, s in ipairs(o.set or {}) do row("changed", "--set " .. s) end
  if o.alternate then row("alternate", o.alternate) end
  d:table({ { "", key = "what" }, { "", key = "says", wrap = true } }, rows)
  d:para(sheets.aid)
end

-- What nobody may overlook of the first: its verdict with what is not judged, and what stands beside that.
local function beside(d, f)
  local row = f.told[1]
  local j = row and row.judged
  if not j or j.refused then return end
  d:heading((f.winner and "The verdict of variant " or "Variant ") .. row.number .. ", judged again")
  d:para(j.verdict)
  if #j.beside > 0 then
    d:gap()
    d:table({ { "", key = "beside the verdict" }, { "", key = "says", wrap = true } }, j.beside)
  end
end

-- ---- tables of variants --------------------------------------------------------------------------------------------

local function put_rows(d, f, list, ranks)
  local alike, rank = false, {}
  for i, row in ipairs(list) do
    rank[row.number] = ranks[i]
    alike = alike or (row.alike or 0) > 0
  end
  local heads = { { "rank", right = true }, alike and { "alike", right = true } or nil }
  return table_of(d, f, list, heads, function(row)
    return { rank[row.number], alike and ((row.alike or 0) > 0 and "+" .. count(row.alike) or "") or nil }
  end, { { "limited by", say.limit }, { "cautions", say.cautions } })
end

local function base_rank(f)
  if f.base.status ~= "holds" then return "-" end
  return f.base_rank and tostring(f.base_rank) or "-"
end

local function best(d, f)
  if #f.best == 0 then return end
  local list, ranks, base = {}, {}, false
  for i, row in ipairs(f.best) do
    list[i], ranks[i] = row, tostring(row.rank)
    base = base or row.number == 0
  end
  if not base then list[#list + 1], ranks[#ranks + 1] = f.base, base_rank(f) end
  d:heading(#f.best == 1 and "The one that can be ranked" or "The " .. say.number(#f.best) .. " best" ..
      (f.complete and "" or " so far"))
  local beneath = put_rows(d, f, list, ranks)
  d:gap()
  if beneath ~= "" then d:para(beneath) end
  for _, text in ipairs(say.after_best(f)) do d:para(text) end
end

local function nearest(d, f)
  if #f.nearest == 0 then return end
  d:heading("None holds: those that come nearest" .. (f.complete and "" or " so far"))
  local beneath = table_of(d, f, f.nearest, {}, function() return {} end, {
    { "broken", function(row) return table.concat(row.broken, " ") end },
    { "unknown", function(row) return table.concat(row.unknown, " ") end },
  })
  d:gap()
  if beneath ~= "" then d:para(beneath) end
  d:para("Fewest stop rules broken first, then fewest unknown" .. (#f.goals > 0 and ", then by what is sought" or "") ..
      ". What is broken or unknown there is to be mended before anything is built.")
end

-- Where whole pieces make a difference between those that are told and the job as declared.
local function bought(d, f)
  local _, later = say.not_comparable(f)
  for _, text in ipairs(later) do d:warning(text) end
  local rows = say.bought(f)
  if #rows == 0 then return end
  d:heading("Bought in whole pieces by the first of these, where they differ")
  d:table({ { "item", wrap = true }, { "variant", wrap = true }, { "bought", wrap = true } }, rows)
  d:para("What is sold in lengths, spools and bags makes prices jump: between two steps nothing is interpolated.")
end

-- ---- what stops the others -----------------------------------------------------------------------------------------

local MOST_RULES = 20

local function rule_rows(f, key, alone, reason, of)
  local rows, left = {}, 0
  for _, r in ipairs(f.rules) do
    if r[key] > 0 then
      if #rows < MOST_RULES then
        rows[#rows + 1] = { r.id, { text = count(r[alone]), value = r[alone] }, { text = count(r[key]),
            value = r[key] },
            r.says or "of another file than the job names", r[reason] and "variant " .. r[of] .. ": " .. r[reason] or
                "" }
      else left = left + 1 end
    end
  end
  return rows, left
end

local function put_rules(d, rows, left, says)
  if #rows == 0 then return end
  d:subheading(says)
  d:table({ "rule", { "alone", right = true, key = "stops alone" }, { "in all", right = true },
      { "says", wrap = true }, { "for example", wrap = true } }, rows)
  if left > 0 then d:para("And " .. left .. " rules more: --format json has all of them.") end
  d:gap()
end

local function failures(d, f)
  local broken, more = rule_rows(f, "broken", "alone", "reason", "reason_of")
  local unknown, others = rule_rows(f, "unknown", "open_alone", "open_reason", "open_reason_of")
  if #broken + #unknown + #f.ended == 0 then return end
  d:heading("What stops variants" .. (f.complete and "" or " so far"))
  d:inside(function()
    put_rules(d, broken, more, "Broken stop rules: how many variants, and how many that nothing else stops")
    put_rules(d, unknown, others, f.quote and "Unknown stop rules, which stop nothing at stage quote" or
        "Unknown stop rules: how many variants, and how many that nothing else stops")
    if #f.ended > 0 then
      local rows = {}
      for i, e in ipairs(f.ended) do
        rows[i] = { say.ended[e.status], { text = count(e.n), value = e.n }, "variant " .. e.example .. ": " ..
            (e.why or "no reason was kept") }
      end
      d:subheading "Not judged"
      d:table({ { "why", wrap = true }, { "variants", right = true }, { "for example", wrap = true } }, rows)
      d:gap()
    end
  end)
  if f.cautioned > 0 then
    d:para("Cautions stop nothing here: " .. of_many(f.cautioned, f.counts.holds) .. " that hold " ..
        (f.cautioned == 1 and "has" or "have") .. " a caution rule that is broken or unknown.")
  end
end

-- ---- the Pareto set ------------------------------------------------------------------------------------------------

local function pareto(d, f)
  if #f.goals == 0 or (f.counts.holds or 0) == 0 then return end
  if not f.pareto then
    d:heading "No Pareto set"
    d:para("One result is sought: the first of the ranking is all that a Pareto set could show. Seek two, as in " ..
        "`seek { least = \"job.total\", most = \"rack.east.lower_edge\" }`.")
    return
  end
  local rows = {}
  for i, number in ipairs(f.pareto.shown) do rows[i] = f.rows(number) end
  d:heading("The Pareto set" .. (f.complete and "" or " so far"))
  local beneath = table_of(d, f, rows, {}, function() return {} end)
  d:gap()
  if beneath ~= "" then d:para(beneath) end
  local n = #f.pareto.numbers
  d:para(count(n) .. (n == 1 and " variant holds and is" or " variants hold and are") .. " not bettered in one goal " ..
      "without loss in another; ties are kept." .. (n > #rows and " Shown are the ends and others evenly between " ..
      "them, what came out alike once; the table `pareto` of the store has all." or ""))
end

-- ---- the rest ------------------------------------------------------------------------------------------------------

local function not_covered(d, f, o)
  d:heading "What this does not cover"
  for _, text in ipairs(say.not_covered(f, o)) do d:item(text) end
end

local function patch(d, f)
  if not f.winner or f.winner.number == 0 then return end
  local of = import "sweep.patch"
  d:heading("Variant " .. f.winner.number .. " as a patch")
  of.document(d, of.of(f.space, f.winner.number))
end

local function go_on(d, f, o)
  local first = f.told[1]
  if f.complete and not first then return end
  d:heading "How to go on"
  if not f.complete and not f.shard then
    d:para "What is missing is judged by the same command again; what is done stays:"
    d:inside(d.code, say.command(f, o))
  end
  if f.shard then
    d:para("This is shard " .. f.shard .. ": `stringline merge` joins it with the others, and the same command on " ..
        "the " ..
        "whole gives the answer.")
  end
  local function only(number, which)
    d:para("Variant " .. number .. which .. " as a normal run, with its sheets, its tolerances tried:")
    d:inside(d.code, say.command(f, o, "--only " .. number))
  end
  if first then only(first.number, "") end
  if f.waiting and f.waiting.best and not (first and first.number == f.waiting.best) then
    only(f.waiting.best, ", which waits for somebody to answer for it,")
  end
end

-- A text can only name them, and does where there are files; the page for a browser has them at its end.
local function pictures(d, f, o)
  local list = f.pictures or {}
  if #list == 0 then return end
  d:heading "Pictures"
  if not o.pictures and o.format ~= "html" and o.format ~= "json" then
    d:para("In the page of `--format html`: " .. (list[1].name == "scatter" and list[1].canvas.title .. " against " ..
        "each other" .. (#list > 1 and ", and " or "") or "") .. (list[#list].name ~= "scatter" and
        "which rules stop variants along an axis" or "") .. ". `--pictures FOLDER` writes them as files.")
    return
  end
  for _, p in ipairs(list) do d:picture(p.name, p.canvas, p.file) end
end

-- f: as sweep.answer has it; o: the options of the command.
return function(f, o)
  local d = document.new("sweep", "Sweep")
  d.tight = true
  local holds = f.counts.holds or 0
  local unlike = say.not_comparable(f)
  local left_out = say.left_out(f)
  d:para(say.sentence(f), nil, nil, holds == 0 and "bad" or (#unlike > 0 or left_out) and "warn" or
      f.winner and "good" or nil)
  for _, text in ipairs(unlike) do d:warning(text) end
  if f.unranked then d:warning(say.unranked(f)) end
  if left_out then d:warning(left_out) end
  for _, text in ipairs(say.beneath(f)) do
    d:gap()
    d:para(text)
  end
  d:gap()
  head(d, f, o)
  if f.unlike then
    d:warning("Variant " .. f.unlike .. ", judged again, does not come out as it was kept: nothing of this answer " ..
        "is " ..
        "to be relied on. Give the sweep a new store, and tell the makers of the program.")
  end
  beside(d, f)
  best(d, f)
  nearest(d, f)
  bought(d, f)
  failures(d, f)
  pareto(d, f)
  d:heading "Effects and duplicates"
  for _, text in ipairs(say.effects(f)) do d:item(text) end
  not_covered(d, f, o)
  patch(d, f)
  go_on(d, f, o)
  pictures(d, f, o)
  import("write.sweep_facts").put(d, f, o)
  if o.format == "csv" then d.whole = { csv = import "write.sweep_export"(f) } end
  d:heading "What it was made from"
  d:table({ { "", key = "what" }, { "", key = "version or hash" }, { "", key = "name or value", wrap = true } },
      identity.rows(identity.facts(o)))
  return d
end
