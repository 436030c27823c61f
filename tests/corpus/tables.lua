-- SPDX-License-Identifier: MIT
-- Every shape of a field; calls without brackets in fields; functions with statements in tables.
local n = "n"
local a = {}
local b = { 1, 2; 3, }
local c = { x = 1, ["y z"] = 2, [3] = 3, [n] = 4, [{}] = 5, [1 + 1] = 6; 7 }
local d = { f = function(p) local q = 1 r = 2 if q then return { q, r } end end, g = function() end }
local e = { n, -1, not n, #n, (n), n == n, n .. n, { 1 }, { { 2 } }, function() end, ... }
local f = { type "x", type { 1 }, type [[x]], type("x"), (type)"x", n:rep(2), n:rep(2):rep(3), type 'x':rep(2) }
local g = { x
  = 1,
  y =
  2, [ "z"
  ] = 3 }
local h = { ["end"] = 1, _x1 = 2, x == 1, a = { a = { a = 1 } }, b = { a = 1 } }
local i = setmetatable({ 1, { 2, { 3 } } }, { __index = { a = 1 }, __call = function(self, o) return { o } end })
i { a = 1 } i "x" { b = 2 } i(n) { c = 3 }
return { a, b, c }, { d }, e, f[1], g.x, h, i
