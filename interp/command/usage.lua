-- SPDX-License-Identifier: MIT
-- Help: all commands and options, or one command.  (name or nil) -> document.
local document = import "write.document"

-- --set PATH=VALUE, -o, --output FILE
local function written(option)
  return (option.letter ~= "" and "-" .. option.letter .. ", " or "") .. "--" .. option.name ..
      (option.value ~= "" and " " .. option.value or "")
end

local function form(command) return command.name .. (command.words ~= "" and " " .. command.words or "") end

local function put_rows(d, key, rows)
  d:inside(d.table, { { "", key = key }, { "", key = "says", wrap = true } }, rows)
end

local function put_options(d, t, wanted)
  local rows = {}
  for _, option in ipairs(t.options) do
    if wanted(option) then rows[#rows + 1] = { written(option), option.says } end
  end
  put_rows(d, "option", rows)
end

local function put_formats(d, t, command)
  local rows, messages = {}, {}
  for _, f in ipairs(t.formats) do
    if not command or command.gives >= f.holds then rows[#rows + 1] = { f.name, f.says } end
    if f.messages then messages[#messages + 1] = f.name end
  end
  d:heading("Formats")
  put_rows(d, "format", rows)
  d:inside(d.para, "Messages have " .. table.concat(messages, ", ") .. ".")
end

local function put_all(d, t)
  d:head("usage: stringline COMMAND [WORD ...] [OPTION ...]")
  d:gap()
  local rows = {}
  for i, c in ipairs(t.commands) do rows[i] = { form(c), c.says } end
  put_rows(d, "command", rows)
  d:gap()
  put_options(d, t, function() return true end)
  put_formats(d, t)
  d:heading("Exit status")
  rows = {}
  for i, s in ipairs(t.statuses) do rows[i] = { tostring(s.number), s.says } end
  put_rows(d, "status", rows)
  d:gap()
  d:para("`stringline help COMMAND` tells more of a command.")
end

local function put_one(d, t, c)
  d:head("usage: stringline " .. form(c) .. " [OPTION ...]")
  d:gap()
  d:inside(d.para, c.says:sub(1, 1):upper() .. c.says:sub(2) .. "." .. (c.more ~= "" and " " .. c.more or ""))
  if c.name == "reference" then
    local rows = {}
    for i, part in ipairs(t.parts) do rows[i] = { part.name, part.says } end
    d:heading("Parts")
    put_rows(d, "part", rows)
  end
  d:heading("Options")
  put_options(d, t, function(option) return option.of[c.name] and option.name ~= "version" end)
  put_formats(d, t, c)
  d:heading("Example")
  d:inside(d.code, c.example)
end

return function(name)
  local t = host.command_line()
  local d = document.new("help", name and "Help: " .. name or "Help")
  if not name then put_all(d, t) end
  for _, c in ipairs(t.commands) do if c.name == name then put_one(d, t, c) end end
  return d
end
