-- SPDX-License-Identifier: MIT
-- A job through `run` or `check` for tests/properties.lua, in the host's Lua, without what would mend it and how its
-- broken rules were worked out: of random jobs, which break many, that is most of the work, and no property is about
-- it.
--
-- input: { command, format, script, set = { text ... } } gives the text.
local input = ...
import("model.remedies").of = function() return { suggestions = {}, own = {} } end
import("write.explain").work_lines = function() return {} end
local o = { command = input.command, script = input.script, words = { input.script }, set = input.set,
            format = input.format, writer = "write." .. input.format, width = 80, number = 1 }
local _, text = import "command.run"(o)
return text
