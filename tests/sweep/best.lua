#!/usr/bin/env lua5.4
-- SPDX-License-Identifier: MIT
-- What tests/sweep/nights.sh reads in JSON.
--
--   best.lua number ANSWER      the number of the variant that an answer puts first
--   best.lua patch ANSWER       its patch
--   best.lua same ONE OTHER     whether two reports have the same results, outcomes and order, to the last bit
package.path = arg[0]:gsub("[^/]*/[^/]*$", "") .. "?.lua"
local json = require "json"

local function read(path)
  local file = assert(io.open(path, "rb"))
  local text = file:read "a"
  file:close()
  return json.read(text)
end

-- Where two values differ, as a path; nil where they are the same. Where in a file something stands is looked past.
local function differs(one, other, path)
  if type(one) ~= "table" or type(other) ~= "table" then
    return one ~= other and ("%s: %s, and %s"):format(path, tostring(one), tostring(other)) or nil
  end
  for k, v in pairs(one) do
    local why = k ~= "place" and k ~= json.keys and differs(v, other[k], path .. "." .. tostring(k))
    if why then return why end
  end
  for k in pairs(other) do
    if one[k] == nil and k ~= "place" then return path .. "." .. tostring(k) .. ": nothing, and something" end
  end
end

local what = arg[1]
if what == "number" then print(math.tointeger(read(arg[2]).winner))
elseif what == "patch" then io.write((assert(read(arg[2]).patch, "no patch")))
elseif what == "same" then
  local one, other = read(arg[2]), read(arg[3])
  for _, key in ipairs { "results", "rules", "order", "unpriced", "total" } do
    assert(key == "unpriced" or next(one[key]), "nothing under " .. key)
    local why = differs(one[key], other[key], key)
    if why then error(why, 0) end
  end
else error("best.lua number ANSWER | patch ANSWER | same ONE OTHER", 0) end
