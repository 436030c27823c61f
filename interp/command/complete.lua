-- SPDX-License-Identifier: MIT
-- Completions for bash, zsh and fish, made of the table of commands. What only the program knows (sheets, rules,
-- names, codes) is asked of it: `stringline reference sheets`.
local complete = {}

-- What may stand for a word of a command, or for an option's value: files, or a part of the reference with one a line.
local files = { SCRIPT = true, FILE = true, FOLDER = true }
local asked = { SHEET = "sheets", WHAT = "rules", NAME = "names", CODE = "codes" }

-- ("SCRIPT WHAT | CODE", 1) -> { "SCRIPT", "CODE" }: what may stand first, or behind that.
local function choices(words, at)
  local list, met = {}, {}
  local function add(word)
    if files[word] then word = "SCRIPT" end                  -- of files and folders the shell offers all alike
    if not met[word] then met[word], list[#list + 1] = true, word end
  end
  for form in string.gmatch(words .. "|", "(.-)|") do
    local i = 0
    for word in string.gmatch(form, "[%u.]+") do
      if word == "..." then
        if at > i then add "SCRIPT" end
      else
        i = i + 1
        if i == at then add(word) end
      end
    end
  end
  return list
end

local function names(rows, keep)
  local list = {}
  for _, r in ipairs(rows) do if not keep or keep(r) then list[#list + 1] = r.name end end
  return list
end

-- The formats that a command has, or that messages have.
local function formats(t, command)
  return names(t.formats, function(f) return not command or command.gives >= f.holds end)
end
local function message_formats(t) return names(t.formats, function(f) return f.messages end) end

local function has(command, option) return option.of[command.name] end

-- ---- bash ----------------------------------------------------------------------------------------------------------

local function bash_word(t, word)
  if files[word] then return "_stringline_files" end
  if asked[word] then return '_stringline_words "$(stringline reference ' .. asked[word] .. ' 2>/dev/null)"' end
  if word == "COMMAND" then return '_stringline_words "' .. table.concat(names(t.commands), " ") .. '"' end
  return '_stringline_words "' .. table.concat(names(t.parts), " ") .. '"'       -- PART
end

function complete.bash()
  local t, out = host.command_line(), {}
  local function line(...) out[#out + 1] = table.concat { ... } end
  local valued, long = {}, {}
  for _, o in ipairs(t.options) do
    if o.value ~= "" then
      valued[#valued + 1] = "--" .. o.name
      if o.letter ~= "" then valued[#valued + 1] = "-" .. o.letter end
    end
  end
  for i, o in ipairs(t.options) do long[i] = "--" .. o.name end
  line "# SPDX-License-Identifier: MIT. Written by `stringline reference bash`; do not edit."
  line '_stringline_words() { while IFS= read -r word; do COMPREPLY+=("$word"); done < <(compgen -W "$1" -- "$cur"); }'
  line "_stringline_files() {"
  line "  compopt -o filenames 2>/dev/null"
  line '  while IFS= read -r word; do COMPREPLY+=("$word"); done < <(compgen -f -- "$cur")'
  line "}"
  line "_stringline() {"
  line "  local cur=${COMP_WORDS[COMP_CWORD]} before=${COMP_WORDS[COMP_CWORD-1]} command='' at=0 i word"
  line "  COMPREPLY=()"
  line "  [[ $cur == = ]] && cur=''"
  line '  [[ $before == = ]] && before=${COMP_WORDS[COMP_CWORD-2]}'
  line "  for ((i = 1; i < COMP_CWORD; i++)); do"
  line "    word=${COMP_WORDS[i]}"
  line "    case $word in"
  line("      ", table.concat(valued, " | "), ") [[ ${COMP_WORDS[i+1]} == = ]] && i=$((i + 2)) || i=$((i + 1)) ;;")
  line "      -*) ;;"
  line "      *) if [[ -z $command ]]; then command=$word; else at=$((at + 1)); fi ;;"
  line "    esac"
  line "  done"
  line "  case $before in"
  for _, o in ipairs(t.options) do
    local head = (o.letter ~= "" and "-" .. o.letter .. " | " or "") .. "--" .. o.name
    if o.name == "messages" then
      line("    ", head, ') _stringline_words "', table.concat(message_formats(t), " "), '"; return ;;')
    elseif o.kind == "choice" then
      line("    ", head, ") case $command in")
      for _, c in ipairs(t.commands) do
        if c.gives > 0 then
          line("        ", c.name, ') _stringline_words "', table.concat(formats(t, c), " "), '" ;;')
        end
      end
      line('        "") _stringline_words "', table.concat(formats(t), " "), '" ;;')
      line('        *) _stringline_words "', table.concat(formats(t, { gives = 0 }), " "), '" ;;')
      line "      esac; return ;;"
    elseif files[o.value] then line("    ", head, ") _stringline_files; return ;;")
    elseif o.value ~= "" then line("    ", head, ") return ;;")
    end
  end
  line "  esac"
  line "  if [[ $cur == -* ]]; then"
  line "    case $command in"
  for _, c in ipairs(t.commands) do
    local list = {}
    for _, o in ipairs(t.options) do if has(c, o) then list[#list + 1] = "--" .. o.name end end
    line("      ", c.name, ') _stringline_words "', table.concat(list, " "), '" ;;')
  end
  line('      *) _stringline_words "', table.concat(long, " "), '" ;;')
  line "    esac"
  line "    return"
  line "  fi"
  line "  case $command:$at in"
  line('    :*) _stringline_words "', table.concat(names(t.commands), " "), '" ;;')
  for _, c in ipairs(t.commands) do
    for at = 1, 2 do
      local list = {}
      for i, word in ipairs(choices(c.words, at)) do list[i] = bash_word(t, word) end
      if #list > 0 then line("    ", c.name, ":", tostring(at - 1), ") ", table.concat(list, "; "), " ;;") end
    end
    if c.many then line("    ", c.name, ":*) _stringline_files ;;") end
  end
  line "  esac"
  line "}"
  line "complete -F _stringline stringline"
  return table.concat(out, "\n") .. "\n"
end

-- ---- zsh -----------------------------------------------------------------------------------------------------------

-- Inside '...:...[...]' of _arguments: quotes, colons and brackets are taken for what they are.
local function zsh_safe(text)
  return (string.gsub(string.gsub(text, "[%[%]:]", "\\%0"), "'", "'\\''"))
end

local function zsh_word(t, word)
  if files[word] then return "_files" end
  if asked[word] then return "_stringline_" .. asked[word] end
  if word == "COMMAND" then return "(" .. table.concat(names(t.commands), " ") .. ")" end
  return "(" .. table.concat(names(t.parts), " ") .. ")"
end

-- The function that offers both of two choices at one place.
local function zsh_both(command, at) return "_stringline_" .. command.name .. "_" .. at end

local function zsh_option(t, command, o)
  local value = ""
  if o.name == "messages" then value = ":format:(" .. table.concat(message_formats(t), " ") .. ")"
  elseif o.kind == "choice" then value = ":format:(" .. table.concat(formats(t, command), " ") .. ")"
  elseif o.value ~= "" then
    value = ":" .. zsh_safe(string.lower(o.value)) .. ":" .. (files[o.value] and "_files" or " ")
  end
  local says = "[" .. zsh_safe(o.says) .. "]"
  local times = o.kind == "list" and "*" or ""
  local long = "'" .. times .. "--" .. o.name .. (o.value ~= "" and "=" or "") .. says .. value .. "'"
  if o.letter == "" then return long end
  return long .. " '-" .. o.letter .. (o.value ~= "" and "+" or "") .. says .. value .. "'"
end

function complete.zsh()
  local t, out = host.command_line(), {}
  local function line(...) out[#out + 1] = table.concat { ... } end
  line "#compdef stringline"
  line "# SPDX-License-Identifier: MIT. Written by `stringline reference zsh`; do not edit."
  local parts = {}
  for _, part in pairs(asked) do parts[#parts + 1] = part end
  table.sort(parts)
  for _, part in ipairs(parts) do
    line("_stringline_", part, "() { local -a found; found=(${(f)\"$(stringline reference ", part,
        " 2>/dev/null)\"}); compadd -a found }")
  end
  for _, c in ipairs(t.commands) do
    for at = 1, 2 do
      local list = choices(c.words, at)
      for i, word in ipairs(list) do
        local name = string.lower(word)
        list[i] = "'" .. name .. "s:" .. name .. ":" .. zsh_word(t, word) .. "'"
      end
      if #list > 1 then line(zsh_both(c, at), "() { _alternative ", table.concat(list, " "), " }") end
    end
  end
  line "_stringline() {"
  line "  local -a commands"
  line "  local context state line"
  line "  typeset -A opt_args"
  line "  commands=("
  for _, c in ipairs(t.commands) do line("    '", c.name, ":", zsh_safe(c.says), "'") end
  line "  )"
  line "  _arguments -C -S \\"
  for _, o in ipairs(t.options) do line("    ", zsh_option(t, nil, o), " \\") end
  line "    '1:command:->command' '*::word:->word'"
  line "  case $state in"
  line "    command) _describe -t commands command commands ;;"
  line "    word) case $words[1] in"
  for _, c in ipairs(t.commands) do
    line("      ", c.name, ") _arguments -S \\")
    local all = {}
    for _, o in ipairs(t.options) do if has(c, o) then all[#all + 1] = "        " .. zsh_option(t, c, o) end end
    for at = 1, 2 do
      local list = choices(c.words, at)
      local how = #list > 1 and zsh_both(c, at) or list[1] and zsh_word(t, list[1])
      if how and not c.many then
        all[#all + 1] = "        '" .. at .. ":" .. string.lower(list[1]) .. ":" .. how .. "'"
      end
    end
    if c.many then all[#all + 1] = "        '*:script:_files'" end
    line(table.concat(all, " \\\n"), " ;;")
  end
  line "    esac ;;"
  line "  esac"
  line "}"
  line '_stringline "$@"'
  return table.concat(out, "\n") .. "\n"
end

-- ---- fish ----------------------------------------------------------------------------------------------------------

local function fish_safe(text) return "'" .. string.gsub(text, "['\\]", "\\%0") .. "'" end

function complete.fish()
  local t, out = host.command_line(), {}
  local function line(...) out[#out + 1] = table.concat { ... } end
  line "# SPDX-License-Identifier: MIT. Written by `stringline reference fish`; do not edit."
  line "complete -c stringline -f"
  for _, c in ipairs(t.commands) do
    line("complete -c stringline -n __fish_use_subcommand -a ", c.name, " -d ", fish_safe(c.says))
  end
  for _, c in ipairs(t.commands) do
    local seen = "complete -c stringline -n '__fish_seen_subcommand_from " .. c.name .. "'"
    for at = 1, 2 do
      for _, word in ipairs(choices(c.words, at)) do
        if files[word] then line(seen, " -F")
        elseif asked[word] then line(seen, " -a '(stringline reference ", asked[word], " 2>/dev/null)'")
        elseif word == "COMMAND" then line(seen, " -a '", table.concat(names(t.commands), " "), "'")
        else for _, p in ipairs(t.parts) do line(seen, " -a ", p.name, " -d ", fish_safe(p.says)) end
        end
      end
    end
    for _, o in ipairs(t.options) do
      local value = ""
      if o.name == "messages" then value = " -x -a '" .. table.concat(message_formats(t), " ") .. "'"
      elseif o.kind == "choice" then value = " -x -a '" .. table.concat(formats(t, c), " ") .. "'"
      elseif files[o.value] then value = " -r -F"
      elseif o.value ~= "" then value = " -x"
      end
      if has(c, o) then
        line(seen, o.letter ~= "" and " -s " .. o.letter or "", " -l ", o.name, value, " -d ", fish_safe(o.says))
      end
    end
  end
  return table.concat(out, "\n") .. "\n"
end

return complete
