-- SPDX-License-Identifier: MIT
-- A job judged where its tolerances end: what holds as written and does not at a corner of them.
--
-- Few tolerances are tried at all their corners. Of many: each by itself at both ends, the corners to which those
-- point (for each outcome, all at the ends at which it is closer to its limit), and samples between, drawn so that
-- each tolerance is met in as many places as there are samples. None of this finds what is worst somewhere inside.
local anew = import "model.anew"
local record = import "model.record"
local variants = import "model.variants"
local trial = import "model.trial"
local corners = {}

local key_of = variants.key

local most_at_all_corners, most_pointed, samples, seed = 5, 16, 64, 20177

-- ---- one point -----------------------------------------------------------------------------------------------------

-- Values for how far each tolerance is off its middle, -1 to 1 and else not at all, and where that is:
-- { { path, value } ... }.
local function point(list, offs)
  local values, at = {}, {}
  for i, off in host.sorted(offs) do
    local t = list[i]
    local v = host.like(t.value, host.si(t.value) + off * host.si(t.tolerance))
    values[t.path], at[#at + 1] = v, { path = t.path, value = v }
  end
  return values, at
end

-- The outcomes there, by key; where the job as a whole is refused, each of those that hold by itself.
local function judged(values, holds, rules)
  local outcomes, by = variants.judge(values, rules), {}
  if outcomes then
    for _, o in ipairs(outcomes) do by[key_of(o)] = o end
    return by
  end
  variants.with(values, function()
    for _, o in ipairs(holds) do
      local outcome, finding, whys = trial.try(o.rule, o.proxy)
      by[key_of(o)] = { rule = o.rule, subject = o.subject, proxy = o.proxy, outcome = outcome, finding = finding,
          whys = whys }
    end
  end)
  return by
end

-- ---- which points --------------------------------------------------------------------------------------------------

-- Numbers that look drawn by lot and are the same in every run: the low bits of the product are the next one.
local function lots()
  local x = seed
  return function(n)
    x = (x * 48271) % 2147483647
    return x % n + 1
  end
end

-- Points so that in each tolerance each of as many equal parts is met once (a Latin hypercube), in the middle of it.
local function sampled(n)
  local draw, list = lots(), {}
  for k = 1, samples do list[k] = {} end
  for i = 1, n do
    local order = {}
    for k = 1, samples do order[k] = k end
    for k = samples, 2, -1 do
      local other = draw(k)
      order[k], order[other] = order[other], order[k]
    end
    for k = 1, samples do list[k][i] = (2 * order[k] - 1) / samples - 1 end
  end
  return list
end

local function all_corners(n)
  local list = {}
  for bits = 0, (1 << n) - 1 do
    local offs = {}
    for i = 1, n do offs[i] = bits >> (i - 1) & 1 == 1 and 1 or -1 end
    list[#list + 1] = offs
  end
  return list
end

-- Whether an outcome may change with a value of the job, which was judged as declared.
local function reaches(path) return anew.shapes(path) or next(variants.reached(path, true)) ~= nil end

-- ---- all of them ---------------------------------------------------------------------------------------------------

local function tried(outcomes)
  local list, found, holds, rules, has = record.tolerances(), {}, {}, {}, {}
  local n = #list
  local how = { tolerances = n, corners = 0, all = n <= most_at_all_corners, samples = 0 }
  if n == 0 then return found, how end
  for _, o in ipairs(outcomes) do
    if o.outcome == "holds" then
      holds[#holds + 1] = o
      if not has[o.rule] then has[o.rule], rules[#rules + 1] = true, o.rule end
    end
  end
  local function try_at(offs, judges)
    local values, at = point(list, offs)
    local fits, why = trial.declarable(values)
    if not fits then how.refused = how.refused or { at = at, text = why } end
    if not fits or judges == false then return {} end
    local by, broken = judged(values, holds, rules), {}
    for _, o in ipairs(holds) do
      local there = by[key_of(o)]
      if there and (there.outcome == "broken" or there.outcome == "unknown") then broken[#broken + 1] = there end
    end
    if #broken > 0 then found[#found + 1] = { at = at, broken = broken } end
    return by
  end
  if how.all then
    for _, offs in ipairs(all_corners(n)) do try_at(offs) end
    how.corners = 1 << n
    return found, how
  end
  local towards = {}                       -- key of an outcome -> for each tolerance the end that is worse for it
  for _, o in ipairs(holds) do towards[key_of(o)] = {} end
  variants.base()
  for i = 1, n do
    local judges = reaches(list[i].path)
    local low, high = try_at({ [i] = -1 }, judges), try_at({ [i] = 1 }, judges)
    for key, there in host.sorted(low) do
      local a, b = there.finding, high[key] and high[key].finding
      if towards[key] and a and b and a.ratio and b.ratio and not host.near(a.ratio, b.ratio) then
        towards[key][i] = a.ratio < b.ratio and -1 or 1
      end
    end
  end
  local met = {}
  for _, o in ipairs(holds) do
    local offs = towards[key_of(o)]
    local ends = {}
    for i, off in host.sorted(offs) do ends[#ends + 1] = i * off end
    local name = table.concat(ends, " ")
    if #ends > 1 and not met[name] and how.corners < most_pointed then
      met[name], how.corners = true, how.corners + 1
      try_at(offs)
    end
  end
  for _, offs in ipairs(sampled(n)) do try_at(offs) end
  how.samples = samples
  return found, how
end

-- Judges the job at the ends of its tolerances. Returns where a rule that holds does not: { { at = { { path, value }
-- ... }, broken = { outcome ... } } ... }, in the order tried; and how that was tried: { tolerances, corners = how
-- many, all = whether those are all, samples, refused = { at, text } of the first where the job cannot be declared }.
function corners.judge(outcomes)
  if outcomes.corners then return table.unpack(outcomes.corners) end
  local found, how = tried(outcomes)
  outcomes.corners = { found, how }
  return found, how
end

return corners
