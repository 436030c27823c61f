-- SPDX-License-Identifier: MIT
-- `stringline test`: the expectations of a file tried, and what came of them as a document.
local document = import "write.document"
local encode = import "write.encode"

local object, array = encode.object, encode.array

-- What is not as expected, in one line.
local function said(a)
  local parts = {}
  if not a.fits then parts[1] = "expected " .. a.expected .. ", came " .. a.came end
  if a.unread then
    parts[#parts + 1] = "with gives " .. table.concat(a.unread, ", ") .. ", which " .. a.e.id .. " does not read"
  end
  return table.concat(parts, "; ")
end

local function without_test(x) return x.what .. " " .. x.name .. " has no test" end

-- As write.tap and write.gnu have them.
local function points_of(answers, without)
  local points = { notes = {} }
  for i, a in ipairs(answers) do
    local place = host.place(a.e.place)
    points[i] = { met = a.met, title = a.e.title, said = said(a), place = place, id = a.e.id,
        rows = { { "message", said(a) }, { "place", place } } }
  end
  for i, x in ipairs(without) do
    points.notes[i] = { text = without_test(x), place = host.place(x.place), id = x.name }
  end
  return points
end

-- ---- for programs --------------------------------------------------------------------------------------------------

local function place(s)
  local file = host.place { source = s.source, line = 0 }
  return object { { "file", file }, { "line", s.line }, { "column", s.col } }
end

local function put_facts(d, o, answers, without, met)
  d:fact("script", o.script)
  d:fact("exit", d.status)
  d:fact("met", met)
  d:fact("expectations", function()
    local list = array {}
    for i, a in ipairs(answers) do
      list[i] = object { { "of", a.e.id or a.e.job }, { "title", a.e.title }, { "place", place(a.e.place) },
          { "met", a.met }, { "expected", not a.fits and a.expected or nil },
          { "came", not a.fits and a.came or nil }, { "unread", a.unread and array(a.unread) or nil } }
    end
    return list
  end)
  d:fact("without_test", function()
    local list = array {}
    for i, x in ipairs(without) do
      list[i] = object { { "what", x.what }, { "name", x.name }, { "place", place(x.place) } }
    end
    return list
  end)
end

-- ---- for people ----------------------------------------------------------------------------------------------------

local function count(n, word) return n .. " " .. word .. (n == 1 and "" or "s") end

local function put_answer(d, a)
  d:gap()
  d:outcome("NOT MET:", a.e.title, "bad")
  d:inside(function()
    if not a.fits then
      d:fact_line("expected", a.expected)
      d:fact_line("came", a.came)
    end
    if a.unread then
      d:fact_line("not read", table.concat(a.unread, ", ") .. ": " .. a.e.id .. " reads nothing of it")
    end
    d:fact_line("at", host.place(a.e.place))
  end)
end

return function(o)
  local answers, without = import("model.tested").file(o.script)
  local met = 0
  for _, a in ipairs(answers) do
    a.e.title, a.expected, a.came = host.safe(a.e.title), host.safe(a.expected), host.safe(a.came)
    if a.met then met = met + 1 end
  end
  local d = document.new("test", "Expectations of " .. o.script)
  d.status, d.points = met == #answers and 0 or 1, points_of(answers, without)
  put_facts(d, o, answers, without, met)
  d:para(o.script .. ": " .. (#answers == 0 and "nothing is expected" or met .. " of " ..
      count(#answers, "expectation") .. " met") .. ".", nil, nil, d.status == 0 and "good" or "bad")
  for _, a in ipairs(answers) do if not a.met then put_answer(d, a) end end
  if #without > 0 then d:gap() end
  for _, x in ipairs(without) do d:note(without_test(x) .. " (" .. host.place(x.place) .. ")") end
  return d.status, d
end
