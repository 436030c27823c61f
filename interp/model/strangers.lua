-- SPDX-License-Identifier: MIT
-- What a script names that is not there, in words: loaded with the first of it.
local run = import "model.run"
local schema = import "model.schema"
local domains = import "model.domains"
local declare = import "model.declare"
local strangers = {}

-- The kinds that stand in the files of a role.
local function allowed_in(role)
  local names = {}
  for _, k in ipairs(schema.all()) do
    if declare.stands_in(k, role) and not k.partial then names[#names + 1] = k.name end
  end
  names[#names + 1] = "types (rack_type and its like)"
  names[#names + 1] = "use"
  return table.concat(names, ", ")
end

-- In this file; base and env: what it reads beside its own names, and those.
function strangers.word(name, file, base, env)
  local names = {}
  for _, k in ipairs(schema.all()) do local _ = base[k.name] end          -- those of all domains
  for _, word in ipairs(domains.file_words()) do local _ = base[word] end
  for k in host.sorted(base) do names[#names + 1] = k end
  for k in host.sorted(env) do if k ~= "_K" then names[#names + 1] = k end end
  local near, why = host.nearest(name, names), host.left_out(name)
  local help, text = near and "did you mean '" .. near .. "'?", "nothing is called '" .. name .. "'"
  if not near and string.find(name, "^%u[%u%d]*$") then help = "the number of a part stands in quotes" end
  if declare.words()[name] then
    text = name .. " does not belong in " .. host.an(file.role) .. " file" ..
        (file.used and ", and " .. file.whose .. " uses this one" or "")
    help = host.an(file.role) .. " file may say " .. allowed_in(file.role)
  elseif why then text, help = "'" .. name .. "' is not there for scripts", why end
  local s = declare.place_of(name)
  host.raise { code = "E001", text = text, help = help, source = s.source, line = s.line, col = s.col, len = s.len }
end

function strangers.primitive(k)
  local names = {}
  for _, op in ipairs(primitives()) do names[#names + 1] = op.name end
  table.sort(names)
  local near = type(k) == "string" and host.nearest(k, names)
  host.raise { code = "E001", text = "calc has no primitive '" .. tostring(k) .. "'",
      help = near and "did you mean '" .. near .. "'?" or nil }
end

-- Raises the first file that was to stand for one that the job does not name, and the first vendor without a price.
function strangers.unmet()
  for name, o in host.sorted(run.instead) do
    if not o.used then
      local names = {}
      for _, f in ipairs(host.files_read()) do names[#names + 1] = run.named[f.path] and run.named[f.path].name end
      local near = host.nearest(name, names)
      host.raise { code = "D019", text = o.from .. ": the job names no file " .. name,
          help = near and "did you mean '" .. near .. "'?" or names[1] and "it names " .. table.concat(names, ", ") }
    end
  end
  for _, vendor in ipairs(run.vendors or {}) do
    local known = run.prices and run.prices.vendors or {}
    if not known[vendor] then
      local near = host.nearest(vendor, known)
      host.raise { code = "D019", text = run.vendors.from .. ": no price list has the vendor " .. vendor,
          help = near and "did you mean '" .. near .. "'?" or known[1] and "there are " .. table.concat(known, ", ") or
              'the job reads no prices: name a list of them, as in prices "prices/yard.csv"' }
    end
  end
end

function strangers.open_alternate(a)
  host.raise { code = "D016", text = 'alternate "' .. a.name .. '" has no table',
      help = 'write alternate "' .. a.name .. '" { ... } with the brace on the same line',
      source = a.place.source, line = a.place.line, col = a.place.col, len = a.place.len }
end

-- Whether a script says what only a place or a house file says: which of the two.
local function meant_as()
  for _, g in host.sorted(run.groups) do
    local files = g.order[1] and g.def.files
    if files and not declare.stands_in(g.def, "job") and declare.roles[files[1]] then return files[1] end
  end
end

function strangers.no_job(file)
  local role = meant_as()
  host.raise { code = "D010", text = "no job is declared: " .. schema.kinds.job.says, source = file.source, line = 0,
      help = role and "it reads as " .. host.an(role) .. " file, which is judged with a job that names it: " .. role ..
          ' "..."'
          or 'write job { name = "...", client = "...", stage = "quote" } at its top' }
end

return strangers
