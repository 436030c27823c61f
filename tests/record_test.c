/* SPDX-License-Identifier: MIT
 * Records: checked, copied, frozen; types and likeness; values put in by path; provenance; what is refused. */
#include "job_run.h"

#define GIVES(name, script, probe, want)        { name, NULL, script, probe, want, NULL, 0 }
#define SET(name, plan, script, probe, want)    { name, "job_plan = { " plan " } ", script, probe, want, NULL, 0 }
#define REFUSES(name, script, code, part, line) { name, NULL, script, NULL, part, code, line }
#define BADSET(name, plan, script, code, part)  { name, "job_plan = { " plan " } ", script, NULL, part, code, 0 }
#define PUT(path, value)                        "{ path = '" path "', value = " value ", from = '--set " path "' }, "
#define A                                       "shelf 'a' { depth = 1ft }\n"

static const struct job_row records[] = {
  { "a name that would end its quotes stands in the other ones", NULL, NULL,
    "local path = import 'model.path' local text = path.join { 'footing', \"pi'].er\", 'gravel' } "
    "return text .. ' ' .. table.concat(path.parse(text), '|')", "footing[\"pi'].er\"].gravel footing|pi'].er|gravel",
    NULL, 0 },
  GIVES("a field is read back", A, "return host.format(record.root.shelf.a.depth)", "1 ft"),
  GIVES("by the script too", "local s = " A "print(s.depth)", "return host.format(out[1])", "1 ft"),
  GIVES("its name", "local s = " A "print(s.name)", "return out[1]", "a"),
  GIVES("its path", "local s = " A "print(tostring(s))", "return out[1]", "shelf.a"),
  GIVES("a path of a name with blanks", "shelf 'by the door' { depth = 1ft }",
        "return tostring(record.all 'shelf' [1])", "shelf['by the door']"),
  GIVES("a default", A, "return record.root.shelf.a.boards", "2"),
  GIVES("a group", "shelf 'a' { brackets = { size = 'L', gap = 2ft } }",
        "return host.format(record.root.shelf.a.brackets.gap)", "2 ft"),
  GIVES("a list", "shelf 'a' { marks = { 1ft, 2ft } }",
        "local m = record.root.shelf.a.marks return #m .. ' ' .. host.format(m[2]) .. ' ' .. tostring(m[3])",
        "2 2 ft nil"),
  GIVES("a map, in order of its names", "shelf 'a' { heights = { b = 2ft, a = 1ft, c = 3ft } }",
        "local s = '' for k, v in pairs(record.root.shelf.a.heights) do s = s .. k .. host.format(v) .. ' ' end "
              "return s", "a1 ft b2 ft c3 ft "),
  GIVES("pairs goes in the order of the fields", "local s = shelf 'a' { finish = 'oil', depth = 1ft } for k in "
        "pairs(s) do print(k) end",
        "return table.concat(out, ' ')", "depth boards label finish"),
  GIVES("the only one needs no name", A, "return host.format(record.root.shelf.depth)", "1 ft"),
  GIVES("a list has no item called a table, nor nothing", "shelf 'a' { marks = { 1ft } }", "local m = "
        "record.root.shelf.a.marks return tostring(m[{}]) .. tostring(m[nil]) .. tostring(m[0 / 0])", "nilnilnil"),
  GIVES("a list out of another record", "local s = shelf 'a' { marks = { 1ft, 2ft } } shelf 'b' { marks = s.marks }",
        "return #record.root.shelf.b.marks", "2"),
  GIVES("a map out of another record", "local s = shelf 'a' { heights = { x = 1ft } } "
        "shelf 'b' { heights = s.heights }",
        "return host.format(record.root.shelf.b.heights.x)", "1 ft"),
  GIVES("an alternate leaves out a record by its path", "local s = " A "alternate 'x' { drop = s }",
        "return boot.alternate_plan('x')[1].drop", "shelf.a"),
  GIVES("what an alternate was told comes along", A "alternate 'x' { shelf = { a = { depth = told(2ft, 'owner') } } }",
        "local p = boot.alternate_plan('x')[1] local t = p.value['told value'] return p.path .. t.how .. t.by",
        "shelf.a.depthtoldowner"),
  GIVES("a group of another record becomes a table", "local s = shelf 'a' { brackets = { size = 'L' } } "
        "alternate 'x' { shelf = { a = { brackets = s.brackets } } }",
        "local p = boot.alternate_plan('x')[1] return p.path .. p.value", "shelf.a.brackets.sizeL"),
  { "a table for a name", NULL, A "alternate 'x' { shelf = { [{}] = { depth = 1ft } } }",
        "boot.alternate_plan 'x'", "a name is wanted, got a table", "D003", 0 },
  { "a table for a field", NULL, A "alternate 'x' { shelf = { a = { [true] = 1ft } } }",
        "boot.alternate_plan 'x'", "a name is wanted, got true", "D003", 0 },
  { "names for what is left out", NULL, A "alternate 'x' { drop = { a = 'shelf.a' } }",
        "boot.alternate_plan 'x'", "drop is a list of paths", "D003", 0 },
  GIVES("all of a kind, in the order declared", "shelf 'b' { } shelf 'a' { } shelf 'c' { }",
        "local s = '' for r in record.each(record.root.shelf) do s = s .. r.name end return s .. #record.root.shelf",
              "bac3"),
  GIVES("a single kind", "room { width = 9ft }", "return host.format(record.root.room.width)", "9 ft"),
  GIVES("the job is the root", "", "return record.root.name .. record.root.stage", "tpermit"),
  GIVES("a reference by the record", "local s = " A "hook { on = s }", "return record.root.hook.on.name", "a"),
  GIVES("a reference by name", A "hook { on = 'a' }", "return record.root.hook.on == record.all 'shelf' [1]", "true"),
  GIVES("what was not given is told so, not nil", A, "local ok, e = pcall(function() return "
        "record.root.shelf.a.finish end) return e.code .. e.class .. e.path",
        "D010missingshelf.a.finish"),
  GIVES("given says nil", A, "return tostring(record.given(record.root.shelf.a, 'finish'))", "nil"),
  GIVES("at finds a value by path", "shelf 'a' { brackets = { gap = 2ft }, marks = { 1ft, 5ft } }",
        "return host.format(record.at 'shelf.a.brackets.gap') .. host.format(record.at 'shelf.a.marks[2]') .. "
              "tostring(record.at 'shelf.a.depth')", "2 ft5 ftnil"),
  GIVES("derived kinds under their parent", "shelf 'a' { marks = { 1ft, 2ft } }",
        "local s = '' for p in record.each(record.root.shelf.a.peg) do s = s .. tostring(p) .. ' ' .. "
              "host.format(p.place) .. '; ' end return s",
        "shelf.a.peg.P1 1 ft; shelf.a.peg.P2 2 ft; "),
  GIVES("derived once", "shelf 'a' { marks = { 1ft, 2ft } }",
        "local x = record.root.shelf.a for _ = 1, 5 do local p = x.peg.P1.place end return derived", "1"),
  GIVES("paths are read and written alike", "",
        "local p = record.parse_path [[run['array to shed'].bends[2].x]] local s = '' for _, k in ipairs(p) do s = "
              "record.step(s, k) end return s",
        "run['array to shed'].bends[2].x"),
};

/* Pegs hang on shelves, two bolts on each peg: tests/shelf.lua. */
#define PEGS "shelf 'a' { marks = { 1ft, 2ft } } shelf 'b' { marks = { 3ft } }\n"
#define BOLT2 "shelf.a.peg.P2.bolt[\"2\"]"
#define TEXT(what) "return import('write.text')(import('write.explain').explain(boot, " what "), { width = 80 })"
static const struct job_row depths[] = {
  GIVES("all of a kind, two levels down, parent by parent", PEGS, "local s = '' for b in record.each_of 'bolt' do s = "
        "s .. b.of .. b.name .. ' ' end return s .. #record.all 'bolt'", "P11 P12 P21 P22 P11 P12 6"),
  GIVES("one level down", PEGS, "return #record.all 'peg'", "3"),
  GIVES("none where no parent has any", "shelf 'a' { marks = {} }", "return #record.all 'bolt'", "0"),
  GIVES("every record, what hangs on it behind it", "shelf 'a' { marks = { 1ft } }\nroom { width = 9ft }",
        "local s = '' record.each_record(function(p) s = s .. tostring(p) .. ' ' end) return s",
        "job shelf.a shelf.a.peg.P1 shelf.a.peg.P1.bolt['1'] shelf.a.peg.P1.bolt['2'] room "),
  GIVES("and what cannot be derived is told", A, "local s = '' record.each_record(function() end, function(path, why) "
        "s = s .. path .. ' ' .. why.path end) return s", "shelf.a.peg shelf.a.marks"),
  GIVES("a kind may come before the kind that it hangs on", "", "local list = {} "
        "for i, k in ipairs(schema.loaded()) do list[k.name] = i end return list.bolt < list.peg", "true"),
  GIVES("what it hangs on", PEGS, "local b = record.all 'bolt' [4] return tostring(record.parent(b)) .. "
        "tostring(record.parent(record.parent(b))) .. tostring(record.parent(record.all 'shelf' [1]))",
        "shelf.a.peg.P2shelf.anil"),
  GIVES("a value by path", PEGS, "return host.format(record.at '" BOLT2 ".torque')", "4 ft"),
  GIVES("a result by path", PEGS, "return host.format(record.at '" BOLT2 ".twice')", "8 ft"),
  GIVES("the record behind a path", PEGS, "local p, rest = record.locate '" BOLT2 ".torque' return tostring(p) .. "
        "table.concat(rest, ' ')", "shelf.a.peg.P2.bolt['2']torque"),
  GIVES("with another value of its own for a moment", PEGS,
        "return host.format(import('model.variants').with({ [\"shelf.a.peg.P2."
        "bolt['2'].torque\"] = host.literal '1ft' }, function() return record.at '" BOLT2 ".twice' end))", "2 ft"),
  GIVES("its title names all that it hangs on", PEGS, "return import('write.words').subject { proxy = record.all "
        "'bolt' [4], rule = { each = 'bolt' } }", "shelf a peg P2 bolt 2"),
  GIVES("its kind is described with all that it hangs on", "", "return import('write.text')(import('write.describe')"
        ".describe('bolt'), { width = 80 }):match '^[^\\n]+'", "shelf.NAME.peg.NAME.bolt.NAME"),
  GIVES("its place is that of the declaration", PEGS, "return import('write.words').span(record.all 'bolt' [6]).line",
        "2"),
  GIVES("its result is explained", PEGS, TEXT("'" BOLT2 ".twice'") ":match '^[^\\n]+'",
        "shelf.a.peg.P2.bolt['2'].twice = 8 ft"),
  GIVES("its field is explained", PEGS, TEXT("'" BOLT2 ".torque'") ":match 'how tight, in turns of thread'",
        "how tight, in turns of thread"),
};

static const struct job_row frozen[] = {
  REFUSES("a field set", "local s = shelf 'a' { depth = 1ft }\ns.depth = 2ft", "D008",
        "shelf \"a\" is declared and cannot be changed", 2),
  REFUSES("a new field", "local s = shelf 'a' { depth = 1ft }\ns.colour = 2ft", "D008", "cannot be changed", 2),
  REFUSES("an item of a list", "local s = shelf 'a' { marks = { 1ft } }\ns.marks[1] = 2ft", "D008",
        "shelf.a.marks is declared and cannot be changed", 2),
  REFUSES("an item added", "local s = shelf 'a' { marks = { 1ft } }\ns.marks[2] = 2ft", "D008", "cannot be changed", 2),
  REFUSES("table.insert", "local s = shelf 'a' { marks = { 1ft } }\ntable.insert(s.marks, 2ft)", "D008",
        "cannot be changed", 2),
  REFUSES("a value of a map", "local s = shelf 'a' { heights = { x = 1ft } }\ns.heights.x = 2ft", "D008",
        "cannot be changed", 2),
  REFUSES("a field of a group", "local s = shelf 'a' { brackets = { gap = 1ft } }\ns.brackets.gap = 2ft", "D008",
        "cannot be changed", 2),
  GIVES("no metatable in reach", "local s = " A "print(getmetatable(s))", "return tostring(out[1])", "false"),
  REFUSES("rawset is out of reach", "local s = shelf 'a' { depth = 1ft }\nrawset(s, 'depth', 2ft)", "E001",
        "'rawset' is not there", 2),
  REFUSES("a record put into a collection", "local s = shelf 'a' { marks = { 1ft } }\ns.peg.x = 1", "D008",
        "cannot be changed", 2),
  GIVES("changing the script's table later changes nothing",
        "local t = { depth = 1ft, marks = { 1ft } } shelf 'a' (t) t.depth = 9ft t.marks[1] = 9ft t.finish = 'oil'",
        "return host.format(record.root.shelf.a.depth) .. host.format(record.root.shelf.a.marks[1]) .. "
              "tostring(record.given(record.root.shelf.a, 'finish'))", "1 ft1 ftnil"),
  GIVES("one table for two records makes two", "local t = { marks = { 1ft } } shelf 'a' (t) t.marks[1] = 2ft shelf "
        "'b' (t)",
        "return host.format(record.root.shelf.a.marks[1]) .. host.format(record.root.shelf.b.marks[1])", "1 ft2 ft"),
  REFUSES("a table that contains itself", "local t = { depth = 1ft } t.brackets = t\nshelf 'a' (t)", "D013",
        "a table contains itself", 2),
};

#define TYPE "local t = shelf_type 'deep' { depth = 2ft, finish = 'oil', brackets = { size = 'L', gap = 3ft }, " \
    "marks = { 1ft, 2ft } }\n"
#define DIFFERS(name) "return (function() local words, list = import 'write.words', {} " \
    "for i, x in ipairs(import('model.like').differences(record.inside[record.root.shelf." name "])) do " \
    "list[i] = table.concat(x.keys, '.') .. ' ' .. words.show(x.value) .. ' ' .. words.show(x.there) end " \
    "return table.concat(list, '; ') end)()"
/* line and column of the table's value, and whose table it is */
#define GIVEN_AT(name, ...) "local rec = record.inside[record.root.shelf." name "] " \
    "local at, of = import('model.like').giver(rec, { " #__VA_ARGS__ " }) " \
    "local s = host.span(at.source, at.mark, at.line, { " #__VA_ARGS__ " }) " \
    "return s.line .. ':' .. s.col .. ' ' .. of.path"
#define DEPTH(name) "host.format(record.root.shelf." name ".depth)"
static const struct job_row likeness[] = {
  GIVES("what a type gives", TYPE "shelf 'a' { like = t }",
        "return host.format(record.root.shelf.a.depth) .. record.root.shelf.a.finish", "2 ftoil"),
  GIVES("by name", TYPE "shelf 'a' { like = 'deep' }", "return host.format(record.root.shelf.a.depth)", "2 ft"),
  GIVES("what the record says wins", TYPE "shelf 'a' { like = t, depth = 1ft }",
        "return host.format(record.root.shelf.a.depth)", "1 ft"),
  GIVES("groups are merged field by field", TYPE "shelf 'a' { like = t, brackets = { gap = 1ft } }",
        "local b = record.root.shelf.a.brackets return b.size .. host.format(b.gap)", "L1 ft"),
  GIVES("lists are replaced whole", TYPE "shelf 'a' { like = t, marks = { 5ft } }",
        "return #record.root.shelf.a.marks", "1"),
  GIVES("the type stays as it was", TYPE "shelf 'a' { like = t, brackets = { gap = 1ft } }",
        "return host.format(record.all 'shelf_type' [1].brackets.gap)", "3 ft"),
  GIVES("what differs is told", TYPE "shelf 'a' { like = t, depth = 1ft, finish = 'oil', label = 'x', "
        "brackets = { gap = 1ft } }", DIFFERS("a"), "depth 1 ft 2 ft; brackets.gap 1 ft 3 ft"),
  GIVES("and a list as a whole", TYPE "shelf 'a' { like = t, marks = { 1ft, 3ft } } shelf 'b' { like = t, marks = { "
        "1ft, 2ft } }", DIFFERS("a") " .. '|' .. (function() " DIFFERS("b") " end)()", "marks 1 ft, 3 ft 1 ft, 2 ft|"),
  GIVES("a default does not hide what the type says", "local t = shelf_type 'x' { boards = 5 } shelf 'a' { like = t "
        "}", "return record.root.shelf.a.boards", "5"),
  GIVES("a type alone has no defaults", TYPE, "return tostring(record.given(record.all 'shelf_type' [1], 'boards'))",
        "nil"),
  REFUSES("a type that does not exist", TYPE "shelf 'a' { like = 'deeep' }", "D014", "'like' names no shelf_type or "
        "shelf", 2),
  GIVES("another shelf is a template, too", "shelf 'a' { depth = 1ft, finish = 'oil' } shelf 'b' { like = 'a', "
        "finish = 'paint' }", "local b = record.root.shelf.b return host.format(b.depth) .. b.finish .. "
        "tostring(b.like)", "1 ftpaintshelf.a"),
  GIVES("a type is like a type, in a chain", TYPE "shelf_type 'wide' { like = 'deep', brackets = { size = 'T' } } "
        "shelf 'a' { like = 'wide', finish = 'paint' }", "local a = record.root.shelf.a return host.format(a.depth) .. "
        "a.finish .. a.brackets.size .. host.format(a.brackets.gap)", "2 ftpaintT3 ft"),
  GIVES("what is filled in by default is not taken over as given", "shelf 'a' { } shelf 'b' { like = 'a' }",
        "local list = {} for _, d in ipairs(run.defaults) do list[#list + 1] = d.path:match '^shelf.*' end "
        "return table.concat(list, ' ')", "shelf.a.boards shelf.b.boards"),
  GIVES("a name in a type is looked up where it is taken over", "hook_type 'late' { on = 'a' } " A
        "hook 'h' { like = 'late' }", "return tostring(record.root.hook.h.on) .. record.all 'hook_type' [1].on",
        "shelf.aa"),
  { "and refused there, at the type's line", NULL, "hook_type 'late' {\n  on = 'b' }\n" A "hook 'h' { like = "
        "'late' }", NULL, "hook \"h\": 'on' names no shelf", "D014", 2 },
  REFUSES("a wrong value is refused where the type says it", "shelf_type 'x' {\n depth = 20ft }", "D004",
        "shelf_type \"x\": 'depth' must be at most", 2),
  REFUSES("so is what a whole type says of itself", "shelf_type 'x' {\n depth = 2ft, boards = 9 }", "D006",
        "too many boards", 2),
  REFUSES("what neither gives", "hook_type 'x' { at = 1ft } hook 'h' { like = 'x' }", "D002",
        "neither hook \"h\" nor hook_type \"x\" gives 'on'", 1),
  REFUSES("itself", "shelf 'a' { like = 'a' }", "D014", "shelf \"a\" cannot be like itself", 1),
  REFUSES("one of two that have the name", "shelf_type 'a' { } shelf 'a' { } shelf 'b' { like = 'a' }", "D014",
        "'like' may mean shelf_type \"a\" or shelf \"a\"", 1),
  GIVES("where its own value stands", TYPE "shelf 'a' { like = t,\n depth = 1ft }", GIVEN_AT("a", 'depth'),
        "4:10 shelf.a"),
  GIVES("where the type's does", TYPE "shelf 'a' { like = t,\n depth = 1ft }", GIVEN_AT("a", 'finish'),
        "2:53 shelf_type.deep"),
  GIVES("within a group", TYPE "shelf 'a' { like = t, brackets = {\n gap = 1ft } }",
        GIVEN_AT("a", 'brackets', 'size'), "2:80 shelf_type.deep"),
  GIVES("and its own there", TYPE "shelf 'a' { like = t, brackets = {\n gap = 1ft } }",
        GIVEN_AT("a", 'brackets', 'gap'), "4:8 shelf.a"),
  /* with { ... } */
  GIVES("a changed copy is declared", TYPE "local a = shelf 'a' { like = t } shelf 'b' (a:with { depth = 1ft, brackets "
        "= { gap = 2ft } })", "local b = record.root.shelf.b return host.format(b.depth) .. b.finish .. "
        "b.brackets.size .. host.format(b.brackets.gap) .. tostring(b.like) .. #record.all 'shelf'",
        "1 ftoilL2 ftshelf.a2"),
  GIVES("or is what others are like", TYPE "local low = t:with { depth = 1ft } shelf 'a' { like = low, finish = "
        "'paint' } shelf 'b' { like = low }", "local s = record.root.shelf return " DEPTH("a") " .. " DEPTH("b") " .. "
        "s.a.finish .. s.b.finish .. tostring(s.a.like) .. #record.all 'shelf_type'",
        "1 ft1 ftpaintoilshelf_type.deep1"),
  GIVES("a copy of a copy", TYPE "local low = t:with { depth = 1ft, boards = 3 } shelf 'a' (low:with { boards = 4 })",
        "local a = record.root.shelf.a return host.format(a.depth) .. a.boards .. tostring(a.like)",
        "1 ft4shelf_type.deep"),
  GIVES("what differs is told of what has a name", TYPE "local low = t:with { depth = 1ft } shelf 'a' { like = low, "
        "finish = 'paint' }", DIFFERS("a"), "depth 1 ft 2 ft; finish paint oil"),
  GIVES("a copy can be read", TYPE "local low = t:with { depth = 1ft } print(low.depth) print(low.finish)",
        "return host.format(out[1]) .. out[2]", "1 ftoil"),
  GIVES("its value stands in its own table", TYPE "local low = t:with {\n depth = 1ft }\nshelf 'a' { like = low }",
        GIVEN_AT("a", 'depth'), "4:10 shelf.a"),
  GIVES("the first is as it was", TYPE "local low = t:with { brackets = { gap = 1ft } } shelf 'a' { like = t } "
        "shelf 'b' { like = low }", "local s = record.root.shelf return host.format(s.a.brackets.gap) .. "
        "host.format(s.b.brackets.gap)", "3 ft1 ft"),
  REFUSES("a copy's values are checked", TYPE "local low = t:with {\n depth = 20ft }", "D004",
        "a copy of shelf_type \"deep\": 'depth' must be at most", 3),
  REFUSES("and its names", TYPE "t:with {\n dept = 2ft }", "D001", "a copy of shelf_type \"deep\": no field 'dept'", 3),
  REFUSES("a copy is like what it is of", TYPE "t:with { like = t }", "D016", "is like that one already", 2),
  REFUSES("a copy of another kind", TYPE "hook 'h' (t:with { })", "D016", "hook \"h\" needs its table", 2),
  REFUSES("a record in the place of a table", "local a = shelf 'a' { } shelf 'b' (a)", "D016",
        "shelf \"b\" needs its table", 1),
  REFUSES("a copy without a table", TYPE "t:with(3)", "D016",
        "a copy of shelf_type \"deep\" needs its table, got 3", 2),
  REFUSES("a copy of what there is one of", "local r = room { width = 9ft } r:with { width = 8ft }", "D025",
        "with makes a changed copy of a declaration, and room is none", 1),
  REFUSES("of a group", "local a = shelf 'a' { brackets = { size = 'L' } } a.brackets:with { size = 'T' }", "D025",
        "and shelf.a.brackets is none", 1),
  REFUSES("of a list", "local a = shelf 'a' { marks = { 1ft } } a.marks:with { 2ft }", "D025",
        "and shelf.a.marks is none", 1),
  REFUSES("of a map", "local a = shelf 'a' { heights = { x = 1ft } } a.heights:with { x = 2ft }", "D025",
        "and shelf.a.heights is none", 1),
  REFUSES("of what hangs on another", "local a = shelf 'a' { marks = { 1ft } } a.peg.P1:with { place = 2ft }", "D025",
        "and shelf.a.peg.P1 is none", 1),
};

#define ALTERNATE(script, probe, want) script, "boot.declare { script = job_script, plan = boot.alternate_plan 'x' } " \
    "local s = record.root.shelf " probe, want, NULL, 0
#define BAD_ALTERNATE(script, part, code, line) script, \
    "boot.declare { script = job_script, plan = boot.alternate_plan 'x' }", part, code, line
static const struct job_row added[] = {
  { "of a kind that may do without a name", NULL, ALTERNATE("shelf 'a' { depth = 2ft } hook 'h' { on = 'a' } "
        "alternate 'x' { hook = { extra = { on = 'a', at = 1ft } } }", "return #record.all 'hook' .. "
        "host.format(record.root.hook.extra.at)", "21 ft") },
  { "without a name, the first of its kind", NULL, ALTERNATE("shelf 'a' { } alternate 'x' { hook = { on = 'a' } }",
        "return tostring(record.root.hook.on)", "shelf.a") },
  { "the first of a kind of which there is one", NULL, ALTERNATE("alternate 'x' { room = { width = 9ft } }",
        "return host.format(record.root.room.width)", "9 ft") },
  { "what is there is changed", NULL, ALTERNATE("room { width = 8ft, warm = 20degC } alternate 'x' { room = { width = "
        "9ft } }", "return host.format(record.root.room.width) .. host.format(record.root.room.warm)", "9 ft20 degC") },
  { "that name each other, in whatever order", NULL, ALTERNATE("alternate 'x' { hook = { h = { on = 'z' } }, shelf = { "
        "z = { depth = 1ft } } }", "return host.format(record.root.hook.h.on.depth)", "1 ft") },
  { "like one that is declared", NULL, ALTERNATE(A "alternate 'x' { shelf = { b = { like = 'a', boards = 3 } } }",
        "return " DEPTH("b") " .. s.b.boards .. " DEPTH("a"), "1 ft31 ft") },
  { "a copy", NULL, ALTERNATE("local a = " A "local low = a:with { boards = 3, finish = 'oil' } "
        "alternate 'x' { shelf = { b = low, c = { like = low, finish = 'paint' } } }",
        "return " DEPTH("b") " .. s.b.boards .. s.b.finish .. s.c.boards .. s.c.finish", "1 ft3oil3paint") },
  { "a type moves all that are like it", NULL, ALTERNATE(TYPE "shelf 'a' { like = t } alternate 'x' { shelf_type = { "
        "deep = { depth = 1ft } } }", "return " DEPTH("a"), "1 ft") },
  { "beside one without a name", NULL, BAD_ALTERNATE(A "hook { on = 'a' } alternate 'x' { hook = { h = { on = "
        "'a' } } }", "alternate \"x\" adds hook \"h\", and the hook here has no name", "D018", 2) },
  { "lacking what it must say", NULL, BAD_ALTERNATE("alternate 'x' { hook = { h = { at = 1ft } } }",
        "alternate \"x\": hook \"h\": 'on' is missing", "D002", 0) },
};

static const struct job_row overrides[] = {
  SET("a value by path", PUT("shelf.a.depth", "host.literal '2ft'"), A,
        "return host.format(record.root.shelf.a.depth)", "2 ft"),
  SET("of the only one, without its name", PUT("shelf.depth", "host.literal '2ft'"), A,
        "return host.format(record.root.shelf.a.depth)", "2 ft"),
  SET("of one among two", PUT("shelf.b.depth", "host.literal '2ft'"), A "shelf 'b' { depth = 1ft }",
      "return host.format(record.root.shelf.a.depth) .. host.format(record.root.shelf.b.depth)", "1 ft2 ft"),
  SET("within a group", PUT("shelf.a.brackets.gap", "host.literal '2ft'"),
        "shelf 'a' { brackets = { size = 'L', gap = 1ft } }",
      "local b = record.root.shelf.a.brackets return b.size .. host.format(b.gap)", "L2 ft"),
  SET("within a group that was not there", PUT("shelf.a.brackets.gap", "host.literal '2ft'"), A,
        "return host.format(record.root.shelf.a.brackets.gap)", "2 ft"),
  SET("an item of a list", PUT("shelf.a.marks[2]", "host.literal '9ft'"), "shelf 'a' { marks = { 1ft, 2ft, 3ft } }",
      "local m = record.root.shelf.a.marks return host.format(m[1]) .. host.format(m[2]) .. #m", "1 ft9 ft3"),
  SET("over what a type gives", PUT("shelf.a.depth", "host.literal '1ft'"), TYPE "shelf 'a' { like = t }",
        "return host.format(record.root.shelf.a.depth)", "1 ft"),
  SET("a told value inside", PUT("shelf.a.brackets.gap", "host.literal '2ft'"),
        "shelf 'a' { brackets = told({ size = 'L', gap = 1ft }, 'owner') }",
      "return record.root.shelf.a.brackets.size .. host.format(record.root.shelf.a.brackets.gap)", "L2 ft"),
  SET("the last one wins", PUT("shelf.a.depth", "host.literal '2ft'") PUT("shelf.a.depth", "host.literal '3ft'"), A,
        "return host.format(record.root.shelf.a.depth)", "3 ft"),
  SET("a single kind", PUT("room.width", "host.literal '8ft'"), "room { width = 9ft }",
        "return host.format(record.root.room.width)", "8 ft"),
  SET("the job's own", PUT("job.stage", "'quote'"), "", "return record.root.stage", "quote"),
  SET("another type to be like", PUT("shelf.a.like", "'wide'"), TYPE "shelf_type 'wide' { depth = 4ft } shelf 'a' { "
        "like = t, finish = 'paint' }", "local s = record.root.shelf.a return host.format(s.depth) .. s.finish",
        "4 ftpaint"),
  SET("of a type: all that are like it", PUT("shelf_type.deep.depth", "host.literal '9in'"), TYPE
        "shelf_type 'low' { like = t } shelf 'a' { like = t } shelf 'b' { like = 'low' } shelf 'c' { like = t, depth = "
        "1ft }",
        "return " DEPTH("a") " .. " DEPTH("b") " .. " DEPTH("c"), "9 in9 in1 ft"),
  SET("of a shelf that others are like", PUT("shelf.a.depth", "host.literal '9in'"), A "shelf 'b' { like = 'a' } "
        "shelf 'c' { like = 'a', depth = 2ft }", "return " DEPTH("a") " .. " DEPTH("b") " .. " DEPTH("c"),
        "9 in9 in2 ft"),
  SET("of one that is like another", PUT("shelf.b.depth", "host.literal '9in'"), A "shelf 'b' { like = 'a' }",
        "return " DEPTH("a") " .. " DEPTH("b"), "1 ft9 in"),
  SET("of a copy that is declared", PUT("shelf.b.depth", "host.literal '9in'"), "local a = " A
        "shelf 'b' (a:with { finish = 'oil' })", "return " DEPTH("a") " .. " DEPTH("b")
        " .. record.root.shelf.b.finish", "1 ft9 inoil"),
  SET("another one to be like, and the changes stay", PUT("shelf.a.like", "'wide'"), TYPE "shelf_type 'wide' { depth = "
        "4ft, finish = 'oil' } local low = t:with { finish = 'paint' } shelf 'a' { like = low }", "return " DEPTH("a")
        " .. record.root.shelf.a.finish", "4 ftpaint"),
  SET("one that is added, named by a change", "{ add = 'shelf', name = 'new', raw = { depth = host.literal '3ft' }, "
        "from = 'x' }, " PUT("hook.on", "'new'"), A "hook { on = 'a' }",
        "return host.format(record.root.hook.on.depth) .. #record.all 'shelf'", "3 ft2"),
  SET("a record left out", "{ drop = 'shelf.a', from = 'x' }", A "shelf 'b' { }",
        "return #record.all 'shelf' .. record.all 'shelf' [1].name", "1b"),
  BADSET("a path to nothing", PUT("shelf.b.depth", "host.literal '2ft'"), A, "D019",
        "nothing declared has the path shelf.b.depth"),
  BADSET("a path to a field that is none", PUT("shelf.a.dept", "host.literal '2ft'"), A, "D001", "no field 'dept'"),
  BADSET("the wrong kind of value", PUT("shelf.a.depth", "host.literal '2lbf'"), A, "D003",
        "--set shelf.a.depth: shelf \"a\": 'depth' needs a length"),
  BADSET("out of range", PUT("shelf.a.depth", "host.literal '20ft'"), A, "D004", "must be at most"),
  BADSET("which of two", PUT("shelf.depth", "host.literal '2ft'"), A "shelf 'b' { depth = 1ft }", "D019",
        "meant for which of a, b?"),
  BADSET("a path that cannot be read", PUT("shelf..depth", "1"), A, "D019", "cannot read '..depth'"),
  BADSET("nothing to leave out", "{ drop = 'shelf.z', from = 'alternate x' }", A, "D019",
        "alternate x: nothing declared has the path shelf.z"),
};

static const struct job_row provenance[] = {
  GIVES("measured", "shelf 'a' { depth = measured(1ft, 'tape') }",
        "local t = run.told['shelf.a.depth'] return t.how .. t.by .. host.format(record.root.shelf.a.depth)",
        "measuredtape1 ft"),
  GIVES("guess needs nobody", "shelf 'a' { depth = guess(1ft) }", "return run.told['shelf.a.depth'].how", "guess"),
  GIVES("within a group", "shelf 'a' { brackets = { gap = looked_up(1ft, 'catalogue') } }",
        "return run.told['shelf.a.brackets.gap'].by", "catalogue"),
  GIVES("what is refused leaves nothing behind", A "pcall(function() shelf 'b' { depth = guess(1lbf) } end)",
        "for _, d in ipairs(run.defaults) do if d.path:find 'shelf.b' then return d.path end end "
        "return next(run.told) or 'nothing'", "nothing"),
  GIVES("what is not told is not listed", A, "return next(run.told) == nil", "true"),
  GIVES("defaults are listed", A, "local s = '' for _, d in ipairs(run.defaults) do s = s .. d.path .. ' ' end "
        "return s:find('shelf.a.boards', 1, true) and 'yes' or s", "yes"),
  GIVES("quiet ones are not", A, "for _, d in ipairs(run.defaults) do if d.path == 'shelf.a.label' then return "
        "'listed' end end return 'quiet'", "quiet"),
  GIVES("nor are given ones", "shelf 'a' { boards = 2 }",
        "for _, d in ipairs(run.defaults) do if d.path == 'shelf.a.boards' then return 'listed' end end return "
        "'given'", "given"),
  REFUSES("told by nobody", "\nshelf 'a' { depth = told(1ft) }", "D012", "told needs to say by what or by whom", 2),
  REFUSES("measured with blanks", "\nshelf 'a' { depth = measured(1ft, ' ') }", "D012", "measured needs to say", 2),
  REFUSES("told nothing", "\nshelf 'a' { depth = told(nil, 'owner') }", "D012", "told needs a value", 2),
  REFUSES("counted", "\nlocal n = #told({ 1ft }, 'owner')", "D012", "belong around a whole field", 2),
  REFUSES("walked", "\nfor _ in pairs(told({ 1ft }, 'owner')) do end", "D012", "belong around a whole field", 2),
  REFUSES("changed", "\nlocal t = told({ 1ft }, 'owner') t.x = 1", "D012", "belong around a whole field", 2),
  REFUSES("calculated with", "\nshelf 'a' { depth = told(1ft, 'owner') + 1ft }", "D012",
        "belong around a whole field", 2),
  REFUSES("told the wrong kind", "\nshelf 'a' { depth = told(1lbf, 'owner') }", "D003", "needs a length", 2),
};

static const struct job_row refusals[] = {
  REFUSES("a misspelt field", "\nshelf 'a' {\n  dephth = 1ft }", "D001", "no field 'dephth'", 3),
  REFUSES("of several the first by name", "\nshelf 'a' { zz = 1, yy = 2, xx = 3 }", "D001", "no field 'xx'", 2),
  REFUSES("a required field that is missing", "\nroom { warm = 20degC }", "D002", "'width' is missing", 2),
  REFUSES("a bare number", "\nshelf 'a' { depth = 3 }", "D003",
        "'depth' needs a length (like 6ft), got 3 (a bare number)", 2),
  REFUSES("another dimension", "\nshelf 'a' { depth = 3lbf }", "D003", "got 3 lbf (force)", 2),
  REFUSES("a text", "\nshelf 'a' { depth = '3ft' }", "D003", "got the text \"3ft\"", 2),
  REFUSES("half a board", "\nshelf 'a' { boards = 1.5 }", "D003", "needs a whole number", 2),
  REFUSES("a point where a length is wanted", "\nshelf 'a' { depth = 3degC }", "D003", "got 3 degC (temperature)", 2),
  REFUSES("a difference where a point is wanted", "\nroom { width = 1ft, warm = 3K }", "D003", "needs a temperature",
        2),
  REFUSES("too much", "\nshelf 'a' { boards = 10 }", "D004", "'boards' must be at most 9, got 10", 2),
  REFUSES("too little", "\nshelf 'a' { boards = 0 }", "D004", "'boards' must be at least 1, got 0", 2),
  REFUSES("nothing, where it must be above", "\nshelf 'a' { depth = 0ft }", "D004", "must be above 0", 2),
  REFUSES("a value without a name", "\nshelf 'a' { 1ft }", "D005", "every value needs a name", 2),
  REFUSES("a check of the kind", "\nshelf 'a' { depth = 1ft, boards = 9 }", "D006", "too many boards", 2),
  REFUSES("a choice that is none", "\nshelf 'a' { finish = 'oli' }", "D003",
        "'finish' is one of oil, paint; got the text", 2),
  REFUSES("an empty text", "\nshelf 'a' { label = ' ' }", "D003", "'label' is empty", 2),
  REFUSES("a list with names", "\nshelf 'a' { marks = { x = 1ft } }", "D003", "is a list without names", 2),
  REFUSES("a list with a hole", "\nshelf 'a' { marks = { [1] = 1ft, [3] = 2ft } }", "D003",
        "'marks' has no item 3: it has 1", 2),
  REFUSES("a wrong item", "\nshelf 'a' { marks = {\n  1ft,\n  2lbf } }", "D003", "needs a length", 4),
  REFUSES("a map without names", "\nshelf 'a' { heights = { 1ft } }", "D003", "is a table with names", 2),
  REFUSES("a reference to nothing", A "hook { on = 'b' }", "D014", "'on' names no shelf", 2),
  REFUSES("a reference to another kind", "local r = room { width = 1ft }\nhook { on = r }", "D014",
        "'on' names no shelf", 2),
  REFUSES("declared twice", A "\nshelf 'a' { depth = 2ft }", "D015", "shelf \"a\" is declared twice", 3),
  REFUSES("two of a single kind", "room { width = 1ft }\nroom { width = 2ft }", "D015", "room is declared twice", 2),
  REFUSES("no name", "\nshelf { depth = 1ft }", "D016", "shelf needs a name", 2),
  REFUSES("a name for a single kind", "\nroom 'x' { width = 1ft }", "D016", "room takes no name", 2),
  REFUSES("a head without its table", "\nlocal x = shelf 'a'\nlocal y = 1", "D016", "shelf \"a\" has no table", 2),
  REFUSES("a number for a table", "\nroom(5)", "D016", "room needs its table, got 5", 2),
  REFUSES("a second table", "\nshelf 'a' ({ }, { })", "D016", "takes one table", 2),
  REFUSES("an empty name", "\nshelf '' { }", "D016", "empty name", 2),
  REFUSES("a name that is a field", "\nshelf 'depth' { }", "D017", "shelf cannot be named 'depth'", 2),
  REFUSES("two without names", A "hook { on = 'a' }\nhook { on = 'a' }", "D018", "there is more than one hook", 3),
  REFUSES("what settles after all is declared", A "\nhook { on = 'a', at = 2ft }", "D020", "hook: hangs in the air", 3),
  REFUSES("a field that is none, read", "local s = " A "\nprint(s.dept)", "D007", "has no field or result 'dept'", 3),
  { "given of a list", NULL, "shelf 'a' { marks = { 1ft } }", "return record.given(record.root.shelf.a.marks, 1)",
        "given needs a record and a field's name, got a list", "D007", 0 },
  { "given of all of a kind", NULL, A, "return record.given(record.root.shelf, 'depth')",
        "given needs a record and a field's name, got a collection", "D007", 0 },
  REFUSES("tables in tables without end", "local t = {} for _ = 1, 100000 do t = { brackets = t } end\nshelf 'a' (t)",
        "D013", "tables stand in each other more than 16 deep", 2),
  REFUSES("a quantity without end for a name", "\nshelf 'a' { depth = 1ft, label = 1e999/3ft }", "D003",
        "got a number without end, as 1/0 gives it (change per length)", 2),
  REFUSES("a record for a list", "local s = " A "\nshelf 'b' { marks = s }", "D003", "'marks' needs a list", 3),
  REFUSES("a record for a map", "local s = " A "\nshelf 'b' { heights = s }", "D003", "'heights' needs a table", 3),
  REFUSES("a tolerance beyond the field's range", "\nshelf 'a' { depth = 1in+-2in }", "D004",
        "'depth' must be above 0 ft, got -1 in", 2),
  REFUSES("a tolerance that would be forgotten", "\nlocal share = 20%+-2%", "Q109",
          "a share cannot keep a tolerance", 2),
  REFUSES("each of a number", "\nfor x in each(5) do end", "D011", "each needs a collection or a list, got 5", 2),
  REFUSES("a name that nobody declared", "\nprint(shelv)", "E001", "nothing is called 'shelv'", 2),
  REFUSES("a word of the language set", "\nshelf = 5", "E004", "'shelf' is a word of the language", 2),
  { "which of two", NULL, "shelf 'a' { } shelf 'b' { }", "return record.root.shelf.depth",
        "there are 2 of shelf: a, b; say which", "D009", 0 },
  { "none of that name", NULL, "shelf 'a' { } shelf 'b' { }", "return record.root.shelf.c", "no shelf is named 'c'",
        "D009", 0 },
  { "none of the kind", NULL, "", "return record.root.shelf.a", "no shelf is declared", "D010", 0 },
  { "no single one", NULL, "", "return record.root.room", "no room is declared", "D010", 0 },
  { "given of a field that is none", NULL, A, "return record.given(record.root.shelf.a, 'x')",
        "no field or result 'x'", "D007", 0 },
};

/* Without its job a script is refused; JOB is not written here. */
static void a_script_without_a_job(void **state) {
  static const struct job_row row = { "", NULL, "", NULL, "no job is declared", "D010", 0 };
  (void)state;
  job_write("job.sline", "local x = 5ft\n", "");
  lua_State *L = sl_host_new(&job_host, NULL);
  sl_host_import(L, "model.boot");
  lua_getfield(L, -1, "declare");
  lua_newtable(L);
  lua_pushstring(L, job_path);
  lua_setfield(L, -2, "script");
  assert_int_not_equal(sl_host_call(L, 1, 0), LUA_OK);
  struct sl_message m;
  sl_error_message(L, -1, &m);
  assert_string_equal(m.code, row.code);
  assert_non_null(strstr(m.text, row.want));
  sl_host_close(L);
}

int main(void) {
  static struct CMUnitTest tests[260];
  size_t n = 0;
  job_prelude = "tests/shelf.lua";
  JOB_ROWS(tests, n, records);
  JOB_ROWS(tests, n, depths);
  JOB_ROWS(tests, n, frozen);
  JOB_ROWS(tests, n, likeness);
  JOB_ROWS(tests, n, added);
  JOB_ROWS(tests, n, overrides);
  JOB_ROWS(tests, n, provenance);
  JOB_ROWS(tests, n, refusals);
  tests[n++] = (struct CMUnitTest)cmocka_unit_test(a_script_without_a_job);
  return _cmocka_run_group_tests("record", tests, n, job_setup, job_teardown);
}
