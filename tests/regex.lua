-- SPDX-License-Identifier: MIT
-- Regular expressions as JSON Schema has them (ECMA-262), as far as schemas here use them: ^ $ . [...] \. \d \w \s
-- groups | * + ? {n} {n,m}.  What is not known raises.  require "regex"(pattern) gives a function that says whether it
-- is found in a text.

-- A node is function(text, at, go): tries to match at `at`, and calls go(next) for each way, until one gives true.

local function literal(test)
  return function(text, at, go)
    local c = text:sub(at, at)
    return c ~= "" and test(c) and go(at + 1)
  end
end

local classes = { d = "%d", w = "[%w_]", s = "%s" }

local function escape(c)
  if classes[c] then return function(x) return x:find(classes[c]) ~= nil end end
  if c:find("%w") then error("an escape that is not known here: \\" .. c, 0) end
  return function(x) return x == c end
end

local function set_of(pattern, at)                 -- behind the [
  local negated, tests = false, {}
  if pattern:sub(at, at) == "^" then negated, at = true, at + 1 end
  while pattern:sub(at, at) ~= "]" do
    local c = pattern:sub(at, at)
    if c == "" then error("a [ is not closed: " .. pattern, 0) end
    if c == "\\" then
      tests[#tests + 1] = escape(pattern:sub(at + 1, at + 1))
      at = at + 2
    elseif pattern:sub(at + 1, at + 1) == "-" and pattern:sub(at + 2, at + 2) ~= "]" then
      local last = pattern:sub(at + 2, at + 2)
      tests[#tests + 1] = function(x) return x >= c and x <= last end
      at = at + 3
    else
      tests[#tests + 1] = function(x) return x == c end
      at = at + 1
    end
  end
  return literal(function(x)
    for _, t in ipairs(tests) do if t(x) then return not negated end end
    return negated
  end), at + 1
end

local function repeated(node, least, most)
  local function more(text, at, n, go)
    local function further(next) return next > at and more(text, next, n + 1, go) end
    if n < most and node(text, at, further) then return true end
    return n >= least and go(at)
  end
  return function(text, at, go) return more(text, at, 0, go) end
end

local function sequence(nodes)
  local function from(i, text, at, go)
    if not nodes[i] then return go(at) end
    return nodes[i](text, at, function(next) return from(i + 1, text, next, go) end)
  end
  return function(text, at, go) return from(1, text, at, go) end
end

local function choice(ways)
  return function(text, at, go)
    for _, w in ipairs(ways) do if w(text, at, go) then return true end end
    return false
  end
end

local alternatives

local function atom(pattern, at)
  local c = pattern:sub(at, at)
  if c == "^" then return function(_, where, go) return where == 1 and go(where) end, at + 1 end
  if c == "$" then return function(text, where, go) return where == #text + 1 and go(where) end, at + 1 end
  if c == "." then return literal(function(x) return x ~= "\n" end), at + 1 end
  if c == "[" then return set_of(pattern, at + 1) end
  if c == "\\" then return literal(escape(pattern:sub(at + 1, at + 1))), at + 2 end
  if c == "(" then
    if pattern:sub(at + 1, at + 1) == "?" then error("a group that is not known here: " .. pattern, 0) end
    local node
    node, at = alternatives(pattern, at + 1)
    if pattern:sub(at, at) ~= ")" then error("a ( is not closed: " .. pattern, 0) end
    return node, at + 1
  end
  return literal(function(x) return x == c end), at + 1
end

local function counted(pattern, at)                -- least, most, next; nil where no count stands
  local c = pattern:sub(at, at)
  if c == "*" then return 0, math.huge, at + 1 end
  if c == "+" then return 1, math.huge, at + 1 end
  if c == "?" then return 0, 1, at + 1 end
  local least, comma, most, next = pattern:match("^{(%d+)(,?)(%d*)}()", at)
  if not least then return nil end
  return tonumber(least), comma == "" and tonumber(least) or tonumber(most) or math.huge, next
end

function alternatives(pattern, at)
  local ways, nodes = {}, {}
  while at <= #pattern and pattern:sub(at, at) ~= ")" do
    if pattern:sub(at, at) == "|" then
      ways[#ways + 1], nodes, at = sequence(nodes), {}, at + 1
    else
      local node
      node, at = atom(pattern, at)
      local least, most, next = counted(pattern, at)
      if least then node, at = repeated(node, least, most), next end
      nodes[#nodes + 1] = node
    end
  end
  ways[#ways + 1] = sequence(nodes)
  return choice(ways), at
end

return function(pattern)
  local node, at = alternatives(pattern, 1)
  if at <= #pattern then error("a ) too many: " .. pattern, 0) end
  return function(text)
    for start = 1, #text + 1 do if node(text, start, function() return true end) then return true end end
    return false
  end
end
