-- SPDX-License-Identifier: MIT
-- Where a declared value stands in the text of its file, and what to write there so that it is another one.
--
-- An edit is { file, at, to, text }, as write.unified has it, and what a person should know of it: says = how it was
-- written, fact = its path where it is no choice, or nil; where a value cannot be written there: nil and why.
local run = import "model.run"
local schema = import "model.schema"
local record = import "model.record"
local literals = import "model.literals"
local path_of = import "model.path"
local in_force = import "model.in_force"
local like = import "model.like"
local exact = import "sweep.exact"
local edit = {}

local inside, join = record.inside, path_of.join

local function file_of(source) return host.place { source = source, line = 0, col = 0 } end

local function where(file, text, at)
  local line, from = 1, 1
  for stop in text:gmatch "()\n" do
    if stop >= at then break end
    line, from = line + 1, stop + 1
  end
  return file .. ":" .. line .. ":" .. at - from + 1
end

-- Where a line begins, as Lua counts lines.
local function line_start(text, line)
  local at = 1
  for _ = 2, line do
    at = text:find("[\r\n]", at)
    if not at then return #text + 1 end
    local pair = text:sub(at, at + 1)
    at = at + ((pair == "\r\n" or pair == "\n\r") and 2 or 1)
  end
  return at
end

-- ---- values as a script writes them --------------------------------------------------------------------------------

-- In the quotes that stand there.
local function quoted(text, old)
  local mark = old and old:match "^'.*'$" and not text:find "'" and "'" or '"'
  return mark .. text:gsub("\\", "\\\\"):gsub(mark == '"' and '"' or "'", "\\%0") .. mark
end

-- A unit that only stands in brackets: 3500[lbf*ft].
local function bracketed(text)
  local number, unit = text:match "^(%-?[%d.]+)([^%d.%[%]]*[*·].*)$"
  return number and number .. "[" .. unit .. "]" or text
end

local scalars = { number = true, boolean = true, string = true, userdata = true }

-- f: the field that it stands in, or nil; old: what is written there, or nil; tolerance: of the value, or nil.
function edit.text(value, f, old, tolerance)
  if type(value) == "string" then return quoted(value, old) end
  if host.wire(value) then return quoted(host.format(value), old) end
  if host.is_quantity(value) and f and f.type == "position" then return quoted(exact.text(value, f), old) end
  if host.is_quantity(value) then
    local text = bracketed(exact.text(value, f))
    return tolerance and text .. "+-" .. bracketed(exact.text(tolerance)) or text
  end
  if scalars[type(value)] then return exact.text(value, f) end
  if type(value) ~= "table" or inside[value] then return nil end
  local told = value["told value"]
  if told then
    local text = edit.text(told.value, f, nil, tolerance)
    return text and told.how .. "(" .. text .. (told.by and ", " .. quoted(told.by) or "") .. ")"
  end
  local list = {}
  for key, x in host.sorted(value) do
    if math.type(key) ~= "integer" then return nil end
    list[#list + 1] = edit.text(x, f and f.item)
    if not list[key] then return nil end
  end
  return "{ " .. table.concat(list, ", ") .. " }"
end

-- Whether what stands in a field is a literal alone.
local function is_literal(text)
  return host.literal(text) ~= nil or text == "true" or text == "false" or text:find '^"[^"]*"$' ~= nil or
      text:find "^'[^']*'$" ~= nil
end

-- ---- a field that is written ---------------------------------------------------------------------------------------

local function tolerance_in(text)
  local _, tolerance = host.literal(text)
  return tolerance and (text:match "%+%-.*$" or text:match "±.*$")
end

local function replaced(file, text, field, new, o)
  local old = text:sub(field.from, field.to)
  local says
  if tolerance_in(old) and not tolerance_in(new) then
    says = o.path .. " stood there with its tolerance, " .. old .. "; the sweep judged " .. new ..
        " without one: write it again where it still holds"
  elseif not is_literal(old) then
    local shown = old:match "^[^\r\n]*"
    says = o.path .. " stood there as `" .. shown .. (shown ~= old and " ..." or "") .. "` at " ..
        where(file, text, field.from) .. ", and has a value of its own now"
  end
  return { file = file, at = field.from, to = field.to, text = new, says = says }
end

-- ---- a field that nobody wrote -------------------------------------------------------------------------------------

local function key_text(key) return key:find "^[%a_][%w_]*$" and key or "[" .. quoted(key) .. "]" end

-- name = value, of nested keys name = { name = value }.
local function assignment(keys, from, new)
  local text = key_text(keys[from]) .. " = "
  for i = from + 1, #keys do
    text = text .. "{ " .. key_text(keys[i]) .. " = "
  end
  return text .. new .. (" }"):rep(#keys - from)
end

local function is_blank(text) return not text:find "%S" end

-- The byte of the separator behind a field, past blanks and comments; nil where there is none.
local function separator(text, at, stop)
  while at < stop do
    local c = text:sub(at, at)
    if c == "," or c == ";" then return at end
    if text:sub(at, at + 1) == "--" then
      local open = text:match("^%[(=*)%[", at + 2)
      local close = open and text:find("]" .. open .. "]", at + 2, true)
      at = close and close + #open + 2 or not open and text:find("[\r\n]", at) or stop
    else at = at + 1 end
  end
end

-- Behind the last field: on a line of its own where the last field has one, else behind it on the same line.
local function inserted(file, text, tab, keys, from, new)
  local assigned = assignment(keys, from, new)
  local last, close = tab.fields[#tab.fields], tab.close
  local function put(at, what) return { file = file, at = at, to = at - 1, text = what } end
  if not last then
    local between = text:sub(tab.open + 1, close - 1)
    if is_blank(between) then
      return { { file = file, at = tab.open + 1, to = close - 1, text = " " .. assigned .. " " } }
    end
    return { put(tab.open + 1, " " .. assigned .. ",") }
  end
  local comma = separator(text, last.to + 1, close)
  local before = text:sub(1, last.at - 1)
  local indent = before:match "[\r\n]([ \t]*)$"
  if not indent then                                       -- others stand in front of it on its line
    if comma then return { put(comma + 1, " " .. assigned .. ",") } end
    return { put(last.to + 1, ", " .. assigned) }
  end
  local eol = text:match("\r?\n", last.to) or "\n"
  local line_end = text:find("\r?\n", comma and comma + 1 or last.to + 1)
  if not line_end or line_end > close then                 -- the brace stands behind it on its line
    if comma then return { put(comma + 1, eol .. indent .. assigned .. ",") } end
    return { put(last.to + 1, "," .. eol .. indent .. assigned) }
  end
  local line = put(line_end, eol .. indent .. assigned .. (comma and "," or ""))
  if comma then return { line } end
  if line.at == last.to + 1 then
    line.text = "," .. line.text
    return { line }
  end
  return { put(last.to + 1, ","), line }
end

-- ---- inputs by path ------------------------------------------------------------------------------------------------

local function under(path, top)
  return path == top or path:sub(1, #top + 1) == top .. "." or path:sub(1, #top + 1) == top .. "["
end

-- What of the command line or an alternate stands over a script's value at a path.
local function put_over(path)
  for _, o in ipairs(run.overrides) do if under(path, o.path) or under(o.path, path) then return o.from end end
  for _, o in ipairs(run.limit_changes) do if o.path == path then return o.from end end
end

-- How the value at a path, or the list or group around it, is known.
local function told_at(path)
  while path do
    if run.told[path] then return run.told[path] end
    path = path:match "^(.+)%[[^%[%]]*%]$" or path:match "^(.+)%.[%w_]+$"
  end
end

local in_words = { measured = "measured", told = "told by somebody", looked_up = "looked up", guess = "a guess" }

-- Whether the sweep says how the value of a step is known.
local function says_how(value) return type(value) == "table" and value["told value"] ~= nil end

-- A fact that somebody found out is no choice of a designer, unless the sweep says how its value is known, too.
local function fact(o)
  local told, f = told_at(o.path), record.field_at(o.path)
  if not told or told.how == "guess" and f and f.design or says_how(o.value) then return nil end
  return "is " .. in_words[told.how] .. (told.by and " (" .. told.by .. ")" or "") ..
      ", and no choice of a designer: find out what it is, and write that with how you know it"
end

local function paper(rec)
  return rec.def.paper and "is what a paper of " .. (rec.name or rec.def.name) .. " says, and its author's" or nil
end

-- The path of what is of the place, of others or of what was done: the patch writes what was only supposed.
local free = { job = true, habits = true, limits = true, permit = true }
local function supposed(o, rec)
  local f = record.field_at(o.path)
  if rec.def.design or f and f.design or free[rec.def.name] or says_how(o.value) then return nil end
  return o.path
end

-- The tables that may hold it: the one that says it, and where that is another's, the record's own.
local function holders(rec, keys)
  local from = like.giver(rec, keys)
  local own = rec.layers and rec.layers[1] or rec
  return from, from ~= own and rec.like and own or nil
end

local function in_table(rec, keys)
  if rec.at then return nil, "stands in a file of rows, " .. host.place(rec.at) end
  if rec.source == 0 then return nil, "is declared by an alternate" end
  local field = host.field(rec.source, rec.mark, keys)
  if not field then return nil, "stands in plain Lua, " .. file_of(rec.source) .. ", which is not looked into" end
  return field
end

-- Into the table of a record that does not say it.
local function added(rec, keys, new, o)
  local field, why = in_table(rec, keys)
  if not field then return nil, why end
  local file = file_of(rec.source)
  local text = host.read(file)
  if not field.open or not field.close then
    if field.found == 0 then return nil, "has no table of its own in " .. file end
    local old = text:sub(field.from, field.to)
    local f = record.field_at(join { table.unpack(path_of.parse(o.path), 1, #path_of.parse(o.path) - 1) })
    if f and f.bare and is_literal(old) and #keys == field.found + 1 then      -- "A" for { name = "A" }
      return { { file = file, at = field.from, to = field.to,
          text = "{ " .. f.bare .. " = " .. old .. ", " .. assignment(keys, #keys, new) .. " }" } }
    end
    return nil, "hangs on what stands as `" .. old:match "^[^\r\n]*" .. "` at " .. where(file, text, field.from)
  end
  for i = field.found + 1, #keys do
    if type(keys[i]) ~= "string" then return nil, "is one of a list that does not have it" end
  end
  return inserted(file, text, field, keys, field.found + 1, new)
end

local function shares(o)
  for _, input in ipairs(o.inputs()) do
    if input.path == o.path then return input.alike end
    for _, path in ipairs(input.alike or {}) do
      if path == o.path then
        local others = { input.path }
        for _, p in ipairs(input.alike) do if p ~= o.path then others[#others + 1] = p end end
        return others
      end
    end
  end
end

-- Others that the same text declares, and that the variant leaves as they are; what takes over this one's value moves
-- with it.
local function left_behind(o)
  local list, proxy, keys = {}, record.locate(o.path)
  for _, path in ipairs(shares(o) or {}) do
    local other = o.last[path]
    if not (other and host.alike(other.value, o.value)) and
        not like.takes_over(inside[record.locate(path)], keys, inside[proxy]) then list[#list + 1] = path end
  end
  return list[1] and list or nil
end

local function others(list) return list[1] .. (#list > 1 and " and " .. #list - 1 .. " more" or "") end

-- o: { path, value, tolerance, last = { [path] = { value } } of all that the variant puts in, inputs = function that
-- gives inputs.all() }.  Gives a list of edits.
function edit.of_path(o)
  local over = put_over(o.path)
  if over then return nil, "is put in by " .. over .. ", which would stand over a patch of the script" end
  local proxy, keys = record.locate(o.path)
  if not proxy or not keys[1] then return nil, "is no input of a declaration" end
  local why = fact(o) or paper(inside[proxy])
  if why then return nil, why end
  local rec, own = holders(inside[proxy], keys)
  local field
  field, why = in_table(rec, keys)
  if not field then return nil, why end
  local file = file_of(rec.source)
  local text = host.read(file)
  local there = field.found == #keys and text:sub(field.from, field.to) or nil
  local new = edit.text(o.value, record.field_at(o.path), there, o.tolerance)
  if not new then return nil, "is no plain value" end
  local behind = left_behind(o)
  if own and (behind or not there) then
    return added(own, keys, new, o)
  end
  if behind then
    return nil, "stands at " .. where(file, text, field.from or 1) .. " for " .. others(behind) ..
        " as well, which this variant leaves as it is; to move them all vary the literal there by its place"
  end
  local list
  if there then list = { replaced(file, text, field, new, o) } else list, why = added(rec, keys, new, o) end
  if list then list[1].fact = supposed(o, inside[proxy]) end
  return list, why
end

-- ---- limits --------------------------------------------------------------------------------------------------------

function edit.of_limit(o)
  local over = put_over(o.path)
  if over then return nil, "is put in by " .. over .. ", which would stand over a patch" end
  local l = import("model.limits").at(o.path)
  if not l then return nil, "is a limit that no file gives" end
  local head = host.head(l.place.source, l.place.line, "limits")
  local field = host.field(l.place.source, head, { l.name, 1 })
  local file = file_of(l.place.source)
  if not field then return nil, "stands in plain Lua, " .. file .. ", which is not looked into" end
  local text = host.read(file)
  if field.found < 2 then return nil, "stands as an expression at " .. host.place(l.place) end
  local there = text:sub(field.from, field.to)
  return { replaced(file, text, field, edit.text(o.value, schema.amount_of_limit(in_force.field(l.name)), there), o) }
end

-- ---- literals by their place ---------------------------------------------------------------------------------------

function edit.of_literal(o)
  local named, line, col = literals.place(o.path)
  for _, put in ipairs(run.literals) do
    if put.path == o.path then return nil, "is put in by " .. put.from .. ", which would stand over a patch" end
  end
  for file in host.sorted(run.scripts) do
    local spot = literals.is_called(file, named) and host.spot(file, line, col)
    if spot and spot.hit then
      local text = host.read(file)
      local at = line_start(text, spot.line) + spot.col - 1
      local to = spot.kind == "constant" and at + spot.len - 1 or at + #spot.text - 1
      local there, new = text:sub(at, to), nil
      if host.wire(spot.value) then
        local size = host.format(o.value)
        new = size:find "^%d+ AWG$" and size:gsub(" ", "") or 'awg"' .. size:gsub(" AWG$", "") .. '"'
      elseif spot.kind == "number" and not spot.text:find "[.eEpP]" and math.tointeger(o.value) then
        new = ("%d"):format(math.tointeger(o.value))
      else
        new = edit.text(o.value, there:find "%%" and { type = "ratio" } or nil, there)
        new = new and new .. (tolerance_in(there) or "")
      end
      if not new then return nil, "is no plain value" end
      return { { file = file, at = at, to = to, text = new } }
    end
  end
  return nil, "is in no script of the job that is looked into"
end

-- ---- files by their names ------------------------------------------------------------------------------------------

-- A name with its ending or without one, as the other is written.
local function written_as(other, name)
  local ending = other:match "%.%w+$"
  if ending then return name:find "%.%w+$" and name or name .. ending end
  return (name:gsub("%.sline$", ""))
end

-- The name in quotes behind the word that reads the file, wherever it stands.
function edit.of_file(old, with)
  local put = run.instead[old]
  if put then return nil, "is put in by " .. put.from .. ", which would stand over a patch" end
  local word, list = nil, {}
  for _, named in host.sorted(run.named) do
    if named.name == old or named.name == old .. ".sline" then word = named.word end
  end
  if not word then return nil, "is a file that the job does not name" end
  for file in host.sorted(run.scripts) do
    local text = host.read(file)
    for at, quote, name, to in text:gmatch "()([\"'])([^\"'\r\n]*)%2()" do
      local line = text:sub(1, at - 1):match "[^\r\n]*$"
      if (name == old or name .. ".sline" == old) and line:find("%f[%w_]" .. word .. "%s*%(?%s*$") and
          not line:find("--", 1, true) then
        list[#list + 1] = { file = file, at = at, to = to - 1, text = quote .. written_as(name, with) .. quote }
      end
    end
  end
  if not list[1] then return nil, "is named by what is no name in quotes behind " .. word end
  return list
end

return edit
