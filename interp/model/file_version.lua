-- SPDX-License-Identifier: MIT
-- Versions of place and house files, and of those that they use.  A file says which it is at its top,
-- version "2026-03"; a job that is to keep its verdict holds to one, house { "two-ridges", version = "2026-03" }, and
-- what a file was before is kept beside it under a name of its own, two-ridges.2026-03.sline.  Loaded when somebody
-- speaks of a version.
local run = import "model.run"
local file_version = {}

-- ---- as a file says it ---------------------------------------------------------------------------------------------

-- Behind blanks and comments.
local function skipped(text, at)
  while true do
    at = text:match("^%s*()", at)
    local level = text:match("^%-%-%[(=*)%[", at)
    if level then
      local _, stop = text:find("]" .. level .. "]", at, true)
      if not stop then return #text + 1 end
      at = stop + 1
    elseif text:find("^%-%-", at) or at == 1 and text:find "^#" then at = text:find("\n", at, true) or #text + 1
    else return at end
  end
end

-- The version that a text says at its top, behind its language alone; nil where it says none there.
local function said(text)
  local at = skipped(text, 1)
  local behind = text:match("^language%s*%(?%s*[\"']%d+[\"']%s*%)?()", at)
  at = skipped(text, behind or at)
  local _, version = text:match("^version%s*%(?%s*([\"'])(.-)%1", at)
  return version
end

local function raise(code, s, text, help)
  host.raise { code = code, text = text, help = help, source = s.source, line = s.line, col = s.col, len = s.len }
end

-- It is part of a file's name.
local function is_version(v) return type(v) == "string" and v:find "^%w[%w_.-]*$" ~= nil end

local written = 'letters, digits, "-", "." and "_", as in "2026-03"'

-- The word of a file: what stands at its top, for good.
function file_version.told(f, version, refuse)
  if not is_version(version) then
    refuse("version", "version needs its name in quotes, got " .. host.describe(version), "it has " .. written, "E005")
  end
  if f.version or said((host.read(f.path))) ~= version then
    refuse("version", "version stands at the top of a file, behind its language alone, and once",
        'write version "' .. version .. '" there', "E005")
  end
  f.version = version
end

-- ---- as a job wants it ---------------------------------------------------------------------------------------------

-- The name and the version of { "two-ridges", version = "2026-03" }.
function file_version.pinned(role, raw)
  local source, line = host.where()
  local mark = host.head(source, line, role)
  local function refuse(code, p, text, help, key)
    local s = p[1] and host.span(source, mark, line, p, key) or host.word(source, line, role)
    raise(code, s, role .. ": " .. text, help)
  end
  local example = role .. ' { "two-ridges", version = "2026-03" }'
  for k in host.sorted(raw) do
    if k ~= 1 and k ~= "version" then
      local near = type(k) == "string" and host.nearest(k, { "version" })
      refuse("D001", { k }, type(k) == "string" and "no field '" .. k .. "'" or "one file, got a second", near and
          "did you mean 'version'?" or "as in " .. example, type(k) == "string")
    end
  end
  if type(raw[1]) ~= "string" then
    refuse("D002", {}, "the name of the file is missing", "as in " .. example)
  end
  if raw.version == nil then
    refuse("D002", {}, "no version is named", 'write version = "2026-03", or ' .. role .. ' "' .. raw[1] ..
        '" for what is there')
  end
  if not is_version(raw.version) then
    refuse("D003", { "version" }, "a version is a text, got " .. host.describe(raw.version),
        "it has " .. written)
  end
  return raw[1], raw.version
end

local function version_at(path)
  local ok, text = pcall(host.read, path)
  if ok then return said(text) or false end
end

-- The path of that version of a file: the file itself, found at `path`, or the one that is kept under the version's
-- name.  Raises what was found instead.
function file_version.find(role, name, ending, path, version)
  local stem, tail = name, ending
  if ending == "" then stem, tail = name:match "^(.*)(%.%w+)$" end
  local found, looked = {}, { { path = path, name = name .. ending } }
  local kept = stem .. "." .. version
  local other, instead = host.find(kept, tail)
  looked[2] = { path = other or instead, name = kept .. tail }
  for _, x in ipairs(looked) do
    local is = version_at(x.path)
    if is == version then
      run.named[x.path] = run.named[x.path] or { word = role, name = x.name }
      return x.path
    end
    found[#found + 1] = is and x.name .. " says version " .. is or
        x.name .. (is == nil and " is not there" or " says no version")
  end
  local source, line = host.where()
  local what = (role == "use" and "" or role .. " ") .. name
  raise("F021", host.word(source, line, role), "no version " .. version .. " of " .. what .. " is there: " ..
      table.concat(found, ", "), "keep each version that a job holds to beside the file of today, as " .. kept ..
      tail .. ', with version "' .. version .. '" at its top')
end

return file_version
