-- SPDX-License-Identifier: MIT
-- Every code that a message may carry: what it means, and an example of wrong and right.
--
-- { code, says, wrong, right, where }.  `where` says what the example is a piece of: nil a script, "parts", "prices" or
-- "place" a file of that kind, "command" a command line.  tests/docs.sh runs each pair: the first must meet its code.
local codes = { list = {}, by = {} }

codes.groups = {
  { "Q0", "Calculating with quantities" },
  { "Q1", "Reading a script" },
  { "D", "Declarations" },
  { "E", "Names and words" },
  { "F", "Files" },
  { "C", "Calling a primitive" },
  { "G", "Results" },
  { "R", "Rules" },
  { "L", "The script itself" },
  { "S", "Limits of a run" },
  { "U", "Commands" },
  { "W", "Sweeps" },
}

local function add(code, says, wrong, right, where)
  local entry = { code = code, says = says, wrong = wrong, right = right, where = where }
  codes.list[#codes.list + 1], codes.by[code] = entry, entry
end

-- ---- quantities ----------------------------------------------------------------------------------------------------

add("Q003", "two quantities of different kinds are added, subtracted or compared",
    "local x = 5ft + 3lb", "local x = 5ft + 3in")
add("Q004", "two currencies meet; nothing is converted", "local x = $6 / €2", "local x = $6 / $2")
add("Q005", "a temperature is a point on a scale: it takes only differences (K, dC, dF)",
    "local x = -16degC + 5degC", "local x = -16degC + 5K")
add("Q006", "a product, quotient or power that makes no sense", "local x = (2m)^(1m)", "local x = (2m)^2")
add("Q007", "a quantity is no table and no function",
    "local x = 5ft\nlocal y = x.feet", 'local x = 5ft\nlocal y = number_in(x, "ft")')
add("Q008", "a wire size is a name that has an order, not a number", "local x = 6AWG * 2", "local x = 6AWG < 4AWG")
add("Q009", "a function got a value of the wrong kind", "local x = sin(5ft)", "local x = sin(35deg)")
add("Q010", "a unit that is unknown there, or that the value cannot be given in",
    'local x = as(5ft, "lb")', 'local x = as(5ft, "in")')
add("Q011", "a list in one unit takes bare numbers", "local x = ft{4ft, 5ft}", "local x = ft{4, 5}")

-- ---- the scanner ---------------------------------------------------------------------------------------------------

add("Q101", "a malformed number, price or unit in brackets", "local x = 5[ft", "local x = 5[ft]")
add("Q102", "an unknown unit", "local x = 5foot", "local x = 5ft")
add("Q103", "a unit that people mean different things by, so that it is refused", "local x = 5hp", "local x = 3.7kW")
add("Q104", "a unit behind `/` that is also a name of the script",
    "local s = 2\nlocal x = 20ft/s", "local s = 2\nlocal x = 20ft / s")
add("Q105", "per cent or modulo: both readings are possible", "local x = 5% - 3", "local x = 5 % 3")
add("Q106", "a fraction of an inch behind `*` or `/`, or with a power", "local x = 2*3/8in", "local x = 2*(3/8in)")
add("Q107", "a wire size that is none", "local x = 7777AWG", "local x = 6AWG")
add("Q108", "a value that is called, indexed or assigned to, or that stands where none can",
    "local x = 5ft(1)", "local x = 5ft*1")
add("Q109", "a tolerance without its unit, of another kind than its value, or with a blank on one side",
    "local x = 175ft+-3", "local x = 175ft+-3ft")
add("Q110", "a number too large, or a temperature below absolute zero", "local x = -300degC", "local x = -30degC")
add("Q111", "feet and inches that cannot be, or no length where one is wanted",
    "local x = 8ft13in", "local x = 9ft1in")
add("Q112", "a comma inside a number", "local x = 1,5ft", "local x = 1.5ft")
add("Q113", "the marks of feet and inches outside len[[ ]]", 'local x = 24"', "local x = 24in")
add("Q120", "a key written twice in one table", "local t = { a = 1, a = 2 }", "local t = { a = 1, b = 2 }")
add("Q121", "a missing comma between fields", "local t = { a = 1 b = 2 }", "local t = { a = 1, b = 2 }")
add("Q122", "values with only blanks or a tab between them",
    "local t = ft{ 4.62 4.78 }", "local t = ft{ 4.62, 4.78 }")
add("Q123", "a table that is opened and not closed", "local t = { a = 1", "local t = { a = 1 }")
add("Q124", "a `}` that closes nothing", "local t = 1 }", "local t = 1")
add("Q125", "a string that is not closed", 'local t = "east', 'local t = "east"')
add("Q126", "a long string or comment that is not closed", "--[[ a note", "--[[ a note ]]")
add("Q127", "a colon between a field's name and its value", "local t = { a: 1 }", "local t = { a = 1 }")
add("Q128", "brackets and blocks that stand in each other more than 200 deep")
add("Q130", "what a word processor types: smart quotes, dashes, a minus or a blank that is none",
    "local t = “east”", 'local t = "east"')
add("Q131", "a character that has no place outside strings and comments", "local t = 5 § 3", "local t = 5 - 3")
add("Q132", "the name _K, in which the values of a file are kept", "local _K = 1", "local k = 1")

-- ---- declarations --------------------------------------------------------------------------------------------------

-- A rule of the job around a check.
local function j1(check)
  return 'rule { id = "J1", severity = "note", says = "s", cite = "c", caution = "c",\n' ..
         '       check = function(_, job) ' .. check .. ' end }'
end

local trench = 'trench "main" { length = 90ft, cover = 18in }'
local footing = 'footing "deep" { hole_diameter = 18in, hole_depth = 66in, gravel = 6in, fill = "concrete" }'

add("D000", "a fault without a code of its own; the text says what")
add("D001", "a field, a limit or a declaration of that name does not exist",
    'trench "main" { lenght = 90ft, cover = 18in }', trench)
add("D002", "a required field is missing", 'trench "main" { length = 90ft }', trench)
add("D003", "a value of the wrong kind: another dimension, a bare number, a text",
    'trench "main" { length = 90, cover = 18in }', trench)
add("D004", "a value outside what can be", 'trench "main" { length = -90ft, cover = 18in }', trench)
add("D005", "a value without its name in a table of fields; often a decimal comma",
    'trench "main" { 90ft, cover = 18in }', trench)
add("D006", "fields that contradict each other",
    'footing "deep" { hole_diameter = 18in, hole_depth = 6in, gravel = 6in, fill = "concrete" }', footing)
add("D007", "a record is asked for a field or result that its kind does not have",
    "local t = " .. trench .. "\nprint(t.lenght)", "local t = " .. trench .. "\nprint(t.length)")
add("D008", "a declared record cannot be changed",
    "local t = " .. trench .. "\nt.cover = 24in", 'trench "main" { length = 90ft, cover = 24in }')
local two = '\ntrench "a" { length = 9ft, cover = 18in }\ntrench "b" { length = 9ft, cover = 24in }'
add("D009", "several records, and none of them is named; or none has that name",
    j1 "return at_least(job.trench.cover, 12in)" .. two,
    j1 "return at_least(job.trench.a.cover, 12in)" .. two)
add("D010", "a fact that nobody gave; the message says who can tell it. It makes a rule unknown, never a pass",
    "local s = site { exposure = \"C\" }\nprint(s.wind)",
    "local s = site { exposure = \"C\", wind = 105mph }\nprint(s.wind)")
add("D011", "each goes through a collection or a list",
    "for x in each(5ft) do end", "for x in each { 5ft, 6ft } do end")
add("D012", "measured, told, looked_up and guess stand around a whole field and say by what or whom",
    "local x = measured(96ft)", 'local x = measured(96ft, "tape")')
add("D013", "a table that contains itself", 'local t = {}\nt.t = t\nsite(t)', 'site { frost = 18in }')
add("D014", "a name that no declared record has",
    'strings { on = "east", series = 4, parallel = 2, into = "shed", combined_at = "array" }',
    'site { frost = 18in }')
add("D015", "declared, listed or read twice", trench .. "\n" .. trench, trench)
add("D016", "a declaration without its table, without its name, or with one too many",
    "trench { length = 90ft, cover = 18in }", trench)
add("D017", "a record may not be named like a field or result of its kind",
    'trench "cover" { length = 90ft, cover = 18in }', trench)
add("D018", "more than one strings declaration: then each needs a name, as in strings \"A\" { ... }")
add("D019", "--set, an alternate, vary or keep names a path that nothing declared has, a file that the job does not " ..
    "name, a vendor without a price, or a place where no literal stands",
    "check job.sline --set trench.mian.cover=18in", "check job.sline --set trench.main.cover=18in", "command")
add("D020", "declarations that do not fit each other: more posts than pairs, a run from where no strings are")
add("D022", "what cannot stand in a paper's made_for, or nothing in it: only fields of which it is known which job " ..
    "is worse may",
    'office "county" { paper = "handout 4", dated = "2026-09-01", covers = { "rails" },\n' ..
    '  made_for = { site = { longitude = "85.5 W" } } }',
    'office "county" { paper = "handout 4", dated = "2026-09-01", covers = { "rails" },\n' ..
    '  made_for = { site = { snow = 20psf } } }')
add("D023", "no_data names a code of which nothing is kept here, not an edition that is kept",
    'local c = no_data("NEC 2023")', 'local c = no_data("NZBC")')

add("D025", "what `with` cannot copy: it is for declarations of which a job may have several, whole",
    'local dry = (site { frost = 18in }):with { frost = 12in }',
    'local pier = footing_type "pier" { hole_depth = 48in }\nlocal deep = pier:with { hole_depth = 60in }')

-- ---- names and words -----------------------------------------------------------------------------------------------

add("D021", "a text or a name with a line end, a tab, a byte that is no UTF-8, or what else a terminal would obey",
    'trench "ma\\nin" { length = 90ft, cover = 18in }', trench)
add("E001", "a name that nothing has, or that does not belong in this file",
    "print(lenght)", "local length = 5ft\nprint(length)")
add("E002", "a word of the language that is used wrongly", "place(5)", 'site { frost = 18in }')
add("E003", "files that name each other in a circle", 'use "job"', 'site { frost = 18in }')
add("E004", "a word of the language cannot be set", "rack = 5", "local racks = 5")
add("E005", "a file is written for a later version of the language, or says its version elsewhere than at its top",
    'site { frost = 18in }\nlanguage "1"', "site { frost = 18in }")

-- ---- files ---------------------------------------------------------------------------------------------------------



local clamp_head, clamp_row = "clamp,role,least_frame,most_frame\n", "EC-30,end,30 mm,30 mm\n"
local price_head = "item,length,price,vendor,priced_on\n"

add("F001", "the file is empty", "", clamp_head .. clamp_row, "parts")
add("F002", "a file without a heading", "# only a note\n", clamp_head .. clamp_row, "parts")
add("F003", "a column of the heading has no name",
    "clamp,,role,least_frame,most_frame\nEC-30,,end,30 mm,30 mm\n", clamp_head .. clamp_row, "parts")
add("F004", "the heading names a column twice",
    "clamp,role,role,least_frame,most_frame\n", clamp_head .. clamp_row, "parts")
add("F005", "a quote inside a cell that does not start with one; quote the cell whole, and double each",
    'clamp,role,least_frame,most_frame\nEC"30,end,30 mm,30 mm\n',
    'clamp,role,least_frame,most_frame\n"EC""30",end,30 mm,30 mm\n', "parts")
add("F006", "text after the closing quote of a cell",
    'clamp,role,least_frame,most_frame\n"EC"-30,end,30 mm,30 mm\n', clamp_head .. '"EC-30",end,30 mm,30 mm\n',
    "parts")
add("F007", "a quote that is never closed",
    'clamp,role,least_frame,most_frame\n"EC-30,end,30 mm,30 mm\n', clamp_head .. clamp_row, "parts")
add("F008", "a row with too few cells", clamp_head .. "EC-30,end,30 mm\n", clamp_head .. clamp_row, "parts")
add("F009", "a row with too many cells; often a comma inside a cell without quotes",
    clamp_head .. "EC-30,end,30 mm,30 mm,40 mm\n", clamp_head .. clamp_row, "parts")
add("F010", "a NUL byte: not plain text")
add("F011", "bytes that are not UTF-8, such as a file saved as Latin-1; save it as UTF-8")
add("F012", "a file in UTF-16; save it as UTF-8")
add("F013", "columns parted by semicolons or tabs instead of commas",
    "clamp;role;least_frame;most_frame\n", clamp_head .. clamp_row, "parts")
add("F014", "a spreadsheet's own file; export it as comma-separated text")
add("F015", "a line that starts with '#' is a comment, but this one looks like a row",
    clamp_head .. "#8 clip,end,30 mm,30 mm\n", clamp_head .. '"#8 clip",end,30 mm,30 mm\n', "parts")
add("F016", "a file too large, or with too many columns")
add("F017", "a cell with a line end, a tab, or what else a terminal would obey",
    clamp_head .. '"EC\n30",end,30 mm,30 mm\n', clamp_head .. clamp_row, "parts")
add("F018", "a line of more than 10000 bytes")
add("F020", "a file is named from the job's folder: no .., no absolute path",
    'parts "/clamps.csv"', "site { frost = 18in }")
add("F021", "a file that cannot be read; the message gives the system's reason",
    'prices "nowhere.csv"', "site { frost = 18in }")
add("F022", "more than 255 files in one job")
add("F023", "the output would overwrite a file that the run reads, under whatever name",
    "run job.sline -o ./job.sline", "check job.sline", "command")
add("F024", "verify or compare is given something that is no report, or one without its end",
    "verify job.sline", "check job.sline", "command")
add("F025", "compare is given a report that does not hold the job it was made of: text, HTML, one of `check` or of " ..
    "another version")
add("F026", "compare is given a report that was changed after it was written")
add("F027", "a file is named that a symbolic link puts outside of the folder that it is looked for in")
add("F030", "a column that the list does not have",
    "clamp,rolle,least_frame,most_frame\n", clamp_head .. clamp_row, "parts")
add("F031", "a required column is missing", "clamp,least_frame,most_frame\n", clamp_head .. clamp_row, "parts")
add("F032", "a cell that is no quantity: without a unit, or misspelt",
    clamp_head .. "EC-30,end,30 mn,30 mm\n", clamp_head .. clamp_row, "parts")
add("F033", "a required cell is empty", clamp_head .. "EC-30,,30 mm,30 mm\n", clamp_head .. clamp_row, "parts")
add("F034", "the first heading of a parts file names the kind of part",
    "clip,role\n", clamp_head .. clamp_row, "parts")
add("F035", "two currencies in the price lists of a job",
    price_head .. "EC-30,,$2.40,Gap Creek,2026-10-26\nMC-28,,€2.15,Gap Creek,2026-10-26\n",
    price_head .. "EC-30,,$2.40,Gap Creek,2026-10-26\nMC-28,,$2.15,Gap Creek,2026-10-26\n", "prices")
add("F036", "one vendor has two prices for the same thing",
    price_head .. "EC-30,,$2.40,Gap Creek,2026-10-26\nEC-30,,$2.15,Gap Creek,2026-10-26\n",
    price_head .. "EC-30,,$2.40,Gap Creek,2026-10-26\n", "prices")
add("F037", "a price per length needs the length that is sold",
    price_head .. "6 AWG THWN-2 copper,,$1.05/ft,Gap Creek,2026-10-26\n",
    price_head .. "6 AWG THWN-2 copper,250 ft,$1.05/ft,Gap Creek,2026-10-26\n", "prices")
add("F040", "the output cannot be written to its file; the message gives the system's reason",
    "check job.sline -o nowhere/report.txt", "check job.sline -o report.txt", "command")
add("F041", "standard output took only a part, or nothing: a full disk, or not open for writing")
add("F042", "the folder of a new job cannot be made: something is there already, or the system does not let it",
    "new job.sline", "new farm", "command")
add("F043", "a drawing as PDF or PNG needs files of the program that are not there or cannot be opened: its module, " ..
    "its font")
add("F050", "the store of a sweep cannot be opened, made or changed where it is; the message gives the system's reason")
add("F051", "the file that is named as a store is none: `sweep` did not make it")
add("F052", "a later version made the store")
add("F053", "another sweep is writing to the store, or something else holds it open")
add("F054", "the store is damaged; copy it before anything else is tried on it")
add("F055", "the disk of the store is full, or fails; what is stored stays, and the same command goes on")
add("F056", "the store is of another sweep: another script, another program, other axes, ...; or shards that are")
add("F057", "more results are to be kept than a store can keep")
add("F058", "one variant of one sweep came out in two ways, in two stores that are joined")
add("F059", "the store was moved, removed or replaced while a sweep wrote to it")

-- ---- primitives ----------------------------------------------------------------------------------------------------

add("C001", "an input of the wrong kind",
    "local x = calc.diagonal { along = 3lb, across = 4ft }", "local x = calc.diagonal { along = 3ft, across = 4ft }")
add("C002", "an input or an output that the primitive does not have",
    "local x = calc.diagonal { along = 3ft, accross = 4ft }", "local x = calc.diagonal { along = 3ft, across = 4ft }")
add("C003", "an input is missing",
    "local x = calc.diagonal { along = 3ft }", "local x = calc.diagonal { along = 3ft, across = 4ft }")
add("C004", "an input that makes no sense: a negative length, a number that is none",
    "local x = calc.diagonal { along = -3ft, across = 4ft }", "local x = calc.diagonal { along = 3ft, across = 4ft }")
add("C005", "outside what the source of the formula covers, and the message says whose range; or so far out that no " ..
    "number comes out. It makes a rule unknown")
add("C006", "a published table has no such row. It makes a rule unknown",
    'local x = calc.lumber { section = "5x5", length = 8ft, edition = "NDS 2018" }',
    'local x = calc.lumber { section = "6x6", length = 8ft, edition = "NDS 2018" }')
add("C007", "the search found nothing that fits, and the message says what was tried; or a primitive gives no such " ..
    "output with these inputs. It makes a rule unknown")
add("C008", "what a primitive gave cannot be changed",
    "local x = calc.diagonal { along = 3ft, across = 4ft }\nx.diagonal = 6ft",
    "local x = calc.diagonal { along = 3ft, across = 4ft }\nlocal y = x.diagonal + 1in")

-- ---- results, rules ------------------------------------------------------------------------------------------------

local function x1(how)
  return 'site { frost = 18in }\nresult { of = "site", name = "x", is = "length", means = "deep",\n  ' .. how .. " }"
end
local good = x1 'formula = "2 * frost"'
add("G001", "results that need each other in a circle, which is printed",
    x1 "work = function(site) return site.y end" ..
    '\nresult { of = "site", name = "y", is = "length", means = "deeper", formula = "x" }', good)
add("G002", "a result of another kind than its declaration says", x1 'formula = "frost * frost"', good)
add("G003", "a result that could not be worked out, without a reason given; an error where its function gives nothing",
    x1 "work = function(site) local deep = 2 * site.frost end", good)
add("G004", "a formula of a result that cannot be read, that names what is not there, or that has no value",
    x1 'formula = "2 * forst"', good)
add("G005", "a paper that was not made for this job, or whose level does not fit a result; the message names the " ..
    "fact and whom to ask. It makes a rule unknown, never a pass")
add("G006", "what no rule judges and no paper covers, or a paper that was not made for this job. It makes a rule " ..
    "unknown, never a pass")
add("G007", "'of' of a result names no kind of declaration that has results", (good:gsub('"site"', '"sight"')), good)
add("G008", "a result with a name that cannot be written, or that something of its kind has already",
    (good:gsub('"x"', '"frost"')), good)

add("R001", "a comparison without its value or its limit", j1 "return at_most(5ft)", j1 "return at_most(5ft, 6ft)")
add("R002", "values of different kinds are compared", j1 "return at_most(5ft, 6lb)", j1 "return at_most(5ft, 6ft)")
add("R003", "two rules of one id",
    j1 "return states(true, 'yes')" .. "\n" .. j1 "return states(true, 'yes')", j1 "return states(true, 'yes')")
add("R004", "a file gives a limit twice, or says that it has none, too; two house files disagree; " ..
    "one name means two things; the message names both places")
add("R005", "the check of a rule gave something else than a comparison",
    j1 "return true", j1 "return states(true, 'yes')")
add("R006", "a waiver of a rule that does not exist, or that this person may not waive",
    'waive { "R41", reason = "none", by = "nobody", as = "house", on = "2026-11-02" }', "site { frost = 18in }")
add("R007", "each of a rule names no kind of declaration",
    (j1 "return states(true, 'yes')":gsub("says", 'each = "rak", says', 1)),
    (j1 "return states(true, 'yes')":gsub("says", 'each = "rack", says', 1)))
add("R008", "limit or no_limit is given a name that no limit has",
    j1 'return at_most(5ft, limit "hight")', j1 'return at_most(5ft, limit "height")')

-- ---- the rest ------------------------------------------------------------------------------------------------------

add("L001", "the script is no Lua: a word, a bracket or an `end` is missing or too many",
    "if true then", "if true then end")
add("L002", "the script went wrong as it ran, in Lua's own terms", "local x\nx()", "local x = print\nx(1)")
add("S001", "a limit of the run was reached: steps or memory",
    "while true do end", "for i = 1, 10 do end")
add("S002", "a script of --untrusted was stopped: processor time, memory, or too much output")
add("S003", "the machine has no more memory")
add("S004", "a script of --untrusted was not run: this machine refuses a step of what would confine it")
add("U001", "a word or a value is missing on the command line", "run", "check job.sline", "command")
add("U002", "the script has no alternate of that name",
    "check job.sline --alternate six", "check job.sline", "command")
add("U003", "nothing of that name to explain, to describe or to look at", "describe rak", "describe rack", "command")
add("U004", "there is no sheet of that name", "sheet job.sline pots", "sheet job.sline posts", "command")
add("U005", "there is no command, no option or no part of that name", "chekc job.sline", "check job.sline", "command")
add("U006", "an option or a format that does not go with the command, or that stands there twice",
    "units --on 2026-11-02", "check job.sline --on 2026-11-02", "command")
add("U007", "a word too many on the command line", "sheet job.sline posts wire", "sheet job.sline posts", "command")
add("U008", "a value that an option cannot have", "check job.sline --format xml", "check job.sline --format json",
    "command")
add("U009", "a folder where a script is wanted", "run .", "run job.sline", "command")
add("U010", "the same script twice, where two are to be compared",
    "compare job.sline job.sline", "compare job.sline --on 2026-11-03", "command")
add("U011", "the name of a new folder that cannot be one, or cannot stand in a script or on a command line",
    "new .", "new farm", "command")
add("U012", "a file of another kind where a job's script is wanted: plain Lua, or rows",
    "check parts/modules.csv", "check job.sline", "command")

add("W001", "more variants than can be numbered, 2^53, or more draws than a sample has at most",
    "sweep job.sline --count --sample 20000000", "sweep job.sline --count --sample 2000", "command")
add("W002", "a range without a step, from which nothing is drawn: write step = ..., or --sample 1000")
add("W003", "--list of more variants than anybody reads",
    "sweep job.sline --list --sample 2000000", "sweep job.sline --list --sample 20", "command")

-- ---- explaining ----------------------------------------------------------------------------------------------------

local pieces = { parts = "a parts file", prices = "a price list", command = "a command line" }

function codes.explain(code)
  local entry = codes.by[code]
  if not entry then
    local names = {}
    for _, e in ipairs(codes.list) do names[#names + 1] = e.code end
    local near = host.nearest(code, names)
    local help = near and "did you mean '" .. near .. "'?" or "docs/reference.md lists the codes"
    local is_rule = code:find "^%u+%d%d?$" or code:find "^R[1-9]%d%d$"
    if is_rule then help = "a rule is explained with its script: explain job.sline " .. code end
    host.raise { code = "U003", text = "no message has the code '" .. code .. "'", help = help }
  end
  local d = import("write.document").new("explain", code)
  d:subheading(entry.code)
  local of = entry.where and ", in " .. pieces[entry.where] or ""
  d:inside(function()
    d:para(entry.says)
    d:para("exit status " .. host.status(code))
    if entry.wrong then
      d:subheading("wrong" .. of .. ":")
      d:inside(d.code, entry.wrong == "" and "(nothing)" or entry.wrong)
    end
    if entry.right then
      d:subheading("right:")
      d:inside(d.code, entry.right)
    end
  end)
  return d
end

return codes
