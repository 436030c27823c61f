-- SPDX-License-Identifier: MIT
-- Faults of a C file of interp/calc: an operator, a factor or term left out, a constant, a comparison turned or made
-- strict, a condition, a function of math.h, a guard left out, a symbol or member exchanged for another of its
-- dimension.
local common = require "common"
local lex = require "lex"
local calc = {}

local ARITHMETIC = { ["+"] = "-", ["-"] = "+", ["*"] = "/", ["/"] = "*" }
local TURNED = { ["<"] = ">", [">"] = "<", ["<="] = ">=", [">="] = "<=", ["=="] = "!=", ["!="] = "==" }
local STRICT = { ["<"] = "<=", [">"] = ">=", ["<="] = "<", [">="] = ">" }
local LOGIC = { ["&&"] = "||", ["||"] = "&&" }
local FUNCTIONS = { fmin = "fmax", fmax = "fmin", sin = "cos", cos = "sin", tan = "sin", floor = "ceil",
                    ceil = "floor" }
local GUARDS = { REQUIRE = true, WITHIN = true, POSITIVE = true, NOT_NEGATIVE = true, FINITE = true, ONE_OF = true }
local TYPES = { double = true, int = true, char = true, void = true, size_t = true, bool = true, long = true,
                unsigned = true, const = true, float = true, uint32_t = true }
local KEYWORDS = { ["return"] = true, ["case"] = true, ["else"] = true, ["sizeof"] = true }
-- Members that are said and not computed with.
local SAID = { name = true, cite = true, basis = true, source = true, words = true, bare = true, key = true,
               unit = true, text = true, help = true }
-- A comparison that takes so little for nothing is not made another by what happens at one point.
local CLOSE = { SL_CLOSE = true, HAIR = true, SL_TOLERANCE = true }

-- The functions and macros of a file: { name =, first =, last =, shown = }, as token indices.
local function bodies(text, tokens)
  local list, depth, i = {}, 0, 1
  while i <= #tokens do
    local t = tokens[i].text
    if tokens[i].kind == "op" then
      if t == "{" and depth == 0 and tokens[i - 1].text == ")" then
        local j = i - 1
        local level = 0
        repeat
          if tokens[j].text == ")" then level = level + 1 elseif tokens[j].text == "(" then level = level - 1 end
          j = j - 1
        until level == 0
        local last = lex.close(tokens, i)
        local name = tokens[j].text
        local primitive = tokens[j - 1].text == "sl_status" and name:match "^sl_(.*)$"
        list[#list + 1] = { name = name, primitive = primitive, first = i + 1, last = last - 1 }
        i = last
      elseif t == "{" then depth = depth + 1
      elseif t == "}" then depth = depth - 1
      end
    end
    i = i + 1
  end
  -- Macros: tokens between the name of a #define and the first line that is not continued.
  for at, name in text:gmatch "()#%s*define%s+([%w_]+)" do
    local line_end = at
    repeat line_end = (text:find("\n", line_end, true) or #text) + 1
    until text:sub(line_end - 2, line_end - 2) ~= "\\"
    local first, last
    for k = 1, #tokens do
      local token = tokens[k]
      if token.at > at and token.to <= line_end then
        first = first or k
        last = k
      end
    end
    if first then list[#list + 1] = { name = name, macro = true, first = first, last = last } end
  end
  return list
end

local function is_value(token)
  return (token.kind == "number" or token.kind == "name" and not TYPES[token.text] and
                    not KEYWORDS[token.text] or token.text == ")" or token.text == "]")
end

-- An operator between two values; a * behind a type is none.
local function is_binary(tokens, i)
  local before = tokens[i - 1]
  if not is_value(before) then return false end
  local b2 = tokens[i - 2].text
  return not (tokens[i].text == "*" and (b2 == "struct" or b2 == "enum" or before.text:find "_t$"))
end

-- The last token of the value that begins at index i.
local function operand_end(tokens, i, last)
  if tokens[i].text == "-" or tokens[i].text == "+" or tokens[i].text == "!" then i = i + 1 end
  if tokens[i].text == "(" then i = lex.close(tokens, i) end
  while i < last do
    local t = tokens[i + 1].text
    if t == "(" or t == "[" then i = lex.close(tokens, i + 1)
    elseif t == "->" or t == "." or t == "##" then i = i + 2
    else break end
  end
  return i
end

-- The same for a term: the products of it belong to it.
local function term_end(tokens, i, last)
  i = operand_end(tokens, i, last)
  while i < last and (tokens[i + 1].text == "*" or tokens[i + 1].text == "/") do
    i = operand_end(tokens, i + 2, last)
  end
  return i
end

local function is_little(token)
  return CLOSE[token.text] or token.kind == "number" and token.text:find "e%-" and (tonumber(token.text) or 1) < 1e-5
end

-- Marks tokens that stand in the head of a `for` or in an index.
local function in_heads(tokens, first, last)
  local inside = {}
  for i = first, last do
    if tokens[i].text == "for" or tokens[i].text == "sizeof" then
      for k = i + 1, math.min(lex.close(tokens, i + 1), last) do inside[k] = true end
    elseif tokens[i].text == "[" then
      for k = i, math.min(lex.close(tokens, i), last) do inside[k] = true end
    end
  end
  return inside
end

-- Whether the statement or argument around a token takes a little for nothing.
local function is_close(tokens, i)
  local function stops(t) return t == ";" or t == "{" or t == "}" or t == "," or t == "&&" or t == "||" or t == "?" end
  for step = -1, 1, 2 do
    local k, commas = i + step, 0
    while tokens[k].kind ~= "none" do
      if is_little(tokens[k]) then return true end
      -- WITHIN(sh, "member", value, <=, limit, ...): the value and the limit are arguments of their own
      if stops(tokens[k].text) then
        commas = commas + (tokens[k].text == "," and 1 or 9)
        if commas > 1 then break end
      end
      k = k + step
    end
  end
  return false
end

-- The name that a member is asked of, before a -> or . at index i; of a row of a list the list's.
local function base_of(tokens, i)
  local k = i - 1
  if tokens[k].text == "]" then
    local depth = 0
    repeat
      if tokens[k].text == "]" then depth = depth + 1 elseif tokens[k].text == "[" then depth = depth - 1 end
      k = k - 1
    until depth == 0 or k < 1
  end
  return tokens[k].kind == "name" and tokens[k].text or nil
end

local function body_faults(text, tokens, body, group, add)
  local first, last = body.first, body.last
  local heads = in_heads(tokens, first, last)
  local symbols, dims, known_from, members, given, keys = {}, {}, {}, {}, {}, {}

  for i = first, last do
    local t = tokens[i]
    local following = tokens[i + 1].text
    if t.kind == "name" and t.text:find "^%u[%u_]+$" and following == "(" then
      local args = lex.arguments(tokens, i + 1)
      local second, third = args[2] and tokens[args[2][1]].text, args[3] and tokens[args[3][1]]
      if second and second:find "^SL_%u" and third and third.kind == "name" and third.text ~= "member" then
        symbols[#symbols + 1] = third.text
        known_from[third.text] = known_from[third.text] or lex.close(tokens, i + 1)
        dims[third.text] = second
        local value = args[4] and args[4][1]
        if value and tokens[value].text == "in" and tokens[value + 1].text == "->" then
          given[tokens[value + 2].text] = second
        end
      end
    end
    local base, member = base_of(tokens, i), tokens[i + 1].text
    if (t.text == "->" or t.text == ".") and base and tokens[i + 1].kind == "name" then
      if tokens[i + 2].text ~= "=" and tokens[i + 2].text ~= "(" and not SAID[member] then
        members[base] = members[base] or {}
        if not members[base][member] then
          members[base][member] = true
          table.insert(members[base], member)
        end
      end
    end
    if t.kind == "string" and (tokens[i - 1].text == "(" or tokens[i - 1].text == ",") then
      local call = tokens[i - 2].text
      if call and call:find "^sl_fact" then keys[#keys + 1] = i end
    end
    if t.text == "FACT" and following == "(" then
      local args = lex.arguments(tokens, i + 1)
      if args[4] and tokens[args[4][1]].kind == "string" then keys[#keys + 1] = args[4][1] end
    end
  end

  local function others(list, own, test)
    local n = 0
    for _, one in ipairs(list) do
      if one ~= own and test(one) and n < 3 then n = n + 1 coroutine.yield(one) end
    end
  end
  local function each_other(list, own, test) return coroutine.wrap(function() others(list, own, test) end) end

  for i = first, last do
    local t = tokens[i]
    local word, head = t.text, heads[i]
    if t.kind == "op" and not head then
      if ARITHMETIC[word] and is_binary(tokens, i) and not is_little(tokens[i + 1]) then
        local product = word == "*" or word == "/"
        add(group, "operator", t.at, t.to, ARITHMETIC[word])
        local e = (product and operand_end or term_end)(tokens, i + 1, last)
        add(group, product and "factor" or "term", tokens[i - 1].to, tokens[e].to, "")
      end
      if TURNED[word] then
        add(group, "turned", t.at, t.to, TURNED[word])
        if STRICT[word] and not is_close(tokens, i) then add(group, "strict", t.at, t.to, STRICT[word]) end
      end
      if LOGIC[word] then add(group, "logic", t.at, t.to, LOGIC[word]) end
      if word == "!" then add(group, "logic", t.at, t.to, "") end
    elseif t.kind == "number" and not head then
      local value = tonumber((word:gsub("[uUlLfF]+$", "")))
      if value and (value == 0 or value > 1e-5) and tokens[i - 1].text ~= "case" then
        local other = common.other_number(word, true)
        if other and not word:find "[eE]" then add(group, "constant", t.at, t.to, other) end
      end
    elseif t.kind == "name" and not body.macro then
      local following = tokens[i + 1].text
      if FUNCTIONS[word] and following == "(" then add(group, "function", t.at, t.to, FUNCTIONS[word]) end
      if GUARDS[word] and following == "(" then
        add(group, "guard", t.at, tokens[lex.close(tokens, i + 1)].to, "(void)0")
      end
      local before = tokens[i - 1].text
      if before == "->" or before == "." then
        local base = base_of(tokens, i - 1) or ""
        if base == "in" and given[word] then
          for other in each_other(members["in"] or {}, word, function(m) return given[m] == given[word] end) do
            add(group, "swapped", t.at, t.to, other)
          end
        elseif base ~= "in" and base ~= "out" and members[base] and members[base][word] and following ~= "(" and
               following ~= "=" then
          for other in each_other(members[base], word, function() return true end) do
            add(group, "swapped", t.at, t.to, other)
          end
        end
      elseif dims[word] and following ~= "(" then
        -- not where it is declared
        local declared = before == "," and tokens[i - 2].text:find "^SL_%u"
        if not declared then
          for other in each_other(symbols, word, function(s)
            return dims[s] == dims[word] and known_from[s] < i
          end) do
            add(group, "swapped", t.at, t.to, other)
          end
        end
      end
    elseif t.kind == "name" and body.macro and FUNCTIONS[word] then
      add(group, "function", t.at, t.to, FUNCTIONS[word])
    end
  end
  for n, i in ipairs(keys) do
    local other = keys[n + 1] or keys[n - 1]
    if other then add(group, "swapped", tokens[i].at, tokens[i].to, tokens[other].text) end
  end
end

function calc.faults(path, text)
  local tokens = lex.c(text)
  local add, list = common.collector(path, text, "formulas")
  local file = path:match "([^/]+)$"
  for _, body in ipairs(bodies(text, tokens)) do
    local group = body.primitive and "primitive " .. body.primitive or
                  (body.macro and "macro " or "function ") .. body.name .. " of " .. file
    body_faults(text, tokens, body, group, add)
  end
  -- single numbers of the file
  for at, number, to in text:gmatch "\n[^\n;{}]*const double [^;]-()(%d[%d.]*)()%s*[;,]" do
    add("constants of " .. file, "constant", at, to, common.other_number(number, true) or number)
  end
  return list
end

-- The primitives that have a row for Lua.
function calc.primitives()
  local list = {}
  for _, line in ipairs(common.lines "cat interp/bind/*.c") do
    local name = line:match "^%s*SL_OP%(([%w_]+)"
    if name then list[#list + 1] = name end
  end
  table.sort(list)
  return list
end

return calc
