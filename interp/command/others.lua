-- SPDX-License-Identifier: MIT
-- The commands but run and check.  declared(options), judged(options): a job as command.run has it.
local run = {}

local function wrong(code, text, help) host.raise { code = code, text = text, help = help } end

return function(declared, judged)
  function run.rules(o)
    local outcomes, status = judged(o)
    return status, import("write.rules")(outcomes, status, o)
  end

  function run.sheet(o)
    local outcomes, status = judged(o)
    return status, import "write.sheet"(outcomes, status, o.words[2], o)
  end

  function run.draw(o)
    local outcomes, status = judged(o)
    return import "command.draw"(outcomes, status, o)
  end

  -- The options of a job say nothing about what is asked without one.
  local function no_job(o, what, help)
    local given = #o.set > 0 and "set" or o.alternate and "alternate" or o.on and "on"
    if given then wrong("U006", what .. " takes no --" .. given, help(given)) end
  end

  -- The code of a message stands in no script.
  local function explain_code(o, code)
    if string.find(code, "[./]") then
      wrong("U001", "explain needs what to explain, too: a rule or a path",
          "as in: stringline explain " .. code .. " R41")
    end
    no_job(o, "explain of a code", function(option)
      return "as in: stringline explain job.sline R41 --" .. option .. " ..., or stringline explain " .. code
    end)
    return 0, import("write.codes").explain(code)
  end

  function run.explain(o)
    local what = o.words[2]
    if not what then return explain_code(o, o.words[1]) end
    local boot = declared(o)
    import("model.noting").start()
    return 0, import("write.explain").explain(boot, what)
  end

  function run.form(o)
    if #o.words > 0 then return 0, import "write.form"((judged(o))) end
    no_job(o, "a form without a script", function(option)
      return "as in: stringline form job.sline --" .. option .. " ..."
    end)
    import "model.boot"
    return 0, import "write.form"()
  end

  function run.margins(o)
    local outcomes, status = judged(o)
    return status, import("write.margins")(outcomes, status, o)
  end

  function run.test(o) return import "command.test"(o) end

  function run.verify(o)
    return import("write.verify")(o, judged)
  end

  function run.sweep(o) return import "command.sweep"(o) end

  function run.merge(o) return import "sweep.merge"(o) end

  function run.compare(o) return import "write.compare"(o) end

  -- ---- without a job ---------------------------------------------------------------------------------------------

  function run.describe(o)
    import "model.boot"
    return 0, import("write.describe").describe(o.words[1])
  end

  function run.new(o) return 0, import "new.folder"(o) end

  function run.units() return 0, import("write.describe").units() end

  function run.help(o) return 0, import("command.usage")(o.words[1]) end

  local parts = {
    markdown = function() return import("write.describe").reference() end,
    schema = function() return import("write.schema_json")() end,
    man = function() return import "command.manpage"() end,
    bash = function() return import("command.complete").bash() end,
    zsh = function() return import("command.complete").zsh() end,
    fish = function() return import("command.complete").fish() end,
  }

  function run.reference(o)
    local name = o.words[1] or "markdown"
    local row, names = nil, {}
    for i, p in ipairs(host.command_line().parts) do
      names[i] = p.name
      if p.name == name then row = p end
    end
    if not row then
      local near = host.nearest(name, names)
      wrong("U005", "the reference has no part '" .. name .. "'", near and "did you mean '" .. near .. "'?" or
          "it has " .. table.concat(names, ", "))
    end
    if parts[name] then
      if name == "markdown" or name == "schema" then import "model.boot" end
      return 0, parts[name]()
    end
    return 0, table.concat(import("command.names")[name](), "\n") .. "\n"
  end

  return run
end
