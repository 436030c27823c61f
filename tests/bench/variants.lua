-- SPDX-License-Identifier: MIT
-- What the bench measures of a job, in the host's Lua: (script) -> functions of n, by name, that do it n times.
local script = ...
local boot = import "model.boot"
local record = import "model.record"
local variants = import "model.variants"

boot.declare { script = script, plan = {} }
boot.judge()
local rules = import("model.rule").all()
local measures = {}

-- All that `check` does, anew, in a state that has all its modules: of a broken job the search for what mends it, too.
function measures.check(n)
  local judging, report, text = import "host.judging", import "write.report", import "write.text"
  local options = { command = "check", script = script, words = { script }, set = {}, format = "text", columns = 80 }
  for _ = 1, n do
    local outcomes, status = judging.judge(judging.declare(options, {}))
    text(report.check(outcomes, status, options), options)
  end
end

-- Goes on where it was when it is called again. changes(i): the inputs of the i-th variant, none of them as declared.
local function along(changes, forced)
  local i = 0
  return function(n)
    if i == 0 and not forced then variants.base(rules) end
    for _ = 1, n do
      i = i + 1
      local outcomes, err = variants.judge(changes(i), rules)
      if not outcomes then error(err, 0) end
    end
  end
end

local function amount(path, step, forced)
  return along(function(i)
    local was = record.at(path)
    return { [path] = host.like(was, host.si(was) + step(i)) }
  end, forced)
end

local function one_of(path, values)
  return along(function(i) return { [path] = values[(i - 1) % #values + 1] } end)
end

local sizes = {}
for _, size in ipairs { "10", "8", "4", "3", "2" } do sizes[#sizes + 1] = host.wire(size) end
-- Each value once, in K.  The electrician's paper was made for the cold as declared: beyond it each variant says anew,
-- of six subjects, why the paper is not for it.
measures.coldest = amount("site.coldest", function(i) return 1e-4 * i end)
measures.colder = amount("site.coldest", function(i) return -1e-4 * i end)
measures.depth = amount("footing.deep.hole_depth", function(i) return (i % 211 + 1) * 0.0254 / 16 end)
measures.columns = one_of("rack.east.columns", { 5, 6, 7, 8 })
measures.wire = one_of("run['array to shed'].wire", sizes)

-- Everything worked out again, whatever the change reaches: in a state that tracks nothing.
local any = amount("site.coldest", function(i) return 1e-4 * i end, true)
function measures.forced(n)
  local before = variants.forced(true)
  any(n)
  variants.forced(before)
end

return measures
