-- SPDX-License-Identifier: MIT
-- Rule outcomes as TAP 14: a test point for each rule and subject, with what is known of a point that is not ok.
--
-- A rule that could not be worked out is not ok, never skipped. What does not count for the exit status (a note, what
-- is waived, what is still to find out at stage quote) is "not ok # TODO", so that a harness passes what the program
-- passes. A rule without a subject is "ok # SKIP". A sheet that is withheld from who works from it is a point, too.
local encode = import "write.encode"
local words = import "write.words"
local memo = import "model.memo"

-- One line, whose # and \ are no marks of the protocol.
local plain = host.safe
local function escaped(text) return (string.gsub(plain(text), "[#\\]", "\\%0")) end
local function quoted(text) return (string.gsub(encode.text(text), "\n$", "")) end      -- JSON is YAML

local function block(rows, indent)
  local out = { indent .. "  ---\n" }
  for _, r in ipairs(rows) do if r[2] ~= nil then out[#out + 1] = indent .. "  " .. r[1] .. ": " .. r[2] .. "\n" end end
  out[#out + 1] = indent .. "  ...\n"
  return table.concat(out)
end

local function shown(text) return text and text ~= "" and quoted(text) or nil end

local function diagnosis(o, indent)
  local f, why, help = o.finding, nil, nil
  if o.why then why, help = words.reasons(o), #o.whys == 1 and select(2, host.message(o.why)) or nil end
  local value, sign, limit
  if f then value, sign, limit = words.numbers(f) end
  return block({
    { "message", shown(why and "unknown: " .. why or words.finding(f) .. words.besides(o)) },
    { "severity", shown(o.rule.severity) },
    { "value", shown(value) }, { "comparison", shown(sign) }, { "limit", shown(limit) },
    { "margin", shown(f and words.margin(f)) },
    { "ask", shown(o.why and o.why.who) }, { "help", shown(help) },
    { "place", shown(o.proxy and words.place(o.proxy)) },
    { "citation", shown(words.cite(o.rule.cite)) }, { "caution", shown(o.rule.caution) },
  }, indent)
end

local function to_do(o, quote)
  if o.waiver then
    return "waived by " .. words.signer(o.waiver) .. ", " .. o.waiver.on .. ": " .. o.waiver.reason
  end
  if o.rule.severity == "note" then return "a note" end
  if o.outcome == "unknown" and quote then return "still to find out" end
end

-- What a rule that holds without a limit rests on; the protocol's directives have no word for it.
local holds_by = { statement = "as the script states", construction = "by construction" }

local function point(o, number, indent, quote)
  local subject = words.subject(o)
  local good = o.outcome == "holds" or o.outcome == "not applicable"
  local line = indent .. (good and "ok " or "not ok ") .. number .. " - " ..
      escaped(o.rule.id .. " " .. o.rule.says .. (subject ~= "" and ", " .. subject or ""))
  if o.outcome == "not applicable" then return line .. " # SKIP " .. escaped(o.reason) .. "\n" end
  if good then
    local memory = o.rests and o.rests ~= 0 and o.rule.severity == "stop" and memo.cites(o.rests)
    return line .. "\n" .. (holds_by[o.finding.by] and indent .. "# " .. holds_by[o.finding.by] .. "\n" or "") ..
        (memory and indent .. "# from memory: " .. plain(table.concat(memory, "; ")) .. "\n" or "")
  end
  local todo = to_do(o, quote)
  return line .. (todo and " # TODO " .. escaped(todo) or "") .. "\n" .. diagnosis(o, indent)
end

-- Points that are no rule's outcome: { met, title, rows = { { key, text } ... } } ..., with notes = { { text } ... }.
local function other_points(document, indent)
  local list = document.points
  local out = { indent .. "1.." .. #list .. (#list == 0 and " # nothing is expected" or "") .. "\n" }
  for i, p in ipairs(list) do
    out[#out + 1] = indent .. (p.met and "ok " or "not ok ") .. i .. " - " .. escaped(p.title) .. "\n"
    if not p.met then
      local rows = {}
      for k, r in ipairs(p.rows) do rows[k] = { r[1], shown(r[2]) } end
      out[#out + 1] = block(rows, indent)
    end
  end
  for _, n in ipairs(list.notes) do out[#out + 1] = indent .. "# " .. plain(n.text) .. "\n" end
  return table.concat(out)
end

local function points(document, indent)
  if document.points then return other_points(document, indent) end
  local outcomes = document.outcomes or {}
  local withheld = outcomes.withheld or {}
  local quote = #outcomes > 0 and import("model.record").root.stage == "quote"
  local out = { indent .. "1.." .. #outcomes + #withheld ..
      (document.failure and " # " .. escaped(document.failure.text) or "") .. "\n" }
  for i, o in ipairs(outcomes) do out[#out + 1] = point(o, i, indent, quote) end
  for i, s in ipairs(withheld) do
    out[#out + 1] = indent .. "not ok " .. #outcomes + i .. " - sheet " .. escaped(s.name) .. " is printed\n" ..
        block({ { "message", shown("withheld: " .. s.why) } }, indent)
  end
  return table.concat(out)
end

-- All that is wrong with a script that was not judged, where there is more than one thing: JSON is YAML.
local function all_errors(failure)
  local list = {}
  for i, m in ipairs(failure.errors) do
    list[i] = (m.file or "stringline") .. ":" .. (m.line and m.line .. ":" or "") ..
        (m.column and m.column .. ":" or "") .. " " .. m.message
  end
  return list[2] and plain(encode.compact(encode.array(list))[1]) or nil
end

-- One script of several is a subtest; its own point says whether it passes.
return function(document, options)
  if not options.several then return options.before .. points(document, "") end
  local failure = document.failure
  return "# Subtest: " .. plain(options.script) .. "\n" .. points(document, "    ") ..
      (document.status == 0 and "ok " or "not ok ") .. options.number .. " - " .. escaped(options.script) .. "\n" ..
      (failure and block({ { "message", quoted(failure.text) }, { "code", shown(failure.code) },
          { "errors", all_errors(failure) } }, "") or "")
end
