-- SPDX-License-Identifier: MIT
-- What came of the faults, as a page of Markdown: no date, no times, always in the same order.
local report = {}

local CLASSES = { { "tables", "tables (`interp/data`)" }, { "formulas", "formulas (`interp/calc`)" },
                  { "results", "results (`stdlib`)" }, { "rules", "rules (`stdlib/*/rules.lua`)" },
                  { "ranges", "ranges of fields (`stdlib/*/schema.lua`)" } }

local function share(part, whole) return whole == 0 and "-" or ("%.1f %%"):format(100 * part / whole) end

local function new_count() return { drawn = 0, noticed = 0, outside = 0, held = 0, suites = 0, texts = 0, kept = 0 } end

-- `held`: by the second transcription of a table, which is outside too.
local function count(c, fault, result)
  if result.outcome == "equivalent" then c.kept = c.kept + 1 return end
  c.drawn = c.drawn + 1
  if result.outcome ~= "noticed" then return end
  c.noticed = c.noticed + 1
  c[result.stage] = c[result.stage] + 1
  if result.stage == "outside" and result.test:find "^transcriptions" then c.held = c.held + 1 end
end

local function code(text)
  return "`" .. text:gsub("`", "'") .. "`"
end

local function diff(out, fault)
  out[#out + 1] = "```diff"
  out[#out + 1] = "- " .. fault.before
  out[#out + 1] = "+ " .. fault.after
  out[#out + 1] = "```"
end

-- drawn: { { fault, result } ... } in their order; totals are given back for the verdict, of all and of what holds
-- numbers from outside: tables, formulas, results, rules. is_part: not a whole run.
function report.page(drawn, seed, is_part)
  local total, numbers, classes, files, paths = new_count(), new_count(), {}, {}, {}
  local survivors, equivalents, unbuilt, tests, names = {}, {}, {}, {}, {}
  for _, one in ipairs(drawn) do
    local fault, result = one[1], one[2]
    if result.outcome == "unbuilt" then unbuilt[#unbuilt + 1] = one goto next end
    classes[fault.class] = classes[fault.class] or new_count()
    if not files[fault.path] then
      files[fault.path] = new_count()
      paths[#paths + 1] = fault.path
    end
    for _, c in ipairs { total, classes[fault.class], files[fault.path] } do count(c, fault, result) end
    if fault.class ~= "ranges" then count(numbers, fault, result) end
    if result.outcome == "survived" then survivors[#survivors + 1] = one
    elseif result.outcome == "equivalent" then equivalents[#equivalents + 1] = one
    else
      local name = result.stage .. ": " .. (result.test:match "^([^:]+):" or result.test)
      if not tests[name] then
        tests[name] = 0
        names[#names + 1] = name
      end
      tests[name] = tests[name] + 1
    end
    ::next::
  end
  table.sort(paths)
  table.sort(names, function(a, b)
    if tests[a] ~= tests[b] then return tests[a] > tests[b] end
    return a < b
  end)

  local out = {}
  local function line(text) out[#out + 1] = text end
  local function row(name, c)
    line(("| %s | %d | %d | %d | %d | %d | %d | %s |"):format(name, c.drawn, c.noticed, c.outside, c.held, c.suites,
                                                             c.texts, share(c.outside, c.drawn)))
  end
  local function head(what)
    line("| " .. what .. " | drawn | noticed | from outside | of these by transcription | other suites | texts " ..
         "| outside |")
    line "|---|--:|--:|--:|--:|--:|--:|--:|"
  end
  line "<!-- SPDX-License-Identifier: MIT -->"
  line "<!-- Written by `make mutate`; not edited by hand. -->"
  line "# Planted faults"
  line ""
  line "Which tests notice a wrong number? `make mutate` plants faults in tables, formulas, results and rules, one at a"
  line "time, in a copy of the sources, and runs the tests until one fails: first those whose expected values come from"
  line "outside the project (published, or worked by hand from a cited page; the second transcriptions of the tables"
  line "are such, and guard against a slip only), then all other suites, then what pins the printed texts. A copy of a"
  line "formula or table that `make docs` makes is not asked. Another seed draws others."
  line ""
  line(("Seed %d: %d faults, %d noticed (%s); %d more change nothing. Of the %d in tables, formulas, results and")
       :format(seed, total.drawn, total.noticed, share(total.noticed, total.drawn), total.kept, numbers.drawn))
  line(("rules %d were noticed by values from outside (%s). The ranges of fields are what we take for sense: nobody")
       :format(numbers.outside, share(numbers.outside, numbers.drawn)))
  line "outside says them."
  line ""
  if is_part then
    line "This is a part of a run only."
    line ""
  end
  head "where"
  for _, class in ipairs(CLASSES) do
    if classes[class[1]] then row(class[2], classes[class[1]]) end
  end
  row("all", total)
  line ""
  line "## Not noticed"
  line ""
  if #survivors == 0 then line "None." end
  for _, one in ipairs(survivors) do
    line(("%s, %s (%s)"):format(code(one[1].path), one[1].group, one[1].kind))
    line ""
    diff(out, one[1])
    line ""
  end
  if #survivors == 0 then line "" end
  line "## Faults that change nothing"
  line ""
  line "Drawn, but no answer can tell them from the sources: each with the reason. They are not counted above."
  line ""
  if #equivalents == 0 then line "None." end
  for _, one in ipairs(equivalents) do
    line(("%s, %s (%s): %s"):format(code(one[1].path), one[1].group, one[1].kind, one[1].equivalent))
    line ""
    diff(out, one[1])
    line ""
  end
  if #equivalents == 0 then line "" end
  line "## By file"
  line ""
  head "file"
  for _, path in ipairs(paths) do row(code(path), files[path]) end
  line ""
  line "## Which test was first"
  line ""
  line "| test | faults |"
  line "|---|--:|"
  for _, name in ipairs(names) do line(("| %s | %d |"):format(name, tests[name])) end
  line ""
  line "## Stopped by the build"
  line ""
  line(("%d faults were not counted: the compiler or the audit of the library refused them, and others were drawn.")
       :format(#unbuilt))
  return table.concat(out, "\n") .. "\n", total, numbers
end

return report
