-- SPDX-License-Identifier: MIT
-- What lies on the land and is not to be built on or under, where there is any: flood water, another's right, brush.
-- What is not there stands in none { ... }: so the form asks for the rest where there is any.
local schema = import "model.schema"
local record = import "model.record"
local kind = schema.kind

-- One of the two is not so: nobody else can say which.
local function refuse_both(fact)
  return function(_, refuse)
    local none = record.only "none"
    for said in record.each(none and none.facts or {}) do
      if said == fact then
        refuse({}, none.walked_by .. " walked the ground and says in none { ... } that there is no " .. fact,
            "take it out there, or leave this out")
      end
    end
  end
end

kind { "flood", form = 3, single = true, says = "the flood zone that the site lies in",
  who = "floodplain office", tool = "the flood map",
  fields = {
    { "zone", "text", spare = true, worse = "other", required = true, says = "zone of the flood map", example = "AE",
      who = "floodplain office", tool = "the flood map" },
    { "base_elevation", "quantity", dim = "length", min = -430, max = 6000, spare = true, worse = "more",
      example = "3884.0ft", says = "base flood elevation: how high the water of the map's flood stands",
      who = "floodplain office", tool = "the flood map and its profile" },
    { "datum_elevation", "quantity", dim = "length", min = -430, max = 6000, spare = true, worse = "less",
      example = "3886.5ft", says = "elevation of the ground at the datum, counted as the flood map counts",
      who = "surveyor", tool = "a level from a mark of known elevation" },
    { "lowest_box", "quantity", dim = "length", min = -430, max = 6000, spare = true, example = "3889.0ft",
      says = "elevation of the lowest live part off the racks: boxes, disconnects, inverter, batteries",
      who = "designer", tool = "a level from the datum" },
  },
  settle = refuse_both "flood zone" }

kind { "easement", form = 3, named = true,
  says = "ground on which somebody else has a right: a line, a pipe, a way",
  who = "owner", tool = "the title and the recorded plat",
  fields = {
    { "holder", "text", spare = true, required = true, says = "whose right it is", example = "Plateau Power",
      who = "owner", tool = "the title and the recorded plat" },
    { "distance", "quantity", spare = true, dim = "length", min = 0, max = 1e5, example = "12ft",
      says = "from its edge to the nearest post, hole, trench or box; 0 where any of them stands in it", who = "owner",
      tool = "the recorded plat and a tape" },
    { "consent", "group", spare = true, says = "the holder's consent in writing to what stands in it",
      who = "the holder", tool = "a letter",
      example = 'paper = "letter 14-22", by = "Rhoda Tennant", dated = "2026-10-12"',
      fields = {
        { "paper", "text", required = true, says = "the letter or the recorded agreement", example = "letter 14-22" },
        { "by", "text", required = true, says = "who signed it for the holder", example = "Rhoda Tennant" },
        { "dated", "date", required = true, says = "its day; one after the day judged is none yet" },
      } },
  },
  settle = refuse_both "easement" }

kind { "brush", form = 3, single = true,
  says = "brush, dry grass or trees near the array, which carry a fire",
  who = "owner", tool = "a walk round",
  fields = {
    { "cleared", "quantity", spare = true, dim = "length", min = 0, max = 1e4, example = "15ft",
      says = "width of the strip around the array that is kept clear of it", who = "owner", tool = "a tape" },
    { "kept_by", "text", spare = true, says = "who keeps the strip clear, year after year", example = "Odessa Pruitt",
      who = "owner" },
  },
  settle = refuse_both "brush" }

schema.add_fields("limits", {
  { "freeboard", "limit", spare = true, of_places = true, dim = "length", max = 10, example = "1ft",
    says = "least height of live parts above the base flood elevation" },
  { "easement_setback", "limit", spare = true, of_places = true, dim = "length", max = 300, example = "5ft",
    says = "least distance of what is built from the edge of an easement" },
  { "brush_clearance", "limit", spare = true, of_places = true, dim = "length", max = 300, example = "10ft",
    says = "least width of the strip around the array that is clear of brush" },
})
