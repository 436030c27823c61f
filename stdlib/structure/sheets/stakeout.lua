-- SPDX-License-Identifier: MIT
-- Stake-out: running dimensions from one zero, and the diagonals that prove it square.
local record = import "model.record"
local words = import "write.words"
local measure = import "write.measure"

local function whole(p)
  local locate = record.root.locate
  p:para("Ticket " .. locate.ticket .. ", valid " .. locate.valid_from .. " to " .. locate.valid_to ..
      ". Private lines, asked of " .. locate.private_lines.asked .. " on " ..
         locate.private_lines.on .. ": " .. locate.private_lines.found .. ". Cover every open hole.")
  for _, r in ipairs(record.all "rack") do
    local front, back = {}, {}
    for x in record.each(r.post) do
      local list = x.line == "front" and front or back
      list[#list + 1] = x
    end
    p:blank()
    p:line(words.title(r))
    p:para("Zero: centre of post " .. front[1].station ..
        ", the west end of the front line. Pull every mark from that zero; never add bays up. All to post " ..
            "centres. The rows run square to " ..
           words.show(r.true_azimuth, "deg") .. " true" ..
               (r.north == "compass" and " (" .. words.show(r.azimuth, "deg") .. " by compass)" or "") ..
           "; the modules' west end is " .. measure.mark(front[1].offset) .. " west of the zero, their lower edge " ..
               measure.mark(r.front_setback) .. " in front of the front line.", "  ")
    local rows = {}
    for i, f in ipairs(front) do
      local along = (i - 1) * r.pair_spacing
      local d = i == 1 and r.line_spacing or calc.diagonal { along = along, across = r.line_spacing }.diagonal
      rows[#rows + 1] = { f.station, back[i].station, measure.mark(along), measure.mark(r.line_spacing),
          measure.mark(d), "______" }
    end
    p:table({ "front", "back", { "east of zero", right = true }, { "back line behind", right = true },
        { front[1].station .. " to back post", right = true }, "measured" }, rows, "  ")
    p:para("Square check: " .. front[1].station .. " to " .. back[#back].station .. " and " ..
        front[#front].station .. " to " .. back[1].station .. " both " .. measure.mark(r.diagonal) ..
           " (" .. measure.cut(r.diagonal) .. "), computed from " .. measure.mark(r.line_length) .. " by " ..
               measure.mark(r.line_spacing) .. ".", "  ")
    p:para("String lines at the tops of the posts, above the ground at " .. record.root.ground.datum .. ": front " ..
        measure.mark(r.front_height) .. ", back " .. measure.mark(r.back_height) .. ".", "  ")
  end
end

return { order = 20,
  name = "stake-out", title = "Stake-out", build = true, kinds = { "rack" }, rests = {},
    rules = { "R02", "R06" }, after = { "R09" }, whole = whole }
