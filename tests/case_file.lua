-- SPDX-License-Identifier: MIT
-- Files of cases, which a person writes by hand:
--
--   Prose about the topic.
--
--   === name
--   helpless: why
--   --- job.sline
--   any lines
--   --- stringline check job.sline
--   what comes on standard error
--   --- shows BROKEN R41
--   the paragraphs of the report that begin with these words
--   --- exit 2
--
-- A part is all lines up to the next line that begins with `--- ` or `=== `, blank lines too; blank lines behind `exit`
-- part the cases. A part with other bytes is written `--- bytes NAME`: there \\ \t \r \xNN stand for a byte, and a line
-- that ends in a single \ has no line end.
local case_file = {}

-- Characters that are not seen, or not for what they are.
local UNSEEN = { [0xFEFF] = true }
for code = 0x7F, 0xA0 do UNSEEN[code] = true end
for code = 0x2000, 0x200F do UNSEEN[code] = true end
for code = 0x2028, 0x202F do UNSEEN[code] = true end
for code = 0x205F, 0x2069 do UNSEEN[code] = true end

local function is_plain(text)
  if not utf8.len(text) or text:find("[%z\1-\9\11-\31]") or text:find("[^\n]$") then return false end
  if ("\n" .. text):find("\n===[ \n]") or ("\n" .. text):find("\n%-%-%-[ \n]") then return false end
  for _, code in utf8.codes(text) do
    if UNSEEN[code] then return false end
  end
  return true
end

local NAMED = { ["\t"] = "\\t", ["\r"] = "\\r", ["\\"] = "\\\\" }
local function escaped(bytes) return (bytes:gsub(".", function(c) return ("\\x%02X"):format(c:byte()) end)) end

local function encoded(text)
  local out, at = {}, 1
  while at <= #text do
    local byte = text:sub(at, at)
    local code = utf8.len(text, at, at) and utf8.codepoint(text, at)
    local size = code and #utf8.char(code) or 1
    local whole = text:sub(at, at + size - 1)
    if NAMED[byte] then out[#out + 1] = NAMED[byte]
    elseif byte == "\n" then out[#out + 1] = byte
    elseif not code or code < 0x20 or UNSEEN[code] then out[#out + 1] = escaped(whole)
    else out[#out + 1] = whole
    end
    at = at + size
  end
  local lines = ("\n" .. table.concat(out)):gsub("\n([-=])(%1%1[ \n])", function(c, rest)
    return "\n" .. escaped(c) .. rest
  end):sub(2)
  return lines:find("[^\n]$") and lines .. "\\\n" or lines
end

local BYTES = { t = "\t", r = "\r", ["\\"] = "\\", ["\n"] = "" }
local function decoded(text)
  local out, at = {}, 1
  while true do
    local slash = text:find("\\", at, true)
    if not slash then break end
    out[#out + 1] = text:sub(at, slash - 1)
    local after = text:sub(slash + 1, slash + 1)
    local hex = text:match("^x(%x%x)", slash + 1)
    out[#out + 1] = hex and string.char(tonumber(hex, 16)) or BYTES[after] or error("no such escape: \\" .. after, 0)
    at = slash + (hex and 4 or 2)
  end
  return table.concat(out) .. text:sub(at)
end

-- A part's text as bytes, and back; `part.bytes` follows what the text needs.
function case_file.text(part) return part.bytes and decoded(part.body) or part.body end
function case_file.set_text(part, text)
  part.bytes = not is_plain(text)
  part.body = part.bytes and encoded(text) or text
end

local function heading(line)
  local bytes, words = line:match("^%-%-%- (bytes )(.*)$")
  words = words or line:sub(5)
  local kind, rest = words:match("^(%S+) ?(.*)$")
  local part = { words = words, bytes = bytes ~= nil, lines = {} }
  if kind == "stringline" then part.kind = "says"
  elseif kind == "shows" and rest ~= "" then part.kind, part.begins = "shows", rest
  elseif kind == "exit" and rest:find("^%d+$") then part.kind, part.status = "exit", math.tointeger(rest)
  elseif kind and rest == "" then part.kind, part.name = "file", kind
  else error("no such part: " .. line, 0)
  end
  return part
end

-- The cases of a file's text. What is not understood raises, with the line.
function case_file.read(text, path)
  local file = { path = path, preamble = {}, cases = {} }
  local into, number, case, part = file.preamble, 0, nil, nil
  local function line_read(line)
    local name = line:match("^=== (%S+)\n$")
    if name then
      case, part = { name = name, head = {}, parts = {}, path = path, line = number }, nil
      file.cases[#file.cases + 1] = case
      into = case.head
    elseif line:find("^===") then
      error("a case begins with `=== NAME`", 0)
    elseif case and line:find("^%-%-%- ") then
      part = heading(line:gsub("\n$", ""))
      case.parts[#case.parts + 1] = part
      into = part.lines
    elseif part and part.kind == "exit" and line ~= "\n" then
      error("only blank lines may stand behind `--- exit`", 0)
    elseif case and not part then
      local key, value = line:match("^(%l+): (.+)\n$")
      if key ~= "helpless" and key ~= "placeless" then
        error("here stands `helpless: why`, `placeless: why` or a part", 0)
      end
      case[key] = value
      into[#into + 1] = line
    else
      into[#into + 1] = line
    end
  end
  for line in text:gmatch("[^\n]*\n?") do
    number = number + 1
    local good, why = pcall(line_read, line)
    if not good then error(("%s:%d: %s"):format(path, number, why), 0) end
  end
  for _, one in ipairs(file.cases) do
    for _, each in ipairs(one.parts) do each.body, each.lines = table.concat(each.lines), nil end
  end
  return file
end

-- The file's text again; what was not set anew is as it was read.
function case_file.written(file)
  local out = { table.concat(file.preamble) }
  for _, case in ipairs(file.cases) do
    out[#out + 1] = "=== " .. case.name .. "\n" .. table.concat(case.head)
    for _, part in ipairs(case.parts) do
      local words = part.kind == "exit" and "exit " .. part.status or part.words
      out[#out + 1] = "--- " .. (part.bytes and "bytes " or "") .. words .. "\n" .. part.body
    end
  end
  return table.concat(out)
end

return case_file
