#!/usr/bin/env lua5.4
-- SPDX-License-Identifier: MIT
-- Broken scripts and files, each against the message that a person gets:
-- tests/errors.lua BINARY [--update] [NAME ...], from the top folder of the project.
--
-- tests/errors/TOPIC.txt holds the cases of a topic (tests/case_file.lua says how they are written). The files of a
-- case stand in a folder of its own; house, place and parts files are found in tests/errors/shared and in the first
-- example.
-- What is wanted must itself be good (tests/message_lint.lua).
-- --update writes what is said, shown and the status anew, and nothing else: read what changed before you keep it.
package.path = arg[0]:gsub("[^/]*$", "") .. "?.lua"
local lanes = require "lanes"
local case_file = require "case_file"
local message_lint = require "message_lint"
local SHARED = { "tests/errors/shared", "examples/egg-farm" }
local update, chosen = lanes.options("tests/errors.lua BINARY [--update] [NAME ...]")

local function stop(why)
  io.stderr:write(why, "\n")
  lanes.leave(2)
end

local function part_of(case, kind)
  for _, part in ipairs(case.parts) do
    if part.kind == kind then return part end
  end
  return nil
end

-- ---- the cases, and their files on disk ----------------------------------------------------------------------------

local files, cases, seen = {}, {}, {}
for _, name in ipairs(lanes.files("tests/errors", "%.txt$")) do
  local path = "tests/errors/" .. name
  local good, file = pcall(case_file.read, lanes.read(path), path)
  if not good then stop(file) end
  files[#files + 1] = file
  for _, case in ipairs(file.cases) do
    local place = ("%s:%d: "):format(path, case.line)
    if seen[case.name] then stop(place .. case.name .. " is a case of " .. seen[case.name] .. " already") end
    seen[case.name] = path
    if not part_of(case, "says") then stop(place .. "no `--- stringline ...` in the case") end
    if not chosen or chosen[case.name] then cases[#cases + 1] = case end
  end
end
for name in pairs(chosen or {}) do
  if not seen[name] then stop("no such case: " .. name) end
end

local cases_at = lanes.folder .. "/cases"
local folders = { cases_at }
for _, case in ipairs(cases) do
  case.folder = cases_at .. "/" .. case.name
  case.command = part_of(case, "says").words
  folders[#folders + 1] = case.folder
  for _, part in ipairs(case.parts) do
    local inner = part.kind == "file" and part.name:match("^(.*)/")
    if inner then folders[#folders + 1] = case.folder .. "/" .. inner end
  end
end
lanes.make_folders(folders)
lanes.copy(SHARED, cases_at)
for _, case in ipairs(cases) do
  for _, part in ipairs(case.parts) do
    if part.kind == "file" then
      local good, text = pcall(case_file.text, part)
      if not good then stop(case.path .. ": " .. case.name .. ": " .. text) end
      lanes.write(case.folder .. "/" .. part.name, text)
    end
  end
end
lanes.run(cases, "STRINGLINE_PATH=../shared:../egg-farm; export STRINGLINE_PATH\n")

-- ---- what came, against what is wanted -----------------------------------------------------------------------------

-- The paragraphs of a report that begin with some words.
local function paragraphs(report, words)
  local found = {}
  for paragraph in (report .. "\n\n"):gmatch("(.-)\n\n+") do
    paragraph = paragraph:gsub("^\n+", "")
    if paragraph:sub(1, #words) == words then found[#found + 1] = paragraph .. "\n" end
  end
  return table.concat(found)
end

local function come(case, part)
  if part.kind == "says" then return case.err end
  return paragraphs(case.out, part.begins)
end

local function take(case)
  for _, part in ipairs(case.parts) do
    if part.kind == "says" or part.kind == "shows" then
      local got = come(case, part)
      if got ~= case_file.text(part) then case_file.set_text(part, got) end
    end
  end
  local exit = part_of(case, "exit")
  if not exit then
    exit = { kind = "exit", body = "\n" }
    case.parts[#case.parts + 1] = exit
  end
  exit.status = case.status
end

local function complaints(case)
  local wrong, wanted_text = {}, {}
  local exit = part_of(case, "exit")
  if not exit then return { "has no wanted exit: write it with --update" } end
  if case.status ~= exit.status then wrong[1] = ("exit %s, wanted %d"):format(case.status, exit.status) end
  for _, part in ipairs(case.parts) do
    if part.kind == "says" or part.kind == "shows" then
      local wanted, got = case_file.text(part), come(case, part)
      wanted_text[#wanted_text + 1] = wanted
      if wanted ~= got then
        wrong[#wrong + 1] = part.words .. ": other than wanted:\n" .. lanes.difference(wanted, got):gsub("\n$", "")
      end
      if part.kind == "shows" and wanted == "" then wrong[#wrong + 1] = part.words .. ": wants nothing to be shown" end
    end
  end
  for _, complaint in ipairs(message_lint(case, table.concat(wanted_text), exit.status)) do
    wrong[#wrong + 1] = complaint
  end
  return wrong
end

if update then
  for _, case in ipairs(cases) do take(case) end
  for _, file in ipairs(files) do
    local text = case_file.written(file)
    if text ~= lanes.read(file.path) then
      lanes.write(file.path, text)
      print("written anew: " .. file.path)
    end
  end
end
local passed, failed = 0, 0
for _, case in ipairs(cases) do
  local wrong = complaints(case)
  if #wrong == 0 then
    passed = passed + 1
  else
    failed = failed + 1
    print("not ok " .. case.name .. " (" .. case.path .. ")")
    print("    " .. table.concat(wrong, "\n"):gsub("\n", "\n    "))
  end
end
print(("errors: %d passed, %d failed"):format(passed, failed))
lanes.leave(failed == 0 and passed > 0 and 0 or 1)
