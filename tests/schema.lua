#!/usr/bin/env lua5.4
-- SPDX-License-Identifier: MIT
-- Holds JSON documents against a JSON Schema: tests/schema.lua SCHEMA DOCUMENT ..., from the top folder of the project.
-- 0: all fit; 1: one does not, with a line for each place; 2: a file that is no JSON, or a keyword that
-- is not known here.
--
-- As a module: require "schema"(schema, value) -> list of "path: what is wrong". A keyword of a schema that is not
-- known raises: a check that is skipped in silence is none.
local from_shell = ... ~= "schema"                    -- else it is required
if from_shell then package.path = arg[0]:gsub("[^/]*$", "") .. "?.lua;" .. package.path end
local json = require "json"
local regex = require "regex"

-- What says nothing about whether a document fits.
local silent = { ["$schema"] = true, ["$id"] = true, id = true, title = true, description = true, ["$comment"] = true,
                 definitions = true, ["$defs"] = true, default = true, examples = true }

local types = {
  string = function(v) return type(v) == "string" end,
  boolean = function(v) return type(v) == "boolean" end,
  null = function(v) return v == json.null end,
  array = json.is_array,
  object = json.is_object,
  number = function(v) return type(v) == "number" end,
  integer = function(v) return type(v) == "number" and math.tointeger(v) ~= nil end,
}

local function type_of(v)
  for _, name in ipairs { "string", "boolean", "null", "array", "object", "integer", "number" } do
    if types[name](v) then return name end
  end
end

local function same(a, b)
  if a == b then return true end
  if json.is_array(a) and json.is_array(b) then
    if #a ~= #b then return false end
    for i = 1, #a do if not same(a[i], b[i]) then return false end end
    return true
  end
  if json.is_object(a) and json.is_object(b) then
    if #a[json.keys] ~= #b[json.keys] then return false end
    for _, k in ipairs(a[json.keys]) do if b[k] == nil or not same(a[k], b[k]) then return false end end
    return true
  end
  return false
end

-- The formats of URIs by RFC 3986: only characters that one may have, and % before two digits.
local function uri_reference(text)
  if text:find("[^%w%-._~:/?#%[%]@!$&'()*+,;=%%]") then return false end
  for after in text:gmatch("%%(.?.?)") do if not after:find("^%x%x$") then return false end end
  local first = text:match("^[^/?#]*")
  return not first:find(":", 1, true) or first:find("^%a[%w+.-]*:") ~= nil
end
local formats = {
  ["uri-reference"] = uri_reference,
  uri = function(text) return uri_reference(text) and text:find("^%a[%w+.-]*:") ~= nil end,
}

-- Patterns of a schema and what they were held against, once.
local made, known = {}, {}
local function like(text, pattern)
  if not made[pattern] then made[pattern], known[pattern] = regex(pattern), {} end
  local answers = known[pattern]
  if answers[text] == nil then answers[text] = made[pattern](text) end
  return answers[text]
end

-- A list of complaints that is over with the first.
local first = {}
local only_first = { __newindex = function() error(first, 0) end }

local function check(schema, root, value, path, wrong)
  local function complain(text) wrong[#wrong + 1] = path .. ": " .. text end
  if schema == true then return end
  if schema == false then return complain "nothing may stand here" end
  local function fits(inner)
    local good, why = pcall(check, inner, root, value, path, setmetatable({}, only_first))
    if not good and why ~= first then error(why, 0) end
    return good
  end
  local keyword = {}

  keyword["$ref"] = function(ref)
    local at = root
    for step in ref:match("^#(.*)$"):gmatch("[^/]+") do at = at[(step:gsub("~1", "/"):gsub("~0", "~"))] end
    assert(at, "no such definition: " .. ref)
    check(at, root, value, path, wrong)
  end
  function keyword.type(want)
    local list, named = json.is_array(want) and want or { want }, {}
    for i, name in ipairs(list) do
      if types[name](value) then return end
      named[i] = name
    end
    complain("a " .. table.concat(named, " or ") .. " is wanted, got a " .. type_of(value))
  end
  keyword["const"] = function(want)
    if not same(want, value) then complain("not the one value that may stand here") end
  end
  function keyword.enum(list)
    for _, v in ipairs(list) do if same(v, value) then return end end
    complain("'" .. tostring(value) .. "' is none of those that may stand here")
  end
  function keyword.required(list)
    if not json.is_object(value) then return end
    for _, name in ipairs(list) do if value[name] == nil then complain("'" .. name .. "' is missing") end end
  end
  function keyword.properties(map)
    if not json.is_object(value) then return end
    for _, name in ipairs(map[json.keys]) do
      if value[name] ~= nil then check(map[name], root, value[name], path .. "." .. name, wrong) end
    end
  end
  function keyword.patternProperties(map)
    if not json.is_object(value) then return end
    for _, pattern in ipairs(map[json.keys]) do
      for _, name in ipairs(value[json.keys]) do
        if like(name, pattern) then check(map[pattern], root, value[name], path .. "." .. name, wrong) end
      end
    end
  end
  local function named(name)
    if schema.properties and schema.properties[name] ~= nil then return true end
    for _, pattern in ipairs(schema.patternProperties and schema.patternProperties[json.keys] or {}) do
      if like(name, pattern) then return true end
    end
    return false
  end
  function keyword.additionalProperties(inner)
    if not json.is_object(value) then return end
    for _, name in ipairs(value[json.keys]) do
      if not named(name) then
        if inner == false then complain("'" .. name .. "' may not stand here")
        else check(inner, root, value[name], path .. "." .. name, wrong) end
      end
    end
  end
  function keyword.items(inner)
    if not json.is_array(value) then return end
    for i, item in ipairs(value) do check(inner, root, item, path .. "[" .. i - 1 .. "]", wrong) end
  end
  function keyword.minItems(n)
    if json.is_array(value) and #value < n then complain("fewer than " .. n .. " items") end
  end
  function keyword.maxItems(n)
    if json.is_array(value) and #value > n then complain("more than " .. n .. " items") end
  end
  function keyword.uniqueItems(on)
    if not on or not json.is_array(value) then return end
    for i = 1, #value do
      for k = 1, i - 1 do
        if same(value[i], value[k]) then return complain("item " .. i - 1 .. " is there twice") end
      end
    end
  end
  function keyword.minLength(n)
    if type(value) == "string" and utf8.len(value) < n then complain("shorter than " .. n) end
  end
  function keyword.minimum(n) if type(value) == "number" and value < n then complain(value .. " is under " .. n) end end
  function keyword.maximum(n) if type(value) == "number" and value > n then complain(value .. " is over " .. n) end end
  function keyword.pattern(p)
    if type(value) == "string" and not like(value, p) then complain("'" .. value .. "' is not like " .. p) end
  end
  function keyword.format(name)
    local own = assert(formats[name], "a format that this check does not know: " .. name)
    if type(value) == "string" and not own(value) then complain("'" .. value .. "' is no " .. name) end
  end
  function keyword.anyOf(list)
    for _, inner in ipairs(list) do if fits(inner) then return end end
    complain("fits none of " .. #list)
  end
  function keyword.oneOf(list)
    local n = 0
    for _, inner in ipairs(list) do if fits(inner) then n = n + 1 end end
    if n ~= 1 then complain("fits " .. n .. " of " .. #list .. ", one is wanted") end
  end
  function keyword.allOf(list) for _, inner in ipairs(list) do check(inner, root, value, path, wrong) end end
  keyword["not"] = function(inner) if fits(inner) then complain("fits what it may not") end end
  keyword["if"] = function(inner)
    local way = fits(inner) and schema["then"] or not fits(inner) and schema["else"]
    if way ~= nil and way ~= false then check(way, root, value, path, wrong) end
  end
  keyword["then"], keyword["else"] = function() end, function() end

  for _, name in ipairs(schema[json.keys]) do
    if keyword[name] then keyword[name](schema[name])
    elseif not silent[name] then error("a keyword that this check does not know: " .. name, 0) end
  end
end

local function complaints(schema, value)
  local wrong = {}
  check(schema, schema, value, "$", wrong)
  return wrong
end

if not from_shell then return complaints end

local function stop(why)
  io.stderr:write(why, "\n")
  os.exit(2)
end
local function read(path)
  local file, why = io.open(path, "rb")
  if not file then stop(why) end
  local text = file:read("a")
  file:close()
  local good, value = pcall(json.read, text)
  if not good then stop(path .. ":" .. value) end
  return value
end
if #arg < 2 then stop "usage: tests/schema.lua SCHEMA DOCUMENT ..." end
local schema, status = read(arg[1]), 0
for i = 2, #arg do
  local good, wrong = pcall(complaints, schema, read(arg[i]))
  if not good then stop(wrong) end
  for _, w in ipairs(wrong) do print(arg[i] .. ": " .. w) end
  if #wrong > 0 then status = 1 end
end
os.exit(status)
