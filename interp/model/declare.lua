-- SPDX-License-Identifier: MIT
-- What a script may say: the words of its environment, and the files that it names.
local run = import "model.run"
local schema = import "model.schema"
local gather = import "model.gather"
local record = import "model.record"
local path_of = import "model.path"
local build = import "model.build"
local memo = import "model.memo"
local rule = import "model.rule"
local in_force = import "model.in_force"
local compare = import "model.compare"
local domains = import "model.domains"
local no_data = import "model.no_data"
local strangers = import("model.util").later "model.strangers"
local declare = {}

local function here() return run.reading[#run.reading] end

local function place_of(word)
  local source, line = host.where()
  return host.word(source, line, word)
end

declare.place_of = place_of

local function refuse(word, text, help, code)
  local s = place_of(word)
  host.raise { code = code or "E002", text = text, help = help,
      source = s.source, line = s.line, col = s.col, len = s.len }
end

-- ---- files ---------------------------------------------------------------------------------------------------------

-- What a script may name. In a place and in a house file stand the kinds that say so: files = { "place" }.
local roles = {
  place = { ending = ".sline", some = true },
  house = { ending = ".sline", some = true },
  use = { ending = "" },
}
declare.roles = roles

-- Whether a kind stands in the files of a role.
function declare.stands_in(k, role)
  for _, file in ipairs(k.files or {}) do if file == role then return true end end
  return false
end

local environment

-- The name of the file that stands for another, with the ending that this one was written with.
local function instead_of(other, name, ending)
  other.used = true
  local with, own = other.with, ending == "" and string.match(name, "%.%w+$") or ""
  if ending ~= "" and string.sub(with, -#ending) == ending then return string.sub(with, 1, -#ending - 1) end
  return own ~= "" and not string.find(with, "%.%w+$") and with .. own or with
end

-- The path of the file, and its name.
local function open(word, name, ending)
  if type(name) ~= "string" then
    refuse(word, word .. " needs the name of a file, got " .. host.describe(name),
        word .. ' "name"')
  end
  local unsafe, help = host.unsafe(name)
  if unsafe then refuse(word, word .. ": the name of the file holds " .. unsafe, help, "D021") end
  local other = run.instead[name] or run.instead[name .. ending]
  if other then name = instead_of(other, name, ending) end
  local path, looked = host.find(name, ending)
  path = path or looked
  run.named[path] = run.named[path] or { word = word, name = name .. ending }
  return path, name, other ~= nil
end

-- What a file is that is run by itself, and what it uses: what was declared so far says so.
local alone = { __index = function(_, key)
  if key ~= "role" then return nil end
  return record.only "job" and "job" or record.only "authority" and "place" or "house"
end }

local DEEPEST = 40           -- files that name each other in a row: each takes some of the 200 calls in C that Lua has

-- of: { role, whose, name, used }, whose file it is: of a job, a place or a house; used: it is named by another one's.
-- A file without a role is run by itself, or used by one that is.
local function run_file(path, of)
  for _, f in ipairs(run.reading) do
    if f.path == path then
      local names = {}
      for i, g in ipairs(run.reading) do names[i] = g.path end
      names[#names + 1] = path
      host.raise { code = "E003", text = "files name each other in a circle: " .. table.concat(names, " -> "),
          help = "one of them must not name the next" }
    end
  end
  if #run.reading == DEEPEST then
    host.raise { code = "E003", text = "nested too deep: files name each other up to " .. DEEPEST .. " in a row",
        help = "let one file name several others" }
  end
  local file = { path = path, role = of.role, whose = of.whose, name = of.name, used = of.used }
  if not of.role then setmetatable(file, alone).alone = true end
  local changes = run.literals[1] and import("model.literals").of(path) or nil
  local chunk, source, version = host.load(path, environment(file), changes)
  file.source, file.language = source, version
  run.scripts[path] = source
  run.reading[#run.reading + 1] = file
  local ok, value = pcall(host.call, chunk)      -- a script may catch what a file that it names raises
  run.reading[#run.reading] = nil
  if not ok then error(value, 0) end
  return value, file
end

-- A name, or { "two-ridges", version = "2026-03" }: the name, and the version that the job holds to.
local function named(role, what)
  if type(what) ~= "table" or run.is_record(what) then return what end
  return import("model.file_version").pinned(role, build.copy(what, role))
end

local function role_word(role)
  return function(what)
    local name, version = named(role, what)
    local ending = roles[role].ending
    local whole = type(name) == "string" and (string.find(name, "%.lua$") or string.find(name, "%.sline$"))
    local path, stand_in
    ending = whole and "" or ending
    path, name, stand_in = open(role, name, ending)
    if version and not stand_in then path = import("model.file_version").find(role, name, ending, path, version) end
    local key = role .. " " .. path
    if not run.read[key] then
      run.read[key] = true
      local own = { role = role, name = name, path = path }
      run.role_files[#run.role_files + 1] = own
      local _, file = run_file(path, { role = role, whose = role .. " " .. name, name = name })
      own.version = file.version
    end
  end
end

-- What a place or a house file uses is that place's or that house's, and may say what they may; what a job uses may
-- say what a job may.
local function use(what)
  local user = here()
  local name, version = named("use", what)
  local whole = type(name) == "string" and (string.find(name, "%.lua$") or string.find(name, "%.sline$"))
  local ending = whole and "" or type(name) == "string" and ".sline" or ""
  local path, stand_in
  path, name, stand_in = open("use", name, ending)
  if version and not stand_in then path = import("model.file_version").find("use", name, ending, path, version) end
  local key = user.role == "place" and user.whose .. " " .. path or path
  if run.used[key] == nil then
    local value = run_file(path, { role = rawget(user, "role"), whose = user.whose, name = user.name, used = true })
    run.used[key] = { value }
  end
  return run.used[key][1]
end

-- Which version of a file it is, for those that hold to one.
local function version_word(text)
  local f = here()
  if f.role == "job" and not f.used then
    refuse("version", "version stands in a place or a house file, or in one that others use",
        'a job says which it holds to: house { "two-ridges", version = "2026-03" }')
  end
  import("model.file_version").told(f, text, refuse)
end

-- The version that a file was written for; host.load has looked at it already, before it read the rest.
local function language_word(version)
  local file = here()
  local wanted = 'language "' .. host.program().language .. '"'
  if type(version) ~= "string" or not version:find("^%d+$") then
    refuse("language", "language needs the version as a whole number in quotes, got " .. host.describe(version), wanted)
  end
  if file.language ~= math.tointeger(tonumber(version)) then
    refuse("language", "language stands before anything else in a file, and once",
        "write " .. wanted .. " on the first line", "E005")
  end
  if file.language < 1 then
    refuse("language", "there is no version " .. version .. " of the language", "the first is " .. wanted, "E005")
  end
  file.language = nil
end

-- ---- limits, habits, rules, waivers, alternates --------------------------------------------------------------------

-- Limits, and which there are none of: model.limit_words, with the file that says so.
local function limit_word(word)
  return function(raw) import("model.limit_words")[word](raw, here(), refuse) end
end

local function rule_word(raw)
  local source, line = host.where()
  local mark = host.head(source, line, "rule")
  local ctx = { what = type(raw) == "table" and type(raw.id) == "string" and "rule " .. raw.id or "rule" }
  function ctx.span(p, key_only) return host.span(source, mark, line, p, key_only) end
  function ctx.origin(v) return host.origin(v) end
  function ctx.told(_, v) return v end
  function ctx.defaulted() end
  if type(raw) ~= "table" then
    refuse("rule", "rule needs its table, got " .. host.describe(raw),
        'rule { id = "H1", ... }')
  end
  raw = build.copy(raw, "rule")
  local v, wrong = gather.fields(ctx, schema.kinds.rule, raw)
  if wrong then return end
  if v.each and (not schema.kinds[v.each] or schema.not_kept[v.each]) then
    local s = ctx.span({ "each" })
    local near = host.nearest(v.each, schema.words())
    host.raise { code = "R007", text = ctx.what .. ": each names no kind of declaration: '" .. v.each .. "'",
        source = s.source, line = s.line, col = s.col, len = s.len,
                 help = near and "did you mean '" .. near .. "'?" or nil }
  end
  v.scripted, v.place, v.check_place = true, ctx.span({ "id" }), ctx.span({ "check" }, true)
  v.may_waive_unsaid = raw.may_waive == nil
  v.flips_place = v.flips and ctx.span({ "flips" })
  rule.add(v)
end

local function alternate_word(name)
  if type(name) ~= "string" or not name:find("%S") then
    refuse("alternate", "alternate needs a name", 'alternate "six in series" { strings = { series = 6 } }')
  end
  local unsafe, help = host.unsafe(name)
  if unsafe then refuse("alternate", "alternate: its name holds " .. unsafe, help, "D021") end
  local source, line = host.where()
  local open = { name = name, place = place_of("alternate") }
  run.open_alternates[#run.open_alternates + 1] = open
  local function take(bundle)
    if type(bundle) ~= "table" then
      refuse("alternate",
          'alternate "' .. name .. '" needs its table, got ' .. host.describe(bundle), "{ strings = { series = 6 } }")
    end
    if run.alternates[name] then
      refuse("alternate", 'alternate "' .. name .. '" is declared twice',
          "give one of them another name", "D015")
    end
    bundle = build.copy(bundle, 'alternate "' .. name .. '"')
    for k in host.sorted(bundle) do
      if k ~= "drop" and not (type(k) == "string" and schema.kinds[k]) then
        local mark = host.head(source, line, "alternate", name)
        local s = host.span(source, mark, line, { k }, true)
        local near = type(k) == "string" and host.nearest(k, schema.words())
        host.raise { code = "D001", text = 'alternate "' .. name .. '": no declaration \'' .. tostring(k) .. "'",
            source = s.source, line = s.line, col = s.col, len = s.len,
                     help = near and "did you mean '" .. near .. "'?"
                         or "it changes declarations by kind: { rack = { east = { tilt = 30deg } } }" }
      end
      if k ~= "drop" and type(bundle[k]) ~= "table" then
        local s = host.span(source, host.head(source, line, "alternate", name), line, { k })
        host.raise { code = "D003", text = 'alternate "' .. name .. "\": '" .. k .. "' needs a table, got "
            .. host.describe(bundle[k]),
                     help = schema.kinds[k].named and "write the name and the field: " .. k
                         .. ' = { east = { tilt = 30deg } }' or "write the field: " .. k .. " = { ... }",
                     source = s.source, line = s.line, col = s.col, len = s.len }
      end
    end
    run.alternates[name] = bundle
    run.alternates[#run.alternates + 1] = name
  end
  return function(bundle)
    open.closed = true
    gather.attempt(false, take, bundle)
  end
end

-- What a file says of its own rules: `stringline test` of that file keeps it, any other run does not.
local function expect_word(raw)
  if type(raw) ~= "table" or run.is_record(raw) then
    refuse("expect", "expect needs its table, got " .. host.describe(raw),
        'as in expect { "H1", with = { top_edge = 11ft }, outcome = "holds" }')
  end
  local file = here()
  if file.alone and not file.used then import("model.expectation").keep(raw) end
end

-- ---- environments --------------------------------------------------------------------------------------------------

local words      -- every word of the language -> its function

function declare.words() return words end

-- A word that declares, refused once the script is over: judging changes nothing that is judged.
-- hides: see gather.attempt.
local function at_the_top(word, f, hides)
  return function(...)
    if not here() then
      refuse(word, word .. " declares something, but the script is over", "write it outside the functions of rules")
    end
    local declared = gather.attempt(hides, f, ...)
    return declared
  end
end

-- A word that gives a value.
local function valued(f)
  return function(...)
    local value = gather.attempt("value", f, ...)
    return value
  end
end

local function declares(name)
  return schema.kinds[name] or roles[name] or declare.file_words[name] or name == "alternate"
end

-- A word that a domain brings, at its first use; nil if none does.
local function library_word(t, name)
  local k = schema.kinds[name]
  local f = declare.file_words[name] or k and not k.parent and not k.part and build.head(k)
  if f then
    t[name] = at_the_top(name, f, k and "names and value" or "names")
    return t[name]
  end
end

-- Waivers, results of scripts, and what is said of a sweep: loaded at their first use.
local function waive(raw) import "model.waive_word"(raw, refuse) end
local function result_word(raw) import("model.own_results").word(raw) end

local function sweep_word(name)
  return function(raw) import("sweep.words")[name](raw) end
end

local function make_words()
  words = {
    place = role_word "place", house = role_word "house", use = use,
    language = language_word, version = version_word, limits = limit_word "limits",
    no_limit = limit_word "no_limit", result = result_word, rule = rule_word, waive = waive,
    alternate = alternate_word, expect = expect_word,
    no_data = valued(no_data.word),
    each = record.each, given = record.given, limit = rule.limit, print = host.print,
    vary = sweep_word "vary", keep = sweep_word "keep", seek = sweep_word "seek",
  }
  for _, how in ipairs { "measured", "told", "looked_up", "guess" } do words[how] = valued(build.teller(how)) end
  for name, f in next, compare.words do words[name] = f end
  for _, name in ipairs { "place", "house" } do words[name] = at_the_top(name, words[name], "names") end
  words.use = at_the_top("use", use, "names and value")
  for _, name in ipairs { "language", "version", "limits", "no_limit", "result", "rule", "waive", "alternate", "expect",
      "vary", "keep", "seek" } do
    words[name] = at_the_top(name, words[name], false)
  end
  setmetatable(words, { __index = library_word })
  words.calc = setmetatable({}, { __index = function(_, k)
    if type(k) == "string" and calc[k] then return calc[k] end
    strangers.primitive(k)
  end, __newindex = function() host.raise { code = "D008", text = "calc cannot be changed" } end, __metatable = false })
end

local library            -- Lua's safe library, of which each environment has a copy

-- A file's own environment: the language's words, Lua's safe library, and the names that the file itself sets.
local function base_of(role)
  library = library or host.env()
  local base = host.copy(library)
  local function may(name)
    if not role then return true end
    local k = schema.kinds[name]
    return k and declare.stands_in(k, role) or name == "use" or not declares(name) and name ~= "waive"
  end
  for name, f in next, words do if may(name) then base[name] = f end end
  return setmetatable(base, { __index = function(t, name)
    local f = words[name]
    if f == nil or not may(name) then return nil end
    t[name] = f
    return f
  end })
end

function environment(file)
  if not words then make_words() end
  local only = not file.alone and roles[file.role] and roles[file.role].some and file.role or nil
  local base = run.bases[only or "job"]
  if not base then
    base = base_of(only)
    run.bases[only or "job"] = base
  end
  local env = {}
  return setmetatable(env, {
    __index = function(_, name)
      local v = base[name]
      if v == nil and type(name) == "string" then
        return gather.attempt("names and value", strangers.word, name, file, base, env)
      end
      return v
    end,
    __newindex = function(t, name, value)
      if base[name] ~= nil then
        local s = place_of(tostring(name))
        host.raise { code = "E004", text = "'" .. tostring(name) .. "' is a word of the language and cannot be set",
            help = "write `local " .. tostring(name) .. "` or choose another name",
                     source = s.source, line = s.line, col = s.col, len = s.len }
      end
      rawset(t, name, value)
    end,
    __metatable = false,
  })
end

declare.file_words = domains.lazy "file_words"

-- Words that read files of rows (parts, prices) are given by the library.
function declare.file_word(name, reader)
  reader = host.uncounted(reader)
  declare.file_words[name] = function(path)
    local full
    full, path = open(name, path, "")
    local key = name .. " " .. full
    if run.read[key] then
      local first = run.named[full].name
      refuse(name, name .. ' "' .. path .. '" is read twice' .. (first == path and "" or ": it is the file of '" ..
          first .. "'"), "leave one of the two lines out", "D015")
    end
    run.read[key] = true
    reader(full, path)
  end
end

local function refuse_open_alternates()
  for _, a in ipairs(run.open_alternates) do
    if not a.closed then gather.attempt(false, strangers.open_alternate, a) end
  end
end

local function settle()
  if (run.vendors or next(run.instead)) and not run.unsure then gather.attempt(false, strangers.unmet) end
  record.adopt_job()
  gather.attempt(false, in_force.settle)
  memo.engine.doubt()
  build.settle()
end

local function run_job(path)
  local _, file = run_file(path, { role = "job", whose = "job", name = "job" })
  refuse_open_alternates()
  if not record.only "job" then
    if run.unsure then return end            -- it may be what is wrong
    strangers.no_job(file)
  end
  settle()
end

-- Runs the job's script: everything is declared; what the script itself had worked out rested on what stood above it,
-- and is not kept. In a run that gathers, all that is wrong is raised at its end.
function declare.run(path)
  if not run.gathers then return run_job(path) end
  local good, err = pcall(run_job, path)
  run.gathers = false
  if run.hole then import("model.faults").raise(not good and err or nil) end
  if not good then error(err, 0) end
end

-- Runs a file by itself, which may say what any file may: the script of a job, or what a job only names.
function declare.alone(path)
  local name = path:match "[^/]*$"
  local _, file = run_file(path, { whose = name, name = name })
  refuse_open_alternates()
  if record.only "job" then settle()
  else
    in_force.settle()
    memo.engine.doubt()
    build.settle_alone()
  end
  return file
end

return declare
