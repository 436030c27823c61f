-- SPDX-License-Identifier: MIT
-- The job itself, who rules on it, and the house's habits.
local schema = import "model.schema"
local record = import "model.record"
local kind = schema.kind

-- A code: an edition of which rows are kept, or one that is declared to be without.
local function code(f)
  f[2], f.no_data, f.who, f.tool = "choice", true, f.who or "building office", "a telephone call"
  f.choices_from = function() return host.editions(f[1]) end
  return f
end

kind { "job", form = 1, single = true, says = "the job: whose, for what stage, judged on which day, under which codes",
  on_form = {
    head = {
      "job ________________________   client ________________________",
      "visited by ____________________   on ____________   weather ________________",
      "Before anything is dug: the locating service, and the owner about private lines. Look up for wires.",
    },
    sketch = "north arrow, array, lot lines, well, trench, trees, wires, slope",
  },
  fields = {
    { "name", "text", required = true, says = "what the job is called", example = "Egg farm, eight modules" },
    { "client", "text", required = true, says = "whose job it is", example = "Odessa Pruitt", who = "customer" },
    { "stage", "choice", choices = { "quote", "permit", "build", "as built" }, required = true,
      says = "how far the job is: at quote, what is unknown is listed; from permit on it fails the run" },
    { "on", "date", says = "the day judged; nothing reads the clock", who = "whoever runs it" },
    { "revision", "text", spare = true, example = "B",
      says = "which issue of its drawings and sheets this is, as their title strips and heads name it" },
    { "units", "choice", choices = { "US", "SI" }, default = "US",
      says = "the units that results print in; inputs carry their own" },
    { "lengths", "choice", choices = { "decimal", "feet and inches" },
      says = "how a US job prints lengths: feet, inches and sixteenths, unless it says decimal" },
    { "currency", "choice", choices_from = host.currencies, default = "USD",
      says = "the one currency of the job" },
    { "crew", "count", min = 1, max = 50, default = 2, says = "people who lift together" },
    { "design", "choice", choices = { "ASD", "LRFD" }, default = "ASD", spare = true, worse = "other",
      says = "by which combinations posts, rafters and braces are judged: allowable (ASD) or strength (LRFD); all " ..
          "else, and what a paper gives, goes by allowable ones", who = "engineer" },
    { "codes", "group", says = "the code editions in force", who = "building office", tool = "a telephone call",
      no_data = true, fields = {
        code { "electrical", says = "electrical code edition adopted", who = "electrical inspector" },
        code { "loads", worse = "other", says = "load standard that the building code names" },
        code { "wood", says = "wood design standard" },
        code { "building", says = "building code edition adopted" },
      }, example = 'electrical = "NEC 2023", loads = "ASCE 7-16"' },
  },
  check = function(v)
    if v.units == "SI" and v.lengths == "feet and inches" then
      return "a job in SI prints no feet and inches", 'leave lengths out, or write units = "US"', "lengths"
    end
  end }

-- A job may name several places, a county, a utility and an insurer: each file has an office of its own.
kind { "authority", form = 10, of_file = true, files = { "place" },
    says = "the office whose limits these are, and whose permits, one in each place file",
    who = "building office", tool = "a telephone call",
  fields = {
    { "name", "text", required = true, says = "its name", example = "Plateau County building and electrical" },
    { "read_on", "date", required = true, says = "the day its rules were read" },
    { "as", "text", spare = true, says = "what kind of office it is, where a job has several", example = "insurer" },
  } }

kind { "permits", form = 11, of_file = true, files = { "place" }, says = "the permits that the authority asks for",
  who = "building office", tool = "a telephone call",
  on_form = { says = "Permits that it asks for:", tick = "*" },
  items = { "permit", "choice", type = "choice", name = "list",
      choices = { "electrical", "building", "zoning", "health" } } }

local function permit_names() return schema.kinds.permits.items.choices end

kind { "permit", named = true, says = "a permit that was issued, by its name among those that the authority asks for",
  fields = {
    { "number", "text", digit = true, required = true, says = "its number", example = "E-27-0388",
      who = "building office" },
    { "issued", "date", required = true, says = "the day it was issued", who = "building office",
      tool = "the permit card" },
  },
  settle = function(permit, refuse)
    local name, known = record.inside[permit].name, false
    for _, n in ipairs(permit_names()) do known = known or n == name end
    if known then return end
    local near = host.nearest(name, permit_names())
    refuse({}, "there is no permit of that name", near and "did you mean '" .. near .. "'?" or
        "there are " .. table.concat(permit_names(), ", "))
  end }

-- A limit that is the authority's to say.
local function of_office(f)
  f.of_places, f.who, f.tool = true, "building office", "a telephone call"
  return f
end

kind { "limits", form = 12, files = { "job", "place", "house" },
    says = "limits of a place, the house or this job, each with where it stands; one of your own says what it means",
  fields = {
    of_office { "setback", "limit", dim = "length", max = 3000, example = "20ft",
      says = "least distance from the array's outline to the lot line" },
    of_office { "well_setback", "limit", dim = "length", max = 3000, example = "50ft",
      says = "least distance from holes to a well" },
    of_office { "septic_setback", "limit", dim = "length", max = 3000, example = "10ft",
      says = "least distance from holes to a septic field" },
    of_office { "height", "limit", dim = "length", max = 100, example = "20ft",
      says = "most height of the top edge",
      extra = { from = { "natural grade" }, at = { "steepest tilt", "declared tilt" } } },
    of_office { "seal", "limit", dim = "length", max = 100, example = "15ft",
      says = "height from which an engineer seals it", extra = { when = { "top edge above" } } },
    of_office { "seal_home_built", "limit", spare = true, dim = "length", max = 100, example = "6ft",
      says = "the same of a frame that is no maker's kit; 0 ft: always", extra = { when = { "top edge above" } } },
    of_office { "seal_wind", "limit", spare = true, dim = "speed", max = 110, example = "130mph",
      says = "design wind speed above which an engineer seals it" },
    of_office { "seal_snow", "limit", spare = true, dim = "pressure", max = 30000, example = "50psf",
      says = "ground snow load above which an engineer seals it" },
    { "voltage_drop", "limit", dim = "ratio", max = 1, example = "2.5%", says = "most voltage lost in a run" },
    { "mower_clearance", "limit", dim = "length", max = 10, example = "18in",
      says = "least clearance under the lower edge" },
    { "shed_pile", "limit", dim = "length", max = 10, example = "12in",
      says = "height that slid snow piles up to under the lower edge" },
    { "shed_repose", "limit", spare = true, dim = "angle", above = 0, max = math.rad(80), example = "40deg",
      says = "angle at which the sides of slid snow stand; with it the pile of all the snow of the slope is worked " ..
          "out, and the higher of that and shed_pile counts" },
    { "price_age", "limit", dim = "time", max = 3650 * 86400, example = "60d", says = "most age of a price" },
    { "lift_per_person", "limit", dim = "mass", max = 200, example = "50lb", says = "most that one person lifts" },
  } }

kind { "no_limit", files = { "place" }, says = "limits that the office does not have: what needs them is not judged",
  items = { "limit", "text", type = "text", name = "limits" },
  fields = {
    { "cite", "text", required = true, says = "how that is known",
      example = "no zoning, no building department: county clerk by telephone" },
  } }

kind { "habits", single = true, files = { "house" }, says = "what the house adds to every order and to every wire",
  fields = {
    { "spares", "ratio", min = 0, max = 1, example = "10%", says = "spare small parts" },
    { "concrete_waste", "ratio", min = 0, max = 1, example = "10%",
      says = "concrete ordered beyond the computed volume" },
    { "make_up_each_end", "quantity", dim = "length", min = 0, max = 10, example = "3ft",
      says = "wire left at each end for the connection" },
    { "saw_kerf", "quantity", dim = "length", min = 0, max = 0.02, example = "0.125in",
      says = "what the saw takes at each cut" },
    { "augers", "list", spare = true, least = 1, most = 20, example = "12in, 18in",
      item = { "auger", "quantity", type = "quantity", dim = "length", above = 0, max = 1.5 },
      says = "diameters of the augers that are had; without it those that are commonly had" },
  } }

kind { "rule", files = { "job", "place", "house" }, says = "a rule of the house, the place, or this job only",
  fields = {
    { "id", "text", required = true, says = "a short name, such as H1 or J1", example = "J1" },
    { "severity", "choice", choices = { "stop", "caution", "note" }, required = true,
      says = "what a broken rule means: stop and caution fail the run, a note does not" },
    { "each", "text", says = "the kind of declaration that it judges, one by one", example = "rack" },
    { "says", "text", required = true,
      says = "what must be true, in words", example = "no string within 2 % of a voltage limit" },
    { "cite", "text", required = true, says = "where it stands", example = "house rule" },
    { "caution", "text", required = true,
      says = "what happens if it is not so", example = "a clamp out of reach is never tightened again" },
    { "may_waive", "choice", choices = { "nobody", "engineer", "authority", "house", "line owner" },
      default = "nobody", quiet = true, says = "who may set it aside" },
    { "flips", "text",
      says = "path of the input whose limit value is searched and printed", example = "rack.east.lower_edge" },
    { "applies", "func",
      says = "function(subject, job): whether it has a subject here at all; behind a no, why not in words" },
    { "check", "func", required = true,
      says = "function(subject, job): at_most(...), at_least(...), between(...), ..." },
  } }

-- What a result of our own may be: an amount of some dimension, a word, or whether something is so.
local function result_kinds()
  local list = host.dims()
  list[#list + 1], list[#list + 2] = "text", "true or false"
  return list
end

kind { "result", files = { "job", "place", "house" },
  says = "a result of the house, the place, or this job only: worked out like the library's, to be read by rules",
  fields = {
    { "of", "text", required = true, example = "run",
      says = "the kind of declaration that has it, or job for the whole job" },
    { "name", "text", required = true, says = "what rules and paths call it", example = "feet_per_string" },
    { "is", "choice", choices_from = result_kinds, required = true, says = "what it is" },
    { "means", "text", required = true, says = "what it says, in words",
      example = "conductor cut for each of its strings" },
    { "show", "text", says = "the unit that it is printed in", example = "ft" },
    { "formula", "text", says = "plain arithmetic on fields and results of that kind, `parent.` and `job.`",
      example = "conductors * cut_length / circuits" },
    { "work", "func", says = "function(record, job): gives it, where a formula will not do",
      example = "function(run) return run.conductors * run.cut_length / run.circuits end" },
    { "cite", "text", says = "where the formula stands", example = "house manual 4.2" },
  },
  check = function(v)
    if v.formula and v.work then return "it has a formula and a function", "leave one of them out", "work" end
    if not v.formula and not v.work then
      return "it does not say how it is worked out",
          'add formula = "...", or work = function(' .. v.of .. ", job) ... end"
    end
  end }

-- What each signer has to show: { field, what is missing, how it is written }.
local shown = {
  engineer = { { "licence", "an engineer signs with a licence", 'licence = "E-40771"' },
               { "state", "an engineer's licence holds somewhere: which state or country gave it?", 'state = "NE"' } },
  ["line owner"] = { { "paper", "the owner of a line waives in writing", 'paper = "letter 14-22"' } },
}

kind { "waive", says = "sets rules aside, with a reason, a name and a date; printed on page one",
  items = { "rule", "text", type = "text", name = "rules" },
  fields = {
    { "reason", "text", required = true, says = "why", example = "the yard held the price by telephone" },
    { "by", "text", required = true, says = "who", example = "J. Okafor" },
    { "as", "choice", choices = { "engineer", "authority", "house", "line owner" }, required = true,
      says = "in which capacity" },
    { "on", "date", required = true, says = "when; not after the day judged" },
    { "licence", "text", digit = true, says = "number of the engineer's licence", example = "E-40771" },
    { "state", "text", says = "the state or country that gave it", example = "NE" },
    { "paper", "text", says = "the letter or drawing that says so", example = "letter 14-22" },
    { "subject", "text", says = "path of the one declaration that it is for; without it, all", example = "rack.east" },
  },
  check = function(v)
    for _, s in ipairs(shown[v.as] or {}) do
      if not v[s[1]] then return s[2], "add " .. s[3], "as" end
    end
    local stray = v.as ~= "engineer" and (v.licence and "licence" or v.state and "state")
    if stray then
      return "a licence is an engineer's, and this waiver is signed as " .. v.as, 'as = "engineer"', stray
    end
  end }
