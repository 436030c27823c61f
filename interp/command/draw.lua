-- SPDX-License-Identifier: MIT
-- `stringline draw`: views of a job as pages, to a file of the form that its ending names, or all of them to a folder.
local record = import "model.record"
local util = import "model.util"
local set = import "draw.set"
local document = import "write.document"

local function wrong(code, text, help) host.raise { code = code, text = text, help = help } end

local forms = { "pdf", "svg", "dxf", "png" }

-- What a page is as a file of that form.
local function written(form, pages)
  local job = record.root
  if form == "svg" then return host.svg(pages[1]) end
  if form == "dxf" then return host.dxf(pages[1], import("write.words").metric() and 0.001 or 0.0254) end
  local on = record.given(job, "on")
  return host.pages(form, pages, { title = record.given(job, "name") or "Drawings",
      date = on and on .. "T00:00:00Z" or nil })
end

local function form_of(file)
  local ending = file:match "%.(%a+)$"
  local form = ending and ending:lower()
  for _, one in ipairs(forms) do if one == form then return form end end
  wrong("U008", "-o " .. file .. ": its ending does not say which form a drawing has",
      "name it .pdf, .svg, .dxf or .png, as in -o side.pdf")
end

local function none() wrong("U004", "the job has no rack, and nothing is drawn", "drawings are of racks") end

-- The sheets that a word means: "side" those of all racks, "side.east" that of one, "plan.long.2" the second part of
-- one that no sheet holds, "S-101" the sheet of that number, "S-101.2" its second part.  singles: those of racks that
-- stand on the sheet of others.
local function meant(word, list, singles)
  local found, parts, names = {}, {}, {}
  if #list == 0 then none() end
  local function look(one)
    names[#names + 1] = one.name
    if one.name == word or not one.of and (one.view.name == word or one.label == word) then found[#found + 1] = one end
    local function part_of(name) return word:sub(1, #name) == name and word:match("^%.(%d+)$", #name + 1) end
    local part = part_of(one.name) or not one.of and part_of(one.label)
    if part then
      one.part = tonumber(part)
      parts[1] = one
    end
  end
  for _, one in ipairs(list) do look(one) end
  for _, one in ipairs(singles) do look(one) end
  if #found > 0 or parts[1] then return found[1] and found or parts end
  local near = host.nearest(word, names)
  wrong("U004", "there is no view '" .. word .. "'", near and "did you mean '" .. near .. "'?" or "there are " ..
      util.list(names))
end

-- Which sheets there are, drawn or withheld.
local function contents(list, drawn, files)
  local d = document.new("draw", "Drawings")
  local rows, by, columns = {}, {}, { "page", "view", { "scale", key = "scale", wrap = true } }
  for i, one in ipairs(list) do
    rows[i] = { one.label, one.name, "" }
    by[one.label] = rows[i]
  end
  for _, p in ipairs(drawn) do
    local row = by[p.entry.label]
    row.pages, row.scale = (row.pages or 0) + 1, row.scale or p.scale or "text"
    row[3] = p.withheld and "withheld: " .. p.withheld or row.scale .. " on " .. p.paper ..
        (row.pages > 1 and ", " .. row.pages .. " pages" or "")
    local group = p.entry.group
    row[4] = group and import("draw.alike").title(group)
    columns[4] = columns[4] or group and { "racks", wrap = true }
  end
  for _, row in ipairs(rows) do if columns[4] then row[4] = row[4] or "" end end
  d:table(columns, rows)
  if files then
    d:gap()
    for _, f in ipairs(files) do d:item(f) end
  end
  return d
end

-- Names of files: of letters, figures and little else, and no longer than a system takes; the label tells them apart.
local function file_name(p)
  return ((p.label .. "-" .. p.entry.name):gsub("[^%w.-]+", "-"):sub(1, 100))
end

local function to_folder(folder, drawn)
  local files, texts = {}, {}
  local function put(name, text) files[#files + 1], texts[#texts + 1] = folder .. "/" .. name, text end
  put("drawings.pdf", written("pdf", drawn))
  for _, p in ipairs(drawn) do
    for _, form in ipairs { "svg", "dxf" } do put(file_name(p) .. "." .. form, written(form, { p })) end
  end
  host.folder(folder)
  for i, file in ipairs(files) do host.write(file, texts[i]) end
  return files
end

-- (outcomes, status, options) -> status, document or text
return function(outcomes, status, o)
  local word, to = o.words[2], o.output
  if not word then
    local drawn, list = set.draw(function(list) return #list > 0 and list or none() end, outcomes, o)
    return status, contents(list, drawn, to and to_folder(to, drawn))
  end
  if not to then
    wrong("U001", "draw needs to know where " .. word .. " is drawn, and in which form", "as in: stringline draw " ..
        o.words[1] .. " " .. word .. " -o " .. word .. ".pdf")
  end
  if o.format ~= "text" then
    wrong("U006", "--format " .. o.format .. " says nothing of a view: its form is the ending of its file",
        "as in -o " .. word .. ".svg; without a view --format is of the list of pages")
  end
  local form, list = form_of(to), nil
  local function pick(all, singles)
    list = meant(word, all, singles)
    if form ~= "pdf" and #list > 1 then
      wrong("U008", "'" .. word .. "' is " .. #list .. " pages, and " .. to .. " holds one",
          "name one of them, as in " .. list[1].name .. ", or write a .pdf")
    end
    return list
  end
  local drawn = set.draw(pick, outcomes, o)
  if #drawn == 0 then
    wrong("U004", "there is no view '" .. word .. "': that page is not drawn in so many parts",
        "`stringline draw " .. o.words[1] .. "` lists all of them")
  elseif form ~= "pdf" and #drawn > 1 then
    wrong("U008", "'" .. word .. "' is drawn in " .. #drawn .. " parts, and " .. to .. " holds one page",
        "name one of them, as in " .. list[1].name .. ".1, or write a .pdf")
  end
  return status, written(form, drawn)
end
