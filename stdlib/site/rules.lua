-- SPDX-License-Identifier: MIT
-- Rules about the papers, the lot, and the inputs themselves.  Numbers as in the trade's rule list.
local rule = import "model.rule"
local record = import "model.record"
local schema = import "model.schema"
local add, at_most, at_least, states, every, limit, given = rule.add, rule.at_most, rule.at_least, rule.states,
    rule.every, rule.limit, record.given
local bound = rule.bound

local function missing(path, text, who, tool)
  host.raise { code = "D010", class = "missing", path = path, text = text, who = who, tool = tool }
end

-- A fact of the site: a distance if it was measured, "none" if somebody walked the ground and said so; else missing.
-- Where both were said the distance counts.
local function fact(job, name, field)
  local nearest = field and record.only "nearest"
  local d = nearest and given(nearest, field)
  if d then return d end
  local none = record.only "none"
  if none then
    for f in record.each(none.facts) do if f == name then return "none" end end
  end
  missing("none", "nobody said whether there is a " .. name, "owner", "a walk round")
end

add { id = "R01", severity = "caution", says = "code editions and the authority are named",
  cite = "common practice, no source", caution = "the limits below are placeholders: ask the office",
  check = function(_, job)
    local c = job.codes
    local list, words = {}, {}
    for _, f in ipairs { "electrical", "loads", "wood", "building" } do
      words[#words + 1] = given(c, f) or c[f]                    -- named, whether there is data of it or not
      list[#list + 1] = states(true, f .. " code is " .. words[#words])
    end
    list[#list + 1] = states(job.authority.name ~= nil, "authority is " .. job.authority.name .. ", read on "
        .. job.authority.read_on)
    local all = every(list)
    if all.ok then all.words = table.concat(words, ", ") .. "; " .. job.authority.name end
    return all
  end }

add { id = "R02", severity = "caution",
  says = "the array keeps its distance from the lot line", may_waive = "authority",
  cite = "the place's setback", caution = "move the array or get a variance",
  check = function(_, job) return at_least(job.nearest.lot_line, limit "setback") end }

add { id = "R03", severity = "stop", each = "rack",
  says = "the top edge is under the height limit, from natural grade", may_waive = "authority",
  cite = "the place's height limit", caution = "the zoning permit is refused",
  flips = function(r) return tostring(r) .. ".lower_edge" end,
  check = function(r) return at_most(r.height_above_grade, limit "height") end }

add { id = "R05", severity = "caution", each = "rack",
  says = "no engineer's seal is asked for at this height", may_waive = "engineer",
  cite = "the place's seal rule", caution = "not for construction until sealed",
  flips = function(r) return tostring(r) .. ".lower_edge" end,
  applies = function() return rule.has_limit "seal" end,
  check = function(r) return at_most(r.height_above_grade, limit "seal") end }

add { id = "R06", severity = "stop", says = "holes keep clear of septic field and well", may_waive = "authority",
  cite = "the place's health rules", caution = "the health office must approve",
  check = function(_, job)
    local list = {}
    for _, x in ipairs { { "septic field", "septic_field", "septic_setback" }, { "well", "well", "well_setback" } } do
      local d = fact(job, x[1], x[2])
      if d == "none" then list[#list + 1] = states(true, "no " .. x[1])
      else list[#list + 1] = at_least(d, limit(x[3])) end
    end
    return every(list)
  end }

add { id = "R07", severity = "stop", says = "the site is no flood zone",
  cite = "the place's flood map", caution = "flooded dc is lethal: electrical parts go above the flood level",
  check = function(_, job) return states(fact(job, "flood zone") == "none", "no flood zone") end }

add { id = "R09", severity = "stop",
  says = "a locate ticket is valid on the day, and the private lines were asked about",
  cite = "state one-call law; common practice", caution = "do not dig: a gas or power line may lie in the hole",
  check = function(_, job)
    local l = job.locate
    local today, from, to = schema.day_number(job.on), schema.day_number(l.valid_from), schema.day_number(l.valid_to)
    local valid = today >= from and today <= to
    return states(valid, "ticket " .. l.ticket .. " is valid from " .. l.valid_from .. " to " .. l.valid_to
        .. (valid and ", the day judged is " .. job.on or "; the day judged, " .. job.on .. ", lies outside")
        .. "; private lines: " .. l.private_lines.found)
  end }

add { id = "R11", severity = "caution", each = "rack",
  says = "the azimuth is true and faces the equator", may_waive = "house",
  cite = "common practice, no source", caution = "you may have used magnetic north",
  flips = function(r) return tostring(r) .. ".azimuth" end,
  check = function(r, job)
    local f = calc.facing { bearing = r.true_azimuth, latitude = host.quantity(host.si(job.site.latitude), "angle") }
    return at_most(host.as(f.off, "deg"), bound(host.as(f.most, "deg"), "custom of the trade"))
  end }

add { id = "R68", severity = "caution", each = "rack",
  says = "no piece is too heavy for the crew, and no line is overhead", may_waive = "house",
  cite = "the house's lifting limit", caution = "injury; an auger mast under a live line kills",
  check = function(r, job)
    local overhead = fact(job, "overhead line", "overhead_line")
    local f = at_most(r.heaviest_piece / job.crew, limit "lift_per_person")
    if overhead ~= "none" then
      local _, clearance, cite = host.fact "overhead"
      return every { f, at_least(overhead, bound(calc.overhead { height = r.tallest }.least,
          "what is raised, and " .. clearance, cite)) }
    end
    return f
  end }

-- Without these, something that protects people cannot be judged at all.
local facts = { "latitude", "elevation", "coldest", "hottest_air", "wind", "exposure", "risk_category", "snow",
    "frost", "soil" }

add { id = "R72", severity = "stop", says = "the facts of the site are complete",
  cite = "common practice, no source", caution = "what depends on a missing value is withheld",
  check = function(_, job)
    local absent, first = {}, nil
    for _, name in ipairs(facts) do
      if given(job.site, name) == nil then
        absent[#absent + 1] = "site." .. name
        first = first or schema.kinds.site.by[name]
      end
    end
    if first then
      missing(table.concat(absent, ", "), "not given: " .. table.concat(absent, ", "), #absent == 1 and first.who
          or "whom the site-visit form names for each",
              #absent == 1 and first.tool or "the form: stringline form")
    end
    return states(job.ground.datum ~= nil, "all facts of the site are given, each with its unit")
  end }
