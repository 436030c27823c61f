-- SPDX-License-Identifier: MIT
-- Whether all posts of a station stand on the one block that is to carry them.
local record = import "model.record"
local lines = import "structure.lines"
local feet = import "structure.feet"
local given = record.given

return function(footing, refuse)
  for _, rack in ipairs(record.all "rack") do
    for _, g in ipairs(feet.of_rack(rack)) do
      local list = g.footing == footing and lines.of(rack)
      if list and #list > 1 then
        local apart = lines.setback(rack, list[#list].name, list[#list].letter) -
            lines.setback(rack, list[1].name, list[1].letter)
        local before = given(footing, "block_front")
        local length, field = footing.block_length, before and "block_front" or "block_length"
        if (before and before + apart or apart) > length then
          local is, wide = import("write.words").apart(before and before + apart or apart, length)
          refuse({ field }, "the last post of a station of " .. import("write.words").title(rack) .. " stands " .. is ..
              (before and " behind the block's front" or " behind the first") .. ", and the block is " .. wide ..
              " long", "a longer block, or lines of posts that stand nearer")
        end
      end
    end
  end
end
