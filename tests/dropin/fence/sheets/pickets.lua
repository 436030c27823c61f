-- SPDX-License-Identifier: MIT
local record = import "model.record"
local words = import "write.words"

local function body(d)
  for _, fence in ipairs(record.all "fence") do
    d:para(words.title(fence) .. ": " .. fence.pickets .. " pickets.")
  end
end

return { name = "pickets", title = "Fence", order = 45, kinds = { "fence" }, short = body, whole = body }
