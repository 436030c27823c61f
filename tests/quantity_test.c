/* SPDX-License-Identifier: MIT
 * Quantities as a script meets them: laws of arithmetic, temperatures, money, wire sizes, functions, refusals.
 * Conversions are checked against NIST SP 811 (2008), Appendix B.8 (from memory; the factors are exact by definition,
 * but for lbf and psi, which follow from them). */
#include "job_run.h"

/* What a script prints is kept instead. */
#define KEEP "host.print = function(v) out = v end"
#define IS(name, expression, want)        { name, KEEP, "print(" expression ")\n", "return out", want, NULL, 0 }
#define TRUE(name, expression)            IS(name, expression, "true")
#define REFUSED(name, expression, code, part) { name, NULL, "\nprint(" expression ")\n", NULL, part, code, 2 }

static const struct job_row laws[] = {
  IS("1 in is 25.4 mm", "number_in(1in, \"mm\")", "25.4"),
  IS("1 lbf is 4.4482216152605 N", "string.format(\"%.13f\", number_in(1lbf, \"N\"))", "4.4482216152605"),
  IS("1 psi is 6894.757 Pa", "string.format(\"%.3f\", number_in(1psi, \"Pa\"))", "6894.757"),
  IS("1 mph is 0.44704 m/s", "number_in(1mph, \"m/s\")", "0.44704"),
  IS("-40 degC is -40 degF", "string.format(\"%.9f\", number_in(-40degC, \"degF\"))", "-40.000000000"),
  IS("100 degC is 212 degF", "string.format(\"%.9f\", number_in(100degC, \"degF\"))", "212.000000000"),
  IS("0 degC is 273.15 K", "number_in(0degC, \"K\")", "273.15"),
  IS("a day is 86400 s", "number_in(1d, \"s\")", "86400.0"),
  IS("1 kWh is 3.6 MJ", "number_in(1kWh, \"J\")", "3600000.0"),
  TRUE("12 in is 1 ft", "12in == 1ft"),
  TRUE("3 ft is 1 yd", "3ft == 1yd"),
  TRUE("5280 ft is 1 mi", "5280ft == 1mi"),
  TRUE("a sum does not depend on the order", "(1ft + 2mm) + 3in == 3in + (2mm + 1ft)"),
  TRUE("a product does not depend on the order", "3lbf * 2ft == 2ft * 3lbf"),
  TRUE("a sum is taken back by a difference", "(7ft + 3mm) - 3mm == 7ft"),
  TRUE("a product is taken back by a quotient", "(7ft * 3lbf) / 3lbf == 7ft"),
  TRUE("multiplying distributes over a sum", "2.5 * (1ft + 3in) == 2.5 * 1ft + 2.5 * 3in"),
  TRUE("a tenth added ten times is one", "(function() local s = 0ft for _ = 1, 10 do s = s + 0.1ft end return s "
        "end)() == 1ft"),
  TRUE("equal within 1e-9 of the larger", "1ft == 1ft * (1 + 5e-10)"),
  TRUE("not equal beyond 1e-9", "1ft ~= 1ft * (1 + 3e-9)"),
  TRUE("equal is neither less nor more", "not (1ft < 12in) and not (1ft > 12in) and 1ft <= 12in and 1ft >= 12in"),
  TRUE("nothing is near to what has no end", "5ft < 5ft * (1 / 0) and 5ft ~= 5ft * (1 / 0)"),
  TRUE("what has no end is itself", "5ft * (1 / 0) == 3ft * (1 / 0)"),
  TRUE("near zero nothing is rounded to equal", "1e-12m ~= 2e-12m"),
  TRUE("minus", "-(3ft) == 0ft - 3ft and -(-(3ft)) == 3ft"),
  TRUE("a length is no number", "1ft ~= 0.3048"),
  TRUE("a length is no force", "1ft ~= 1lbf"),
  IS("like over like is a number", "math.type(6ft / 2ft)", "float"),
  IS("its value", "6ft / 2ft", "3.0"),
  IS("a length squared is an area", "as(2ft * 3ft, \"ft2\")", "6 ft2"),
  IS("a power", "as((2m)^2, \"m2\")", "4 m2"),
  IS("a power of one half", "as((4m2)^0.5, \"m\")", "2 m"),
  IS("area over length", "as(6ft2 / 2ft, \"ft\")", "3 ft"),
  IS("volts times amperes", "as(40V * 10A, \"W\")", "400 W"),
  IS("force over area", "as(144lbf / 1ft2, \"psi\")", "1 psi"),
  IS("how often it goes", "10ft // 3ft", "3.0"),
  IS("what is left", "as(10ft % 3ft, \"ft\")", "1 ft"),
  IS("ten inches and a hair go ten times into one inch", "(0.1ft * 12) // 0.1ft", "12.0"),
  IS("below zero it goes one less", "-1ft // 3ft", "-1.0"),
  IS("and leaves the rest", "as(-1ft % 3ft, \"ft\")", "2 ft"),
  IS("a sum keeps the left unit", "tostring(1ft + 12in)", "2 ft"),
  IS("a number times it keeps the unit", "tostring(3 * 2mm)", "6 mm"),
  IS("joined to a text", "\"cut \" .. 3ft .. \" off\"", "cut 3 ft off"),
  IS("cold string voltage by hand: 43.23 V x (1 - 0.0025 x -41) x 5", /* NEC 690.7(A)(1), worked by hand */
     "string.format(\"%.4f\", number_in(5 * 43.23V * (1 + -0.25%/K * (-16degC - 25degC)), \"V\"))", "238.3054"),
};

static const struct job_row temperatures[] = {
  IS("point minus point is a difference", "tostring(20degC - 5degC)", "15 K"),
  IS("point plus difference is a point", "tostring(20degC + 5K)", "25 degC"),
  IS("difference plus point is a point", "tostring(5K + 20degC)", "25 degC"),
  IS("point minus difference is a point", "tostring(20degC - 5K)", "15 degC"),
  IS("a difference in Fahrenheit degrees", "number_in(212degF - 32degF, \"dF\")", "180.0"),
  IS("10 dF is 5.556 K", "string.format(\"%.6f\", number_in(10dF, \"K\"))", "5.555556"),
  IS("points compare across scales", "32degF == 0degC and 50degF < 11degC", "true"),
  IS("the coldest", "tostring(min(-16degC, 20degF, 0degC))", "-16 degC"),
  TRUE("a point is not its difference", "5degC ~= 278.15K"),
  REFUSED("two points added", "20degC + 5degC", "Q005", "cannot add two temperatures"),
  REFUSED("a point doubled", "20degC * 2", "Q005", "cannot multiply or divide a temperature"),
  REFUSED("a point over a number", "20degC / 2", "Q005", "cannot multiply or divide a temperature"),
  REFUSED("a point negated", "-(20degC)", "Q005", "cannot negate a temperature"),
  REFUSED("difference minus point", "5K - 20degC", "Q005", "cannot take a temperature from a difference"),
  REFUSED("a point squared", "(20degC)^2", "Q006", "cannot raise"),
  REFUSED("point against difference", "20degC < 5K", "Q003", "cannot compare"),
  REFUSED("size of a point", "abs(-20degC)", "Q005", "needs a difference"),
  REFUSED("a difference asked for as a point", "number_in(5K, \"degC\")", "Q005", "a difference of temperature"),
  REFUSED("a difference printed as a point", "as(5K, \"degF\")", "Q005", "a difference of temperature"),
};

static const struct job_row money[] = {
  IS("to the cent", "tostring($2.5 * 3)", "$7.50"),
  IS("price times length", "tostring($1.35/ft * 10ft)", "$13.50"),
  IS("a price each way", "tostring($1.35/ft)", "$1.35/ft"),
  IS("price over power", "$450 / ($0.45/W) == 1kW", "true"),
  IS("below zero", "tostring($1 - $3.5)", "-$2.50"),
  IS("no minus before nothing", "tostring($0.10 - $0.104)", "$0.00"),
  IS("a large amount keeps its digits", "tostring($1234567.891)", "$1234567.89"),
  IS("a huge one does not lose them silently", "tostring($1 * 1e70)", "$1.000e+70"),
  REFUSED("money plus length", "$3 + 1ft", "Q003", "cannot add"),
  REFUSED("money plus a number", "$3 + 1", "Q003", "cannot add"),
  { "two currencies added", NULL, "\nprint(3USD + 4EUR)\n", NULL, "", "Q003", 0 },
  { "two currencies divided", NULL, "\nprint((3USD/m) / (4EUR/m))\n", NULL, "two currencies", "Q004", 0 },
  REFUSED("another currency asked for", "number_in(3USD, \"EUR\")", "Q004", "another currency"),
};

static const struct job_row wires[] = {
  /* ASTM B258: d = 0.005 in x 92^((36 - n)/39); 10 AWG is 5.261 mm2, 4/0 is 107.2 mm2 (NEC chapter 9 table 8). */
  IS("area of 10 AWG", "string.format(\"%.3f\", number_in(10AWG.area, \"mm2\"))", "5.261"),
  IS("area of 4/0", "string.format(\"%.1f\", number_in(awg\"4/0\".area, \"mm2\"))", "107.2"),
  IS("area of 250 kcmil", "string.format(\"%.1f\", number_in(awg\"250\".area, \"mm2\"))", "126.7"),
  TRUE("a thicker wire is more", "6AWG > 8AWG and awg\"4/0\" > awg\"1/0\" and awg\"250\" > awg\"4/0\""),
  TRUE("the same size is equal", "6AWG == awg\"6\" and 6AWG <= awg\"6\" and 6AWG ~= 8AWG"),
  IS("printed", "6AWG .. \", \" .. awg\"4/0\" .. \", \" .. awg\"250\"", "6 AWG, 4/0 AWG, 250 kcmil"),
  IS("its size", "6AWG.size", "6"),
  TRUE("a metric one says so", "awg\"6 mm2\".metric and not 6AWG.metric"),
  TRUE("#6 is 6 AWG", "awg\"#6\" == 6AWG and awg\"#2/0\" == awg\"2/0\""),
  REFUSED("two sizes added", "6AWG + 8AWG", "Q008", "cannot calculate with a wire size"),
  REFUSED("a size doubled", "2 * 6AWG", "Q008", "cannot calculate with a wire size"),
  REFUSED("a size against an area", "6AWG < 10mm2", "Q008", "cannot compare"),
  REFUSED("another field", "6AWG.diameter", "Q008", "no field 'diameter'"),
  REFUSED("no such size", "awg\"5/0\"", "Q008", "no such wire size '5/0'"),
  REFUSED("a size out of a number", "awg(6)", "Q010", "awg needs a text"),
};

static const struct job_row functions[] = {
  IS("sine of 30 degrees", "string.format(\"%.12f\", sin(30deg))", "0.500000000000"),
  IS("cosine of 60 degrees", "string.format(\"%.12f\", cos(60deg))", "0.500000000000"),
  IS("tangent of 45 degrees", "string.format(\"%.12f\", tan(45deg))", "1.000000000000"),
  IS("arc sine", "tostring(asin(0.5))", "30 deg"),
  IS("arc cosine", "tostring(acos(0.5))", "60 deg"),
  IS("arc tangent of two lengths", "tostring(atan2(3ft, 36in))", "45 deg"),
  IS("arc tangent of two numbers, second quadrant", "tostring(atan2(1, -1))", "135 deg"),
  IS("3, 4, 5", "sqrt((3ft)^2 + (4ft)^2) == 5ft", "true"),
  IS("root of a number", "sqrt(9)", "3.0"),
  IS("size", "tostring(abs(-3ft))", "3 ft"),
  IS("most of several", "tostring(max(3ft, 1yd + 1in, 2m))", "2 m"),
  IS("least of numbers", "min(3, 1, 2)", "1"),
  IS("down to a step", "tostring(floor(10.7in, 0.25in))", "10.5 in"),
  IS("up to a step", "tostring(ceil(10.6in, 0.25in))", "10.75 in"),
  IS("to the nearest step", "tostring(round(10.6in, 0.25in))", "10.5 in"),
  IS("the unit is the step's", "tostring(ceil(1m, 1in))", "40 in"),
  IS("what is a whole step stays", "tostring(ceil(0.1ft * 3, 0.1ft)) .. tostring(floor(0.3ft, 0.1ft))", "0.3 ft0.3 ft"),
  IS("a whole number is whole", "floor(7.9) .. \" \" .. ceil(7.1) .. \" \" .. round(7.5)", "7 8 8"),
  IS("a number to a step", "floor(7.9, 0.5)", "7.5"),
  IS("below zero, down is down", "floor(-7.5) .. \" \" .. ceil(-7.5)", "-8 -7"),
  IS("length from feet and inches", "len[[12' 6-1/2\"]] == 150.5in", "true"),
  IS("a list with one unit", "#ft{1, 2} .. \" \" .. ft{4.62, 4.78}[2]", "2 4.78 ft"),
  IS("a list of lists", "tostring(mm{ { 1 }, a = 2 }[1][1]) .. mm{ a = 2 }.a", "1 mm2 mm"),
  IS("growth per year of 365.25 days", "string.format(\"%.6f\", number_in(per_year(1m) * 365.25d, \"m\"))", "1.000000"),
  IS("as keeps the value", "as(1ft, \"mm\") == 1ft and tostring(as(1ft, \"mm\"))", "304.8 mm"),
  IS("number in per cent", "number_in(0.25, \"%\")", "25.0"),
  REFUSED("sine of a number", "sin(30)", "Q009", "sin needs an angle (like 35deg), got 30 (a bare number)"),
  REFUSED("arc sine beyond 1", "asin(1.5)", "Q009", "from -1 to 1"),
  REFUSED("arc tangent of two kinds", "atan2(3ft, 2lbf)", "Q009", "two values of one kind"),
  IS("root of a length, squared, is the length", "sqrt(4ft)^2 == 4ft", "true"),
  REFUSED("root of a root of a length", "sqrt(sqrt(4ft))", "Q009", "has no meaning"),
  REFUSED("root of a negative area", "sqrt(-4ft2)", "Q009", "has no meaning"),
  REFUSED("root of a negative number", "sqrt(-4)", "Q009", "not negative"),
  REFUSED("root of a text", "sqrt(\"4\")", "Q009", "got the text"),
  REFUSED("a quantity to a bare step", "floor(3ft, 2)", "Q009",
        "needs a step of the same kind (like floor(x, 1in)), got 2"),
  REFUSED("a quantity without a step", "round(3ft)", "Q009", "needs a step of the same kind"),
  REFUSED("a number to a length", "ceil(3, 1ft)", "Q009", "got 1 ft (length)"),
  REFUSED("a step of nothing", "floor(3ft, 0ft)", "Q009", "a step above 0"),
  REFUSED("a negative step", "round(3, -1)", "Q009", "a step above 0"),
  REFUSED("most of nothing", "max()", "Q009", "at least one"),
  REFUSED("most of a text", "max(3ft, \"4ft\")", "Q009", "got the text"),
  REFUSED("most of two kinds", "max(3ft, 2lbf)", "Q003", "cannot compare"),
  REFUSED("a unit that does not fit", "as(3ft, \"lbf\")", "Q010", "cannot be given in lbf"),
  REFUSED("no such unit", "as(3ft, \"fot\")", "Q010", "fot"),
  REFUSED("a unit that is no text", "number_in(3ft, 4)", "Q010", "number_in needs a text"),
  REFUSED("a unit of a text", "as(\"3ft\", \"ft\")", "Q010", "cannot be given in ft"),
  REFUSED("a list of quantities", "ft{ 3ft }", "Q011", "ft{...} takes bare numbers, got 3 ft (length)"),
  REFUSED("a list that is none", "inch(4)", "Q011", "inch needs a list"),
  { "a list that contains itself", NULL, "local t = {}\nt[1] = t\nprint(ft(t))\n", NULL,
        "lists of lists, at most 8 deep", "Q011", 3 },
  REFUSED("a length that cannot be read", "len[[twelve feet]]", "Q101", "len: this is not a number with a unit"),
};

/* What is no number goes through no function that could lose it: of two values neither is the greater (IEEE 754), and a
 * step has no count.  Without end is a number to min and max, so that a search may begin with it. */
#define NAN_LENGTH "3ft * (0/0)"
static const struct job_row no_numbers[] = {
  REFUSED("most, first", "max(0/0, 1)", "Q009", "max: value 1 is no number: was something divided by 0?"),
  REFUSED("most, last", "max(1, 0/0)", "Q009", "max: value 2 is no number"),
  REFUSED("most, in the middle", "max(1, 0/0, 3)", "Q009", "max: value 2 is no number"),
  REFUSED("most, alone", "max(0/0)", "Q009", "max: value 1 is no number"),
  REFUSED("least", "min(1, 2, 0/0)", "Q009", "min: value 3 is no number"),
  REFUSED("most of lengths", "max(" NAN_LENGTH ", 1ft)", "Q009", "max: value 1 is no number"),
  REFUSED("least of lengths", "min(1ft, " NAN_LENGTH ")", "Q009", "min: value 2 is no number"),
  REFUSED("Lua's names for them are no way round", "math.max(1, 0/0)", "Q009", "max: value 2 is no number"),
  REFUSED("neither of them", "math.min(1, 0/0)", "Q009", "min: value 2 is no number"),
  IS("a search may begin without end", "min(1/0, 3) .. ' ' .. max(-1/0, 3) .. ' ' .. tostring(min(3ft * (1/0), 3ft))",
     "3 3 3 ft"),
  REFUSED("down", "floor(0/0)", "Q009", "floor: the value is no number: was something divided by 0?"),
  REFUSED("up, without end", "ceil(1/0)", "Q009", "ceil: the value is no number"),
  REFUSED("to the nearest", "round(-1/0, 2)", "Q009", "round: the value is no number"),
  REFUSED("a length down", "floor(" NAN_LENGTH ", 1in)", "Q009", "floor: the value is no number"),
  REFUSED("to a step without end", "floor(5, 1/0)", "Q009", "floor: the step is no number"),
  REFUSED("to a step that is none", "floor(5, 0/0)", "Q009", "floor: the step is no number"),
  REFUSED("steps beyond counting", "floor(1e300, 1e-300)", "Q009", "floor: there are too many steps to count"),
  REFUSED("root", "sqrt(0/0)", "Q009", "sqrt: the value is no number"),
  REFUSED("root of an area", "sqrt(3ft2 * (0/0))", "Q009", "sqrt: the value is no number"),
  REFUSED("arc sine", "asin(0/0)", "Q009", "asin: the value is no number"),
  REFUSED("arc cosine", "acos(0/0)", "Q009", "acos: the value is no number"),
  TRUE("a number in a unit stays none", "number_in(" NAN_LENGTH ", \"ft\") ~= number_in(" NAN_LENGTH ", \"ft\")"),
  TRUE("so does a size", "abs(0/0) ~= abs(0/0) and abs(" NAN_LENGTH ") ~= abs(" NAN_LENGTH ")"),
  REFUSED("the rest of it", "(" NAN_LENGTH ") % 1ft", "Q006", "cannot count how often"),
  REFUSED("the rest of what has no end", "(3ft * (1/0)) % 1ft", "Q006", "cannot count how often"),
  REFUSED("what has no end in a length", "5ft % (1ft * (1/0))", "Q006", "cannot count how often"),
};

static const struct job_row refusals[] = {
  REFUSED("length plus force", "3ft + 2lbf", "Q003", "cannot add 3 ft (length) and 2 lbf (force)"),
  REFUSED("length minus number", "3ft - 2", "Q003", "cannot subtract: 3 ft (length) minus 2 (a bare number)"),
  REFUSED("number plus length", "2 + 3ft", "Q003", "cannot add 2 (a bare number) and 3 ft (length)"),
  REFUSED("text plus length", "\"2\" + 3ft", "Q003", "cannot add the text"),
  REFUSED("text times length", "\"2\" * 3ft", "Q006", "cannot multiply the text"),
  REFUSED("mass plus force", "3lb + 2lbf", "Q003", "cannot add 3 lb (mass) and 2 lbf (force)"),
  REFUSED("length less than number", "3ft < 4", "Q003", "cannot compare 3 ft (length) with 4 (a bare number)"),
  REFUSED("length less than force", "3ft <= 4lbf", "Q003", "cannot compare"),
  REFUSED("a list times a length", "{} * 3ft", "Q006", "cannot multiply a table by 3 ft (length)"),
  REFUSED("two to the power of a length", "2 ^ (3ft)", "Q006", "cannot raise"),
  REFUSED("a length to the power of a third", "(3ft)^0.3", "Q006", "has no unit"),
  REFUSED("a unit without end", "(3m)^200", "Q006", "has no unit"),
  REFUSED("a product without end", "(3m)^60 * (3m)^60", "Q006", "beyond sense"),
  REFUSED("how often a force goes into a length", "3ft // 2lbf", "Q003",
        "cannot count how often 2 lbf (force) goes into 3 ft (length)"),
  REFUSED("how often nothing goes", "3ft // 0ft", "Q006", "cannot count how often"),
  REFUSED("rest of nothing", "3ft % 0ft", "Q006", "cannot count how often"),
  REFUSED("rest of less than nothing", "5ft % -3ft", "Q006", "cannot count how often"),
  REFUSED("a field", "(3ft).feet", "Q007", "3 ft (length) has no field 'feet'"),
  REFUSED("a field set", "(function() local x = 3ft x.a = 1 end)()", "Q007", "cannot be changed"),
  REFUSED("called", "(function() local x = 3ft return x(2) end)()", "Q007", "cannot be called"),
  REFUSED("joined to nothing", "3ft .. nil", "L002", "it is nothing here (nil)"),
  REFUSED("joined to a table", "3ft .. {}", "L002", "it is a table"),
  REFUSED("a growth of a growth without end", "(function() local x = 3ft for _ = 1, 99 do x = per_year(x) end end)()",
        "Q006", "beyond sense"),
  REFUSED("a wire size looked into with a table", "(6AWG)[{}]", "Q008", "has no field"),
  REFUSED("counted", "#(3ft)", "Q007", "no length of a list"),
};

int main(void) {
  static struct CMUnitTest tests[256];
  size_t n = 0;
  JOB_ROWS(tests, n, laws);
  JOB_ROWS(tests, n, temperatures);
  JOB_ROWS(tests, n, money);
  JOB_ROWS(tests, n, wires);
  JOB_ROWS(tests, n, functions);
  JOB_ROWS(tests, n, no_numbers);
  JOB_ROWS(tests, n, refusals);
  return _cmocka_run_group_tests("quantity", tests, n, job_setup, job_teardown);
}
