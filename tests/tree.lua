#!/usr/bin/env lua5.4
-- SPDX-License-Identifier: MIT
-- What holds for the files of the project themselves: tests/tree.lua, from the top folder of the project.
-- Lines have at most 120 columns; each source file says its licence; a suite is named by what it tests; a fuzz target
-- has what it needs; files that need each other stand in no circle; it is known who takes memory beside the account of
-- a run.  A list of exceptions here only shrinks: one that is no longer needed fails too.

local COLUMNS = 120
local SOURCES = { c = true, h = true, re = true, def = true, lua = true, sh = true, awk = true, Makefile = true }
local WRAPPED = { sline = true, md = true }                       -- besides the sources

-- Written by `make docs` from tables of data, whose notes are lines of their own, and by `make mutate`.
local GENERATED = { ["docs/methods.md"] = true, ["docs/mutation.md"] = true, ["docs/reference.md"] = true,
                    ["docs/verification.md"] = true }

-- Too wide still.
local WIDE = {}

-- What takes memory of its own: a run's comes from its account (interp/box/memory.h), and this is none that a run
-- causes, or the account itself.
local MEMORY = {
  ["interp/box/memory.c"] = "where there is no run", ["interp/box/pool.c"] = "the account",
  ["interp/box/sandbox.c"] = "the sandbox itself",
  ["interp/command/folder.c"] = "the names in a folder", ["interp/command/line.c"] = "the command line",
  ["interp/host/csv.c"] = "the names in a folder, of which one was meant", ["interp/host/host.c"] = "the state itself",
  ["interp/host/job.c"] = "what a program in C holds of a job", ["interp/host/message.c"] = "one message",
  ["interp/host/reads.c"] = "the files that were read, of a fixed number", ["interp/main.c"] = "outputs",
  ["interp/paper/paper.c"] = "a font, for as long as the library of pages holds it",
  ["interp/sweep/keeping.c"] = "one row", ["interp/sweep/numbers.c"] = "what of a sweep is done",
  ["interp/sweep/rows.c"] = "one row", ["interp/sweep/workers.c"] = "workers",
  ["interp/write/new_folder.c"] = "paths", ["interp/write/out.c"] = "paths",
}
local TAKES = { "malloc", "calloc", "realloc", "aligned_alloc", "posix_memalign", "strdup", "strndup", "asprintf",
                "vasprintf", "getline", "open_memstream", "scandir", "mmap", "mremap" }

-- Suites that test a subject, which is no C file of interp.
local SUBJECTS = {
  "anew", "bounds", "call_laws", "called", "difference", "document", "domains", "drawn",
  "editions", "fit", "flat", "flips", "formula",
  "graph", "limits", "lua_corpus", "margins", "matrix", "origin", "own_results", "papers", "paste", "paths",
  "pictures", "properties", "property", "record", "report", "results", "reuse", "rule", "run", "scale", "scripted",
  "side_refused", "starved", "steps", "sweep_answer", "sweep_axes", "sweep_patch", "sweep_store", "transcriptions",
  "variants", "whatif",
}

-- ---- the files -----------------------------------------------------------------------------------------------------

local function read(path)
  local file = assert(io.open(path, "rb"))
  local text = file:read "a"
  file:close()
  return text
end

local function kind_of(path) return path:match "%.(%w+)$" or path:match "[^/]*$" end

local paths, exists = {}, {}
do
  local pipe = assert(io.popen("find README.md DEVELOPERS.md Makefile interp stdlib include tests examples docs " ..
                               "-type f | LC_ALL=C sort"))
  for path in pipe:lines() do
    if not path:find "^examples/[^/]*/out/" then
      paths[#paths + 1] = path
      exists[path] = true
    end
  end
  pipe:close()
end

local passed, failed = 0, 0
local function check(name, complaints)
  if #complaints == 0 then
    passed = passed + 1
  else
    failed = failed + 1
    print("not ok " .. name)
    print("    " .. table.concat(complaints, "\n    "))
  end
end

-- Complains of exceptions that are none any longer.
local function unneeded(list, needed, complaints)
  for _, one in ipairs(list) do
    if not needed[one] then complaints[#complaints + 1] = one .. ": take it off the list, it is no exception now" end
  end
end

local function set(list)
  local all = {}
  for _, one in ipairs(list) do all[one] = true end
  return all
end

-- ---- columns -------------------------------------------------------------------------------------------------------

-- A row of a table and a link cannot be broken; what a command prints is shown as it is.
local function may_be_wide(line, in_block) return in_block or line:find "^%s*|" or line:find "%]%(%S+%)" end

local function columns()
  local complaints, excepted, needed = {}, set(WIDE), {}
  for _, path in ipairs(paths) do
    local kind = kind_of(path)
    if (SOURCES[kind] or WRAPPED[kind]) and not GENERATED[path] then
      local number, in_block = 0, false
      for line in read(path):gmatch "([^\n]*)\n?" do
        number = number + 1
        if kind == "md" and line:find "^```" then in_block = not in_block end
        local wide = (utf8.len(line) or #line) > COLUMNS and not (kind == "md" and may_be_wide(line, in_block))
        if wide and excepted[path] then needed[path] = true
        elseif wide then complaints[#complaints + 1] = ("%s:%d: more than %d columns"):format(path, number, COLUMNS)
        end
      end
    end
  end
  unneeded(WIDE, needed, complaints)
  return complaints
end

-- ---- counts --------------------------------------------------------------------------------------------------------

-- What grows is not counted in prose, where nobody counts again; what a command printed is run by tests/docs.sh.
local NUMBERS = { ten = true, eleven = true, twelve = true, dozen = true, twenty = true, thirty = true, forty = true,
                  fifty = true, sixty = true, hundred = true }
local GROWING = { rules = true, tests = true, cases = true, goldens = true, messages = true, suites = true,
                  codes = true, primitives = true, kinds = true, results = true, sheets = true, words = true,
                  formulas = true }

local function counts()
  local complaints = {}
  for _, path in ipairs(paths) do
    if kind_of(path) == "md" and not GENERATED[path] then
      local prose = read(path):gsub("\n```.-\n```", "\n"):gsub("%s+", " ")
      local before = ""
      for word in prose:gmatch "[%w-]+" do
        if GROWING[word] and (NUMBERS[before:lower():match "[^-]*$"] or before:find "^%d%d+$") then
          complaints[#complaints + 1] = ("%s: counts what grows: %s %s"):format(path, before, word)
        end
        before = word
      end
    end
  end
  return complaints
end

-- ---- licence, names ------------------------------------------------------------------------------------------------

local function licences()
  local complaints = {}
  for _, path in ipairs(paths) do
    -- tests/corpus and fuzz/corpus hold texts to be read, not programs of ours
    if SOURCES[kind_of(path)] and not path:find "/corpus/" then
      local head = read(path):match "^[^\n]*\n?[^\n]*"
      if not head:find("SPDX-License-Identifier: MIT", 1, true) then
        complaints[#complaints + 1] = path .. ": no SPDX-License-Identifier in the first two lines"
      end
    end
  end
  return complaints
end

local function suites()
  local complaints, needed, subjects, tested = {}, {}, set(SUBJECTS), {}
  for _, path in ipairs(paths) do
    local name = path:match "^interp/%w+/([%w_]+)%.c$" or path:match "^interp/%w+/([%w_]+)%.re$"
    if name then tested[name] = true end
  end
  for _, path in ipairs(paths) do
    local name = path:match "^tests/([%w_]+)_test%.c$"
    if name and not tested[name] then
      if subjects[name] then needed[name] = true
      else complaints[#complaints + 1] = path .. ": no C file of that name, and no subject on the list"
      end
    end
  end
  unneeded(SUBJECTS, needed, complaints)
  return complaints
end

-- A fuzz target has seeds and a dictionary, which are those of no target that has gone.
local function targets()
  local complaints, names, seeds = {}, {}, {}
  for _, path in ipairs(paths) do
    local name, of = path:match "^tests/fuzz/([%w_]+)_fuzz%.c$", path:match "^tests/fuzz/corpus/([^/]+)/."
    if name then names[name] = true end
    if of then seeds[of] = true end
  end
  for _, path in ipairs(paths) do
    local of = path:match "^tests/fuzz/corpus/([^/]+)/" or path:match "^tests/fuzz/([%w_]+)%.dict$"
    if of and not names[of] then complaints[#complaints + 1] = path .. ": there is no such target" end
    local name = path:match "^tests/fuzz/([%w_]+)_fuzz%.c$"
    if name and not seeds[name] then complaints[#complaints + 1] = path .. ": no seeds" end
    if name and not exists["tests/fuzz/" .. name .. ".dict"] then
      complaints[#complaints + 1] = path .. ": no dictionary"
    end
  end
  return complaints
end

-- ---- memory --------------------------------------------------------------------------------------------------------

local function accounts()
  local takes, needed, complaints = set(TAKES), {}, {}
  for _, path in ipairs(paths) do
    local code = path:find "^interp/.*%.[chr]e?$" and not path:find "^interp/gen/" and
                 read(path):gsub("/%*.-%*/", "") or ""
    for word in code:gmatch "%f[%w_]([%w_]+)%s*%(" do
      if takes[word] and MEMORY[path] then needed[path] = true
      elseif takes[word] then
        complaints[#complaints + 1] = path .. ": " .. word .. ": what a run causes comes from sl_memory_resize"
      end
    end
  end
  local listed = {}
  for path in pairs(MEMORY) do listed[#listed + 1] = path end
  table.sort(listed)
  unneeded(listed, needed, complaints)
  return complaints
end

-- ---- circles -------------------------------------------------------------------------------------------------------

local function module_of(path) return (path:gsub("^%w+/", "", 1):gsub("%.lua$", ""):gsub("/", ".")) end

-- Each Lua file of interp and stdlib, and what it imports, at its beginning or later.
local function modules()
  local graph, path_of = {}, {}
  for _, path in ipairs(paths) do
    if path:find "^interp/.*%.lua$" or path:find "^stdlib/.*%.lua$" then path_of[module_of(path)] = path end
  end
  for name, path in pairs(path_of) do
    graph[path] = {}
    local text = read(path):gsub("%-%-[^\n]*", "")
    for imported in text:gmatch "%f[%w_]import%s*%(?%s*[\"']([%w_.]+)[\"']" do
      if path_of[imported] then table.insert(graph[path], path_of[imported]) end
    end
  end
  return graph
end

local function headers()
  local graph = {}
  for _, path in ipairs(paths) do
    if path:find "^interp/.*%.h$" or path:find "^include/.*%.h$" or path:find "^tests/.*%.h$" then
      graph[path] = {}
      local here = path:match "^(.*/)"
      for name in read(path):gmatch "\n%s*#%s*include%s*[\"<]([^\">]+)[\">]" do
        for _, folder in ipairs { here, "include/", "interp/", "interp/calc/" } do
          if exists[folder .. name] then table.insert(graph[path], folder .. name) break end
        end
      end
    end
  end
  return graph
end

-- The groups of files that reach each other, each in order (Tarjan).
local function circles_of(graph)
  local nodes, found = {}, {}
  for node, edges in pairs(graph) do
    nodes[#nodes + 1] = node
    table.sort(edges)
  end
  table.sort(nodes)
  local index, low, stack, on_stack, count = {}, {}, {}, {}, 0
  local function visit(node)
    count = count + 1
    index[node], low[node] = count, count
    stack[#stack + 1], on_stack[node] = node, true
    local itself = false
    for _, other in ipairs(graph[node]) do
      if other == node then itself = true end
      if graph[other] and not index[other] then
        visit(other)
        low[node] = math.min(low[node], low[other])
      elseif on_stack[other] then
        low[node] = math.min(low[node], index[other])
      end
    end
    if low[node] == index[node] then
      local group = {}
      repeat
        local top = table.remove(stack)
        on_stack[top] = nil
        group[#group + 1] = top
      until top == node
      table.sort(group)
      if #group > 1 or itself then found[#found + 1] = table.concat(group, " ") end
    end
  end
  for _, node in ipairs(nodes) do
    if not index[node] then visit(node) end
  end
  return found
end

local function circles()
  local complaints = {}
  for _, graph in ipairs { modules(), headers() } do
    for _, circle in ipairs(circles_of(graph)) do complaints[#complaints + 1] = "a circle: " .. circle end
  end
  return complaints
end

-- The search itself, on a circle of two that is reached from outside, and on a ladder that holds none.
local function search()
  local found = circles_of { a = { "b", "c" }, b = { "c" }, c = { "d" }, d = { "c" }, e = { "a", "b" } }
  local none = circles_of { a = { "b", "c" }, b = { "c" }, c = {} }
  if #found == 1 and found[1] == "c d" and #none == 0 then return {} end
  return { "finds " .. table.concat(found, "; ") .. " and " .. table.concat(none, "; ") }
end

check("lines have at most " .. COLUMNS .. " columns", columns())
check("prose does not count what grows", counts())
check("each source file says its licence", licences())
check("a suite is called after the C file that it tests", suites())
check("a fuzz target has seeds and a dictionary", targets())
check("memory of a run comes from its account", accounts())
check("circles are found", search())
check("files that need each other stand in no circle", circles())
print(("tree: %d passed, %d failed"):format(passed, failed))
os.exit(failed == 0)
