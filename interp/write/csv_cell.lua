-- SPDX-License-Identifier: MIT
-- A text as one cell of a table for a spreadsheet (RFC 4180).  One that a spreadsheet would take for a formula begins
-- with an apostrophe; a number with its sign, and with its unit, is none.
return function(text)
  if text:find("^[=@\t\r]") or text:find("^[+-]") and not host.literal(text) then text = "'" .. text end
  if text:find('[",\r\n]') then return '"' .. text:gsub('"', '""') .. '"' end
  return text
end
