-- SPDX-License-Identifier: MIT
-- What stands in the place of a verdict where a script of several could not be judged: (options, failure) -> status,
-- document.  failure has status, code and text of the first thing that is wrong, how many there are (told), and all of
-- them as a program reads them, one a line (json); errors are these as tables.
local document = import "write.document"

return function(o, f)
  local d = document.new("unjudged", "Not judged")
  local encode, reader, raw = import "write.encode", import "write.json_reader", {}
  f.errors = {}
  for line in string.gmatch(f.json, "[^\n]+") do
    raw[#raw + 1], f.errors[#raw + 1] = encode.raw(line), {}
    for key, value in next, reader.read(line) do
      if value ~= reader.null then f.errors[#raw][key] = value end
    end
  end
  d.status, d.failure = f.status, f
  d:fact("script", o.script)
  d:fact("exit", f.status)
  d:fact("error", function() return raw[1] end)
  d:fact("errors", function() return encode.array(raw) end)
  d:para(o.script .. ": NOT JUDGED: " .. f.text .. (f.told > 1 and "; and " .. f.told - 1 .. " more" or "") .. ".",
      nil, nil, "bad")
  return f.status, d
end
