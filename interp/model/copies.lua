-- SPDX-License-Identifier: MIT
-- What a declaration is to be like, and declarations that are changed: a script without either does not load this.
local run = import "model.run"
local schema = import "model.schema"
local record = import "model.record"
local like = import "model.like"
local build = import "model.build"
local copies = {}

local inside, refuse = record.inside, build.refuse

-- The record that a declaration is to be like.
function copies.meant(rec, value)
  local def, name, found = rec.def, rec.name, nil
  local ctx = build.context(def, name, { source = rec.source, line = rec.line, mark = rec.mark, from = rec.from }, {})
  local function refuse_like(text, help)
    local s = ctx.span { "like" }
    host.raise { code = "D014", text = ctx.what .. text, help = help,
        source = s.source, line = s.line, col = s.col, len = s.len }
  end
  for _, kind in ipairs(def.by.like.of) do
    local one = type(value) == "string" and record.group(schema.kinds[kind]).by[value]
    if one and found then
      refuse_like(": 'like' may mean " .. record.title(inside[found].def, value) .. " or " ..
          record.title(inside[one].def, value), "give one of them another name")
    end
    found = found or one
  end
  if not found and value == name then
    refuse_like(" cannot be like itself", "like = ... names what stands above it and is not called '" .. name .. "'")
  end
  return found or ctx.ref(def.by.like.of, value, { "like" })
end

-- west:with { tilt = 30deg }: a declaration changed, to be declared under a name or to be what others are like.  It is
-- a type without a name, and kept nowhere.
function copies.with(proxy, changes)
  local of = inside[proxy]
  local source, line = host.where()
  local at = { source = source, line = line, mark = host.head(source, line, "with") }
  if run.settled then
    refuse(at, "E002", "with makes a copy for declaring, but the script is over",
        "write it outside the functions of rules")
  end
  if not (run.is_record(proxy) and not of.group and of.def.template) then
    local names = {}
    for _, k in ipairs(schema.all()) do if k.template and not k.partial then names[#names + 1] = k.name end end
    local what = of and of.path and of.path ~= "" and of.path or host.describe(proxy)
    refuse(at, "D025", "with makes a changed copy of a declaration, and " .. what .. " is none that may be copied",
        "there are copies of " .. table.concat(names, ", ") .. ", as in west:with { tilt = 30deg }; what is inside " ..
        "one is changed there, as in west:with { posts = { size = \"6x6\" } }")
  end
  local title = "a copy of " .. record.title(of.def, of.name)
  if type(changes) ~= "table" or inside[changes] then
    refuse(at, "D016", title .. " needs its table, got " .. host.describe(changes), "as in west:with { tilt = 30deg }")
  end
  changes = build.copy(changes, title)
  if changes.like ~= nil then
    refuse(at, "D016", title .. " is like that one already", "leave `like` out")
  end
  changes.like = proxy
  local rec = { def = of.def.template, path = of.path, source = source, line = line, mark = at.mark, title = title,
      copy = true }
  local raw = like.take_over(rec, changes, nil, function(base) return base end)
  rec.raw = raw
  build.read_fields(rec, build.context(rec.def, nil, rec, {}))
  local made = record.wrap(rec)
  like.follow(made)
  return made
end

return copies
