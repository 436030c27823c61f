-- SPDX-License-Identifier: MIT
-- Splits C and Lua into tokens that know where they stand: { kind =, text =, at =, to = }, `to` behind the last byte.
-- Kinds: name, number, string, op. Comments, and what the C preprocessor reads besides #define, are left out; a string
-- token of Lua has `inside`, the place of its first byte behind the quote.
local lex = {}

local C_OPS = { "<<=", ">>=", "...", "->", "++", "--", "<<", ">>", "<=", ">=", "==", "!=", "&&", "||", "+=", "-=", "*=",
                "/=", "%=", "&=", "|=", "^=", "##" }
local LUA_OPS = { "...", "<<", ">>", "//", "==", "~=", "<=", ">=", "::", ".." }

local function op_at(text, at, ops)
  for _, op in ipairs(ops) do
    if text:sub(at, at + #op - 1) == op then return op end
  end
  return text:sub(at, at)
end

-- Where a quoted string ends, behind the quote.
local function quoted_end(text, at)
  local quote, i = text:sub(at, at), at + 1
  while i <= #text do
    local c = text:sub(i, i)
    if c == "\\" then i = i + 1
    elseif c == quote then return i + 1
    end
    i = i + 1
  end
  error("a quote is not closed", 0)
end

-- Before the first token and behind the last stand tokens that say nothing.
local NONE = { kind = "none", text = "", at = 0, to = 0 }
local EDGE = { __index = function() return NONE end }

local function scan(text, rules, ops)
  local tokens, at = setmetatable({}, EDGE), 1
  local function add(kind, to, inside)
    tokens[#tokens + 1] = { kind = kind, text = text:sub(at, to - 1), at = at, to = to, inside = inside }
    at = to
  end
  while at <= #text do
    local c = text:sub(at, at)
    local skipped = rules.skip(text, at)
    if skipped then at = skipped
    elseif c:find "%s" then at = text:match("^%s+()", at)
    elseif c:find "[%a_]" then add("name", text:match("^[%w_]+()", at))
    elseif c:find "%d" or text:find("^%.%d", at) then
      add("number", text:match("^0[xX][%x.]+[uUlLfF]*()", at) or text:match("^[%d.]+[eE][+-]?%d+[%a]*()", at) or
                    text:match("^[%d.]+[%a]*()", at))
    elseif c == '"' or c == "'" then add("string", quoted_end(text, at), at + 1)
    else
      local long = rules.long and rules.long(text, at)
      if long then add("string", long, text:match("^%[=*%[()", at))
      else add("op", at + #op_at(text, at, ops))
      end
    end
  end
  return tokens
end

-- ---- C -------------------------------------------------------------------------------------------------------------

-- A line of the preprocessor with those that continue it.
local function directive_end(text, at)
  while true do
    local line_end = text:find("\n", at, true) or #text
    if text:sub(line_end - 1, line_end - 1) ~= "\\" then return line_end + 1 end
    at = line_end + 1
  end
end

local function c_skip(text, at)
  local two = text:sub(at, at + 1)
  if two == "/*" then return (select(2, text:find("*/", at + 2, true)) or #text) + 1 end
  if two == "//" then return text:find("\n", at, true) or #text + 1 end
  if two == "\\\n" then return at + 2 end
  if text:sub(at, at) == "#" and text:sub(math.max(1, at - 40), at - 1):find "^[ \t]*$" or
     text:sub(math.max(1, at - 40), at):find "\n[ \t]*#$" then
    local name_end = text:match("^#[ \t]*define[ \t]+[%w_]+()", at)
    if not name_end then return directive_end(text, at) end
    return text:match("^%b()()", name_end) or name_end     -- the body of a macro is code
  end
  return nil
end

function lex.c(text) return scan(text, { skip = c_skip }, C_OPS) end

-- ---- Lua -----------------------------------------------------------------------------------------------------------

local function long_end(text, at)
  local level = text:match("^%[(=*)%[", at)
  if not level then return nil end
  return select(2, assert(text:find("]" .. level .. "]", at, true))) + 1
end

local function lua_skip(text, at)
  if text:sub(at, at + 1) ~= "--" then return nil end
  return long_end(text, at + 2) or text:find("\n", at, true) or #text + 1
end

function lex.lua(text) return scan(text, { skip = lua_skip, long = long_end }, LUA_OPS) end

-- ---- both ----------------------------------------------------------------------------------------------------------

local CLOSES = { ["("] = ")", ["{"] = "}", ["["] = "]" }

-- The index of the token that closes the bracket at index i.
function lex.close(tokens, i)
  local open, close, depth = tokens[i].text, CLOSES[tokens[i].text], 0
  for j = i, #tokens do
    if tokens[j].kind == "op" then
      if tokens[j].text == open then depth = depth + 1
      elseif tokens[j].text == close then
        depth = depth - 1
        if depth == 0 then return j end
      end
    end
  end
  return #tokens
end

-- The arguments of the call whose bracket opens at index i: a list of { first, last } token indices.
function lex.arguments(tokens, i)
  local last, list, depth, first = lex.close(tokens, i), {}, 0, i + 1
  for j = i, last do
    local t = tokens[j].kind == "op" and tokens[j].text
    if CLOSES[t] then depth = depth + 1
    elseif t == ")" or t == "}" or t == "]" then depth = depth - 1
    end
    if (depth == 1 and t == ",") or j == last then
      if j > first then list[#list + 1] = { first, j - 1 } end
      first = j + 1
    end
  end
  return list, last
end

return lex
