-- SPDX-License-Identifier: MIT
-- The case files of tests/outside, which a person writes by hand (tests/outside/README.md is their manual).
-- outside_file.read(text) -> { subject, cases, none }, and what is wrong in it as { line, text, hint }.
local outside_file = {}

local KNOWN = { read = true, ["read before"] = true, ["second-hand"] = true, memory = true,
                practice = true, theorem = true }
local KNOWN_WORDS = "read, read before, second-hand, memory, practice or theorem"
local KEYS = "case, from, by, calc, columns, row, exact, gives, refuses, within, alike, note"
local EXAMPLE = "gives depth = 8.61 ft"

local function trim(text) return (text:gsub("^%s+", ""):gsub("%s+$", "")) end

local function split(text, mark)
  local parts = {}
  for part in (text .. mark):gmatch("(.-)" .. mark:gsub("%p", "%%%0")) do parts[#parts + 1] = trim(part) end
  return parts
end

-- "PATH = VALUE [within TOLERANCE because WHY]" -> path, { literal, within, because }
local function amount(text)
  local rest, because = text:match "^(.-)%s+because%s+(.+)$"
  rest = rest or text
  local value, within = rest:match "^(.-)%s+within%s+(.+)$"
  return { literal = trim(value or rest), within = within and trim(within), because = because }
end

local function is_path(path)
  return path:find "^[%a_][%w_]*$" or path:find "^[%a_][%w_]*%[%d+%]$" or
      path:find "^[%a_][%w_]*%[%d+%]%.[%a_][%w_]*$" or path:find "^count [%a_][%w_]*$"
end

function outside_file.read(text)
  local file, wrong = { cases = {}, none = {} }, {}
  local number, case, names = 0, nil, {}
  local function bad(what, hint, line) wrong[#wrong + 1] = { line = line or number, text = what, hint = hint } end

  local words = {}
  local function add(key)
    return function(rest) case[key] = case[key] and case[key] .. " " .. rest or rest end
  end
  words.from, words.by, words.calc, words.note = add "from", add "by", add "calc", add "note"

  function words.gives(rest)
    local path, value = rest:match "^(.-)%s*=%s*(.+)$"
    if not path or not is_path(path) then return bad("'gives' wants OUTPUT = VALUE", EXAMPLE) end
    local expect = amount(value)
    expect.path, expect.line = path, number
    case.gives[#case.gives + 1] = expect
  end
  function words.refuses(rest)
    local quoted = rest:match '^"(.+)"$'
    if not quoted then return bad("'refuses' wants a part of the message in quotes", 'refuses "is too low"') end
    case.refuses = quoted
  end
  function words.columns(rest)
    local inputs, outputs = rest:match "^(.-)%s*=>%s*(.+)$"
    if not inputs then return bad("'columns' wants INPUT | INPUT => OUTPUT | OUTPUT", "columns size => least") end
    case.inputs, case.outputs = split(inputs, "|"), split(outputs, "|")
    for _, path in ipairs(case.outputs) do
      if not is_path(path) then bad("'" .. path .. "' is no output", EXAMPLE) end
    end
  end
  function words.row(rest)
    if not case.inputs then return bad("a row without columns before it", "columns size => least") end
    local inputs, outputs = rest:match "^(.-)%s*=>%s*(.+)$"
    local row = { line = number, inputs = split(inputs or "", "|"), outputs = split(outputs or "", "|") }
    if #row.inputs ~= #case.inputs or #row.outputs ~= #case.outputs then
      return bad("this row has other cells than the columns", "- where nothing is published")
    end
    case.rows[#case.rows + 1] = row
  end
  function words.within(rest)
    local expect = amount(rest)
    local path, value = expect.literal:match "^(.-)%s*=%s*(.+)$"
    if not path or not expect.because then
      return bad("'within' wants COLUMN = TOLERANCE because WHY", "within kz = 0.0065 because the table truncates")
    end
    case.within[path] = { literal = value, because = expect.because }
  end
  function words.exact(rest)
    for _, path in ipairs(split(rest, "|")) do case.exact[path] = number end
  end
  function words.alike(rest)
    local input, why = rest:match "^(%S+)%s+because%s+(.+)$"
    if not input then return bad("'alike' wants INPUT because WHY", "alike material because both share the rows") end
    case.alike[input] = why
  end

  local function top(key, rest)
    if key == "subject" then
      if file.subject then return bad("'subject' stands twice", "leave one out") end
      file.subject = rest
    elseif key == "none" then
      local output, why = rest:match "^([%w_]+%.[%w_.%[%]]+)%s+because%s+(.+)$"
      if not output then return bad("'none' wants PRIMITIVE.OUTPUT because WHY", "none hole.least because ...") end
      file.none[#file.none + 1] = { output = output, why = why, line = number }
    else return false
    end
    return true
  end

  for line in (text:gsub("\n?$", "\n")):gmatch "([^\n]*)\n" do
    number = number + 1
    local key, rest = line:match "^%s*(%S+)%s*(.-)%s*$"
    if not key or key:sub(1, 1) == "#" then
      -- a blank line, or prose
    elseif key == "case" then
      if rest == "" then bad("a case without a name", "case V01 post in clay") end
      if names[rest] then bad("a case of this name stands at line " .. names[rest], "give one another name") end
      names[rest] = number
      case = { name = rest, line = number, gives = {}, rows = {}, within = {}, exact = {}, alike = {} }
      file.cases[#file.cases + 1] = case
    elseif top(key, rest) then
      -- done
    elseif not words[key] then bad("nothing is called '" .. key .. "'", "a line begins with " .. KEYS)
    elseif not case then bad("'" .. key .. "' stands before the first case", "case NAME")
    elseif rest == "" then bad("'" .. key .. "' says nothing", "write it out, or leave the line out")
    else words[key](rest)
    end
  end

  if not file.subject then bad("the file has no subject", "subject Posts in the ground", 1) end
  for _, c in ipairs(file.cases) do
    local source, known = (c.from or ""):match "^(.+);%s*([%l-][%l -]*)$"
    if not c.from then bad(c.name .. ": has no source", "from WORK, EDITION, PAGE OR TABLE; read", c.line)
    elseif not KNOWN[known] then
      bad(c.name .. ": 'from' must end with how it is known", "; and " .. KNOWN_WORDS, c.line)
    end
    c.source, c.known = source, known
    if c.by ~= "published" and not (c.by or ""):find "^hand: %S.*%S" then
      bad(c.name .. ": who worked it out is not said", "by published, or by hand: WHO, from which page", c.line)
    end
    local op = (c.calc or ""):match "^([%a_][%w_]*)%s*{.*}$"
    if not op then bad(c.name .. ": has no calculation", "calc embed_neglecting { lateral = 900lbf, ... }", c.line) end
    c.op = op
    if #c.gives + #c.rows == 0 and not c.refuses then bad(c.name .. ": gives nothing", EXAMPLE, c.line) end
    if c.refuses and #c.gives + #c.rows > 0 then bad(c.name .. ": both gives and refuses", "make two cases", c.line) end
    for path, one in pairs(c.within) do
      local is
      for _, output in ipairs(c.outputs or {}) do is = is or output == path end
      if not is then bad(c.name .. ": no column is called '" .. path .. "'", "within is for columns", c.line) end
      one.path = path
    end
    for path, line in pairs(c.exact) do
      local is
      for _, output in ipairs(c.outputs or {}) do is = is or output == path end
      for _, e in ipairs(c.gives) do is = is or e.path == path end
      if not is then bad(c.name .. ": no output of it is called '" .. path .. "'", "exact OUTPUT | OUTPUT", line) end
    end
    for _, input in ipairs(c.inputs or {}) do
      if not (c.calc or ""):find("<" .. input .. ">", 1, true) then
        bad(c.name .. ": <" .. input .. "> does not stand in its calculation", "calc ... { size = <" .. input .. "> }",
            c.line)
      end
    end
  end
  return file, wrong
end

-- The calls of a case: one, or one for each of its rows, as { case, line, label, calc, expects }.
function outside_file.calls(case)
  if #case.rows == 0 then
    return { { case = case, line = case.line, label = "", calc = case.calc, expects = case.gives } }
  end
  local calls = {}
  for _, row in ipairs(case.rows) do
    local calc, shown = case.calc, {}
    for i, input in ipairs(case.inputs) do
      calc = calc:gsub("<" .. input:gsub("%p", "%%%0") .. ">", (row.inputs[i]:gsub("%%", "%%%%")))
      shown[i] = row.inputs[i]:gsub('"', "")
    end
    local expects = table.move(case.gives, 1, #case.gives, 1, {})
    for i, output in ipairs(case.outputs) do
      if row.outputs[i] ~= "-" then
        local within = case.within[output]
        expects[#expects + 1] = { path = output, literal = row.outputs[i], line = row.line,
                                  within = within and within.literal, because = within and within.because }
      end
    end
    calls[#calls + 1] = { case = case, line = row.line, label = table.concat(shown, ", "), calc = calc,
                          expects = expects }
  end
  return calls
end

return outside_file
