-- SPDX-License-Identifier: MIT
-- What is in hand and what is ordered, to be compared with the need.
local lots = import "model.lots"
local schema = import "model.schema"
local kind = schema.kind

local function items() return { "lot", "lot", type = "lot", name = "lots", says = lots.says } end

kind { "on_hand", single = true,
  says = "materials that are in hand already; a length is one piece, and what is cut must fit into it",
  items = items(),
  fields = {
    { "counted_on", "date", says = "the day it was counted", who = "foreman", tool = "eyes and a tape" },
  } }

kind { "order", may_name = true, says = "what is ordered of a vendor, to be compared with the need",
  items = items(),
  fields = {
    { "vendor", "text", required = true, example = "Sawtail Lumber", says = "of whom it is ordered" },
  } }

kind { "truck", may_name = true, says = "a load of ready-mixed concrete, which takes the place of the bags",
  fields = {
    { "volume", "quantity", dim = "volume", above = 0, max = 20, required = true, example = "3yd3", design = true,
      says = "concrete that is ordered with it" },
    { "full_load", "quantity", dim = "volume", above = 0, max = 20, example = "4yd3",
      says = "least that its vendor brings without a charge for a short load; the charge is a row of the price " ..
          "list, item concrete short load" },
    { "vendor", "text", required = true, example = "Gap Creek Ready Mix", says = "of whom it is ordered" },
  } }
