-- SPDX-License-Identifier: MIT
-- The ground and its weather.  Facts that protect people (wind, snow, cold, soil, frost) have no default.
local schema = import "model.schema"
local kind = schema.kind
local TEST_HOLE = "a test hole, once the lines there are marked"

kind { "site", form = 2, single = true,
    says = "where the array stands, and the weather and ground it stands in", who = "designer",
  fields = {
    { "latitude", "position", axis = "latitude", example = "36.16 N",
      says = "latitude", who = "map", tool = "a map or a satellite receiver" },
    { "longitude", "position", spare = true, axis = "longitude", example = "85.50 W",
      says = "longitude", who = "map", tool = "a map or a satellite receiver" },
    { "elevation", "quantity", worse = "less", dim = "length", min = -430, max = 6000, example = "1080ft",
      says = "height above sea level", who = "map", tool = "a contour map" },
    { "declination", "position", spare = true, axis = "declination", example = "4.0 W",
      says = "what a compass is off true north, east or west", who = "map", tool = "a dated isogonic chart" },
    { "coldest", "quantity", worse = "less", dim = "temperature", min = 193.15, max = 303.15, example = "-16degC",
      says = "lowest expected air temperature", who = "electrical inspector",
      tool = "the extreme annual mean minimum of the nearest station" },
    { "hottest_air", "quantity", worse = "more", dim = "temperature", min = 273.15, max = 333.15, example = "36degC",
      says = "hottest air temperature to design for", who = "electrical inspector",
      tool = "the 2 % design temperature of the nearest station" },
    { "wind", "quantity", worse = "more", dim = "speed", min = 20, max = 110, example = "105mph",
      says = "design wind speed, three-second gust at strength level", who = "building office",
      tool = "the wind map of the load standard" },
    { "exposure", "choice", worse = "more", choices_from = "wind_terrain.exposure",
      says = "how open the ground is upwind: B woods or houses, C open, D open water", who = "designer",
      tool = "a walk round, half a mile (800 m) each way" },
    { "risk_category", "choice", worse = "more", choices_from = "snow_importance.risk",
      says = "risk category of the structure", who = "building office", tool = "the load standard" },
    { "topography", "number", worse = "more", min = 1, max = 3, default = 1, example = "1",
      says = "topographic wind factor Kzt: 1 on flat ground", who = "engineer", tool = "the hill's height and length" },
    { "snow", "quantity", worse = "more", dim = "pressure", min = 0, max = 30000, example = "10psf",
      says = "ground snow load", who = "building office", tool = "the ground snow map" },
    { "maps", "choice", spare = true, worse = "other", choices_from = function() return host.editions "loads" end,
      says = "of which edition of the load standard the maps are that wind and snow were read from",
      who = "building office", tool = "the title of the map" },
    { "snow_depth", "quantity", worse = "more", dim = "length", min = 0, max = 10, example = "8in",
      says = "depth of snow on the ground in a bad winter", who = "neighbours", tool = "the county's record" },
    { "sheltering", "choice", worse = "more", choices_from = "snow_exposure.sheltering",
      default = "partially exposed", says = "how the wind clears snow off the array", who = "designer",
      tool = "a look round" },
    { "frost", "quantity", worse = "more", dim = "length", min = 0, max = 4, example = "18in",
      says = "frost depth", who = "building office", tool = "a telephone call" },
    { "soil", "group",
      says = "the soil that the posts stand in", who = "engineer", tool = TEST_HOLE,
      example = 'class = "clay", lateral = 150psf/ft',
      fields = {
        { "class", "choice", worse = "other", says = "soil class", who = "engineer", tool = TEST_HOLE,
          required = true,
          choices_from = "soil_presumptive.word" },
        { "lateral", "quantity", spare = true, worse = "less", dim = "pressure per depth", above = 0, max = 1e6,
          example = "150psf/ft",
          says = "lateral bearing per foot of depth; without it the class's presumptive value", who = "engineer",
          tool = "a geotechnical report or the code's table" },
        { "vertical", "quantity", spare = true, worse = "less", dim = "pressure", above = 0, max = 1e7,
          example = "2000psf",
          says = "allowable vertical bearing of a report; without it the class's presumptive value", who = "engineer",
          tool = "a geotechnical report" },
        { "blows", "count", spare = true, worse = "less", min = 1, max = 100, example = "12",
          says = "least blows for a foot of the standard penetration test where the posts stand: makers' " ..
              "tables of screws and driven posts may go by it", who = "engineer",
          tool = "a penetration test" },
        { "dry_to", "quantity", spare = true, worse = "less", dim = "length", min = 0, max = 30, example = "72in",
          says = "how deep holes are known to stay dry; without it what is in the ground is taken to stand in water " ..
              "from grade down, and weighs less by that", who = "foreman",
          tool = "a hole that stood open in the wet season" },
        { "neglect", "quantity", spare = true, worse = "more", dim = "length", min = 0, max = 4, example = "12in",
          says = "depth of soil on top that does not count sideways: what freezes, topsoil, fill; without it none",
          who = "engineer", tool = "a test hole" },
        { "pressure_from", "choice", spare = true, worse = "other", choices = { "where soil counts", "grade" },
          says = "from where lateral bearing grows below soil that does not count; without it from where soil " ..
              "counts, which asks for more", who = "engineer" },
        { "cone", "quantity", spare = true, worse = "less", dim = "angle", above = 0, max = 1, example = "15deg",
          says = "how far off plumb the soil above a bell is lifted with it; without it none of that soil counts",
          who = "engineer", tool = "a geotechnical report" },
        { "firmness", "choice", spare = true, worse = "other", choices = { "loose or wet", "good granular" },
          says = "of the soil above a bell, which says how wide a cone may be; without it loose or wet",
          who = "engineer", tool = TEST_HOLE },
        { "frost_safe", "text", spare = true,
          says = "why this soil does not heave in frost, and who found that; without it it is taken to heave",
          who = "engineer", tool = TEST_HOLE,
          example = "clean coarse gravel: sieve test by I. Castellan, 2026-09-18" },
        { "report", "group", spare = true, says = "the report that the soil's bearing stands in", who = "engineer",
          tool = "the report itself", example = 'by = "Ione Castellan", dated = "2026-09-18"',
          fields = {
            { "by", "text", required = true, says = "who made it", example = "Ione Castellan" },
            { "dated", "date", required = true, says = "its day" },
            { "for_isolated_posts", "flag", default = false,
              says = "it says that its value may be doubled for isolated posts, as the code doubles its table's" },
          } },
      },
      check = function(v)
        if v.report and not v.lateral and not v.vertical then
          return "a report is named, but not the bearing that stands in it", "lateral = 150psf/ft", "report"
        end
        if v.pressure_from and not v.neglect then
          return "'pressure_from' is about soil that does not count, and 'neglect' does not say how deep that is",
              "add neglect = 12in", "pressure_from"
        end
        if v.firmness and not v.cone then
          return "firmness says how wide a cone of soil may be, and no cone is given", "add cone = 15deg", "firmness"
        end
      end },
  } }

kind { "nearest", form = 3, single = true, says = "distances from the array's outline to what must be kept clear of",
  fields = {
    { "lot_line", "quantity", dim = "length", min = 0, max = 1e5, example = "310ft",
      says = "to the nearest lot line", who = "owner", tool = "the recorded plat and a tape" },
    { "well", "quantity", dim = "length", min = 0, max = 1e5, example = "140ft",
      says = "to the nearest well", who = "owner", tool = "a tape" },
    { "septic_field", "quantity", dim = "length", min = 0, max = 1e5, example = "60ft",
      says = "to the septic field or its reserve", who = "owner", tool = "the health office's drawing" },
    { "overhead_line", "quantity", dim = "length", min = 0, max = 1e5, example = "85ft",
      says = "to the nearest overhead line", who = "designer", tool = "eyes and a tape" },
  } }

kind { "none", form = 4, single = true, says = "what is not there, and who walked the ground to say so",
  who = "owner", tool = "a walk round",
  on_form = {
    says = "Walk the ground; a map tells of floods, the recorded plat of easements. What is not there is ticked; " ..
        "what is goes on the sketch: how far, and whose.",
    tick = "no *",
    sign = "walked by ________________________  on ____________",  signed = { walked_by = true, on = true },
  },
  items = { "fact", "choice", type = "choice", name = "facts",
            choices = { "septic field", "well", "flood zone", "overhead line", "easement", "brush" } },
  fields = {
    { "walked_by", "text", required = true, says = "who walked the ground", example = "Odessa Pruitt" },
    { "on", "date", required = true, says = "when" },
  } }

kind { "benchmark", form = 5, named = true, says = "a mark whose height stays, to which readings go back",
    who = "surveyor", tool = "a level",
  fields = {
    { "elevation", "quantity", spare = true, dim = "length", min = -430, max = 6000, example = "100ft",
      says = "its height; which zero that counts from is for whoever set the mark", who = "surveyor",
      tool = "the survey" },
    { "where", "text", spare = true, says = "where it is found again", example = "south-east corner of the barn sill",
      who = "designer", tool = "a walk round" },
  },
  settle = function(mark, refuse)
    if import("structure.datum").words[mark.name] then
      refuse({}, "'" .. mark.name .. "' already says what a lower edge is counted from", "give the mark another name")
    end
  end }

-- By the name of a post; or by rack and line, the posts west to east.
local function heights(item, line)
  item.type, item.item, item.line = item[2], item, { "line", "list", name = "line", type = "list", example = line,
      item = { item[1], item[2], name = item[1], type = item[2], dim = item.dim, min = item.min, max = item.max } }
  return item
end

kind { "ground", form = 5, single = true, says = "heights of the ground at the posts", who = "designer",
    tool = "a water level or a builder's level",
  fields = {
    { "datum", "text", required = true, unless = function(v) return v.back_to ~= nil end,
      says = "the post whose ground is zero; where the readings go back to a benchmark, its zero is without this",
      example = "F1" },
    { "elevation", "map", item = heights({ "height", "quantity", dim = "length", min = -30, max = 30 },
        "0in, -0.5in"),
      example = "F1 = 0in, F2 = -0.5in",
      says = "height of the ground at each post against the datum; larger is higher", who = "designer",
      tool = "a water level or a builder's level" },
    { "rod", "map", item = heights({ "reading", "quantity", dim = "length", min = 0, max = 10 }, "5.12ft, 5.10ft"),
      example = "F1 = 5.12ft, F2 = 5.10ft",
      says = "rod readings from one set-up of the level; larger is lower", who = "designer",
      tool = "a laser or builder's level and a rod" },
    { "set_up", "text", spare = true, says = "what was set up to read the rod, which is then measured",
      example = "builder's level", who = "designer" },
    { "back_to", "ref", spare = true, of = { "benchmark" }, says = "the benchmark that the rod was read on, too",
      who = "designer", tool = "a level" },
    { "opened", "quantity", spare = true, dim = "length", min = 0, max = 10, example = "3.815ft",
      says = "the reading on the benchmark before the posts were read", who = "designer", tool = "a level" },
    { "closed", "quantity", spare = true, dim = "length", min = 0, max = 10, example = "3.820ft",
      says = "the reading on the benchmark after they were", who = "designer", tool = "the same level, not moved" },
  },
  check = function(v)
    if (v.elevation == nil) == (v.rod == nil) then
      return "give the heights as elevation or as rod readings" .. (v.rod and ", not both" or ""),
          "elevation = { F1 = 0in, ... }: larger is higher; rod = { F1 = 5.12ft, ... }: larger is lower",
          v.rod and "rod" or nil
    end
    for _, name in ipairs { "back_to", "opened", "closed" } do
      if v[name] ~= nil and v.elevation then
        return "'" .. name .. "' goes with rod readings: elevations count from the datum",
            "rod = { F1 = 5.12ft, ... }: larger is lower", name
      end
      if v[name] ~= nil and not v.back_to then
        return "'" .. name .. "' is a reading on a benchmark, and none is named", 'add back_to = "barn sill"', name
      end
    end
    if v.back_to and v.opened == nil then
      return "the readings go back to a benchmark, and what was read on it is not said",
          "add opened = 3.815ft", "back_to"
    end
  end,
  settle = function(ground, refuse) import("site.heights").settle(ground, refuse) end }

-- Which utility an answer is of: "power: marked".
local function utility_of(answer) return string.match(answer, "^%s*(%S[^:]-)%s*:%s*%S") end

kind { "locate", form = 6, single = true, says = "the ticket of the locating service",
  on_form = { stage = "permit" },
  who = "locating service", tool = "a telephone call",
  moved = { private_lines = 'the owner\'s own lines are a declaration of their own: private_lines { found = "none", ' ..
      'asked = "Odessa Pruitt", on = "2026-10-20" }' },
  fields = {
    { "ticket", "text", digit = true, required = true, says = "ticket number", example = "P-113-207" },
    { "valid_from", "date", required = true, says = "first day on which digging is allowed" },
    { "valid_to", "date", required = true, says = "last day" },
    { "answers", "list", least = 1, item = { "answer", "text", type = "text", example = "power: marked" },
      example = '"power: marked", "gas: clear"',
      says = "what each utility answered: marked, clear, or in its own words", who = "locating service",
      tool = "the ticket's list of utilities" },
  },
  check = function(v)
    if v.valid_to < v.valid_from then
      return "the last day, " .. v.valid_to .. ", lies before the first, " .. v.valid_from, "is one of them mistyped?",
          "valid_to"
    end
    local seen = {}
    for _, answer in ipairs(v.answers or {}) do
      local utility = utility_of(answer)
      if not utility then
        return "no utility and its answer: '" .. answer .. "'", 'as in "power: marked" or "gas: clear"', "answers"
      end
      local key = utility:lower()
      if seen[key] then
        return utility .. " answers twice: '" .. seen[key] .. "' and '" .. answer .. "'", "keep the later answer",
            "answers"
      end
      seen[key] = answer
    end
  end }

kind { "private_lines", form = 6, single = true,
    says = "lines of the owner's own, which no locating service marks: water, gas to an outbuilding, an old feed",
  who = "owner", tool = "a walk with the owner",
  on_form = { sign = "asked ________________________  on ____________",  signed = { asked = true, on = true } },
  fields = {
    { "found", "list", required = true, or_text = "none", least = 1,
      item = { "line", "text", type = "text", example = "water to cabin" }, example = '"water to cabin"',
      says = "each line that was found, or \"none\"", who = "owner", tool = "a walk with the owner" },
    { "asked", "text", required = true, says = "who was asked", example = "Odessa Pruitt" },
    { "on", "date", required = true, says = "when" },
  } }
