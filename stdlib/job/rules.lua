-- SPDX-License-Identifier: MIT
-- Rules about the permits, and about what must be on record when the job is built.
local rule = import "model.rule"
local record = import "model.record"
local add, states, every = rule.add, rule.states, rule.every

local function missing(path, text, who, tool)
  host.raise { code = "D010", class = "missing", path = path, text = text, who = who, tool = tool }
end

-- What is read into a job once it is built: nothing declares it yet, so that each is unknown by its name.
add { id = "R70", severity = "caution", says = "what was built equals permit and script",
  cite = "practice of inspectors and installers", caution = "the drawings show something that is not there",
  applies = function() return rule.reached "as built" end,
  check = function()
    local list = {}
    for i, x in ipairs { { "as built: readings", "readings of the built posts, holes and rows", "a tape and a level" },
        { "as built: test record", "the test record of strings and wiring", "a meter" },
        { "as built: torque record", "the torque of each joint, set and checked again,", "a torque wrench" } } do
      list[i] = function()
        missing(x[1], x[2] .. " cannot be declared yet: keep them with the job's papers", "foreman", x[3])
      end
    end
    return every(list)
  end }

-- Racks that are kits are joined and tightened as their maker's manual has it.
local function of_our_own()
  for _, r in ipairs(record.all "rack") do if not record.given(r, "stack") then return true end end
  return false, "no rack is of one's own making"
end

add { id = "R66", severity = "caution", says = "each joint has its torque by its maker's paper, in two rounds",
  may_waive = "house", cite = "reports on storm losses, in words",
  caution = "what works loose is the first that a storm takes",
  applies = function()
    if record.any "joint" then return true end
    local own, why = of_our_own()
    if not own then return own, why end
    local reached, from = rule.reached "build"
    return reached, from
  end,
  check = function() return import("joints.torque").all() end }

local function issued(name, on)
  local permit
  for _, p in ipairs(record.all "permit") do if record.inside[p].name == name then permit = p end end
  if not permit then
    missing("permit." .. name, "the " .. name .. " permit is asked for, and no number of it is given",
        "building office", "the permit card")
  end
  local words = name .. " permit " .. permit.number .. " of " .. permit.issued
  local late = permit.issued > on                 -- dates as texts are in their order
  return states(not late, late and words .. " is issued after the day judged, " .. on or words)
end

add { id = "R77", severity = "stop", says = "the permits that are asked for were issued", may_waive = "authority",
  cite = "the authority's list of permits", caution = "the work is stopped, and what is covered is dug up again",
  applies = function() return rule.reached "build" end,
  check = function(_, job)
    local asked, list, words, met = record.all "permits", {}, {}, {}
    if not asked[1] then
      missing("permits", "the place does not say which permits it asks for", "building office", "a telephone call")
    end
    for _, permits in ipairs(asked) do
      for name in record.each(permits.list) do
        list[#list + 1] = not met[name] and function()
          local f = issued(name, job.on)
          words[#words + 1] = f.words
          return f
        end or nil
        met[name] = true
      end
    end
    if #list == 0 then return states(true, "the place asks for no permit") end
    local all = every(list)
    all.words = table.concat(words, ", ")
    return all
  end }
