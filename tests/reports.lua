-- SPDX-License-Identifier: MIT
-- Reports made, mangled and read back, in the host's own Lua: what tests/report_test.c asks for.
local identity = import "write.identity"
local document = import "write.document"
local read = import "write.report_reader"
reports = {}

local function short(text) return host.sha256(text):sub(1, 12) end

-- A report whose block has these lines; %x is the hash of what follows it.
function reports.read(block)
  block = block:gsub("%%x  ([^\n]*)", function(value) return short(value) .. "  " .. value end)
  return read("t - quote:\nall hold.\n\nx\n\nMade from\n---------\nstringline  0.1.0\n" .. block)
end

-- Values and names as they went in and came back, at several widths and as a page for a browser.
function reports.back()
  local values = { "a=1", "run['array to shed'].wire=4 AWG", "job.client=a  b   c ", " lead", "x=" .. ("long"):rep(40),
      "x=" .. ("long and  "):rep(30), "tab\there\nand a line", "back\\slash \\x20 \\", "\xFF\xC3\xA9 é", "<b>&amp;`x`",
      "0123456789ab 0123456789ab", "", "a b\u{A0}c" }
  local facts = { { what = "stringline", version = "0.1.0" } }
  for _, v in ipairs(values) do facts[#facts + 1] = { what = "set", value = v } end
  for _, writer in ipairs { { "text", 40 }, { "text", 60 }, { "text", 80 }, { "text", 132 }, { "html" } } do
    local d = document.new("report", "Report")
    d.sealed = { text = true, html = true }
    d:para("t: all hold.")
    d:heading(identity.heading)
    d:table({ "", "", { "", wrap = true } }, identity.rows(facts))
    local text = import("write." .. writer[1])(d, { width = writer[2] })
    local r = read(identity.seal(d, text, writer[1]))
    local at = writer[1] .. " " .. (writer[2] or "") .. ": "
    if not r or not r.intact then return at .. "not intact" end
    for i, v in ipairs(values) do
      local got = r.facts[i + 1] and r.facts[i + 1].value
      if got ~= v then return at .. "value " .. i .. ": " .. tostring(got) end
    end
  end
  return "all"
end

local block = "Made from\n---------\nstringline  0.1.0\nscript  0123456789ab  a.sline\n" ..
    "set  " .. short "a=1" .. "  a=1\n"
local bases = { "t: all hold.\n\n" .. block .. "\nThis report: sha256 0123456789ab\n", [[
<!DOCTYPE html><p>t</p><h2>Made from</h2><table><tr><td>stringline</td><td>0.1.0</td></tr></table>
<p>This report: sha256 0123456789ab</p>]], [[
{ "stringline": 1, "verdict": { "text": "t" }, "rules": [ { "id": "R1", "outcome": "holds", "waiver": null } ],
"made_from": [ { "what": "stringline", "version": "0.1.0" },
{ "what": "script", "sha256": "0123456789ab", "path": "a" } ],
"seal": "0123456789ab"
}
]] }
local odd = { '"', "{", "[", "\\u", "\\x", "<", "<!--", "&", "\n", "\r", "\0", "\f", "\27[", "\255", "  ", "Made from" }

-- A hand that is the same every time; each text must be read, or be no report, and nothing else.
function reports.mangled()
  local seed, seen = 12345, {}
  local function any(n)
    seed = (seed * 1103515245 + 12345) % 2147483648
    return seed // 8 % n + 1
  end
  for _, base in ipairs(bases) do
    for _ = 1, 400 do
      local t = base
      for _ = 1, any(5) do
        local at, n, how = any(#t), any(30), any(3)
        if how == 1 then t = t:sub(1, at) .. odd[any(#odd)] .. t:sub(at + 1)
        elseif how == 2 then t = t:sub(1, at) .. t:sub(at + n)
        else t = t:sub(1, at + n) .. t:sub(at) end
      end
      local r = read(t)
      if r ~= nil then assert(type(r.line) == "string" and #r.facts > 0) end
      seen[r == nil] = true
    end
  end
  return tostring(seen[true]) .. tostring(seen[false])
end

-- Patterns that go back from each start would need hours for these.
function reports.long_runs()
  for _, s in ipairs { " ", "<", "<!--", "\27[", "\n", '{"', "[", "This report: sha256 ", "\t\r", "<td>", "&",
      "\\x" } do
    s = s:rep(300000)
    for _, before in ipairs { "", "Made from\n", "<p>", block .. "set  0123456789ab " } do read(before .. s .. "x") end
  end
  local lines = block .. "set  0123456789ab\n" .. ("     a\n"):rep(20000)
  assert(read("t\n\n" .. lines).intact == false)
  return "read"
end

function reports.strange_values()
  local function of(facts, more)
    return read('{"stringline": 1, "verdict": {"text": "t"}, "made_from": ' .. facts .. (more or "") .. "}")
  end
  return tostring(of "5" or of "[]" or of "[5]" or of "{}" or of '[{"what": 5}]' or
      of '[{"what": "script", "sha256": 5}]' or of('[null]', ', "rules": 7'))
end
