-- SPDX-License-Identifier: MIT
-- Tables with a row for each post of a rack, as the sheet of loads has them.
local record = import "model.record"
local run = import "model.run"
local document = import "write.document"
local measure = import "write.measure"
local by_post = {}

-- A length in a narrow column.
function by_post.long(proxy, name) return document.of(proxy, name, run.sixteenths and measure.narrow or nil) end

function by_post.right(...)
  local columns = { "post" }
  for i, name in ipairs { ... } do columns[i + 1] = { name, right = true } end
  return columns
end

function by_post.each_post(rack, row)
  local rows = {}
  for x in record.each(rack.post) do rows[#rows + 1] = row(x) end
  return rows
end

-- Which of it stands on somebody's paper.
function by_post.papers(d, r)
  local text = #run.giving > 0 and import("write.papers").said_of(r)
  if text then d:para(text) end
end

return by_post
