-- SPDX-License-Identifier: MIT
-- Regular expressions as JSON Schema has them (ECMA-262), as far as schemas here use them: ^ $ . [...] \. \d \w \s
-- groups | * + ? {n} {n,m}.  What is not known raises.  require "regex"(pattern) gives a function that says whether it
-- is found in a text.

-- A node is function(text, at, go): tries to match at `at`, and calls go(next) for each way, until one gives true.

-- What a node of one character takes, by its byte: such nodes are run through in a loop.
local bytes_of = {}

local function literal(test)
  local ok = {}
  for byte = 0, 255 do ok[byte] = test(string.char(byte)) end
  local function node(text, at, go)
    local byte = text:byte(at)
    return byte ~= nil and ok[byte] and go(at + 1)
  end
  bytes_of[node] = ok
  return node
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

-- Of one character: as many as there are, and then fewer.
local function repeated_bytes(ok, least, most)
  return function(text, at, go)
    local to = at
    while to - at < most and ok[text:byte(to)] do to = to + 1 end
    while to - at >= least do
      if go(to) then return true end
      to = to - 1
    end
    return false
  end
end

local function repeated(node, least, most)
  if bytes_of[node] then return repeated_bytes(bytes_of[node], least, most) end
  local function more(text, at, n, go)
    local function further(next) return next > at and more(text, next, n + 1, go) end
    if n < most and node(text, at, further) then return true end
    return n >= least and go(at)
  end
  return function(text, at, go) return more(text, at, 0, go) end
end

local function sequence(nodes)
  local bytes = {}
  for i, node in ipairs(nodes) do bytes[i] = bytes_of[node] or false end
  local function from(i, text, at, go)
    while bytes[i] do
      if not bytes[i][text:byte(at)] then return false end
      i, at = i + 1, at + 1
    end
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
local at_start = {}                                -- nodes that are found at the start of a text or nowhere

local function atom(pattern, at)
  local c = pattern:sub(at, at)
  if c == "^" then
    local function node(_, where, go) return where == 1 and go(where) end
    at_start[node] = true
    return node, at + 1
  end
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
  local ways, nodes, anchored = {}, {}, true
  local function close()
    ways[#ways + 1], anchored = sequence(nodes), anchored and at_start[nodes[1]] or false
    nodes = {}
  end
  while at <= #pattern and pattern:sub(at, at) ~= ")" do
    if pattern:sub(at, at) == "|" then
      close()
      at = at + 1
    else
      local node
      node, at = atom(pattern, at)
      local least, most, next = counted(pattern, at)
      if least then node, at = repeated(node, least, most), next end
      nodes[#nodes + 1] = node
    end
  end
  close()
  local node = choice(ways)
  at_start[node] = anchored or nil
  return node, at
end

return function(pattern)
  local node, at = alternatives(pattern, 1)
  if at <= #pattern then error("a ) too many: " .. pattern, 0) end
  return function(text)
    for start = 1, at_start[node] and 1 or #text + 1 do
      if node(text, start, function() return true end) then return true end
    end
    return false
  end
end
