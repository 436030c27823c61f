-- SPDX-License-Identifier: MIT
-- Two jobs held against each other: two scripts, a script and its alternate, a script and what it was.
local judging = import "host.judging"
local snapshot = import "model.snapshot"
local identity = import "write.identity"
local read_report = import "write.report_reader"

local function wrong(code, text, help) host.raise { code = code, text = text, help = help } end

-- ---- the earlier one, from its report ------------------------------------------------------------------------------

local function kinds_of(text)
  local first = text:match "%S"
  return first == "{" and "JSON" or first == "<" and "HTML" or "text"
end

local function from_report(path, script)
  local again = "stringline run " .. script .. " --format json -o report.json, with the script as it was then"
  local there, text = pcall(host.read, path)
  if not there then
    if type(text) == "table" then text.help = again end
    error(text, 0)
  end
  local report = read_report(text)
  if not report then
    wrong("F024", "'" .. path .. "' is no report of stringline's, or not a whole one", again)
  end
  if kinds_of(text) ~= "JSON" then
    wrong("F025", "'" .. path .. "' is a report as " .. kinds_of(text) .. ": compare needs one as JSON", again)
  end
  if report.intact ~= true then
    wrong("F026", "'" .. path .. "' is not as it was written: " .. (report.intact == nil and "it has no seal" or
        "its seal does not fit what stands above it"),
        "keep reports as they are, or make it again: " .. again)
  end
  local kept = report.snapshot
  if not kept then
    wrong("F025", "'" .. path .. "' does not hold the job that it was made of: only a report of `run` does, made by " ..
        "this version", again)
  end
  if not snapshot.fits(kept) then
    wrong("F025", "'" .. path .. "' holds the job in the form of another version of the program", again)
  end
  kept.made_from = report.facts
  return kept
end

-- ---- scripts -------------------------------------------------------------------------------------------------------

local function taken(script, options, set)
  host.beside(script)
  local boot = judging.declare(options, set)
  local outcomes, status = judging.judge(boot)
  local s = snapshot.take(outcomes, status, options)
  s.made_from = identity.facts(options)
  return s
end

local function options_for(script, o, changed)
  return { script = script, set = changed and o.set or {}, alternate = changed and o.alternate or nil,
      on = o.on, format = o.format }
end

-- What the command line says is to be held against what.
local function read(o)
  local first, second = o.words[1], o.words[2]
  local changes = #o.set > 0 or o.alternate ~= nil
  if o.since then
    if second then
      wrong("U007", "compare --since takes one script: '" .. second .. "' is one too many",
          "as in: stringline compare " .. first .. " --since " .. o.since)
    end
    return nil, options_for(first, o, true)
  end
  if not second and not changes and not o.on then
    wrong("U001", "compare needs what " .. first .. " is held against",
        "a second script, --since REPORT, --alternate NAME or --set PATH=VALUE")
  end
  if second == first and not changes then
    wrong("U010", "both are the same file: " .. first, "name the other revision, or say what is to change: --set, " ..
        "--alternate; or compare with an earlier report: --since")
  end
  local before = options_for(first, o, false)
  if not second and not changes then before.on = nil end
  return before, options_for(second or first, o, true)
end

return function(o)
  local boot = import "model.boot"
  local before, after = read(o)
  local set = {}
  for i, text in ipairs(o.set) do set[i] = boot.setting(text) end
  local a = before and taken(before.script, before, {}) or from_report(o.since, o.words[1])
  local b = taken(after.script, after, set)
  return b.status, import("write.change_order").document(a, b)
end
