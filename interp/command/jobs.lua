-- SPDX-License-Identifier: MIT
-- All jobs of some folders, judged one after the other: what each comes to, and what the house wants to know of it.
local judging = import "host.judging"

-- ---- which scripts are jobs ----------------------------------------------------------------------------------------

-- The text without its comments and without what stands in quotes: whole where either begins and does not end.
local function bare(text)
  local out, at = {}, 1
  while true do
    local from = string.find(text, "[-\"'%[]", at)
    if not from then break end
    local _, to = string.find(text, "^%-%-%[(=*)%[.-%]%1%]", from)
    if not to then _, to = string.find(text, "^%-%-[^\n]*", from) end
    if not to then _, to = string.find(text, "^%[(=*)%[.-%]%1%]", from) end
    local quote = string.match(text, "^[\"']", from)
    if quote then
      to = from
      repeat
        to = string.find(text, "[\\\n" .. quote .. "]", to + 1)
        local escaped = to and string.byte(text, to) == 92
        if escaped then to = to + 1 end
      until not escaped
      to = to or #text
    end
    out[#out + 1] = string.sub(text, at, (to and from or from + 1) - 1)
    if to then out[#out + 1] = " " end
    at = (to or from) + 1
  end
  out[#out + 1] = string.sub(text, at)
  return table.concat(out)
end

-- Whether a script declares a job itself: `job { ... }` stands in it.
local function declares_job(text) return string.find(" " .. bare(text), "[^%w_.:]job%s*[{(]") ~= nil end

-- The jobs of files and folders, { path ... }, each once, and what is none, { path, left_out } ...
local function found(names)
  local list, left, met = {}, {}, {}
  local function add(path, named)
    if met[path] then return end
    met[path] = true
    local text = not named and host.peek(path)
    if not text or declares_job(text) then list[#list + 1] = path
    else left[#left + 1] = { path = path, left_out = "it declares no job" } end
  end
  for _, name in ipairs(names) do
    local inside = host.scripts(name)
    if not inside then add(name, true) end
    for _, f in ipairs(inside or {}) do
      if f.left_out then left[#left + 1] = f else add(f.path) end
    end
    if inside and #inside == 0 then
      host.raise { code = "U009", text = "no script stands in the folder " .. name,
          help = "a job is a file that ends in .sline, as in " .. string.gsub(name, "/*$", "") .. "/job.sline" }
    end
  end
  if #list == 0 then
    host.raise { code = "U009", text = "no job is declared in " .. table.concat(names, ", "),
        help = 'a job says job { name = "...", client = "...", stage = "quote" }' }
  end
  return list, left
end

-- ---- one job -------------------------------------------------------------------------------------------------------

-- How many days there are from the day judged to another one.
local function until_day(record)
  local day_number, on = import("model.schema").day_number, record.given(record.root, "on")
  return function(day) return day and on and day_number(day) - day_number(on) or nil end
end

-- Each vendor's oldest price: { vendor, on, days }, days: how long ago.
local function prices_of(run, days_until)
  local list, by = {}, {}
  for _, p in ipairs(run.prices and run.prices.days or {}) do
    local x = by[p.vendor]
    if not x then
      x = { vendor = p.vendor, on = p.on }
      by[p.vendor], list[#list + 1] = x, x
    elseif p.on < x.on then x.on = p.on end
  end
  for _, x in ipairs(list) do
    local left = days_until(x.on)
    x.days = left and -left
  end
  return list
end

-- Those of them that are older than the limit, or later than the day judged.
local function stale_of(prices)
  local out, most = {}, math.huge
  for _, l in ipairs(import("model.rule").limits_in_force()) do
    if l.name == "price_age" and l.in_force then most = math.min(most, host.si(l.value / host.literal "1d")) end
  end
  for _, p in ipairs(prices) do
    if p.days and (p.days < 0 or p.days > most * (1 + 1e-9)) then out[#out + 1] = p end
  end
  return out
end

local function waivers_of(outcomes)
  local list, met = {}, {}
  for _, o in ipairs(outcomes) do
    local key = o.waiver and o.rule.id .. "\0" .. o.waiver.by
    if key and not met[key] then
      met[key] = true
      list[#list + 1] = { rule = o.rule.id, by = o.waiver.by, as = o.waiver.as, reason = o.waiver.reason,
          on = o.waiver.on }
    end
  end
  return list
end

local function judged(o)
  local run, record = import "model.run", import "model.record"
  local boot, set = import "model.boot", {}
  for i, text in ipairs(o.set) do set[i] = boot.setting(text) end
  local outcomes, status = judging.judge(judging.declare(o, set))
  local verdict = import "write.verdict"
  local root, counts, days_until = record.root, verdict.counts(outcomes), until_day(record)
  local job = { script = o.script, name = record.given(root, "name"), client = record.given(root, "client"),
      stage = root.stage, on = record.given(root, "on"), status = status, judged = counts.rules, hold = counts.holds,
      broken = counts.broken, unknown = counts.unknown, waived = counts.waived, notes = counts.notes,
      withheld = verdict.withheld(outcomes), not_judged = #verdict.not_judged(), by_paper = verdict.by_paper(),
      waivers = waivers_of(outcomes), rules = {}, stale = {} }
  for _, g in ipairs(verdict.groups(outcomes)) do
    local def = g.rule
    if g.outcome == "broken" or g.outcome == "unknown" then
      table.insert(job.rules, { id = def.id, severity = def.severity, says = def.says, outcome = g.outcome })
    end
    if def.id == "R65" and g.outcome == "broken" then job.stale = stale_of(prices_of(run, days_until)) end
  end
  local locate = record.only "locate"
  if locate then
    local from, to = record.given(locate, "valid_from"), record.given(locate, "valid_to")
    job.ticket = { number = record.given(locate, "ticket"), from = from, to = to, days = days_until(to),
        begins = days_until(from) }
  end
  return job
end

-- ---- a state for each ----------------------------------------------------------------------------------------------

local function text_of(value)
  local encode = import "write.encode"
  return encode.text(encode.compact(encode.plain(value)))
end

-- What the command asks of a state, by o.part: which jobs there are; one job in short, or that it cannot be judged; and
-- all of them told.  Between states these are texts.
local parts = {}

function parts.find(o)
  local list, left = found(o.words)
  return 0, text_of(left) .. "\0" .. table.concat(list, "\0") .. "\0"
end

function parts.judge(o, failure)
  if failure then
    return failure.status, text_of { script = o.script, status = failure.status, code = failure.code,
        why = failure.text }
  end
  local job = judged(o)
  return job.status, text_of(job)
end

function parts.tell(o)
  local read = import("write.json_reader").read
  local all, worst = {}, 0
  for i, text in ipairs(o.judged) do
    all[i] = read(text)
    worst = math.max(worst, all[i].status)
  end
  return worst, import "write.jobs"(all, read(o.left), worst, o)
end

return function(o, failure) return parts[o.part](o, failure) end
