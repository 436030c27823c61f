-- SPDX-License-Identifier: MIT
-- Formulas as texts: "back_setback - front_setback".  One evaluator for results that are written so, and for the steps
-- of a worked sheet, whose C text is run again with units on its numbers.
--
--   a ? b : c    a || b    a && b    == != < <= > >=    + -    * /    - !    a ^ b    f(a, b)    1.5    name.name
--
-- A name is a path from where the formula stands: a field, a result, what hangs on them (modules.power), `parent` for
-- what a record hangs on, `job`.  In the rows of a worked sheet it is a row's symbol.
local run = import "model.run"
local step = import("model.path").step
local formula = {}

local DEEPEST = 100          -- parentheses in each other

-- ---- functions -----------------------------------------------------------------------------------------------------

local function plain(name, f)
  return function(x)
    if type(x) ~= "number" then error({ text = name .. " needs a plain number, got " .. host.describe(x) }, 0) end
    return f(x)
  end
end

local function least(a, b) return b < a and b or a end
local function most(a, b) return a < b and b or a end

-- name -> { how many values, function }; with the names that they have in C.
local functions = {
  sqrt = { 1, function(x) return host.sqrt(x) end }, abs = { 1, function(x) return host.abs(x) end },
  sin = { 1, function(x) return host.sin(x) end }, cos = { 1, function(x) return host.cos(x) end },
  tan = { 1, function(x) return host.tan(x) end },
  exp = { 1, plain("exp", math.exp) }, floor = { 1, plain("floor", math.floor) },
  ceil = { 1, plain("ceil", math.ceil) },
  min = { 2, least }, max = { 2, most }, pow = { 2, function(a, b) return a ^ b end },
  hypot = { 2, function(a, b) return host.sqrt(a * a + b * b) end },
}
functions.fabs, functions.fmin, functions.fmax = functions.abs, functions.min, functions.max

-- ---- reading a text ------------------------------------------------------------------------------------------------

local function fault(at, len, text) error({ formula = true, at = at, len = len, text = text }, 0) end

-- What a name stands for, seen from x: a record, or a table of values.
local function walk(keys)
  local first, n = keys[1], #keys
  local special = first == "job" or first == "parent"
  return function(x)
    local i = 1
    if special and run.is_record(x) then
      local record = import "model.record"
      x, i = first == "job" and record.root or record.parent(x), 2
    end
    for k = i, n do
      x = x[keys[k]]
      if x == nil then break end
    end
    if x == nil then error({ text = "there is no " .. table.concat(keys, ".") }, 0) end
    return x
  end
end

local function truth(v)
  if type(v) == "boolean" then return v end
  return v ~= 0
end

local binary = {
  ["+"] = function(a, b) return a + b end, ["-"] = function(a, b) return a - b end,
  ["*"] = function(a, b) return a * b end, ["/"] = function(a, b) return a / b end,
  ["^"] = function(a, b) return a ^ b end,
  ["<"] = function(a, b) return a < b end, [">"] = function(a, b) return a > b end,
  ["<="] = function(a, b) return a <= b end, [">="] = function(a, b) return a >= b end,
  ["=="] = function(a, b) return a == b end, ["!="] = function(a, b) return a ~= b end,
}

-- A tree, as a function of what its names are seen from.  { "number", text }, { "name", keys }, { "call", name, args },
-- { "not", a }, { "minus", a }, { "choose", when, yes, no }, { operator, a, b }.
local function compiled(t)
  local kind = t[1]
  if kind == "number" then
    local v = tonumber(t[2])
    return function() return v end
  elseif kind == "name" then return walk(t[2])
  elseif kind == "call" then
    local f, a, b = functions[t[2]][2], compiled(t[3][1]), t[3][2] and compiled(t[3][2])
    if b then return function(x) return f(a(x), b(x)) end end
    return function(x) return f(a(x)) end
  elseif kind == "choose" then
    local when, yes, no = compiled(t[2]), compiled(t[3]), compiled(t[4])
    return function(x)
      if truth(when(x)) then return yes(x) end
      return no(x)
    end
  end
  local a = compiled(t[2])
  if kind == "minus" then return function(x) return -a(x) end end
  if kind == "not" then return function(x) return not truth(a(x)) end end
  local b = compiled(t[3])
  if kind == "&&" then return function(x) return truth(a(x)) and truth(b(x)) end end
  if kind == "||" then return function(x) return truth(a(x)) or truth(b(x)) end end
  local f = binary[kind]
  return function(x) return f(a(x), b(x)) end
end

-- The same tree as Lua, an expression of x, for the build, which knows how the names are reached; nil where it is left
-- to the evaluator: calls, choices, conditions.
local function as_lua(t)
  local kind = t[1]
  if kind == "number" then return t[2] end
  if kind == "name" then
    local first = t[2][1]
    if first == "job" or first == "parent" then return nil end
    return "x." .. table.concat(t[2], ".")
  end
  if kind == "minus" then
    local a = as_lua(t[2])
    return a and "(-" .. a .. ")"
  end
  if not string.find(kind, "^[-+*/^]$") then return nil end
  local a, b = as_lua(t[2]), as_lua(t[3])
  return a and b and "(" .. a .. " " .. kind .. " " .. b .. ")"
end

local function parse(text, names)
  local at, depth = string.match(text, "^%s*()"), 0
  local ternary

  local function take(token)
    if string.sub(text, at, at + #token - 1) ~= token then return false end
    at = string.match(text, "^%s*()", at + #token)
    return true
  end

  local function need(token, what)
    if not take(token) then
      fault(at, 1, "'" .. token .. "' is wanted " .. what .. (at > #text and ", the formula ends" or ""))
    end
  end

  local function deeper(f)
    depth = depth + 1
    if depth > DEEPEST then fault(at, 1, "more than " .. DEEPEST .. " parentheses in each other") end
    local v = f()
    depth = depth - 1
    return v
  end

  local function call(name, from)
    local known = functions[name]
    if not known then
      local list = {}
      for f in host.sorted(functions) do list[#list + 1] = f end
      local near = host.nearest(name, list)
      fault(from, #name, "there is no function '" .. name .. "'" .. (near and "; did you mean '" .. near .. "'?" or ""))
    end
    local args = deeper(function()
      local list = {}
      repeat list[#list + 1] = ternary() until not take(",")
      return list
    end)
    need(")", "after the values of " .. name)
    if #args ~= known[1] then fault(from, #name, name .. " takes " .. known[1] .. " values, got " .. #args) end
    return { "call", name, args }
  end

  local function number()
    local digits, stop = string.match(text, "^(%d+%.?%d*[eE][+-]?%d+)()", at)
    if not digits then digits, stop = string.match(text, "^(%d*%.?%d+)()", at) end
    if not digits then return nil end
    if string.find(text, "^%.", stop) and not string.find(digits, ".", 1, true) then
      digits, stop = digits .. ".", stop + 1
    end
    if string.find(text, "^[%a_]", stop) then
      fault(at, stop - at + 1, "a number in a formula has no unit: give the amount a field or a result of its own")
    end
    at = string.match(text, "^%s*()", stop)
    return { "number", digits }
  end

  local function name()
    local word, stop = string.match(text, "^([%a_][%w_]*)()", at)
    if not word then return nil end
    local from = at
    at = string.match(text, "^%s*()", stop)
    if take("(") then return call(word, from) end
    local keys = { word }
    while true do
      local key, after = string.match(text, "^%.([%a_][%w_]*)()", at)
      if not key then break end
      keys[#keys + 1] = key
      at = string.match(text, "^%s*()", after)
    end
    local path = table.concat(keys, ".")
    if names and not names[path] then
      names[path] = true
      names[#names + 1] = { path = path, keys = keys, at = from, len = #path }
    end
    return { "name", keys }
  end

  local function primary()
    if take("(") then
      local v = deeper(ternary)
      need(")", "to close '('")
      return v
    end
    local v = number() or name()
    if v then return v end
    if at > #text then fault(at, 1, "the formula ends where a value is wanted") end
    fault(at, 1, "a number, a name or '(' is wanted, got '" .. string.match(text, "^[%z\1-\127\194-\244][\128-\191]*",
        at) .. "'")
  end

  local unary

  local function power()
    local base = primary()
    if take("^") then return { "^", base, unary() } end
    return base
  end

  function unary()
    if take("-") then return { "minus", deeper(unary) } end
    if string.sub(text, at, at + 1) ~= "!=" and take("!") then return { "not", deeper(unary) } end
    return power()
  end

  local function chain(next_one, ...)
    local tokens = { ... }
    return function()
      local v = next_one()
      while true do
        local found
        for _, token in ipairs(tokens) do
          if take(token) then found = token break end
        end
        if not found then return v end
        v = { found, v, next_one() }
      end
    end
  end

  local sum = chain(chain(unary, "*", "/"), "+", "-")
  local either = chain(chain(chain(sum, "<=", ">=", "==", "!=", "<", ">"), "&&"), "||")

  function ternary()
    local when = either()
    if not take("?") then return when end
    local yes = deeper(ternary)
    need(":", "between the two values behind '?'")
    local no = deeper(ternary)
    return { "choose", when, yes, no }
  end

  local v = ternary()
  if at <= #text then fault(at, 1, "the formula should end here, or an operator follow") end
  return v
end

-- ---- for others ----------------------------------------------------------------------------------------------------

-- { run = function(x) -> value, names = { { path, keys, at, len } ... } in their order, lua = it as Lua or nil }, or
-- nil and what is wrong with the text: { text, at, len }, the place in bytes from 1.
function formula.read(text)
  local names = {}
  local ok, v = pcall(parse, text, names)
  if ok then return { run = compiled(v), names = names, lua = as_lua(v) } end
  if type(v) == "table" and v.formula then return nil, v end
  error(v, 0)
end

-- The formula of a result, read once.
function formula.of(def)
  if def.read then return def.read end
  local read, bad = formula.read(def.formula)
  def.read = read or host.raise { code = "G004", text = "the formula of " .. def[1] .. "." .. def.name .. ", '" ..
      def.formula .. "', cannot be read at '" .. string.sub(def.formula, bad.at) .. "': " .. bad.text }
  return def.read
end

-- Raises what kept it from a value; what is missing stays as it is.
function formula.failed(rec, def, why)
  if type(why) ~= "table" or host.class(why) then error(why, 0) end
  host.raise { code = why.code or "G004", help = why.help, text = "the formula of " .. step(rec.path, def.name) ..
      ", '" .. def.formula .. "': " .. why.text }
end

return formula
