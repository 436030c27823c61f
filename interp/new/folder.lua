-- SPDX-License-Identifier: MIT
-- `stringline new FOLDER`: the files beside this one, made for the ways that were asked for, as the folder of a job.
--
-- A template is written as its file will be, but for lines `@ words`: what follows is kept where one of the words is a
-- way of this job (off-grid, grid-tied or neither; US or SI; all); and for {{name}}, {{in US|in SI}}.
local document = import "write.document"
local util = import "model.util"

-- What is written, from which template, and what it is for.
local files = {
  { "job.sline", "job.sline", "the job: what you found out, what you would build" },
  { "place.sline", "place.sline", "the limits of the office, for all jobs there" },
  { "house.sline", "house.sline", "your own limits and habits, for all your jobs" },
  { "parts/modules.csv", "modules.csv", "modules, off their data sheets" },
  { "parts/clamps.csv", "clamps.csv", "clamps, off theirs" },
  { "prices/yard.csv", "yard.csv", "what a vendor asks; one file for each" },
}

local function wrong(text, help) host.raise { code = "U011", text = text, help = help } end

-- The name of the job: the last part of the path. It stands in quotes in the script, and in commands to type.
local function name_of(path)
  local name = path:gsub("/+$", ""):match "[^/]*$"
  local example = "as in: stringline new farm"
  if name == "" or name == "." or name == ".." then wrong("'" .. path .. "' names no new folder", example) end
  local unsafe, help = host.unsafe(path)
  if unsafe then wrong("the folder's name holds " .. unsafe, help) end
  local odd = path:match '["\\]'
  if odd then wrong("the folder's name holds " .. odd .. ", which a script would not take in a name", example) end
  if path:sub(1, 1) == "-" then
    wrong("the folder's name begins with a dash, as an option does", "as in: stringline new ./" .. path)
  end
  return name
end

local function ways_of(o)
  if o.grid_tied and o.off_grid then
    host.raise { code = "U006", text = "--grid-tied and --off-grid do not go together",
        help = "say one of the two, or none: then both stand in the script to choose from" }
  end
  return { all = true, [o.grid_tied and "grid-tied" or o.off_grid and "off-grid" or "neither"] = true,
      [o.metric and "SI" or "US"] = true }
end

-- Words that depend on what the strings feed: in a job that does not say it yet, on an inverter.
local function words_of(name, ways)
  local box = ways["off-grid"] and "controller" or "inverter"
  local grid = not ways["off-grid"]
  return { name = name, box = box, series = grid and "8" or "4", parallel = grid and "1" or "2",
      joined = grid and "inverter" or "array" }
end

local function made(template, words, ways)
  local kept, out = true, {}
  for line in import("new." .. template):gmatch "[^\n]*\n" do
    local only = line:match "^@ (.*)\n"
    if only then
      kept = false
      for way in only:gmatch "%S+" do kept = kept or ways[way] end
    elseif kept then
      out[#out + 1] = line:gsub("{{(.-)}}", function(text)
        local us, si = text:match "^(.*)|(.*)$"
        if us then return ways.SI and si or us end
        return words[text] or error(template .. " has no {{" .. text .. "}}")
      end)
    end
  end
  return table.concat(out)
end

return function(o)
  local path = o.words[1]
  local name, ways = name_of(path), ways_of(o)
  local words, texts = words_of(name, ways), {}
  for i, f in ipairs(files) do texts[i] = { f[1], made(f[2], words, ways) } end
  host.new_folder(path, texts)
  local folder = path:gsub("/*$", "/")
  local d = document.new("new", "New: " .. name)
  d:para(path .. " holds a job to begin with, at stage quote. Nothing that protects people is filled in: no wind, " ..
      "snow, frost, soil, voltage or limit.")
  d:gap()
  local rows = {}
  for i, f in ipairs(files) do rows[i] = { f[1], f[3] } end
  d:inside(d.table, { { "", key = "file" }, { "", key = "holds", wrap = true } }, rows)
  d:heading("What to type next")
  local script = util.typed(folder .. "job.sline")
  rows = {
    { "stringline form " .. script, "what to find out, by place: for paper and pencil" },
    { "stringline check " .. script, "judges it: what is broken, what is still to find out" },
    { "stringline run " .. script, "the whole report" },
  }
  d:inside(d.table, { { "", key = "command" }, { "", key = "says", wrap = true } }, rows)
  d:para(util.list { "`stringline describe rack`", "`stringline describe site.wind`" } ..
      " tell what a word means and takes.")
  return d
end
