-- SPDX-License-Identifier: MIT
-- Changes an input of jobs_fuzz.c by its structure.  Called with the kinds that a script may declare (as
-- tests/matrix_run.lua gives them), the rows of the command line, and the words of the bank; gives
-- function(text, seed) -> text.  Rests on these alone.
--
-- A mutation is a function of its table at the end, called with the file at hand: { text, t = its tokens }, that gives
-- the new text, or nil where it has nothing to change.
local kinds, line, bank_text = ...

-- ---- lots ----------------------------------------------------------------------------------------------------------

local state
local function draw()  -- splitmix64
  state = state + 0x9E3779B97F4A7C15
  local x = state
  x = (x ~ (x >> 30)) * 0xBF58476D1CE4E5B9
  x = (x ~ (x >> 27)) * 0x94D049BB133111EB
  return x ~ (x >> 31)
end
local function below(n) return n > 0 and (draw() >> 1) % n or 0 end  -- 0 to n - 1; 0 of none
local function one(list) return list[below(#list) + 1] end
local function often(percent) return below(100) < percent end

-- ---- what there is to say ------------------------------------------------------------------------------------------

local bank = {}
for paragraph in (bank_text .. "\n"):gmatch "(.-\n)\n" do
  if not paragraph:find "^%-%-" then bank[#bank + 1] = paragraph end
end
local first = bank_text:match "^.-MIT\n(.-\n)\n"
bank[#bank + 1] = first

local by_name, names, fields, known = {}, {}, {}, {}
local function know(list)
  for _, f in ipairs(list) do
    fields[#fields + 1], known[f.name] = f.name, f
    if f.fields then know(f.fields) end
  end
end
for _, k in ipairs(kinds) do
  by_name[k.name], names[#names + 1] = k, k.name
  know(k.fields)
end

local UNITS = {
  "mm", "m", "in", "ft", "ft3in", "psf", "kPa", "mph", "m/s", "degC", "degF", "deg", "%", "V", "A", "W", "lb",
  "kg", "kN", "psf/ft", "USD", "K", "%/K", "d", "m3", "h", "mm2", ""
}
local NUMBERS = {
  "0", "-0", "1", "-1", "2", "3", "0.5", "1e-300", "1e300", "-1e300", "1e16", "9007199254740993", "0.1", "90",
  "180", "360", "1e-9", "99999", "5+-1", "5+-5%", "1/3", "0x10", "1e999"
}
local LITERALS = {
  "nil", "true", "false", "{}", "{ {} }", "\"\"", "\" \"", "\"none\"", "0/0", "1/0", "-1/0", "math.huge",
  "5ft3-1/2in", "-5ft 3in", "$5", "€6.50", "5 USD/ft", "\"2026-02-30\"", "\"2026-11-02\"", "\"9999-12-31\"",
  "5 +- 1ft", "20mm +- 30mm", "guess(3ft)", "measured(nil, \"tape\")", "told(told(5m, \"a\"), \"b\")",
  "function() end", "print", "job", "rack", "site.wind", "\"east\"", "\"36.16 N\"", "\"R41\"", "{ 1, 2, 3 }",
  "{ a = 1 }", "{ at = 3m }", "10 / 3", "2^(1/2)", "-5degC", "5degC - 5degC", "5K", "looked_up(guess(1), \"x\")",
  "no_data \"NEC 2026\"", "\"NEC 2026\"", "\"ASCE 7-22\"", "each \"rack\"", "1 == 1"
}
local TEXTS = {
  "\\0", "\\27[31m", "\\n", "\27[2J", "\u{202e}", "\u{2028}", "\xff", "\xC3", "é", "日本", "\u{200b}", "<b>x</b>",
  "&amp;", "\"\"", "'", "]]", "%s%n", "=1+1", "# TODO", "ok 1 - x", "\\\n", ("w"):rep(300),
  "job.sline:1:1: error: x [D001]", "\u{1F600}", "a.b", "a['b']", "rack.east", "..", "/etc/none", "\t", "|", "`",
  "\u{feff}", "\r", "- ", "@", "{", "}}"
}
-- What stands around a value or a declaration, at %s.
local AROUND_VALUES = {
  "guess(%s)", "measured(%s, \"tape\")", "told(%s, \"a neighbour\")", "{ %s }", "{ %s, %s }", "-(%s)", "(%s) * 0",
  "(%s) * 1e300", "(%s) / 0", "(%s) + (%s)", "(function() return %s end)()", "tostring(%s)", "{ { { %s } } }",
  "(%s) ^ 2", "(%s) .. \"\"", "(%s) +- 1", "looked_up(%s, \"page 2\")", "#%s", "not %s",
  "select(2, pcall(function() return %s end))"
}
local AROUND_DECLARATIONS = {
  "for i = 1, 3 do %s end", "pcall(function() %s end)", "print(pcall(function() %s end))",
  "local function g() %s end g() g()", "if true then %s end", "while true do %s end",
  "do local rack <const> = rack; %s end", "print(%s)", "local x = { %s }", "return %s",
  "xpcall(function() %s end, function(e) return e end)", "local x <close> = nil; %s",
  "for n, v in pairs(%s) do print(n, v) end", "%s %s", "(%s)()", "g = %s", "%s = 5"
}
local SIGNS = { "{", "}", "(", ")", ",", "=", "end", "..", "~=", "--", "[[", "--[[", "goto", "::x::", "//", "&", "#" }
local STAGES = { "quote", "permit", "build", "built" }

-- ---- tokens --------------------------------------------------------------------------------------------------------

-- { kind, from, to, close = the token that closes it, deep = braces around it } ...; kind: "s" a text, "n" a number,
-- "w" a word, "p" all else.
local function tokens(text)
  local list, open, at, n = {}, {}, 1, #text
  while true do
    at = text:find("[^%s]", at)
    if not at then break end
    local from, c, to, kind = at, text:sub(at, at), nil, nil
    if c == "-" and text:sub(at, at + 1) == "--" then
      at = text:find("\n", at, true) or n + 1
    else
      if c == '"' or c == "'" then
        kind, to = "s", at + 1
        while to <= n and text:sub(to, to) ~= c and text:sub(to, to) ~= "\n" do
          to = to + (text:sub(to, to) == "\\" and 2 or 1)
        end
        if to > n then to = n end
      elseif c:find "%d" then kind, to = "n", select(2, text:find("^[%d.]+[%w%%/.]*", at))
      elseif c:find "[%a_]" then kind, to = "w", select(2, text:find("^[%w_]+", at))
      else kind, to = "p", at
      end
      local t = { kind = kind, from = from, to = to, deep = #open }
      list[#list + 1] = t
      if c == "{" and kind == "p" then open[#open + 1] = t
      elseif c == "}" and kind == "p" and #open > 0 then
        t.deep = #open - 1
        open[#open].close = #list
        open[#open] = nil
      end
      at = to + 1
    end
  end
  return list
end

local function word(f, i) return f.t[i] and f.text:sub(f.t[i].from, f.t[i].to) end
local function put(f, from, to, new) return f.text:sub(1, from - 1) .. new .. f.text:sub(to + 1) end

-- The first of all tokens from a lot on that `right` takes.
local function some(f, right)
  local n = #f.t
  if n == 0 then return nil end
  local start = below(n)
  for i = start, start + n - 1 do
    local k = i % n + 1
    if right(f, k) then return k end
  end
end

local function is_kind(kind) return function(f, i) return f.t[i].kind == kind end end
-- A field begins at i: `name = value`; the last token of its value.
local function value_end(f, i)
  local deep = f.t[i].deep
  local last = i + 1
  while f.t[last + 1] do
    local t, c = f.t[last + 1], word(f, last + 1)
    if t.deep <= deep and t.kind == "p" and (c == "," or c == ";" or c == "}" and t.deep < deep) then break end
    last = last + 1
    if t.close then last = t.close end
  end
  return last
end
local function is_field(f, i)
  return f.t[i].kind == "w" and f.t[i].deep > 0 and word(f, i + 1) == "=" and f.t[i + 2] ~= nil and
      word(f, i + 2) ~= "="
end
-- A declaration begins at i: `name {`, `name "text" {` or `name(...) {` outside of all braces; what ends it.
local function declaration_end(f, i)
  if f.t[i].kind ~= "w" or f.t[i].deep > 0 then return nil end
  for k = i + 1, i + 8 do
    if not f.t[k] then return nil end
    local c = word(f, k)
    if c == "{" then return f.t[k].close end
    if f.t[k].kind == "w" or c == "=" then return nil end
  end
end
local function is_declaration(f, i) return declaration_end(f, i) ~= nil end

-- From, to of some field with its comma, of its value, and its place among the tokens.
local function a_field(f)
  local i = some(f, is_field)
  if not i then return nil end
  local last = value_end(f, i)
  local stop = f.t[last].to
  if word(f, last + 1) == "," then stop = f.t[last + 1].to end
  return f.t[i].from, stop, f.t[i + 2].from, f.t[last].to, i
end
local function a_declaration(f)
  local i = some(f, is_declaration)
  if not i then return nil end
  return f.t[i].from, f.t[declaration_end(f, i)].to, i
end

-- ---- values --------------------------------------------------------------------------------------------------------

local function number() return one(NUMBERS) .. one(UNITS) end
local function text() return '"' .. one(TEXTS) .. (often(50) and one(TEXTS) or "x") .. '"' end
local function value()
  local which = below(10)
  if which < 4 then return number() end
  if which < 8 then return one(LITERALS) end
  return text()
end

local DIMS = {
  length = "m", angle = "deg", force = "kN", pressure = "kPa", current = "A", voltage = "V", power = "W",
  mass = "kg", moment = "[N*m]",
  temperature = "degC", speed = "m/s", volume = "m3", area = "mm2", time = "h", money = "USD"
}
-- A value as a field of the schema takes it, or hardly.
local function value_of(field)
  if often(20) then return value() end
  local kind = field.type
  if kind == "choice" then return ("%q"):format(one(field.choices)) end
  if kind == "flag" then return often(50) and "true" or "false" end
  if kind == "date" then return '"2026-1' .. below(3) .. "-" .. (10 + below(22)) .. '"' end
  if (field.min or field.max) and often(50) then
    local edge = (often(50) and field.min or field.max) or 0
    return ("%.10g"):format(edge) .. (DIMS[field.type == "money" and "money" or field.dim] or "")
  end
  local example = field.example
  if not example then return value() end
  if kind == "text" or kind == "wire" or kind == "position" or kind == "ref" or kind == "part" then
    return ("%q"):format(example)
  elseif kind == "list" or kind == "map" or kind == "group" or kind == "conditions" then return "{ " .. example .. " }"
  elseif kind == "limit" then return "{ " .. example .. ', cite = "nowhere" }'
  end
  return example
end

-- ---- mutations of a script -----------------------------------------------------------------------------------------

-- Those after which a job most often stands, and others; a weight each.
local gentle, rough = {}, {}
local into = rough
local function add(weight, f) for _ = 1, weight do into[#into + 1] = f end end

add(1, function(f)  -- twice
  local from, to = a_field(f)
  return from and put(f, to + 1, to, " " .. f.text:sub(from, to) .. " ")
end)
add(8, function(f)  -- another value
  local _, _, from, to = a_field(f)
  return from and put(f, from, to, value())
end)
add(2, function(f)  -- values change places
  local _, _, a, b = a_field(f)
  local _, _, c, d = a_field(f)
  if not a then return nil end
  if a > c then a, b, c, d = c, d, a, b end
  return b < c and put(f, a, d, f.text:sub(c, d) .. f.text:sub(b + 1, c - 1) .. f.text:sub(a, b)) or nil
end)
add(2, function(f)  -- a field moves
  local from, to = a_field(f)
  local open = some(f, function(g, i) return word(g, i) == "{" end)
  if not from or not open then return nil end
  local at = f.t[open].to
  return put(f, at + 1, at, " " .. f.text:sub(from, to) .. " ")
end)
add(3, function(f)  -- wrapped
  local _, _, from, to = a_field(f)
  if not from then return nil end
  local v = f.text:sub(from, to)
  return put(f, from, to, (one(AROUND_VALUES):gsub("%%s", function() return v end)))
end)
add(2, function(f)  -- out of its list
  local open = some(f, function(g, i) return g.t[i].close ~= nil and g.t[i].deep > 0 end)
  if not open then return nil end
  return put(f, f.t[open].from, f.t[f.t[open].close].to, f.text:sub(f.t[open].to + 1, f.t[f.t[open].close].from - 1))
end)
add(3, function(f)  -- a number
  local i = some(f, is_kind "n")
  if not i then return nil end
  local t = f.t[i]
  local n, unit = word(f, i):match "^([%d.]+)(.*)$"
  local new = one { number(), "-" .. n .. unit, "0" .. unit, n .. "0" .. unit, n .. "e9" .. unit, n .. one(UNITS), n,
                    n .. unit .. " +- 10" .. unit, one(NUMBERS) .. unit, n .. unit .. unit }
  return put(f, t.from, t.to, new)
end)
add(3, function(f)  -- a text
  local i = some(f, is_kind "s")
  if not i then return nil end
  local t, s = f.t[i], word(f, i)
  local other = some(f, is_kind "s")
  return put(f, t.from, t.to, one {
    text(), word(f, other), s:sub(1, -2) .. one(TEXTS) .. '"', s:sub(1, -3) .. '"', s:upper(),
    '"' .. s:sub(3), s:sub(2, -2), "[[" .. s .. "]]" })
end)
add(2, function(f)  -- a name
  local i = some(f, is_kind "w")
  if not i then return nil end
  local t, w = f.t[i], word(f, i)
  return put(f, t.from, t.to, one { w:sub(1, -2), w .. w:sub(-1), w:sub(2), w:upper(), one(fields), one(names),
                                    w:gsub("(.)(.)$", "%2%1"), word(f, some(f, is_kind "w")), w .. "_type" })
end)
add(2, function(f)  -- twice
  local from, to = a_declaration(f)
  return from and put(f, to + 1, to, "\n" .. f.text:sub(from, to))
end)
add(1, function(f)  -- deep, long
  local _, _, from, to = a_field(f)
  if not from then return nil end
  local n, v = one { 3, 20, 100, 190, 210 }, f.text:sub(from, to)
  return put(f, from, to, one {
    ("{"):rep(n) .. v .. ("}"):rep(n), ("("):rep(n) .. v .. (")"):rep(n), v .. (" "):rep(n * 10),
    "{ " .. ("1, "):rep(n) .. v .. " }", '"' .. ("long "):rep(n) .. '"', v .. (" + " .. v):rep(n // 10) })
end)
add(1, function(f)  -- on one line
  return often(50) and (f.text:gsub("%-%-[^\n]*", ""):gsub("\n", " ")) or (f.text:gsub("\n", "\r\n"))
end)
add(2, function(f)  -- a token
  local i = some(f, function() return true end)
  if not i then return nil end
  local t, k = f.t[i], some(f, function() return true end)
  return put(f, t.from, t.to, one { "", word(f, i) .. " " .. word(f, i), word(f, k), one(TEXTS), one(SIGNS) })
end)

-- ---- gentle ones ---------------------------------------------------------------------------------------------------

into = gentle
add(5, function(f)  -- as its field takes it
  local _, _, from, to, i = a_field(f)
  local field = from and known[word(f, i)]
  return field and put(f, from, to, value_of(field)) or nil
end)
add(5, function(f)  -- another number
  local i = some(f, is_kind "n")
  if not i then return nil end
  local n, unit = word(f, i):match "^(%d+%.?%d*)(.*)$"
  if not n then return nil end
  local new = one { ("%.6g"):format(n * 2), ("%.6g"):format(n / 2), ("%.6g"):format(n * 1.01), "0", "1", "3", n .. "0",
                    ("%d"):format(n // 1 + 1), n .. unit .. " +- 1" }
  return put(f, f.t[i].from, f.t[i].to, new .. unit)
end)
add(2, function(f)  -- how it is known
  local _, _, from, to = a_field(f)
  if not from then return nil end
  return put(f, from, to, one { "guess(", "measured(", "told(", "looked_up(" } .. f.text:sub(from, to) .. ', "a tape")')
end)
add(3, function(f) local from, to = a_field(f) return from and put(f, from, to, "") end)  -- dropped
add(2, function(f) local from, to = a_declaration(f) return from and put(f, from, to, "") end)  -- dropped
add(4, function(f)  -- a field of its kind
  local i = some(f, function(g, k) return by_name[word(g, k)] ~= nil and is_declaration(g, k) end)
  if not i then return nil end
  local kind, list = by_name[word(f, i)], nil
  list = kind.fields
  if #list == 0 then return nil end
  local field, open = one(list), i
  while word(f, open) ~= "{" do open = open + 1 end
  return put(f, f.t[open].to + 1, f.t[open].to, " " .. field.name .. " = " .. value_of(field) .. ", ")
end)
add(2, function(f)  -- a kind
  local kind, list = one(kinds), {}
  for _, field in ipairs(kind.fields) do
    if field.required or often(50) then list[#list + 1] = field.name .. " = " .. value_of(field) end
  end
  local d = kind.name .. " " .. one { "", '"east" ', '"new" ', '"main" ' } .. "{ " .. table.concat(list, ", ") .. " }\n"
  return often(50) and f.text .. d or d .. f.text
end)
add(6, function(f)  -- of the bank
  local at = f.text:find("\n()%w", below(#f.text + 1) + 1) or #f.text
  return f.text:sub(1, at) .. one(bank) .. f.text:sub(at + 1)
end)
add(1, function(f) return (f.text:gsub('stage%s*=%s*"%w*"', 'stage = "' .. one(STAGES) .. '"', 1)) end)
add(1, function(f) return (f.text:gsub('units%s*=%s*"%w*"', 'units = "' .. one { "US", "SI", "us" } .. '"', 1)) end)
add(2, function(f)  -- in something
  local from, to = a_declaration(f)
  if not from then return nil end
  local d = f.text:sub(from, to)
  return put(f, from, to, (one(AROUND_DECLARATIONS):gsub("%%s", function() return d end)))
end)

-- ---- of rows -------------------------------------------------------------------------------------------------------

local CELLS = {
  "", "0", "-1 mm", "nan", "1e999 V", "$5", "-$5", "0 %/K", "\"a\"\"b\"", "\"", "=1+1", "x\27y", "\xff",
  "2026-02-30", "10 ft", "M430", "6x6 UC4B", "5 USD/m", "1,5", "  ", "99999999999 kg", "# x", "mid", "1 in",
  "6 AWG THWN-2 copper"
}
local function rows(text)
  local list = {}
  for l in text:gmatch "([^\n]*)\n?" do list[#list + 1] = l end
  local i = below(#list) + 1
  local cells = {}
  for c in (list[i] .. ","):gmatch "([^,]*)," do cells[#cells + 1] = c end
  local which = below(6)
  if which == 0 then table.remove(list, i)
  elseif which == 1 then table.insert(list, i, list[i])
  elseif which == 2 then table.remove(cells, below(#cells) + 1)
  elseif which == 3 then table.insert(cells, below(#cells) + 1, one(CELLS))
  else cells[below(#cells) + 1] = one(CELLS)
  end
  if which > 1 then list[i] = table.concat(cells, ",") end
  return table.concat(list, "\n")
end

-- ---- of the command line -------------------------------------------------------------------------------------------

-- The words of each command; a command that is in neither list fails.
local WORDS = {
  run = { "job.sline" }, check = { "job.sline" }, rules = { "job.sline" }, margins = { "job.sline" },
  sheet = { "job.sline", "job.sline SHEET", "job.sline SHEET --for crew" }, explain = { "job.sline WHAT", "CODE" },
  form = { "job.sline", "job.sline", "" }, test = { "job.sline", "house.sline", "county.sline" },
  verify = { "report.json job.sline", "report.json", "job.sline" },
  compare = { "job.sline --set SET", "job.sline other.sline", "job.sline --alternate six",
              "job.sline --since report.json" },
  sweep = { "job.sline --count", "job.sline --list", "job.sline --only N", "job.sline --only N --sample 3" },
  draw = { "job.sline", "job.sline side -o side.svg", "job.sline plan -o plan.dxf" },
  describe = { "WHAT", "" }, units = { "" }, reference = { "rules", "names" }, help = { "", "run" },
}
local LEFT_OUT = { new = "writes a folder", merge = "joins files" }
local without_job = { describe = true, units = true, reference = true, help = true }
local lines = {}  -- command and format, each as often
for _, c in ipairs(line.commands) do
  assert((WORDS[c.name] == nil) ~= (LEFT_OUT[c.name] == nil), "the words of " .. c.name .. " are not known")
  for _, f in ipairs(line.formats) do
    if WORDS[c.name] and c.gives >= f.holds then
      local weight = without_job[c.name] and (f.name == "text" and 1 or 0) or 3
      for _ = 1, weight do lines[#lines + 1] = { c.name, f.name } end
    end
  end
end
local SHEETS = {
  "posts", "pour", "mark-out", "stake-out", "loads", "strings", "wire", "trench", "cutting", "lifts", "marks", "drill",
  "clamps", "modules", "buying", "limits", "cautions", "x"
}
local CODES = { "Q003", "D001", "D002", "R006", "E005", "S001", "L002", "Z999" }

local function a_path(text)
  local kind, name = text:match('\n(%l[%l_]*) "([^"\n]*)"', below(#text) + 1)
  kind = kind or one(names)
  local own = by_name[kind] and by_name[kind].fields
  local field = own and #own > 0 and often(80) and one(own).name or one(fields)
  if not name then return kind .. "." .. field end
  return (name:find "^%a[%w_]*$" and kind .. "." .. name or kind .. "['" .. name .. "']") .. "." .. field
end
local function a_setting(text)
  if often(6) then
    return one { "vendors=Yard", "file house=other", "vendors=\"A\" + B", "limits.height=2m", "alternate=six" }
  end
  local path = a_path(text)
  local field = path:match "([%w_]+)$"
  local kind = by_name[path:match "^[%w_]+"]
  local v
  for _, f in ipairs(kind and kind.fields or {}) do if f.name == field then v = value_of(f) end end
  return path .. "=" .. (v or value())
end
local function quoted(words) return '"' .. words:gsub('[\n"]', "") .. '"' end

local function a_line(text)
  local pick = one(lines)
  local words = pick[1] .. " " .. one(WORDS[pick[1]])
  words = words:gsub("%u%u+%u?", {
    SHEET = often(90) and one(SHEETS) or quoted(one(TEXTS)), CODE = one(CODES), N = "" .. below(9),
    WHAT = quoted(one { a_path(text), "R" .. (1 + below(75)), one(names), one(fields), a_path(text) }),
    SET = quoted(a_setting(text)) })
  words = words:gsub("%-%-only N", "--only " .. below(9))
  if pick[1] == "margins" then
    words = words .. (often(95) and " --input " .. quoted(a_path(text)) or one { "", " --rule R" .. (1 + below(75)) })
  elseif pick[1] == "sweep" and often(60) then
    words = words .. " --vary " .. quoted(a_path(text) .. "=" .. value() .. ", " .. value())
  end
  if not without_job[pick[1]] and pick[1] ~= "test" and pick[1] ~= "verify" and often(25) then
    words = words .. one { " --set " .. quoted(a_setting(text)), " --on 2027-01-01", " --alternate six",
                           " --set job.stage=" .. one(STAGES), " --set job.units=" .. one { "US", "SI" } }
  end
  if often(10) then words = words .. " --messages " .. one { "json", "gnu", "text" } end
  return words .. " --format " .. pick[2]
end

-- ---- all of it -----------------------------------------------------------------------------------------------------

-- The line, and { name, text } ... of the files.
local function parts(text)
  local head, rest = text:match "^([^\n]*)(.*)$"
  if not rest:find "^\n%-%-%- " then rest = "\n--- job.sline" .. rest end
  local files, at = {}, 1
  while at do
    local next_at = rest:find("\n--- ", at + 1, true)
    local name, body = rest:sub(at + 5, (next_at or #rest + 1) - 1):match "^([^\n]*)\n?(.*)$"
    files[#files + 1], at = { name, body }, next_at
  end
  return head, files
end

local function whole(head, files)
  local out = { head }
  for i, f in ipairs(files) do out[i + 1] = "--- " .. f[1] .. "\n" .. f[2] end
  return table.concat(out, "\n")
end

return function(text, seed)
  state = seed
  local head, files = parts(text)
  if often(50) then return whole(a_line(text), files) end
  local file = files[often(90) and 1 or below(#files) + 1]
  if file[1]:find "%.csv$" then file[2] = rows(file[2])
  elseif often(1) then file[1] = one { "job.sline", "house.sline", "x.csv", one(TEXTS) }
  elseif often(98) or #files < 2 then
    local f = { text = file[2], t = tokens(file[2]) }
    for _ = 1, 4 do
      local new = one(often(70) and gentle or rough)(f)
      if new then
        file[2] = new
        break
      end
    end
  else table.remove(files, below(#files) + 1)
  end
  return whole(head, files)
end
