-- SPDX-License-Identifier: MIT
-- Formulas as texts: "back_setback - front_setback".  One evaluator for results that are written so, and for the steps
-- of a worked sheet, whose C text is run again with units on its numbers.
--
--   a ? b : c    a || b    a && b    == != < <= > >=    + -    * /    - !    a ^ b    f(a, b)    1.5    name.name
--
-- A name is a path from where the formula stands: a field, a result, what hangs on them (modules.power), `parent` for
-- what a record hangs on, `job`.  In the rows of a worked sheet it is a row's symbol.
local run = import "model.run"
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
  local name = table.concat(keys, ".")
  local function from(x)
    if run.is_record(x) then
      if first == "job" then return import("model.record").root, 2 end
      if first == "parent" then return import("model.record").parent(x), 2 end
    end
    return x, 1
  end
  local special = first == "job" or first == "parent"
  return function(x)
    local i = 1
    if special then x, i = from(x) end
    for k = i, n do
      x = x[keys[k]]
      if x == nil then break end
    end
    if x == nil then error({ text = "there is no " .. name }, 0) end
    return x
  end
end

local function truth(v)
  if type(v) == "boolean" then return v end
  return v ~= 0
end

local infix = {
  ["+"] = function(a, b) return function(x) return a(x) + b(x) end end,
  ["-"] = function(a, b) return function(x) return a(x) - b(x) end end,
  ["*"] = function(a, b) return function(x) return a(x) * b(x) end end,
  ["/"] = function(a, b) return function(x) return a(x) / b(x) end end,
  ["^"] = function(a, b) return function(x) return a(x) ^ b(x) end end,
  ["<"] = function(a, b) return function(x) return a(x) < b(x) end end,
  [">"] = function(a, b) return function(x) return a(x) > b(x) end end,
  ["<="] = function(a, b) return function(x) return a(x) <= b(x) end end,
  [">="] = function(a, b) return function(x) return a(x) >= b(x) end end,
  ["=="] = function(a, b) return function(x) return a(x) == b(x) end end,
  ["!="] = function(a, b) return function(x) return a(x) ~= b(x) end end,
  ["&&"] = function(a, b) return function(x) return truth(a(x)) and truth(b(x)) end end,
  ["||"] = function(a, b) return function(x) return truth(a(x)) or truth(b(x)) end end,
}

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
    local f, a, b = known[2], args[1], args[2]
    if b then return function(x) return f(a(x), b(x)) end end
    return function(x) return f(a(x)) end
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
    local v = tonumber(digits)
    return function() return v end
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
    return walk(keys)
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
    if take("^") then return infix["^"](base, unary()) end
    return base
  end

  function unary()
    if take("-") then
      local v = deeper(unary)
      return function(x) return -v(x) end
    end
    if string.sub(text, at, at + 1) ~= "!=" and take("!") then
      local v = deeper(unary)
      return function(x) return not truth(v(x)) end
    end
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
        v = infix[found](v, next_one())
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
    return function(x)
      if truth(when(x)) then return yes(x) end
      return no(x)
    end
  end

  local v = ternary()
  if at <= #text then fault(at, 1, "the formula should end here, or an operator follow") end
  return v
end

-- ---- for others ----------------------------------------------------------------------------------------------------

-- { run = function(x) -> value, names = { { path, keys, at, len } ... } in their order }, or nil and what is wrong
-- with the text: { text, at, len }, the place in bytes from 1.
function formula.read(text)
  local names = {}
  local ok, v = pcall(parse, text, names)
  if ok then return { run = v, names = names } end
  if type(v) == "table" and v.formula then return nil, v end
  error(v, 0)
end

return formula
