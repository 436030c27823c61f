-- SPDX-License-Identifier: MIT
-- One tree of a worker's own: plants a fault in it, builds, runs the tests until one fails. The working tree is read
-- once, when the copy is made.
local common = require "common"
local plan = require "plan"
local trial = {}
trial.__index = trial

local LIMITS = "ulimit -v 6000000; export LC_ALL=C; unset NO_COLOR COLUMNS STRINGLINE_PATH POSIXLY_CORRECT " ..
               "MAKEFLAGS MFLAGS MAKELEVEL BUILD CC CFLAGS CPPFLAGS LDFLAGS SAN LTO; "

function trial.new(folder, stages, rows, recipe)
  local self = setmetatable({ folder = folder, tree = folder .. "/tree", stages = stages, rows = rows,
                              recipe = recipe or plan }, trial)
  local made = os.execute(("rm -rf %s && mkdir -p %s && cp -Rp %s %s"):format(common.quoted(self.tree),
    common.quoted(self.tree), self.recipe.parts, common.quoted(self.tree)))
  assert(made, "the tree could not be copied")
  return self
end

-- Runs a command in the tree; gives whether it ended well, what it said, and the status.
function trial:run(command, seconds)
  local out = self.folder .. "/out"
  local _, how, status = os.execute(("cd %s && { %s } && exec timeout %d %s >%s 2>&1"):format(
    common.quoted(self.tree), LIMITS, seconds or self.recipe.seconds or 90, command, common.quoted("../out")))
  return how == "exit" and status == 0, common.read(out), status
end

function trial:make(targets) return self:run(self.recipe.make .. " " .. targets, 300) end

local function program(suite) return "build/tests/" .. suite end

local function all_programs(list)
  local out = {}
  for i, suite in ipairs(list) do out[i] = program(suite) end
  return table.concat(out, " ")
end

-- The first failing test of a suite's output, and the first whose value is from outside; nothing if all that failed
-- looks at hashes.
function trial:failures(suite, out, status)
  local first, outside, hashed
  for name in out:gmatch "%[  FAILED  %] ([^\n]+)" do
    if (plan.hashed[suite] or {})[name] then hashed = true
    elseif not name:find "^%d+ test" and not name:find "^[%w_]+: %d+ test" then
      first = first or name
      if plan.is_outside(self.rows, suite, name) or suite:find "/" then outside = outside or name end
    end
  end
  for path, line in out:gmatch "(tests/[%w_/-]+%.case):(%d+): " do
    local name, trade = plan.case_at(path, math.tointeger(tonumber(line)))
    first = first or name
    if not trade then outside = outside or name end
  end
  if hashed and not first then return nil end
  if not first then first = status == 124 and "(does not end)" or "(ends with " .. tostring(status) .. ")" end
  if suite:find "/" or (self.rows[suite] or {})[1] and self.rows[suite][1].name == "*" then
    outside = outside or first
  end
  return first, outside
end

local function script_failure(out, status)
  return out:match "\nnot ok ([^\n]+)" or out:match "^not ok ([^\n]+)" or out:match "\nFAILED:? ([^\n]+)" or
         status == 124 and "(does not end)" or out:match "([^\n]+)\n*$" or "(ends with " .. tostring(status) .. ")"
end

-- A run of cases that ends before its end has noticed, though no case is named.
local function cut_short(n, name, first)
  return n == 1 and (name == "results_test" or name == "outside") and first and first:find "^%(ends"
end

-- Gives the stage that noticed, and its test; "unbuilt" and the reason; or nil.
function trial:meet(fault)
  local held                                            -- failed in the first stage, but is no value from outside
  local last = {}                                       -- slow suites that are about something else
  for n, stage in ipairs(self.stages) do
    if held then return stage.name, held end
    local programs = {}
    for _, suite in ipairs(stage.programs) do table.insert(plan.is_about(suite, fault) and programs or last, suite) end
    if n == 2 then table.move(last, 1, #last, #programs + 1, programs) end
    if #programs > 0 then
      local good, out = self:make((n == 1 and "all " or "") .. all_programs(programs))
      if not good then
        return "unbuilt", out:match "error: ([^\n]+)" or out:match "([^\n]+)\n[^\n]*\n?$" or "?"
      end
    end
    for _, script in ipairs(stage.before or {}) do
      local fine, said, status = self:run(script.command, 200)
      if not fine then
        local first, outside = self:failures(script.name, said, status)
        if cut_short(n, script.name, first) then outside = first end
        if outside then return stage.name, script.name .. ": " .. outside end
        held = held or first and script.name .. ": " .. first
      end
    end
    for _, suite in ipairs(programs) do
      local fine, said, status = self:run(program(suite))
      if not fine then
        local first, outside = self:failures(suite, said, status)
        if cut_short(n, suite, first) then outside = first end
        if outside and plan.about[suite] then return self.stages[1].name, suite .. ": " .. outside end
        if first and (n > 1 or outside) then return stage.name, suite .. ": " .. (outside or first) end
        held = held or first and suite .. ": " .. first
      end
    end
    for _, script in ipairs(stage.scripts) do
      local fine, said, status = self:run(script.command, 200)
      if not fine then return stage.name, script.name .. ": " .. script_failure(said, status) end
    end
  end
  return nil
end

-- A line of comment at the end of every source: nothing may notice it.
function trial:touch()
  for tail, files in pairs { ["# nothing"] = "interp/data/*.csv", ["/* nothing */"] = "interp/calc/*.c",
                             ["-- nothing"] = "stdlib/*/*.lua" } do
    for _, path in ipairs(common.lines(("cd %s && ls %s"):format(common.quoted(self.tree), files))) do
      path = self.tree .. "/" .. path
      common.write(path, common.read(path) .. tail .. "\n")
    end
  end
end

-- Plants one fault in place of the one before.
function trial:plant(fault, text)
  if self.planted and self.planted.path ~= (fault and fault.path) then
    common.write(self.tree .. "/" .. self.planted.path, self.planted.text)
    self.planted = nil
  end
  if fault then
    common.write(self.tree .. "/" .. fault.path, common.changed(text, fault))
    self.planted = { path = fault.path, text = text }
  end
end

return trial
