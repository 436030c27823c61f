-- SPDX-License-Identifier: MIT
-- What the schemas say about fields, kinds and results, in words: shared by describe, the form and the reference.
local schema = import "model.schema"
local graph = import "model.graph"
local util = import "model.util"
local manual = {}

local edge = schema.edge

-- "above 0 A", "2 to 40", or nil.
function manual.range(f)
  if f.above then return "above " .. edge(f, f.above) .. (f.max and ", at most " .. edge(f, f.max) or "") end
  if f.min and f.max then return edge(f, f.min) .. " to " .. edge(f, f.max) end
  if f.min then return "at least " .. edge(f, f.min) end
  if f.max then return "at most " .. edge(f, f.max) end
end

local function quoted(list)
  local out = {}
  for i, w in ipairs(list) do out[i] = '"' .. w .. '"' end
  return table.concat(out, ", ")
end

-- What the field takes, with an example and its range.
function manual.needs(f)
  local text
  if f.type == "choice" then text = "one of " .. quoted(f.choices) .. (f.no_data and ', or no_data("...")' or "")
  elseif f.type == "list" and f.item.type == "choice" then text = "a list of " .. quoted(f.item.choices)
  elseif f.type == "list" and f.item.bare then
    text = "a list of " .. f.item.bare .. "s (like { " .. f.example .. " }), or of tables (like { " .. f.item.example ..
        " })"
  elseif f.type == "list" and f.item.type == "group" then text = "a list of tables (like { " .. f.example .. " })"
  else text = schema.wants(f) end
  local range = manual.range(f)
  if range then text = text .. ", " .. range end
  if f.extra then
    for key, choices in host.sorted(f.extra) do text = text .. "; " .. key .. " = " .. quoted(choices) end
  end
  return text
end

local ways = { more = "more is worse", less = "less is worse", other = "any other is worse" }

-- "required", "optional", or what it is without being said.
local function stated(f)
  if f.required and f.only then return "required of a " .. f.only[1] end
  if f.required then return "required" end
  if f.default == nil then return "optional" end
  if f.type == "choice" or f.type == "text" then return 'default "' .. f.default .. '"' end
  return "default " .. tostring(f.default)
end

-- The same, and which way a job is worse where the field may stand in a paper's made_for.  Of a type, whose fields may
-- all be left out, only that.
function manual.state(f, partial)
  return (partial and "optional" or stated(f)) .. (f.worse and not partial and "; in made_for, " .. ways[f.worse] or "")
end

-- What a result says, with the same.
function manual.result_says(r) return (r.says or "") .. (r.worse and "; in made_for, " .. ways[r.worse] or "") end

-- Who can tell it and with which tool; what holds for the group or the kind around it where the field has none.
function manual.known_by(f, around)
  local who, tool = f.who, f.tool
  if not who and not tool and around then who, tool = around.who, around.tool end
  if not who then return tool end
  return tool and who .. ", with " .. tool or who
end

-- Where a record stands, however deep it hangs: rack.NAME.post.NAME.
local function path_to(def)
  local own = def.single and def.name or def.name .. ".NAME"
  return def.parent and path_to(schema.kinds[def.parent]) .. "." .. own or own
end

-- How a declaration of the kind is written.
function manual.written(def)
  if def.written then return def.written end
  if def.parent then return path_to(def) end
  if def.part then return 'parts "FILE"' end
  if def.named then return def.name .. ' "NAME" { ... }' end
  if def.may_name then return def.name .. " { ... }  or  " .. def.name .. ' "NAME" { ... }' end
  return def.name .. " { ... }"
end

-- Where a declaration stands, where that is not plain.
function manual.where(def)
  if def.parent then return "each " .. def.parent .. " has its own; a script reads them, it does not declare them" end
  if def.where then return def.where end
  if def.part then return "a row of a parts file whose first heading is " .. def.name .. "; the others are these" end
  if def.partial then return "every field may be left out: what a type leaves out, each declaration says" end
  if def.files then
    local files = {}
    for i, file in ipairs(def.files) do files[i] = host.an(file) end
    return "in " .. util.list(files, "or") .. " file"
  end
end

-- Every field, those of its groups behind their group: f(path, field, depth, the group or kind that says who tells it).
function manual.each_field(fields, around, f, path, depth)
  path, depth = path or "", depth or 0
  for _, g in ipairs(fields) do
    local own = path .. g.name
    f(own, g, depth, around)
    local inner = g.fields or g.item and g.item.fields
    if inner then
      manual.each_field(inner, (g.who or g.tool) and g or around, f, own .. (g.fields and "." or "[n]."), depth + 1)
    end
  end
end

-- The positional values of a kind, or nil.
function manual.items(def)
  if not def.items then return nil end
  return "one or more " .. (def.items.choices and "of " .. quoted(def.items.choices) or def.items[1] .. "s") ..
      (def.items.type == "lot" and ", each " .. def.items.says or "")
end

-- What a result is: its dimension's name, or nil.
function manual.result_dim(r)
  if r.dim then return r.dim end
  if not r.of then return nil end
  for _, out in ipairs(graph.primitive(r.of.op).outputs) do
    if out.name == r.out then
      return out.kind == "quantity" and out.dim or out.kind == "flag" and manual.input(out) or out.kind
    end
  end
end

-- Results that hold a value (a primitive's whole output is reached by its parts, and rows by sheets).
function manual.results(def)
  local list = {}
  for _, r in ipairs(schema.results(def)) do if not (r.op or r.rows) then list[#list + 1] = r end end
  return list
end

function manual.children(def) return schema.children(def) end

-- What a primitive's field takes.
function manual.input(f)
  if f.kind == "choice" then return "one of " .. quoted(f.choices) end
  if f.kind == "count" then return "a whole number" end
  if f.kind == "flag" then return "true or false" end
  if f.kind == "list" then return f.dim .. ", a list" end
  if f.kind == "rows" then return "a list of tables" end
  if f.kind == "quantity" then return f.dim end
  return f.kind
end

-- Every input or output of a primitive, the fields of a list's rows behind it: f(name, field).
function manual.each_input(fields, f, path)
  path = path or ""
  for _, g in ipairs(fields) do
    f(path .. g.name, g)
    if g.fields then manual.each_input(g.fields, f, path .. g.name .. "[n].") end
  end
end

-- ---- words that declare nothing ------------------------------------------------------------------------------------

-- { heading, { name, how it is written, what it does, { other form, what that says } ... } ... }
manual.words = {
  { "Files", {
    { "place", 'place "plateau-county"',
      "reads a place file: an authority, its limits, permits and rules; a job may have several",
      { { 'place { "plateau-county", version = "2026" }', "that version of it: see version" } } },
    { "house", 'house "two-ridges"', "reads a house file: our own limits, habits and rules",
      { { 'house { "two-ridges", version = "2026-03" }', "that version of it: see version" } } },
    { "parts", 'parts "parts/modules.csv"', "reads a list of modules or clamps; the first heading says which" },
    { "prices", 'prices "prices/yard.csv"', "reads a vendor's price list" },
    { "use", 'use "shared"', "runs another script once and gives back what it returns; what a place or a house file " ..
      "uses is that place's or that house's" },
    { "version", 'version "2026-03"',
      "says at the top of a file which version of it this is; a job that holds to one takes the file that says so, " ..
      "or the one kept beside it as two-ridges.2026-03.sline" },
    { "language", 'language "1"',
      "says at the top of a file for which version of the language it is written; a later one is refused" },
  } },
  { "How a fact is known", {
    { "measured", 'measured(96ft, "tape")', "measured on the ground, with this tool" },
    { "told", 'told(2ft, "owner")', "told by this person" },
    { "looked_up", 'looked_up(115mph, "county table, 2026-09-30")', "read there" },
    { "guess", "guess(2ft)", "a guess: under a stop rule it becomes a caution on page one" },
  } },
  { "A code without data", {
    { "no_data", 'building = no_data("NZBC")',
      "a code that is in force, and of which nothing is kept here: what needs its rows is unknown" },
  } },
  { "Records", {
    { "each", "for r in each(job.rack) do ... end", "the records of a kind, or the items of a list, in their order" },
    { "given", 'given(strings, "fuse")',
      "a field's value, or nil where nobody gave it; plain reading of a missing field makes the rule unknown" },
    { "alternate", 'alternate "six in series" { strings = { series = 6 } }',
      "a named bundle of changed, added or dropped (drop = { path }) declarations, run with --alternate" },
    { "calc", "calc.velocity_pressure { speed = 105mph, ... }",
      "the primitives: `stringline describe calc` lists them" },
    { "print", "print(rack.top_edge)", "writes values, quantities in their unit, on standard error, with the place" },
  } },
  { "Sweeps", {
    { "vary", 'vary { "rack.east.tilt", 25deg, 30deg, 40deg }',
      "other values of an input, beside the declared one: `stringline sweep` judges each with each that is varied " ..
      "besides; a plain run does not look at them", {
        { 'vary { "rack.east.tilt", from = 15deg, to = 60deg, step = 1deg }',
          "by steps, both ends with them; without step, for --sample alone" },
        { 'vary { { "run.west.wire", "run.east.wire" }, "8 AWG", "6 AWG" }', "several inputs moved together" },
        { 'vary { "rack.east.modules", "M430", "M455" }',
          "whatever --set takes there: a part, a name, a choice, true or false, a count, a date" },
        { 'vary { "limits.height", 15ft }', "a limit of the place or the house" },
        { 'vary { "job.sline:12:9", 30in }', "the literal of a script at that line and column" },
        { 'vary { "alternate", "six in series" }', "alternates of the job" },
        { 'vary { file = "plateau-county", "loup-county" }', "other files in the place of one that the job names" },
        { 'vary { "vendors", "Sawtail Lumber", { "Sawtail Lumber", "Gap Creek Electric" } }',
          "only these vendors' prices count" },
        { 'vary { csv = "variants.csv" }',
          "the rows of a file: paths in its heading, values in its cells; an empty cell leaves the declared value" },
      } },
    { "keep", 'keep { "job.total", "rack.east.top_edge" }',
      "results, or inputs, that a sweep keeps of each variant; without any, the total where there are prices" },
    { "seek", 'seek { least = "job.total", most = "rack.east.lower_edge" }',
      "what is sought among the variants that hold, each a path or a list of them; the first that is sought ranks" },
  } },
  { "Tests", {
    { "expect", 'expect { "H1", with = { top_edge = 11ft, job = { crew = 2 } }, outcome = "holds" }',
      "what is expected of a rule where its subject has these fields and results, and no others: `stringline test` " ..
      "of the file tries it, any other run does not look at it", {
        { 'expect { "H1", with = { limits = { setback = 50ft } }, outcome = "broken" }',
          "outcomes are holds, broken, unknown and not applicable; limits may be put in" },
        { 'expect { "feet_per_string", with = { cut_length = 160ft }, gives = 320ft, within = 1ft }',
          "of a result of a script; without within, to rounding; or outcome = \"unknown\"" },
        { 'expect { job = "job.sline", holds = { "H1", "R41" }, broken = "H2 rack.west" }',
          "of a whole job beside the file; also unknown and not_applicable; of a rule the worst of its subjects " ..
          "counts" },
        { 'expect { job = "job.sline", with = { rack = { west = { tilt = 40deg } } }, broken = "H2" }',
          "with changes, as an alternate has them; also alternate = \"...\" and on = \"2026-11-02\"" },
        { 'expect { job = "job.sline", gives = { ["run.west.voltage_drop"] = { 2.1%, within = 0.05% } } }',
          "results and inputs by their path" },
      } },
  } },
  { "Comparisons, for the check of a rule", {
    { "at_most", "at_most(value, limit, ...)", "value <= the tightest of the limits" },
    { "at_least", "at_least(value, limit, ...)", "value >= the tightest of the limits" },
    { "between", "between(value, low, high)", "both" },
    { "equal_within", "equal_within(value, want, tolerance)", "no further apart than the tolerance" },
    { "present", 'present(value, "the ticket")', "there, and no empty text or list" },
    { "states", 'states(yes, "the cover is on")', "a plain yes or no, with its words" },
    { "every", "every { at_most(...), at_least(...) }", "all of them; the worst is shown. A limit " ..
      "or a comparison may be a function that gives it: a fact that it misses leaves the others judged" },
    { "limit", 'limit "height"', "the limits of that name that are in force, for at_most and at_least; where an " ..
      "office has none of it, the rule is not applicable" },
    { "bound", 'bound(250V, "controller", "data sheet")', "a limit that says whose it is and where it stands" },
  } },
  { "Functions on numbers and quantities", {
    { "abs", "abs(x)", "without its sign" },
    { "min", "min(a, b, ...)", "the least; all of one kind" },
    { "max", "max(a, b, ...)", "the greatest; all of one kind" },
    { "floor", "floor(x, 1in)", "down to a multiple of the step; floor(2.7) to a whole number" },
    { "ceil", "ceil(x, 1in)", "up to a multiple of the step" },
    { "round", "round(x, 1/8in)", "to the nearest multiple of the step, half up" },
    { "sqrt", "sqrt(4m2)", "square root; the unit's too" },
    { "sin", "sin(35deg)", "sine of an angle" },
    { "cos", "cos(35deg)", "cosine of an angle" },
    { "tan", "tan(35deg)", "tangent of an angle" },
    { "asin", "asin(0.5)", "the angle whose sine it is" },
    { "acos", "acos(0.5)", "the angle whose cosine it is" },
    { "atan2", "atan2(rise, run)", "the angle of a slope; both of one kind" },
    { "number_in", 'number_in(x, "ft")', "the bare number in that unit" },
    { "as", 'as(x, "ft")', "the same value, printed in that unit" },
    { "len", "len[[12' 6-1/2\"]]", "a length as drawings have it" },
    { "awg", 'awg"4/0"', "a wire size out of a text" },
    { "per_year", "per_year(0.5ft)", "so much in each year of 365.25 days" },
    { "ft", "ft{4.62, 4.78}", "a list in feet" },
    { "inch", "inch{12, 14}", "a list in inches" },
    { "mm", "mm{600, 800}", "a list in millimetres" },
    { "m", "m{1.2, 1.5}", "a list in metres" },
  } },
}

function manual.word(name)
  for _, group in ipairs(manual.words) do
    for _, w in ipairs(group[2]) do if w[1] == name then return w end end
  end
end

return manual
