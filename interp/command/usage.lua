-- SPDX-License-Identifier: MIT
-- Help: all commands and options, or one command.  (name or nil, options) -> text.
local page = import "write.page"

-- --set PATH=VALUE, -o, --output FILE
local function written(option)
  return (option.letter ~= "" and "-" .. option.letter .. ", " or "") .. "--" .. option.name ..
      (option.value ~= "" and " " .. option.value or "")
end

local function form(command) return command.name .. (command.words ~= "" and " " .. command.words or "") end

local function put_options(p, t, wanted)
  local rows = {}
  for _, option in ipairs(t.options) do
    if wanted(option) then rows[#rows + 1] = { written(option), option.says } end
  end
  p:table({ "", { "", wrap = true } }, rows, "  ")
end

local function put_formats(p, t, verdict)
  local rows, messages = {}, {}
  for _, f in ipairs(t.formats) do
    if verdict or not f.verdict then rows[#rows + 1] = { f.name, f.says } end
    if f.messages then messages[#messages + 1] = f.name end
  end
  p:head("formats")
  p:table({ "", { "", wrap = true } }, rows, "  ")
  p:para("of messages: " .. table.concat(messages, ", "), "  ")
end

local function put_all(p, t)
  p:line("usage: stringline COMMAND [WORD ...] [OPTION ...]")
  p:blank()
  local rows = {}
  for i, c in ipairs(t.commands) do rows[i] = { form(c), c.says } end
  p:table({ "", { "", wrap = true } }, rows, "  ")
  p:blank()
  put_options(p, t, function() return true end)
  put_formats(p, t, true)
  p:head("exit status")
  rows = {}
  for i, s in ipairs(t.statuses) do rows[i] = { tostring(s.number), s.says } end
  p:table({ "", { "", wrap = true } }, rows, "  ")
  p:blank()
  p:line("`stringline help COMMAND` tells more of a command.")
end

local function put_one(p, t, c)
  p:line("usage: stringline " .. form(c) .. " [OPTION ...]")
  p:blank()
  p:para(c.says:sub(1, 1):upper() .. c.says:sub(2) .. "." .. (c.more ~= "" and " " .. c.more or ""), "  ")
  if c.name == "reference" then
    local rows = {}
    for i, part in ipairs(t.parts) do rows[i] = { part.name, part.says } end
    p:head("parts")
    p:table({ "", { "", wrap = true } }, rows, "  ")
  end
  p:head("options")
  put_options(p, t, function(option) return (c.job or not option.job) and option.name ~= "version" end)
  put_formats(p, t, c.verdict)
  p:head("example")
  p:line("  " .. c.example)
end

return function(name, o)
  local t, p = host.command_line(), page.new(o.colour)
  if not name then put_all(p, t) end
  for _, c in ipairs(t.commands) do if c.name == name then put_one(p, t, c) end end
  return p:text()
end
