-- SPDX-License-Identifier: MIT
-- What a report was made from, so that it can be held against today's: program, tables, rules, files, command line.
local run = import "model.run"
local identity = {}

identity.heading, identity.seal_line = "Made from", "This report: sha256 "

local find = string.find  -- not the scripts' own, which counts its steps
local SHORT = 12          -- hexadecimal digits of a hash where a person reads it

-- As the person gave it; of an absolute path, which is this machine's, the last name.
local function script_path(path)
  if path:find("^/") then return path:match("[^/]*$") end
  return (path:gsub("^%./+", ""))
end

-- { { what, version } or { what, sha256 } or { what, path, sha256 } or { what, value } ... }, always in this order:
-- the program, its tables and rules, the files in the order of reading, which versions places and houses say that they
-- are, what the command line changed.
function identity.facts(options)
  local program = host.program()
  local facts = {
    { what = "stringline", version = program.version },
    { what = "tables", sha256 = program.tables }, { what = "rules", sha256 = program.rules },
  }
  for _, file in ipairs(host.files_read()) do
    local named = run.named[file.path]
    facts[#facts + 1] = { what = named and named.word or "script", path = named and named.name or
        script_path(file.path), sha256 = file.sha256 }
  end
  for _, f in ipairs(run.role_files) do
    if f.version then facts[#facts + 1] = { what = "version", path = f.role .. " " .. f.name, version = f.version } end
  end
  for _, s in ipairs(options.set or {}) do facts[#facts + 1] = { what = "set", value = s } end
  if options.on then facts[#facts + 1] = { what = "on", value = options.on } end
  if options.alternate then facts[#facts + 1] = { what = "alternate", value = options.alternate } end
  return facts
end

local function escaped(bytes)
  return (bytes:gsub(".", function(c) return string.format("\\x%02X", c:byte()) end))
end

-- A name or a value on one line, so that identity.read gets it back out of a wrapped paragraph: a line is broken at
-- single blanks only, and all blanks around a break are one.
local function plain(text)
  if find(text, "^[%w/._-]*$") then return text end              -- as most names are
  text = text:gsub("\\", escaped):gsub("%c", escaped):gsub("\u{A0}", escaped)
  if not utf8.len(text) then text = text:gsub("[\128-\255]", escaped) end
  return (text:gsub("^ ", escaped):gsub(" $", escaped):gsub("  +", function(s) return " " .. escaped(s:sub(2)) end))
end

function identity.read(text)
  return (text:gsub("\\x(%x%x)", function(hex) return string.char(tonumber(hex, 16)) end))
end

-- The same as cells for a person: what, version or short hash, path or value. What is no file has the hash of its
-- value, so that a reader knows which blanks are its own where a long word had to be broken.
function identity.rows(facts)
  local rows = {}
  for i, f in ipairs(facts) do
    rows[i] = { f.what, f.version or (f.sha256 or host.sha256(f.value)):sub(1, SHORT),
        { text = plain(f.path or f.value or "") } }
  end
  return rows
end

-- Puts it at the end of a document whose script was judged; `shown` for people, too.
function identity.put(d, options, shown)
  d:fact("made_from", function(as)
    local list = as.array {}
    for i, f in ipairs(identity.facts(options)) do
      list[i] = as.object { { "what", f.what }, { "version", f.version }, { "path", f.path }, { "value", f.value },
          { "sha256", f.sha256 } }
    end
    return list
  end)
  d.sealed = { json = true, text = shown, html = shown }
  if not shown then return end
  d:heading(identity.heading)
  d:table({ { "", key = "what" }, { "", key = "version or hash" }, { "", key = "name or value", wrap = true } },
      identity.rows(identity.facts(options)))
end

-- The same in a line, at the foot of a sheet: what the report lists.
function identity.foot(d, options)
  identity.put(d, options, false)
  local parts, files = {}, 0
  for _, f in ipairs(identity.facts(options)) do
    if f.version then parts[#parts + 1] = (f.path or f.what) .. " " .. f.version
    elseif f.what == "script" then
      parts[#parts + 1] = "script " .. f.sha256:sub(1, SHORT) .. " " .. plain(f.path)
    elseif f.path then files = files + 1
    elseif f.sha256 then parts[#parts + 1] = f.what .. " " .. f.sha256:sub(1, SHORT)
    else parts[#parts + 1] = f.what .. " " .. plain(f.value) end
  end
  d:gap()
  d:para("Made from " .. table.concat(parts, ", ") .. (files > 0 and " and " .. files .. " more file" ..
      (files == 1 and "" or "s") .. " that the report lists" or "") .. ".")
end

-- ---- the seal ------------------------------------------------------------------------------------------------------

local blank = { [32] = true, [9] = true, [13] = true }

-- What of a text counts: not its colours, not how its lines end. Takes no longer than the text is long, whatever it is.
function identity.bare(text)
  if find(text, "\27", 1, true) then text = text:gsub("\27%[[%d;]*m", "") end
  if host.plain_ends(text) then return text end
  local lines = {}
  for l in (text .. "\n"):gmatch("([^\n]*)\n") do
    local n = #l
    while blank[l:byte(n)] do n = n - 1 end
    lines[#lines + 1] = l:sub(1, n)
  end
  return table.concat(lines, "\n")
end

local function hash_of(lines) return host.sha256(identity.bare(lines)) end

-- By format: a line is added that tells whether all lines above it are as they were written.
local seals = {}

function seals.text(text)
  text = text .. "\n"
  return text .. identity.seal_line .. hash_of(text):sub(1, SHORT) .. "\n"
end

function seals.json(text)                          -- of an object: its last member
  text = text:gsub("\n}\n$", ",\n")
  return text .. '  "seal": "' .. hash_of(text) .. '"\n}\n'
end

function seals.html(text)
  local lines, rest = text:match("^(.*\n)(</body>.*)$")
  return lines .. "<p>" .. identity.seal_line .. hash_of(lines):sub(1, SHORT) .. "</p>\n" .. rest
end

-- The text that a writer made of a document, sealed where the document says so and the format has a place for it.
function identity.seal(document, text, format)
  return document.sealed and document.sealed[format] and seals[format](text) or text
end

return identity
