-- SPDX-License-Identifier: MIT
-- Runs command lines of stringline side by side and keeps what each prints: for tests that are written as text files.
local lanes = {}

-- What a command prints must not depend on who runs the tests.
local SETTINGS = "LC_ALL=C; export LC_ALL; unset NO_COLOR COLUMNS POSIXLY_CORRECT STRINGLINE_PATH; ulimit -t 120\n"

function lanes.quoted(text) return "'" .. text:gsub("'", "'\\''") .. "'" end

function lanes.read(path)
  local file = io.open(path, "rb")
  if not file then return nil end
  local text = file:read("a")
  file:close()
  return text
end

function lanes.write(path, text)
  local file = assert(io.open(path .. ".tmp", "wb"))
  assert(file:write(text))
  assert(file:close())
  assert(os.rename(path .. ".tmp", path))
end

local function first_line(command)
  local pipe = assert(io.popen(command))
  local line = pipe:read("l")
  pipe:close()
  return assert(line, command .. " says nothing")
end

-- Ends the script: nothing stays of the work folder.
function lanes.leave(status)
  if lanes.folder then os.execute("rm -rf " .. lanes.quoted(lanes.folder)) end
  os.exit(status, true)
end

local function shell(path)
  local good, how, number = os.execute("sh " .. lanes.quoted(path))
  if good then return end
  io.stderr:write("lanes: ", how, " ", number, "\n")
  lanes.leave(how == "signal" and 128 + number or 3)
end

-- BINARY [--update] [NAME ...] of a command line; the words that are names come back as a set.
function lanes.options(usage)
  local binary, update, names, any = arg[1], false, {}, false
  local file = binary and io.open(binary, "rb")
  if not file then io.stderr:write("usage: ", usage, ", from the top folder of the project\n") os.exit(2) end
  file:close()
  for i = 2, #arg do
    if arg[i] == "--update" then update = true else names[arg[i]], any = true, true end
  end
  lanes.top = first_line("pwd")
  lanes.binary = binary:sub(1, 1) == "/" and binary or lanes.top .. "/" .. binary
  lanes.folder = first_line("mktemp -d")
  return update, any and names or nil
end

-- Runs each job { command =, folder =, join =, one = } in its folder, two at a time (LANES); gives it out, err and
-- status.  `join` lets both streams go to out, as a terminal shows them; those of the same number `one` run one after
-- the other.
function lanes.run(jobs, settings)
  local count = math.tointeger(os.getenv("LANES") or 2) or 2
  local texts = {}
  for lane = 1, count do
    texts[lane] = { SETTINGS, settings or "", "stringline() { ", lanes.quoted(lanes.binary), ' "$@"; }\n' }
  end
  for i, job in ipairs(jobs) do
    local text, at = texts[(job.one or i) % count + 1], lanes.quoted(lanes.folder .. "/" .. i)
    text[#text + 1] = "cd " .. lanes.quoted(job.folder) .. "\n{ " .. job.command .. "\n} >" .. at .. ".out 2>" ..
                      (job.join and "&1" or at .. ".err") .. " </dev/null\necho $? >" .. at .. ".exit\n"
  end
  local all = {}
  for lane, text in ipairs(texts) do
    local path = lanes.folder .. "/lane" .. lane
    lanes.write(path, table.concat(text))
    all[lane] = "sh " .. lanes.quoted(path) .. " &\n"
  end
  all[#all + 1] = "wait\n"
  lanes.write(lanes.folder .. "/lanes", table.concat(all))
  shell(lanes.folder .. "/lanes")
  for i, job in ipairs(jobs) do
    local at = lanes.folder .. "/" .. i
    job.out, job.err = lanes.read(at .. ".out"), lanes.read(at .. ".err") or ""
    job.status = math.tointeger(lanes.read(at .. ".exit") or -1)
  end
end

-- Makes folders below the work folder, all at once.
function lanes.make_folders(list)
  local quoted = {}
  for i, path in ipairs(list) do quoted[i] = lanes.quoted(path) end
  lanes.write(lanes.folder .. "/make", "mkdir -p " .. table.concat(quoted, " ") .. "\n")
  shell(lanes.folder .. "/make")
end

-- Copies folders whole into the work folder.
function lanes.copy(list, to)
  local lines = {}
  for i, path in ipairs(list) do lines[i] = "cp -R " .. lanes.quoted(path) .. " " .. lanes.quoted(to) .. "\n" end
  lanes.write(lanes.folder .. "/make", table.concat(lines))
  shell(lanes.folder .. "/make")
end

-- The names in a folder that fit a pattern, in order.
function lanes.files(folder, pattern)
  local list, pipe = {}, assert(io.popen("LC_ALL=C ls " .. lanes.quoted(folder)))
  for name in pipe:lines() do
    if name:find(pattern) then list[#list + 1] = name end
  end
  pipe:close()
  return list
end

-- The lines in which two texts differ, as diff shows them.
function lanes.difference(wanted, got)
  lanes.write(lanes.folder .. "/wanted", wanted)
  lanes.write(lanes.folder .. "/got", got)
  local pipe = assert(io.popen("cd " .. lanes.quoted(lanes.folder) .. " && diff -a wanted got"))
  local text = pipe:read("a")
  pipe:close()
  return text
end

return lanes
