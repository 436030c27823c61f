-- SPDX-License-Identifier: MIT
-- Faults of a Lua file of stdlib: results, rules, kinds with their ranges, and the functions beside them.
local common = require "common"
local lex = require "lex"
local stdlib = {}

local ARITHMETIC = { ["+"] = "-", ["-"] = "+", ["*"] = "/", ["/"] = "*" }
local TURNED = { ["<"] = ">", [">"] = "<", ["<="] = ">=", [">="] = "<=", ["=="] = "~=", ["~="] = "==" }
local STRICT = { ["<"] = "<=", [">"] = ">=", ["<="] = "<", [">="] = ">" }
local WORDS = { at_most = "at_least", at_least = "at_most", ["and"] = "or", ["or"] = "and", ceil = "floor",
                floor = "ceil", least = "most", most = "least" }
local CALLED = { at_most = true, at_least = true }
-- What a block of a file is: the word before its brace.
local BLOCKS = { result = true, work = true, add = true, kind = true, add_fields = true }
local RANGES = { min = true, max = true, above = true, below = true, default = true }
-- Two sides of one thing.
local SIDES = { { "front", "back" }, { "least", "most" }, { "min", "max" }, { "hot", "cold" },
                { "length", "width" }, { "height", "depth" }, { "breadth", "depth" }, { "uplift", "down" },
                { "rows", "columns" }, { "lateral", "uplift" } }

local function string_text(token) return token.kind == "string" and token.text:match "^[\"'](.*)[\"']$" end

-- ---- names and their dimensions ------------------------------------------------------------------------------------

-- fields[name][kind] = dimension: fields and results of the library, outputs of the primitives under their own names.
function stdlib.names(paths)
  local fields, like = {}, {}
  local function put(name, kind, dim)
    for _, one in ipairs(like[kind] or { kind }) do
      fields[name] = fields[name] or {}
      fields[name][one] = dim
    end
  end
  -- A list of fields that stands before its kinds.
  for _, path in ipairs(paths) do
    for line in common.read(path):gmatch "[^\n]+" do
      local kind = line:match 'kind { "([%w_]+)".*fields = [%l_]+'
      if kind then
        like[path] = like[path] or {}
        table.insert(like[path], kind)
      end
    end
  end
  local outputs = {}                                    -- [primitive][output] = dimension
  local text = table.concat(common.lines "cat interp/bind/*.c", "\n")
  for op, body in text:gmatch "([%w_]+)_out%[%] = {(.-)\n}" do
    outputs[op] = {}
    for name, dim in body:gmatch "([%w_]+), SL_([%u_]+)" do
      outputs[op][name] = dim:lower():gsub("_", " ")
      put(name, "primitive " .. op, outputs[op][name])
    end
  end
  for _, path in ipairs(paths) do
    local kind, given_by, of_kind = "?", nil, nil
    for line in common.read(path):gmatch "[^\n]+" do
      local list = line:match "^local ([%w_]+) = {"
      if list then kind = path end
      kind = line:match '^%s*kind { "([%w_]+)"' or line:match 'add_fields%("([%w_]+)"' or kind
      local name, type = line:match '{ "([%w_]+)", "([%w_]+)"'
      local of = line:match 'result { "([%w_]+)", "[%w_]+"'
      of_kind = line:match 'work { "([%w_]+)"' or of_kind
      given_by = line:match 'op = "([%w_]+)"' or given_by
      local output = line:match '^%s+([%w_]+) = {' or line:match 'gives = { ([%w_]+) = {'
      if of then put(line:match 'result { "[%w_]+", "([%w_]+)"', of, line:match 'dim = "([%w ]+)"' or "number")
      elseif name and not line:find "work {" and (type == "quantity" or type == "count") then
        put(name, kind, line:match 'dim = "([%w ]+)"' or type)
      elseif output and outputs[given_by] and outputs[given_by][output] then
        put(line:match 'name = "([%w_]+)"' or output, of_kind, outputs[given_by][output])
      end
    end
  end
  return fields
end

-- Names that stand in the same kind (in any, or in that one) with the same dimension, in the order of the alphabet.
local function alike(fields, name, of)
  local list, own = {}, fields[name]
  if not own then return list end
  for other, kinds in pairs(fields) do
    if other ~= name then
      for kind, dim in pairs(own) do
        if kinds[kind] == dim and (kind == of or not of and not kind:find "^primitive") then
          list[#list + 1] = other
          break
        end
      end
    end
  end
  table.sort(list)
  return list
end

-- All other outputs of a primitive.
local function outputs_of(fields, op, name)
  local list = {}
  for other, kinds in pairs(fields) do
    if other ~= name and kinds["primitive " .. tostring(op)] then list[#list + 1] = other end
  end
  table.sort(list)
  return list
end

local function other_side(name)
  for _, pair in ipairs(SIDES) do
    for i = 1, 2 do
      local a, b = pair[i], pair[3 - i]
      if name == a then return b end
      if name:find("^" .. a .. "_") then return b .. name:sub(#a + 1) end
      if name:find("_" .. a .. "$") then return name:sub(1, -#a - 1) .. b end
    end
  end
  return nil
end

-- ---- blocks --------------------------------------------------------------------------------------------------------

-- The declarations of a file and the functions beside them: { group =, kind =, first =, last = }.
local function blocks(tokens, file)
  local list, i = {}, 1
  while i <= #tokens do
    local t = tokens[i]
    local opens = tokens[i + 1].text == "{" and i + 1 or tokens[i + 1].text == "(" and t.text == "add_fields" and i + 1
    if t.kind == "name" and BLOCKS[t.text] and opens and tokens[i - 1].text ~= "function" and
       tokens[i - 1].text ~= "local" and tokens[i - 1].text ~= "," then
      local last = lex.close(tokens, opens)
      local group
      if t.text == "add" then
        for k = opens, last do
          if tokens[k].text == "id" and tokens[k + 1].text == "=" then
            group = "rule " .. string_text(tokens[k + 2])
            break
          end
        end
        group = group or "a rule of " .. file
      elseif t.text == "kind" or t.text == "add_fields" then
        group = "kind " .. (string_text(tokens[opens + 1]) or "?")
      else
        local name = {}
        for k = opens + 3, last do
          if tokens[k].text == "," then break end
          name[#name + 1] = string_text(tokens[k]) or tokens[k].text ~= ".." and "(" .. tokens[k].text .. ")" or ""
        end
        group = "result " .. (string_text(tokens[opens + 1]) or "?") .. "." .. table.concat(name)
      end
      list[#list + 1] = { group = group, kind = t.text, first = opens + 1, last = last - 1 }
      i = last
    elseif t.text == "function" and tokens[i + 1].kind == "name" then
      local name, k = tokens[i + 1].text, i + 2
      while tokens[k].text ~= "(" do
        if tokens[k].kind == "name" then name = tokens[k].text end
        k = k + 1
      end
      local depth, last = 1, lex.close(tokens, k)
      while depth > 0 and last < #tokens do
        last = last + 1
        local word = tokens[last].text
        if tokens[last].kind == "name" then
          if word == "function" or word == "if" or word == "do" or word == "repeat" then depth = depth + 1
          elseif word == "end" or word == "until" then depth = depth - 1
          end
        end
      end
      list[#list + 1] = { group = "function " .. name .. " of " .. file, kind = "function", first = k + 1,
                          last = last - 1 }
      i = last
    end
    i = i + 1
  end
  return list
end

local function is_value(t)
  return t.kind == "number" or t.kind == "string" or t.text == ")" or t.text == "]" or t.text == "}" or
         t.kind == "name" and not ({ ["return"] = true, ["and"] = true, ["or"] = true, ["not"] = true, ["then"] = true,
                                     ["do"] = true, ["in"] = true, ["else"] = true })[t.text]
end

local function operand_end(tokens, i, last)
  if tokens[i].text == "-" or tokens[i].text == "not" or tokens[i].text == "#" then i = i + 1 end
  if tokens[i].text == "(" then i = lex.close(tokens, i) end
  while i < last do
    local t = tokens[i + 1]
    if t.text == "(" or t.text == "[" or t.text == "{" then i = lex.close(tokens, i + 1)
    elseif t.kind == "string" then i = i + 1
    elseif t.text == "." or t.text == ":" then i = i + 2
    else break end
  end
  return i
end

local function term_end(tokens, i, last)
  i = operand_end(tokens, i, last)
  while i < last and (tokens[i + 1].text == "*" or tokens[i + 1].text == "/") do
    i = operand_end(tokens, i + 2, last)
  end
  return i
end

-- ---- faults --------------------------------------------------------------------------------------------------------

-- The faults of tokens first to last, which may be those of a formula's text; `shift` is where that stands.
local function expression_faults(tokens, first, last, group, add, fields, shift)
  local function put(kind, at, to, new) add(group, kind, at + shift, to + shift, new) end
  for i = first, last do
    local t = tokens[i]
    local before, following = tokens[i - 1], tokens[i + 1]
    if t.kind == "op" then
      if ARITHMETIC[t.text] and is_value(before) then
        local product = t.text == "*" or t.text == "/"
        put("operator", t.at, t.to, ARITHMETIC[t.text])
        local e = (product and operand_end or term_end)(tokens, i + 1, last)
        put(product and "factor" or "term", before.to, tokens[e].to, "")
      elseif TURNED[t.text] then
        put("turned", t.at, t.to, TURNED[t.text])
        if STRICT[t.text] then put("strict", t.at, t.to, STRICT[t.text]) end
      end
    elseif t.kind == "number" then
      local other = common.other_number(t.text, true)
      if other and before.text ~= "[" then put("constant", t.at, t.to, other) end
    elseif t.kind == "name" then
      if t.text == "and" or t.text == "or" then
        put("logic", t.at, t.to, WORDS[t.text])
      elseif t.text == "not" then put("logic", t.at, following.at, "")
      elseif before.text == "." or before.text == "math" then
        if WORDS[t.text] and before.text == "." and tokens[i - 2].text == "math" then
          put("function", t.at, t.to, WORDS[t.text])
        end
      elseif CALLED[t.text] and following.text == "(" then put("turned", t.at, t.to, WORDS[t.text])
      elseif t.text == "then" then
        local k = i - 1
        while k >= first and tokens[k].text ~= "if" and tokens[k].text ~= "elseif" do k = k - 1 end
        if k >= first then put("condition", tokens[k + 1].at, before.to, "false") end
      end
      local declared = following.text == "=" or before.text == "function" or before.text == "local"
      if not declared and (before.text == "." or shift > 0) and following.text ~= "(" then
        local side = other_side(t.text)
        if side and fields[side] then put("swapped", t.at, t.to, side) end
        local list = alike(fields, t.text)
        for k = 1, math.min(3, #list) do
          -- spread over the list by the name itself, so that not all get the first of the alphabet
          put("swapped", t.at, t.to, list[(#t.text * 7 + k * 5) % #list + 1])
        end
      end
    elseif t.kind == "string" and (before.text == "==" or before.text == "~=") then
      put("choice", t.at, t.to, '"no such word"')
    elseif t.kind == "string" and (before.text == "," or before.text == "(") and following.text == ")" then
      local side = other_side(string_text(t) or "")
      if side then put("swapped", t.at, t.to, '"' .. side .. '"') end
    end
  end
end

-- A limit, or what a paper gives, exchanged for the next one of the file.
local function neighbour_faults(tokens, block, add, kind, is_word)
  local words = {}
  for i = 1, #tokens do
    if tokens[i].kind == "string" and is_word(tokens, i) then words[#words + 1] = i end
  end
  for n, i in ipairs(words) do
    local other = words[n + 1] or words[n - 1]
    if other and i >= block.first and i <= block.last then
      add(block.group, kind, tokens[i].at, tokens[i].to, tokens[other].text)
    end
  end
end
local function is_limit(tokens, i) return tokens[i - 1].text == "limit" end
local function is_given(tokens, i) return tokens[i - 2].text == "given" and tokens[i - 1].text == "=" end

-- `gives`: an output replaced by another of the primitive, two neighbouring ones exchanged.
local function gives_faults(tokens, block, add, fields)
  local op
  for i = block.first, block.last do
    if tokens[i].text == "op" and tokens[i + 1].text == "=" then op = string_text(tokens[i + 2]) end
    if tokens[i].text == "gives" and tokens[i + 1].text == "=" and tokens[i + 2].text == "{" then
      local keys, depth = {}, 0
      for k = i + 3, lex.close(tokens, i + 2) - 1 do
        local text = tokens[k].text
        if depth == 0 and tokens[k].kind == "name" and tokens[k + 1].text == "=" then keys[#keys + 1] = tokens[k] end
        if tokens[k].kind == "op" and text == "{" then depth = depth + 1
        elseif tokens[k].kind == "op" and text == "}" then depth = depth - 1 end
      end
      for _, key in ipairs(keys) do
        local list = alike(fields, key.text, "primitive " .. op)
        if #list == 0 then list = outputs_of(fields, op, key.text) end
        for n = 1, math.min(2, #list) do add(block.group, "output", key.at, key.to, list[n]) end
      end
      for n = 1, #keys - 1 do
        add(block.group, "exchanged", keys[n].at, keys[n + 1].to, function(text)
          return keys[n + 1].text .. text:sub(keys[n].to, keys[n + 1].at - 1) .. keys[n].text
        end)
      end
    end
  end
end

local function kind_faults(tokens, block, add)
  for i = block.first, block.last do
    local t, value = tokens[i], tokens[i + 2]
    if t.kind == "name" and tokens[i + 1].text == "=" then
      local minus = value.text == "-" and tokens[i + 3]
      local number = minus or value
      if value.text == "math" and tokens[i + 4].text == "rad" then number = tokens[i + 6] end
      if RANGES[t.text] and number.kind == "number" then
        -- twice as far, so that it is a range of another make, not a digit
        local wide = tonumber(number.text)
        local other = wide == 0 and "1" or wide and (math.type(wide) == "integer" and "%d" or "%.6g"):format(wide * 2)
        if other then add(block.group, "range", number.at, number.to, other) end
      elseif RANGES[t.text] and value.kind == "string" and string_text(value):find "^%d" then
        local digits, tail = string_text(value):match "^([%d.]+)(.*)$"
        local other = common.other_number(digits, true)
        if other then add(block.group, "default", value.at, value.to, '"' .. other .. tail .. '"') end
      elseif t.text == "required" and value.text == "true" then
        add(block.group, "required", value.at, value.to, "false")
      end
      if t.text == "min" or t.text == "above" then
        local from = minus and i + 3 or i + 2
        local k = from + 1
        if tokens[k].text == "," and tokens[k + 1].text == "max" then
          add(block.group, "exchanged", t.at, tokens[k + 1].to, function(text)
            return "max" .. text:sub(t.to, tokens[k + 1].at - 1) .. "min"
          end)
        end
      end
    end
  end
end

local ALWAYS = ' do return import("model.rule").states(true, "always") end'

local function rule_faults(tokens, block, add)
  for i = block.first, block.last do
    if tokens[i].text == "check" and tokens[i + 1].text == "=" then
      local f = i + 2                                    -- check = function, or check = tilted.asked(function
      while tokens[f].text:find "^[%a_.(]+$" and tokens[f].text ~= "function" do f = f + 1 end
      if tokens[f].text ~= "function" then return end
      local head = tokens[lex.close(tokens, f + 1)].to
      add(block.group, "always true", head, head, ALWAYS)
      return
    end
  end
end

function stdlib.faults(path, text, fields)
  local tokens = lex.lua(text)
  local file = path:gsub("^stdlib/", "")
  local class = file:find "/rules%.lua$" and "rules" or file:find "/schema%.lua$" and "ranges" or "results"
  local collect, list = common.collector(path, text, class)
  local function add(group, kind, at, to, new)
    collect(group, kind, at, to, type(new) == "function" and new(text) or new)
  end
  for _, block in ipairs(blocks(tokens, file)) do
    if block.kind == "kind" or block.kind == "add_fields" then kind_faults(tokens, block, add)
    else
      expression_faults(tokens, block.first, block.last, block.group, add, fields, 0)
      neighbour_faults(tokens, block, add, "limit", is_limit)
      neighbour_faults(tokens, block, add, "given", is_given)
      if block.kind == "add" then rule_faults(tokens, block, add) end
      if block.kind == "work" then gives_faults(tokens, block, add, fields) end
    end
    for i = block.first, block.last do
      if tokens[i].text == "formula" and tokens[i + 1].text == "=" and tokens[i + 2].kind == "string" then
        local s = tokens[i + 2]
        local inner = lex.lua(s.text:sub(s.inside - s.at + 1, -1 - (s.inside - s.at)))
        expression_faults(inner, 1, #inner, block.group, add, fields, s.inside - 1)
      end
    end
  end
  for at, word, to in text:gmatch "\nreturn {[^\n]-()always = (true)()" do
    collect("domain " .. file, "always", at, to, "always = false")
  end
  return list
end

return stdlib
