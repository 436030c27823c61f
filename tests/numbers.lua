#!/usr/bin/env lua5.4
-- SPDX-License-Identifier: MIT
-- No number and no word of a standard or of the trade stands in the code that judges: tests/numbers.lua [FOLDER], from
-- the top folder of the project.  They are rows of interp/data, each with its source and how it was come by.
--   stdlib       numbers but for a few that belong to no table; quantities, alone or in prose; lists of words that are
--                cells of one column, and comparisons with such a word; sections and editions of codes
--   interp/calc  sections and editions of codes in texts: a citation is a key of citations.csv
-- An exception says why, and one that is no longer needed fails too.
local top = (arg and arg[1] or ".") .. "/"

-- Said by the schema of the field itself, or by an example of what a person may write.
local RANGES = { min = true, max = true, above = true, order = true, form = true }
-- 1e-9: slack of a comparison.
local PLAIN = { ["0"] = true, ["0.0"] = true, ["1"] = true, ["2"] = true, ["100"] = true, ["1e-9"] = true }

local EXCEPTIONS = {
  { "stdlib/structure/results.lua", "0.5", "statics: the frame's own weight acts in the middle of the slope" },
  { "stdlib/structure/schema.lua", "1/2 in", "what somebody claims, in the standard's words" },
  { "stdlib/buying/sheets/cutting.lua", "1/8 in", "what lengths are printed to" },
  { "stdlib/parts/files.lua", "12", "digits of a key" },
  { "stdlib/parts/files.lua", "250 ft", "an example of a cell" },
  { "stdlib/parts/schema.lua", "6 AWG", "an example of a cell" },
  { "stdlib/parts/schema.lua", "80 lb", "an example of a cell" },
  { "stdlib/papers/schema.lua", "200000 lbf", "the range of fields" },
  { "stdlib/papers/schema.lua", "900 lbf", "an example" },
  { "stdlib/papers/schema.lua", "2300 lbf", "an example" },
  { "stdlib/papers/schema.lua", "450 lbf", "an example" },
  { "stdlib/papers/schema.lua", "1800 lbf", "an example" },
  { "stdlib/job/not_judged.lua", "3", "how many make a list with commas" },
  { "stdlib/structure/schema.lua", "48 in", "an example, in the help of a refusal" },
}

-- Not looked at yet: electrical tables that are still to declare themselves.
local LATER = {}
local FINE = {
  'max = 3650 * 86400', '{ "tilt", "quantity", min = 0, max = math.rad(90), example = "35deg" }', 'local x = a[3]',
  'return 2 * x + 1e-9 - 1', '-- 24 in, IBC 1807.3', 'cite = "{frost_depth}"', 'return v.hole_depth == 0',
  '{ "gravel", "quantity", example = "6in" }',
}
local planted = {}
for _, line in ipairs(PLANTS) do
  local n = #problems
  judge_lua("plant", line)
  if #problems == n then planted[#planted + 1] = "not noticed: " .. line end
  problems[n + 1] = nil
end
for _, line in ipairs(FINE) do
  judge_lua("fine", line)
  if #problems > 0 then planted[#planted + 1] = "noticed without need: " .. line end
  problems = {}
end
problems = planted

for _, path in ipairs(files("stdlib", "%.lua$")) do if not later(path) then judge_lua(path, read(path)) end end
for _, path in ipairs(files("interp/calc", "%.[ch]$")) do
  local line = 0
  local text = read(path):gsub("/%*.-%*/", function(comment) return (comment:gsub("[^\n]", " ")) end)
  for code in (later(path) and "" or text):gmatch "([^\n]*)\n" do
    line = line + 1
    for literal in code:gmatch '"([^"]*)"' do
      local section = section_in(literal)
      if section then problem(path, line, section, "a section or an edition") end
    end
  end
end

for i, e in ipairs(EXCEPTIONS) do
  if not used[i] then problems[#problems + 1] = e[1] .. ": no exception needed for '" .. e[2] .. "'" end
end
for _, p in ipairs(problems) do
  print("    " .. p .. (not p:find "^%S+:%d+:" and "" or ": put it into a table of interp/data"))
end
print("numbers: " .. (#problems == 0 and "1 passed, 0 failed" or "0 passed, " .. #problems .. " failed"))
os.exit(#problems == 0)
