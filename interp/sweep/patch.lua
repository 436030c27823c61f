-- SPDX-License-Identifier: MIT
-- A variant as a patch of the files in which its values are declared: comments and layout stay byte for byte.
--
-- A patch is given only where the job, declared from the patched texts, is the variant to the last bit: all inputs,
-- results and outcomes.  What cannot be patched is told, with what to put on the command line instead.
local run = import "model.run"
local boot = import "model.boot"
local inputs = import "model.inputs"
local literals = import "model.literals"
local util = import "model.util"
local path_of = import "model.path"
local edit = import "sweep.edit"
local whole = import "sweep.whole"
local unified = import "write.unified"
local patch = {}

-- ---- words of the command line -------------------------------------------------------------------------------------

local function shell(text)
  if text:find "^[%w@%%+=:,./_-]+$" then return text end
  return "'" .. text:gsub("'", "'\\''") .. "'"
end

-- What puts step i of an axis in.
local function put_in(axis, i)
  local list, alternate = {}, axis.alternate(i)
  if alternate then list[1] = "--alternate " .. shell(alternate) end
  for _, text in ipairs(axis.sets(i) or {}) do list[#list + 1] = "--set " .. shell(text) end
  return list[1] and table.concat(list, " ") or nil
end

-- ---- edits of an axis ----------------------------------------------------------------------------------------------

-- last: the entry that comes last of all for a path, which is the one that counts.
local function of_entry(e, last, all)
  if e.file then return edit.of_file(e.file, e.with) end
  if e.vendors then return nil, "say whose prices count, and stand in no declaration" end
  if not e.path then
    return nil, e.drop and "leaves " .. e.drop .. " out" or "adds " .. e.add .. " " .. tostring(e.name)
  end
  if last[e.path] ~= e then return {} end
  local o = { path = e.path, value = e.value, tolerance = e.tolerance, last = last, inputs = all }
  if literals.place(e.path) then return edit.of_literal(o) end
  if path_of.is_limit(e.path) then return edit.of_limit(o) end
  return edit.of_path(o)
end

-- Whether a file is none of the job's folder, but one that was found by STRINGLINE_PATH.
local function is_elsewhere(file)
  local folder = run.declared.script:match "^(.*/)[^/]*$" or ""
  return file:sub(1, #folder) ~= folder or folder == "" and (file:find "^/" or file:find "^%.%./") ~= nil
end

-- The edits that make these entries, or nil and why not.
local function edits_of(axis, entries, last, all)
  local list = {}
  for _, e in ipairs(entries) do
    local edits, why = of_entry(e, last, all)
    if not edits then return nil, (e.path and e.path ~= axis.name and e.path .. " " or "") .. why end
    table.move(edits, 1, #edits, #list + 1, list)
  end
  for _, e in ipairs(list) do
    if is_elsewhere(e.file) then
      return nil, "stands in " .. e.file .. ", which is not in the job's folder: other jobs find it there, too"
    end
  end
  return list
end

-- ---- the patched texts ---------------------------------------------------------------------------------------------

local function same_edit(a, b) return a.at == b.at and a.to == b.to and a.text == b.text end

-- Edits by file, in order, those that are the same once; nil where two want different things of the same bytes.
local function by_file(list)
  local files, order = {}, {}
  for n, e in ipairs(list) do
    if not files[e.file] then
      files[e.file] = {}
      order[#order + 1] = e.file
    end
    table.insert(files[e.file], { at = e.at, to = e.to, text = e.text, n = n })
  end
  table.sort(order)
  for _, file in ipairs(order) do
    local edits, kept = files[file], {}
    table.sort(edits, function(a, b)
      if a.at ~= b.at then return a.at < b.at end
      if a.to ~= b.to then return a.to < b.to end
      return a.n < b.n
    end)
    for _, e in ipairs(edits) do
      local last = kept[#kept]
      local inserts = e.to < e.at
      if not last or e.at > last.to and not (inserts and same_edit(last, e)) then kept[#kept + 1] = e
      elseif not same_edit(last, e) then return nil end
    end
    files[file] = kept
  end
  return files, order
end

local function patched(list)
  local files, order = by_file(list)
  if not files then return nil end
  local texts = {}
  for i, path in ipairs(order) do
    local before, bom = host.read(path)
    texts[i] = { path = path, before = before, bom = bom, edits = files[path],
        text = unified.apply(before, files[path]) }
  end
  return texts
end

-- ---- declared both ways --------------------------------------------------------------------------------------------

-- The plan of the job at hand and behind it what these axes put in, as sweep.space has it: an alternate first.
local function plan_with(axes, steps, patched_axes)
  local plan, rest = table.move(run.declared.plan, 1, #run.declared.plan, 1, {}), {}
  for a, axis in ipairs(axes) do
    if steps[a] > 0 and not (patched_axes and patched_axes[a]) then
      local more = axis.plan(steps[a])
      local to = axis.alternate(steps[a]) and axis.kind ~= "rows" and plan or rest
      table.move(more, 1, #more, #to + 1, to)
    end
  end
  return table.move(rest, 1, #rest, #plan + 1, plan)
end

local function lines_of(plan)
  local script = run.declared.script
  return run.aside(function()
    boot.declare { script = script, plan = plan }
    return whole.lines(boot.judge())
  end)
end

-- The lines, or nil and in words why the job is refused so.
local function try_lines(plan, texts)
  local ok, lines = pcall(function()
    if not texts then return lines_of(plan) end
    return host.overlaid(texts, function() return lines_of(plan) end)
  end)
  if ok then return lines end
  if type(lines) ~= "table" or lines.class == "abort" then error(lines, 0) end
  return nil, (host.message(lines))
end

local function moves(axes, steps, path)
  for a, axis in ipairs(axes) do
    for _, e in ipairs(steps[a] > 0 and axis.plan(steps[a]) or {}) do
      if not e.path or e.path == path or literals.place(e.path) then return true end
    end
  end
  return false
end

-- Whether these axes, patched, and the others put in give the same job as all put in; else nil and why not.
local function proved(axes, steps, edits)
  local list, as_text = {}, {}
  for a in ipairs(axes) do
    if edits[a] then
      as_text[a] = true
      table.move(edits[a], 1, #edits[a], #list + 1, list)
    end
  end
  local texts = patched(list)
  if not texts then return nil, "two of the changes want the same place" end
  local want, refused = try_lines(plan_with(axes, steps))
  if not want then return nil, "the job is refused in this variant: " .. refused end
  local got, wrong = try_lines(plan_with(axes, steps, as_text), texts)
  if not got then return nil, "written so, the job is refused: " .. wrong end
  local key = whole.difference(want, got)
  if key then
    return nil, "written so, " .. key .. (moves(axes, steps, key) and " would not be what it is in this variant" or
        " would move as well")
  end
  return texts
end

-- The texts of all axes together; those that spoil it alone are told by refuse(axis, why) and left out.
local function settle(axes, steps, edits, refuse)
  if not next(edits) then return {} end
  local texts, why = proved(axes, steps, edits)
  if texts then return texts end
  local dropped = false
  for a in ipairs(axes) do
    if edits[a] then
      local alone = {}
      for b in ipairs(axes) do alone[b] = b == a and steps[b] or 0 end
      local _, wrong = proved(axes, alone, { [a] = edits[a] })
      if wrong then
        dropped, edits[a] = true, nil
        refuse(a, wrong)
      end
    end
  end
  if dropped and next(edits) then texts, why = proved(axes, steps, edits) end
  if texts then return texts end
  for a in ipairs(axes) do
    if edits[a] then refuse(a, "together with the others: " .. why) end
  end
  return {}
end

-- ---- names ---------------------------------------------------------------------------------------------------------

-- How patch finds the files: from where the person stands, or, where those paths are absolute or lead upwards, from
-- the job's folder.
local function names_of(texts)
  local odd = false
  for _, t in ipairs(texts) do odd = odd or t.path:find "^/" ~= nil or t.path:find "^%.%./" ~= nil end
  if not odd then return nil end
  return run.declared.script:match "^(.*/)[^/]*$"
end

local function named_from(path, folder)
  if folder and path:sub(1, #folder) == folder then return path:sub(#folder + 1) end
  return path
end

-- What of a file others may read, too: nil of the job's own script.
local function shared(path)
  for _, f in ipairs(run.role_files) do
    if f.path == path then return host.an(f.role) .. " file: every other job that names it" end
  end
  local used = path ~= run.declared.script and run.scripts[path]
  return used and "a file that this script uses: every other that uses it" or nil
end

-- ---- all together --------------------------------------------------------------------------------------------------

local BOM = "\xEF\xBB\xBF"

local function notes_of(texts, edits, axes, folder)
  local notes, facts = {}, {}
  for a in ipairs(axes) do
    for _, e in ipairs(edits[a] or {}) do
      notes[#notes + 1] = e.says
      facts[#facts + 1] = e.fact
    end
  end
  if facts[1] then
    notes[#notes + 1] = util.list(facts) .. (facts[2] and
        " are facts and no choices: the sweep supposed them, so find them out before anybody relies on them" or
        " is a fact and no choice: the sweep supposed it, so find it out before anybody relies on it")
  end
  for _, t in ipairs(texts) do
    local role = shared(t.path)
    if role then
      notes[#notes + 1] = named_from(t.path, folder) .. " is " .. role .. " changes, too"
    end
  end
  return notes
end

-- Of a variant of the job at hand: { text = unified diff, or nil, folder = where to apply it or nil for here, files = {
-- { path, before, after } ... }, left = { { axis, why, set } ... }, notes = { words ... } }.
function patch.of(space, number)
  local axes, steps = space.axes, space.steps(number)
  local entries, last, edits, left, list = {}, {}, {}, {}, nil
  local function all()
    list = list or inputs.all()
    return list
  end
  local function refuse(a, why)
    left[a] = { axis = axes[a].name, step = axes[a].text(steps[a]), why = why, set = put_in(axes[a], steps[a]) }
  end
  for a, axis in ipairs(axes) do entries[a] = steps[a] > 0 and axis.plan(steps[a]) or {} end
  for _, first in ipairs { true, false } do               -- what an alternate brings stands under what is put in
    for a, axis in ipairs(axes) do
      if (axis.alternate(steps[a]) ~= nil and axis.kind ~= "rows") == first then
        for _, e in ipairs(entries[a]) do if e.path then last[e.path] = e end end
      end
    end
  end
  for a, axis in ipairs(axes) do
    if steps[a] > 0 then
      local why
      edits[a], why = edits_of(axis, entries[a], last, all)
      if not edits[a] then refuse(a, why) end
    end
  end
  local texts = settle(axes, steps, edits, refuse)
  local folder, diffs = names_of(texts), {}
  local p = { files = {}, left = {}, notes = notes_of(texts, edits, axes, folder) }
  for i, t in ipairs(texts) do
    local head = t.bom and BOM or ""
    if t.bom then
      for _, e in ipairs(t.edits) do e.at, e.to = e.at + #BOM, e.to + #BOM end
    end
    p.files[i] = { path = t.path, before = head .. t.before, after = head .. t.text }
    diffs[#diffs + 1] = unified.diff(named_from(t.path, folder), head .. t.before, t.edits)
  end
  if diffs[1] then p.text, p.folder = table.concat(diffs), folder end
  for a in ipairs(axes) do if left[a] then p.left[#p.left + 1] = left[a] end end
  return p
end

-- ---- for a person --------------------------------------------------------------------------------------------------

local CAUTION = "Read it before it is applied: a plan that somebody signed is theirs, and what it was made for may " ..
    "hold no more. Local code and makers' instructions go first. With it the job is another one, and so is its " ..
    "sweep: that of this one stays in its store."

-- Not where a line holds what a page shows otherwise, or leaves out at its end: then what is shown is no patch.
local function is_shown_whole(text)
  for line in text:gmatch "[^\n]*" do
    if host.unsafe(line) or line:find "[^ ] +$" or line:find "^[+-] +$" or line:find "^   *$" then return false end
  end
  return true
end

function patch.document(d, p)
  if p.text then
    local exact = is_shown_whole(p.text)
    d:para("As a patch of what is declared" .. (exact and "; apply this page with `patch -p0`" ..
        (p.folder and " in " .. p.folder or " from this folder") .. ":" or ":"))
    if exact then d:code(p.text)
    else
      d:warning("Its lines hold tabs, line ends or blanks at their ends that a page cannot show, so that what " ..
          "stands here cannot be applied: --format json has it byte for byte, as `patch`.")
      d:code(p.text)
    end
    d:note(CAUTION)
  end
  for _, note in ipairs(p.notes) do d:note(note .. (note:find "%.$" and "" or ".")) end
  if #p.left > 0 then
    d:para(p.text and "Not in the patch; beside it write on the command line:" or
        "It cannot be written as a patch. On the command line:")
    for _, l in ipairs(p.left) do
      d:item((l.set or l.axis .. "=" .. l.step) .. ": " .. l.axis .. " " .. l.why)
    end
  end
  d:fact("patch", p.text)
end

return patch
