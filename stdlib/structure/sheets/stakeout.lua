-- SPDX-License-Identifier: MIT
-- Stake-out: running dimensions from one zero, and the diagonals that prove it square.
local record = import "model.record"
local graph = import "model.graph"
local document = import "write.document"
local words = import "write.words"
local measure = import "write.measure"
local set_out = import "structure.set_out"
local digging = import "site.digging"

local value = document.value

local function mark(v) return (measure.mark(v)) end
local function right(head, key) return { head, key = key, right = true } end

local function zero_of(d, r, zero, along, across)
  d:para("Zero: centre of post " .. zero.station ..
      ", the west end of the front line. Pull every mark from that zero; never add bays up. All to post centres. " ..
      "The rows run square to " .. words.show(r.true_azimuth, "deg") .. " true" ..
      (r.north == "compass" and " (" .. words.show(r.azimuth, "deg") .. " by compass)" or "") ..
      "; the modules' west end is " .. mark(-along.west.at) .. " west of the zero, their east end " ..
      mark(along.east.at) .. " east of it, their lower edge " .. mark(across[1].at - across.edge.at) ..
      " out from the front line.")
end

-- Of a row that slopes: the string from its first post to its last.
local function string_of(line)
  local function top(p) return (measure.level(p.top_height)) end
  return top(line.posts[1]) .. " to " .. top(line.posts[#line.posts])
end

-- Where each line of posts stands behind the front line, and how high its string is.
local function across_table(d, lines, across, slopes)
  local columns = { "line", right("behind the front line", "from zero") }
  if #lines > 2 then columns[3] = right("from the line before", "bay") end
  columns[#columns + 1] = right "string"
  columns[#columns + 1] = "measured"
  local rows = {}
  for i, line in ipairs(lines) do
    local row = { line.name .. ", " .. line.posts[1].station ..
        (#line.posts > 1 and " to " .. line.posts[#line.posts].station or ""), value(across[i].at, measure.mark) }
    if #lines > 2 then row[3] = i > 1 and value(across[i].bay, measure.mark) or "" end
    row[#row + 1] = slopes and string_of(line) or document.needed(line.record, "height", measure.level)
    row[#row + 1] = document.fill
    rows[i] = row
  end
  d:table(columns, rows)
  d:para("string: of the line at the tops of its posts, above " .. set_out.datum() .. ".")
end

-- The diagonals from the zero to each post of a line.
local function diagonal(line, front, zero, i)
  local along, behind = line.posts[i].plan_offset - zero.plan_offset, line.setback - front.setback
  if host.si(host.abs(along)) == 0 then return behind end
  return calc.diagonal { along = host.abs(along), across = behind }.diagonal
end

local function along_table(d, r, group, front, zero)
  local along = set_out.along(r, group[1], zero)
  local columns, rows = {}, {}
  for k, line in ipairs(group) do columns[k] = line.name end
  columns[#columns + 1] = right("east of zero", "from zero")
  columns[#columns + 1] = right("from the one before", "bay")
  local last = group[#group] ~= front and group[#group] or nil
  if last then
    columns[#columns + 1] = right(zero.station .. " to " .. last.name .. " post", "from zero to post")
  end
  columns[#columns + 1] = "measured"
  for i = 1, #group[1].posts do
    local row = {}
    for k, line in ipairs(group) do row[k] = line.posts[i].station end
    row[#row + 1] = value(along[i].at, measure.mark)
    row[#row + 1] = i > 1 and value(along[i].bay, measure.mark) or ""
    if last then row[#row + 1] = value(diagonal(last, front, zero, i), measure.mark) end
    row[#row + 1] = document.fill
    rows[i] = row
  end
  d:table(columns, rows)
end

-- Corner to corner of the first and the last line, both ways.
local function square(d, front, back)
  local f, b = front.posts, back.posts
  local behind = back.setback - front.setback
  local function length(p, q)
    local along = host.abs(p.plan_offset - q.plan_offset)
    return host.si(along) == 0 and behind or calc.diagonal { along = along, across = behind }.diagonal
  end
  local one, other = length(f[1], b[#b]), length(f[#f], b[1])
  local function says(p, q) return p.station .. " to " .. q.station end
  local function both(v)
    return mark(v) .. (measure.two_columns() and " (" .. measure.cut(v) .. ")" or "")
  end
  if host.near(host.si(one), host.si(other)) then
    d:para("Square check: " .. says(f[1], b[#b]) .. " and " .. says(f[#f], b[1]) .. " both " .. both(one) .. ".")
  else
    d:para("Square check: " .. says(f[1], b[#b]) .. " " .. both(one) .. ", " .. says(f[#f], b[1]) .. " " ..
        both(other) .. ": the lines are not alike, or the row slopes, so the two differ.")
  end
end

local function rack_out(d, r)
  local lines = set_out.lines(r)
  local front = lines[1]
  local zero = front.posts[1]
  local across = set_out.across(lines)
  zero_of(d, r, zero, set_out.along(r, front, zero), across)
  d:gap()
  local slope = record.given(r, "row_slope")
  if slope then
    d:para("The row " .. (slope < 0 and "falls " or "rises ") .. words.show(math.abs(slope), "%") ..
        " from west to east. All marks here are level distances: hold the tape level. Posts stand plumb; rafters " ..
        "lean with the row.")
    d:gap()
  end
  across_table(d, lines, across, slope)
  for _, group in ipairs(set_out.groups(lines)) do
    d:gap()
    along_table(d, r, group, front, zero)
  end
  d:gap()
  if #lines > 1 and #front.posts > 1 then square(d, front, lines[#lines]) end
end

-- Several racks: where the zero of each lies from that of the first, east and north.
local function racks_out(d, racks)
  local first, rows = set_out.lines(racks[1])[1].posts[1], {}
  for i, r in ipairs(racks) do
    local zero = set_out.lines(r)[1].posts[1]
    local east, why = graph.try(zero, "place_east")
    local from = graph.try(first, "place_east")
    if not east or not from then
      rows[i] = { words.title(r), zero.station, document.of(zero, "place_east"), document.of(zero, "place_north"),
          { text = "unknown", unknown = true, why = why }, words.of(r, "row_bearing"), document.fill }
    else
      local x, y = east - from, zero.place_north - first.place_north
      local apart = host.si(host.abs(x)) > 0 and host.si(host.abs(y)) > 0 and
          calc.diagonal { along = host.abs(x), across = host.abs(y) }.diagonal or host.abs(x) + host.abs(y)
      rows[i] = { words.title(r), zero.station, value(x, measure.level), value(y, measure.level),
          i > 1 and value(apart, measure.mark) or "", words.of(r, "row_bearing"), document.fill }
    end
  end
  d:para("The zero of each rack from that of the first, " .. first.station .. ": east is +, west -; north is +, " ..
      "south -. Each row runs in its bearing from true north.")
  d:table({ "rack", "zero", right("east", "east"), right("north", "north"), right("straight", "apart"),
      right("row runs", "row bearing"), "measured" }, rows)
  d:unknowns(rows)
end

local function whole(d)
  d:para(digging.ticket())
  d:para(digging.private_lines())
  local racks = record.all "rack"
  if #racks > 1 then
    d:gap()
    d:subheading "where the racks stand"
    d:inside(racks_out, racks)
  end
  for _, r in ipairs(racks) do
    d:gap()
    d:subheading(words.title(r))
    d:inside(rack_out, r)
  end
  d:gap()
  d:warning(digging.covers)
  d:warning(digging.overhead)
end

return { name = "stake-out", title = "Stake-out", order = 20, build = true, crew = true, kinds = { "rack" },
    rules = { "R02", "R06", "R80" }, after = { "R09", "R73" }, waits = digging.waits, whole = whole }
