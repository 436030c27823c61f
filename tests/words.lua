#!/usr/bin/env lua5.4
-- SPDX-License-Identifier: MIT
-- What is never said of a job or of a thing: approved, passed, safe, OK.  tests/words.lua BINARY, from the top folder.
--
-- Looks through every text in the Lua of the library and of the writers, and through what comes out: the reports,
-- checks, lists and sheets of the example and the golden jobs at each stage.  Apart stand keywords of TAP and SARIF.
package.path = arg[0]:gsub("[^/]*$", "") .. "?.lua"
local binary = arg[1]
if not binary then
  io.stderr:write "usage: tests/words.lua BINARY, from the top folder of the project\n"
  os.exit(2)
end

-- Each word with its forms; whole words, whatever their case.
local FORBIDDEN = { "approved", "approves", "approve", "passed", "passes", "safe", "safely", "safer", "ok", "okay" }

-- Phrases in which such a word is said of something else, each with what that is.
local OTHERWISE = {
  ["never to be passed"] = "a limit",
  ["wind passes freely"] = "the wind",
  ["the health office must approve"] = "what an office has to do",
}

-- Texts that are keywords, by file.
local KEYWORDS = {
  ["interp/write/tap.lua"] = { ["ok "] = true, ["not ok "] = true },
}

local failed, looked = 0, 0
local function bad(what)
  failed = failed + 1
  print("not ok " .. what)
end

-- The first forbidden word of a text, or nil.
local function said(text)
  text = " " .. text:lower():gsub("%s+", " ") .. " "
  for phrase in pairs(OTHERWISE) do
    local at, to = text:find(phrase, 1, true)
    while at do
      text = text:sub(1, at - 1) .. text:sub(to + 1)
      at, to = text:find(phrase, 1, true)
    end
  end
  for _, word in ipairs(FORBIDDEN) do
    if text:find("%f[%w_]" .. word .. "%f[^%w_]") then return word end
  end
end

-- ---- texts of the sources ------------------------------------------------------------------------------------------

-- The string literals of a Lua source, each with its line; comments are none.
local function literals(source)
  local list, at, line = {}, 1, 1
  local function skip(to)
    for _ in source:sub(at, to):gmatch "\n" do line = line + 1 end
    at = to + 1
  end
  while at <= #source do
    local from = source:find("[\"'%[%-]", at)
    if not from then break end
    if from > at then skip(from - 1) end
    local c, level = source:sub(at, at), source:match("^%[(=*)%[", at)
    local comment = source:match("^%-%-()", at)
    if comment then
      local deep = source:match("^%[(=*)%[", comment)
      local _, to = source:find(deep and "]" .. deep .. "]" or "\n", comment, deep ~= nil)
      skip(to or #source)
    elseif level then
      local _, to = source:find("]" .. level .. "]", at, true)
      list[#list + 1] = { source:sub(at + #level + 2, to - #level - 2), line }
      skip(to)
    elseif c == '"' or c == "'" then
      local to = at + 1
      while source:sub(to, to) ~= c do to = to + (source:sub(to, to) == "\\" and 2 or 1) end
      list[#list + 1] = { source:sub(at + 1, to - 1), line }
      skip(to)
    else skip(at) end
  end
  return list
end

local function sources()
  local list = {}
  local p = assert(io.popen "find stdlib interp/write -name '*.lua' | LC_ALL=C sort")
  for path in p:lines() do list[#list + 1] = path end
  p:close()
  return list
end

for _, path in ipairs(sources()) do
  local f = assert(io.open(path))
  local keywords = KEYWORDS[path] or {}
  for _, l in ipairs(literals(f:read "a")) do
    looked = looked + 1
    local word = not keywords[l[1]] and said(l[1])
    if word then bad(path .. ":" .. l[2] .. ": '" .. word .. "' in: " .. l[1]) end
  end
  f:close()
end

-- ---- what comes out ------------------------------------------------------------------------------------------------

local JOBS = { "examples/egg-farm", "tests/golden/jobs/goat-shed", "tests/golden/jobs/two-racks",
    "tests/golden/jobs/lambing-shed", "tests/golden/jobs/bare", "tests/pages/jobs/hay-barn",
    "tests/pages/jobs/southern", "tests/pages/jobs/smallest" }
local STAGES = { "quote", "permit", "build", "as built" }

local function output(command)
  local p = assert(io.popen(command .. " 2>&1"))
  local text = p:read "a"
  p:close()
  return text
end

local function hear(what, text)
  looked = looked + 1
  if #text < 80 then return bad(what .. ": nothing came out") end
  local word = said(text)
  if word then bad(what .. ": '" .. word .. "'") end
end

for _, folder in ipairs(JOBS) do
  local script = folder .. "/job.sline"
  for _, stage in ipairs(STAGES) do
    local function command(name, more)
      return ("%s %s %s %s --set 'job.stage=%s'"):format(binary, name, script, more or "", stage)
    end
    hear(folder .. " run at " .. stage, output(command "run"))
    hear(folder .. " check at " .. stage, output(command "check"))
    local list = output(command "sheet")
    hear(folder .. " list of sheets at " .. stage, list)
    for name in list:gmatch "\n([%l-]+)  " do
      hear(folder .. " sheet " .. name .. " at " .. stage, output(command("sheet", name)))
    end
  end
end

-- ---- the test itself ----------------------------------------------------------------------------------------------

-- A word that is planted is heard, in each way that a source can write it; what is apart is not.
local planted = literals('local a = "it is safe" -- safe\nlocal b = [[all\nOK]] --[[ok\n]] ' ..
    'local c = \'un\\\'safe passed\'')
if #planted ~= 3 or said(planted[1][1]) ~= "safe" or said(planted[2][1]) ~= "ok" or planted[3][2] ~= 4 or
    said(planted[3][1]) ~= "passed" then bad "planted words are not heard" end
for _, fine in ipairs { "unsafe", "safety words", "a hole that the wind passes freely", "book", "surpassed" } do
  if said(fine) then bad("'" .. fine .. "' is taken for one of them") end
end

print(("words: %d passed, %d failed"):format(looked - failed, failed))
os.exit(failed == 0 and 0 or 1)
