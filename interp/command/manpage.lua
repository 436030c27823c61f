-- SPDX-License-Identifier: MIT
-- The manual page, for the man macros: () -> text.
local out

local function line(...) out[#out + 1] = table.concat { ... } end

-- Text of a line: a hyphen is a hyphen, a backslash itself, and no line begins as a request.
local function safe(text)
  text = string.gsub(text, "\\", "\\e")
  text = string.gsub(text, "%-", "\\-")
  return (string.gsub(text, "^([.'])", "\\&%1"))
end
local function bold(text) return "\\fB" .. safe(text) .. "\\fR" end

-- SCRIPT and its like are what a person puts in.
local function words(text)
  return (string.gsub(safe(text), "%u%u+", function(w) return "\\fI" .. w .. "\\fR" end))
end

-- Running text, a new source line where 80 columns are full.
local function text(words_of_it)
  local row = ""
  for word in string.gmatch(words_of_it, "%S+") do
    if row ~= "" and #row + #word > 78 then
      line(row)
      row = ""
    end
    row = row == "" and word or row .. " " .. word
  end
  line(row)
end

local function item(head, says)
  line(".TP")
  line(head)
  text(safe(says))
end

local function sentence(text) return string.upper(string.sub(text, 1, 1)) .. string.sub(text, 2) .. "." end

-- "Of run, check and test.": the names of those that take it.
local function of_commands(t, takes)
  local takers = {}
  for _, c in ipairs(t.commands) do if takes(c) then takers[#takers + 1] = c.name end end
  local last = takers[#takers]
  return "Of " .. (#takers > 1 and table.concat(takers, ", ", 1, #takers - 1) .. " and " .. last or last) .. "."
end

local function option_head(o)
  local letter = o.letter ~= "" and bold("-" .. o.letter) .. ", " or ""
  return letter .. bold("--" .. o.name) .. (o.value ~= "" and " " .. words(o.value) or "")
end

return function()
  local t = host.command_line()
  out = {}
  line('.\\" SPDX-License-Identifier: MIT. Written by `stringline reference man`; do not edit.')
  line('.TH STRINGLINE 1 "" "stringline ', safe(host.version), '" "User Commands"')
  line(".SH NAME")
  line("stringline \\- plan and judge small ground\\-mounted photovoltaic arrays")
  line(".SH SYNOPSIS")
  line(".B stringline")
  line(words "COMMAND", " [", words "WORD", " ...] [", words "OPTION", " ...]")
  line(".SH DESCRIPTION")
  text("A script says what stands on the site, what is bought and what is built, every value with its unit. " ..
      "The program works out the rest, judges it by the rules of trade, codes, county and house, and writes the " ..
      "sheets that are taken into the field. A fact that nobody gave is unknown, never a pass.")
  line("It is a planning aid, not a sealed design.")
  line(".SH COMMANDS")
  for _, c in ipairs(t.commands) do
    item(bold(c.name) .. (c.words ~= "" and " " .. words(c.words) or ""), sentence(c.says))
    if c.more ~= "" then text(safe(c.more)) end
  end
  line(".SH OPTIONS")
  line("An option means the same wherever it stands; a word \\fB\\-\\-\\fR ends them.")
  for _, o in ipairs(t.options) do
    item(option_head(o), sentence(o.says))
    if o.takes > 0 then
      line(of_commands(t, function(c) return o.of[c.name] end))
    end
    if o.value ~= "" then line("As in ", bold(o.example), ".") end
  end
  line(".SH FORMATS")
  for _, f in ipairs(t.formats) do
    item(bold(f.name), sentence(f.says) .. (f.holds > 0 and " " .. of_commands(t, function(c)
      return c.gives >= f.holds
    end) or "") ..
        (f.messages and " Messages have it, too." or ""))
  end
  line(".SH EXIT STATUS")
  for _, s in ipairs(t.statuses) do item(bold(tostring(s.number)), sentence(s.says)) end
  line(".SH ENVIRONMENT")
  item(bold "STRINGLINE_PATH", "Folders, parted by colons, in which place, house, parts and price files are looked " ..
      "for when the job's folder does not have them.")
  item(bold "NO_COLOR", "Where it is set and not empty there is no colour.")
  line(".SH EXAMPLES")
  for _, c in ipairs(t.commands) do
    line(".TP")
    line(bold(c.example))
    text(safe(sentence(c.says)))
  end
  return table.concat(out, "\n") .. "\n"
end
