-- SPDX-License-Identifier: MIT
-- What every sheet about digging says: who was asked, what the ticket says, and what keeps people from harm.
local record = import "model.record"
local rule = import "model.rule"
local words = import "write.words"
local digging = {}

-- Why a sheet that lets people dig is not printed yet; the rule of the ticket withholds it besides.
function digging.waits()
  if rule.reached "build" then return nil end
  return 'the job is at stage "' .. record.root.stage .. '": what is dug by is printed from "build" on, on a valid ' ..
      "ticket that each utility has answered; before it comes the mark-out sheet"
end

-- The owner's own lines, which nobody marks but the owner.
function digging.private_lines()
  local lines = record.only "private_lines"
  if not lines then return "Private lines: nobody was asked. The locating service does not mark them." end
  local found = words.show(lines.found)
  return "Private lines, asked of " .. lines.asked .. " on " .. lines.on .. ": " .. found ..
      ". The locating service does not mark them" ..
      (found == "none" and "." or ": have each marked before anyone digs.")
end

-- The ticket, and what each utility answered.
function digging.ticket()
  local l = record.only "locate"
  if not l then return "No ticket of the locating service is declared." end
  local answers = record.given(l, "answers")
  return "Ticket " .. l.ticket .. ", valid " .. l.valid_from .. " to " .. l.valid_to .. "; " ..
      (answers and words.show(answers) or "no answer of a utility is declared") .. "."
end

-- A limit of work safety that is not to be passed, in the job's units, cut off and not rounded up; where it stands.
local function work_limit(key)
  local value, _, cite, basis = host.fact(key)
  return words.show(value, words.metric() and "m" or "ft", 2), cite, basis
end

-- How deep a trench is at the least, as far as it is declared: it is dug deeper than that by the conduit.
function digging.depth(trench)
  local bedding = record.given(trench, "bedding")
  return bedding and trench.cover + bedding.below or trench.cover
end

local function inches(v) return (import("write.measure").inches(v)) end

-- How much deeper it is dug than the top of its conduit lies.
function digging.deeper(trench)
  local bedding = record.given(trench, "bedding")
  if not bedding then return "dig deeper by the conduit's outside diameter and its bedding" end
  return "dig deeper by the conduit's outside diameter and " .. inches(bedding.below) .. " of bedding"
end

function digging.bed(bedding)
  local above = record.given(bedding, "above")
  return "bed the conduit in " .. bedding.of .. ": " .. inches(bedding.below) .. " below it" ..
      (above and " and " .. inches(above) .. " above it" or "")
end

-- How much the layers below and above the conduit hold; the conduit is not in them.
function digging.of_bedding(trench)
  local bedding = trench.bedding
  local above = record.given(bedding, "above")
  local volume = trench.length * trench.width * (above and bedding.below + above or bedding.below)
  return words.show(volume, words.metric() and "m3" or "ft3", 2)
end

function digging.narrow(trench, sum)
  return "So narrow a trench does not take its conduits side by side: by their insides alone they are " ..
      inches(sum) .. " wide, and it is " .. inches(trench.width) .. "."
end

-- What a trench asks for by that depth alone. Nil if nothing.
function digging.asked(trench)
  local depth = digging.depth(trench)
  if depth >= (host.fact "trench_protection") then return "a ladder, and shored, shielded or sloped sides" end
  if depth >= (host.fact "trench_ladder") then return "a ladder, ramp or stairs" end
end

-- Inside widths of the conduits in a trench, side by side, where they take more than its width; the outsides take more.
function digging.too_narrow(trench)
  local width = record.given(trench, "width")
  if not width then return nil end
  local sum
  for _, run in ipairs(record.all "run") do
    for _, row in ipairs(run.through == trench and host.table "conduit_ch9_t4" or {}) do
      if row.kind == run.conduit.kind and row.size == run.conduit.size then
        sum = sum and sum + row.diameter or row.diameter
      end
    end
  end
  return sum and sum > width and sum or nil
end

function digging.trenches()
  local deep, protection, basis = work_limit "trench_protection"
  local high, ladder = work_limit "trench_ladder"
  local reach = work_limit "trench_ladder_within"
  local back, spoil = work_limit "trench_spoil"
  return "People in a trench: from " .. deep .. " deep it is shored, shielded or sloped before anyone goes in, and " ..
      "a shallower one too unless a competent person sees no danger of a cave-in. From " .. high .. " a ladder, " ..
      "a ramp or stairs stand within " .. reach .. " of everyone in it. Spoil and machines stay " .. back ..
      " back from the edge (" .. table.concat({ protection, ladder, spoil }, ", ") .. "; " .. basis ..
      "). Local rules may ask for more."
end

digging.covers = "Cover each open hole and trench that nobody works in: covers bear whoever steps on them, are " ..
    "fastened so that they cannot slide, and are marked."
digging.concrete = "Wet concrete burns skin and eyes: gloves, boots and glasses; wash it off at once."
digging.overhead = "Look up: no auger mast, long post or rail goes up near an overhead line."

return digging
