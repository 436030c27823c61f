-- SPDX-License-Identifier: MIT
-- Rule outcomes as SARIF 2.1.0 (OASIS): each rule once, each outcome a result.
--
-- A rule that holds is "pass"; broken "fail"; unknown "open", which the standard has for what could not be decided;
-- not applicable "notApplicable". Only "fail" has a level (3.27.10). What is waived is suppressed, with who and why.
local encode = import "write.encode"
local words = import "write.words"
local memo = import "model.memo"

local object, array = encode.object, encode.array

local kinds = { holds = "pass", broken = "fail", unknown = "open", ["not applicable"] = "notApplicable" }
local levels = { stop = "error", caution = "warning", note = "note" }

local function text(t) return object { { "text", t } } end

-- A path as a URI: relative ones stay so.
local function uri(path)
  local escaped = string.gsub(path, "[^%w%-._~/]", function(c) return string.format("%%%02X", string.byte(c)) end)
  return string.sub(path, 1, 1) == "/" and "file://" .. escaped or escaped
end

local function artifact(path)
  local relative = string.sub(path, 1, 1) ~= "/"
  return object { { "uri", uri(path) }, { "uriBaseId", relative and "%SRCROOT%" or nil } }
end

local function location(o)
  local s = o.proxy and words.span(o.proxy)
  local subject = o.subject ~= nil and o.subject ~= "" and o.subject or nil
  if not s and not subject then return nil end
  local physical
  if s then
    local from = s.col and s.col > 0 and host.character(s.source, s.line, s.col) or nil
    local past = from and s.len and s.len > 0 and host.character(s.source, s.line, s.col + s.len) or nil
    physical = object { { "artifactLocation", artifact(host.place { source = s.source, line = 0, col = 0 }) },
        { "region", object { { "startLine", s.line }, { "startColumn", from }, { "endColumn", past } } } }
  end
  return array { object { { "physicalLocation", physical },
      { "logicalLocations", subject and array { object { { "fullyQualifiedName", subject } } } } } }
end

local function message(o)
  if o.outcome == "unknown" then return "unknown: " .. words.reasons(o) end
  if o.outcome == "not applicable" then return "not applicable: " .. o.reason end
  local over = words.over(o.finding)
  return o.rule.says .. ": " .. words.finding(o.finding) .. (over and " (" .. over .. ")" or "") .. words.besides(o)
end

local function suppressions(w)
  if not w then return nil end
  return array { object { { "kind", "inSource" }, { "status", "accepted" },
      { "justification", w.reason .. " (" .. words.signer(w) .. ", " .. w.on .. ")" } } }
end

local function result(o, index)
  local kind = kinds[o.outcome]
  return object {
    { "ruleId", o.rule.id }, { "ruleIndex", index }, { "kind", kind },
    { "level", kind == "fail" and levels[o.rule.severity] or "none" },
    { "message", text(message(o)) },
    { "locations", location(o) },
    { "partialFingerprints", object { { "ruleAndSubject/v1", o.rule.id .. "/" .. (o.subject or "") } } },
    { "suppressions", suppressions(o.waiver) },
    { "properties", object { { "severity", o.rule.severity }, { "judgedBy", o.finding and o.finding.by },
        { "who", o.why and o.why.who },
        { "tool", o.why and o.why.tool },
        { "fromMemory", o.rests and o.rests ~= 0 and array(memo.cites(o.rests)) or nil } } },
  }
end

local function rule_row(def)
  return object { { "id", def.id }, { "shortDescription", text(def.says) }, { "help", text(def.caution) },
      { "defaultConfiguration", object { { "level", levels[def.severity] } } },
      { "properties", object { { "citation", words.cite(def.cite) } } } }
end

-- Of a message: its column is in bytes, which this form does not count in.
local function file_and_line(m)
  return array { object { { "physicalLocation", object { { "artifactLocation", artifact(m.file) },
      { "region", m.line and object { { "startLine", m.line } } or nil } } } } }
end

local function notifications(document)
  local list, failure = {}, document.failure
  for _, m in ipairs(failure and failure.errors or {}) do
    list[#list + 1] = object { { "locations", m.file and file_and_line(m) or nil }, { "level", "error" },
        { "message", text(m.message) }, { "descriptor", m.code and object { { "id", m.code } } or nil } }
  end
  for _, s in ipairs(document.outcomes and document.outcomes.withheld or {}) do
    list[#list + 1] = object { { "level", "error" },
        { "message", text("sheet " .. s.name .. " is withheld: " .. s.why) } }
  end
  return list[1] and array(list) or nil
end

return function(document, options)
  local rules, results, index = {}, {}, {}
  for i, o in ipairs(document.outcomes or {}) do
    if not index[o.rule] then
      index[o.rule] = #rules
      rules[#rules + 1] = rule_row(o.rule)
    end
    results[i] = result(o, index[o.rule])
  end
  local run = object {
    { "tool", object { { "driver", object { { "name", "stringline" }, { "version", host.version },
        { "rules", array(rules) } } } } },
    { "invocations", array { object { { "executionSuccessful", document.status < 2 }, { "exitCode", document.status },
        { "toolExecutionNotifications", notifications(document) } } } },
    { "artifacts", array { object { { "location", artifact(options.script) },
        { "roles", array { "analysisTarget" } } } } },
    { "columnKind", "unicodeCodePoints" },
    { "results", array(results) },
  }
  local body = string.gsub(encode.text(run), "\n$", "")
  return options.several and body or options.before .. body .. options.after
end
