-- SPDX-License-Identifier: MIT
-- Braces, one by one.
local schema = import "model.schema"
local record = import "model.record"

schema.kind { "brace", parent = "rack", says = "one brace of a rack",
  fields = {
    { "foot", "text", says = "the post of its lower bolt" },
    { "head", "text", says = "the post of its upper bolt" },
    { "entry", "count", says = "which of the rack's kinds of braces it is" },
  },
  derive = function(rack)
    if not record.given(rack, "braces") then return {} end
    return import("frame.braces").of(rack)
  end }
