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

-- The patterns of a schema's patternProperties that a name is like, in their order, once: there are hundreds of them,
-- and each document has the same names.
local liked = {}
local function patterns_of(map, name)
  local names = liked[map]
  if not names then
    names = {}
    liked[map] = names
  end
  local list = names[name]
  if not list then
    list = {}
    for _, pattern in ipairs(map[json.keys]) do if like(name, pattern) then list[#list + 1] = pattern end end
    names[name] = list
  end
  return list
end

-- A list of complaints that is over with the first.
local first = {}
local only_first = { __newindex = function() error(first, 0) end }

local check

-- What each keyword of a schema asks of a value; `at`: { schema, root, value, path, wrong }.
local keyword = {}

local function complain(at, text) at.wrong[#at.wrong + 1] = at.path .. ": " .. text end

local function fits(at, inner)
  local good, why = pcall(check, inner, at.root, at.value, at.path, setmetatable({}, only_first))
  if not good and why ~= first then error(why, 0) end
  return good
end

keyword["$ref"] = function(ref, at)
  local to = at.root
  for step in ref:match("^#(.*)$"):gmatch("[^/]+") do to = to[(step:gsub("~1", "/"):gsub("~0", "~"))] end
  assert(to, "no such definition: " .. ref)
  check(to, at.root, at.value, at.path, at.wrong)
end
function keyword.type(want, at)
  local list, named = json.is_array(want) and want or { want }, {}
  for i, name in ipairs(list) do
    if types[name](at.value) then return end
    named[i] = name
  end
  complain(at, "a " .. table.concat(named, " or ") .. " is wanted, got a " .. type_of(at.value))
end
keyword["const"] = function(want, at)
  if not same(want, at.value) then complain(at, "not the one value that may stand here") end
end
function keyword.enum(list, at)
  for _, v in ipairs(list) do if same(v, at.value) then return end end
  complain(at, "'" .. tostring(at.value) .. "' is none of those that may stand here")
end
function keyword.required(list, at)
  if not json.is_object(at.value) then return end
  for _, name in ipairs(list) do if at.value[name] == nil then complain(at, "'" .. name .. "' is missing") end end
end
function keyword.properties(map, at)
  local value = at.value
  if not json.is_object(value) then return end
  for _, name in ipairs(map[json.keys]) do
    if value[name] ~= nil then check(map[name], at.root, value[name], at.path .. "." .. name, at.wrong) end
  end
end
function keyword.patternProperties(map, at)
  local value = at.value
  if not json.is_object(value) then return end
  for _, name in ipairs(value[json.keys]) do
    for _, pattern in ipairs(patterns_of(map, name)) do
      check(map[pattern], at.root, value[name], at.path .. "." .. name, at.wrong)
    end
  end
end
local function is_named(schema, name)
  if schema.properties and schema.properties[name] ~= nil then return true end
  return schema.patternProperties ~= nil and #patterns_of(schema.patternProperties, name) > 0
end
function keyword.additionalProperties(inner, at)
  local value = at.value
  if not json.is_object(value) then return end
  for _, name in ipairs(value[json.keys]) do
    if not is_named(at.schema, name) then
      if inner == false then complain(at, "'" .. name .. "' may not stand here")
      else check(inner, at.root, value[name], at.path .. "." .. name, at.wrong) end
    end
  end
end
function keyword.items(inner, at)
  if not json.is_array(at.value) then return end
  for i, item in ipairs(at.value) do check(inner, at.root, item, at.path .. "[" .. i - 1 .. "]", at.wrong) end
end
function keyword.minItems(n, at)
  if json.is_array(at.value) and #at.value < n then complain(at, "fewer than " .. n .. " items") end
end
function keyword.maxItems(n, at)
  if json.is_array(at.value) and #at.value > n then complain(at, "more than " .. n .. " items") end
end
function keyword.uniqueItems(on, at)
  local value = at.value
  if not on or not json.is_array(value) then return end
  for i = 1, #value do
    for k = 1, i - 1 do
      if same(value[i], value[k]) then return complain(at, "item " .. i - 1 .. " is there twice") end
    end
  end
end
function keyword.minLength(n, at)
  if type(at.value) == "string" and utf8.len(at.value) < n then complain(at, "shorter than " .. n) end
end
function keyword.minimum(n, at)
  if type(at.value) == "number" and at.value < n then complain(at, at.value .. " is under " .. n) end
end
function keyword.maximum(n, at)
  if type(at.value) == "number" and at.value > n then complain(at, at.value .. " is over " .. n) end
end
function keyword.pattern(p, at)
  if type(at.value) == "string" and not like(at.value, p) then
    complain(at, "'" .. at.value .. "' is not like " .. p)
  end
end
function keyword.format(name, at)
  local own = assert(formats[name], "a format that this check does not know: " .. name)
  if type(at.value) == "string" and not own(at.value) then complain(at, "'" .. at.value .. "' is no " .. name) end
end
function keyword.anyOf(list, at)
  for _, inner in ipairs(list) do if fits(at, inner) then return end end
  complain(at, "fits none of " .. #list)
end
function keyword.oneOf(list, at)
  local n = 0
  for _, inner in ipairs(list) do if fits(at, inner) then n = n + 1 end end
  if n ~= 1 then complain(at, "fits " .. n .. " of " .. #list .. ", one is wanted") end
end
function keyword.allOf(list, at)
  for _, inner in ipairs(list) do check(inner, at.root, at.value, at.path, at.wrong) end
end
keyword["not"] = function(inner, at) if fits(at, inner) then complain(at, "fits what it may not") end end
keyword["if"] = function(inner, at)
  local good = fits(at, inner)
  local way = good and at.schema["then"] or not good and at.schema["else"]
  if way ~= nil and way ~= false then check(way, at.root, at.value, at.path, at.wrong) end
end
keyword["then"], keyword["else"] = function() end, function() end

function check(schema, root, value, path, wrong)
  if schema == true then return end
  local at = { schema = schema, root = root, value = value, path = path, wrong = wrong }
  if schema == false then return complain(at, "nothing may stand here") end
  for _, name in ipairs(schema[json.keys]) do
    if keyword[name] then keyword[name](schema[name], at)
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
