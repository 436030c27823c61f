-- SPDX-License-Identifier: MIT
-- Stake-out: running dimensions from one zero, and the diagonals that prove it square.
local record = import "model.record"
local document = import "write.document"
local words = import "write.words"
local measure = import "write.measure"
local digging = import "site.digging"

local cell, value = document.needed, document.value

local function mark(v) return (measure.mark(v)) end

local function rack_out(d, r, front, back)
  d:para("Zero: centre of post " .. front[1].station ..
      ", the west end of the front line. Pull every mark from that zero; never add bays up. All to post centres. " ..
      "The rows run square to " .. words.show(r.true_azimuth, "deg") .. " true" ..
      (r.north == "compass" and " (" .. words.show(r.azimuth, "deg") .. " by compass)" or "") ..
      "; the modules' west end is " .. mark(front[1].offset) .. " west of the zero, their lower edge " ..
      mark(r.front_setback) .. " out from the front line.")
  local rows = {}
  for i, f in ipairs(front) do
    local along = f.offset - front[1].offset
    local to_back = i == 1 and cell(r, "line_spacing", measure.mark) or
        value(calc.diagonal { along = along, across = r.line_spacing }.diagonal, measure.mark)
    rows[#rows + 1] = { f.station, back[i].station, value(along, measure.mark),
        cell(r, "line_spacing", measure.mark), to_back, document.fill }
  end
  d:table({ "front", "back", { "east of zero", right = true }, { "back line behind", right = true },
      { front[1].station .. " to back post", right = true }, "measured" }, rows)
  local feet = words.metric() and "" or " (" .. measure.cut(r.diagonal) .. ")"
  d:para("Square check: " .. front[1].station .. " to " .. back[#back].station .. " and " .. front[#front].station ..
      " to " .. back[1].station .. " both " .. mark(r.diagonal) .. feet .. ", computed from " ..
      mark(r.line_length) .. " by " .. mark(r.line_spacing) .. ".")
  d:para("String lines at the tops of the posts, above the ground at " .. record.root.ground.datum .. ": front " ..
      mark(r.front_height) .. ", back " .. mark(r.back_height) .. ".")
end

local function whole(d)
  d:para(digging.ticket())
  d:para(digging.private_lines())
  for _, r in ipairs(record.all "rack") do
    local front, back = {}, {}
    for x in record.each(r.post) do
      local list = x.line == "front" and front or back
      list[#list + 1] = x
    end
    d:gap()
    d:subheading(words.title(r))
    d:inside(rack_out, r, front, back)
  end
  d:gap()
  d:warning(digging.covers)
  d:warning(digging.overhead)
end

return { name = "stake-out", title = "Stake-out", order = 20, build = true, kinds = { "rack" },
    rules = { "R02", "R06", "R80" }, after = { "R09", "R73" }, waits = digging.waits, whole = whole }
