-- SPDX-License-Identifier: MIT
-- Values as JSON (RFC 8259), keys in the order given: object { { key, value } ... }, array { value ... }, texts,
-- numbers, true and false.
import "model.util"                     -- host.sorted
local encode = {}

local object_meta, array_meta, raw_meta = {}, {}, {}
-- A nil value is left out.
function encode.object(pairs_of) return setmetatable(pairs_of, object_meta) end
function encode.array(list) return setmetatable(list, array_meta) end

-- Plain tables: a list, or names in their order.  An empty one is a list.
function encode.plain(v)
  if type(v) ~= "table" then return v end
  local out = {}
  if next(v) == nil or v[1] ~= nil then
    for i, x in ipairs(v) do out[i] = encode.plain(x) end
    return encode.array(out)
  end
  for k, x in host.sorted(v) do out[#out + 1] = { k, encode.plain(x) } end
  return encode.object(out)
end

-- A text that is JSON already.
function encode.raw(text) return setmetatable({ text }, raw_meta) end

local written, compact = host.json_writer(object_meta, array_meta, raw_meta)

-- A value as the text that it has so many levels deep, so that a long list of them is not kept twice.
function encode.done(v, depth) return encode.raw(written(v, 2 * depth)) end

-- The same on one line, without blanks: for what only programs read.
function encode.compact(v) return encode.raw(compact(v)) end

-- A whole text, with its line end.
function encode.text(v) return written(v, 0, "\n") end

return encode
