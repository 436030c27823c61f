-- SPDX-License-Identifier: MIT
-- Every statement (Lua 5.4 reference manual, 3.3).
;;; local a <const>, b <const>, c = 1, nil, 3
local x, y, t = 1, 2, {}
x, y = y, x t.a, t["b"], t[1] = 1, 2, 3
do local z = x end
while x < 1 do x = x + 1 break end
repeat local done = true until done
if x then elseif y then else end
for i = 1, 3 do goto continue ::continue:: end
for i = 3, 1, -1 do end
for k, v in pairs(t) do t[k] = v end
function f(...) local n = select('#', ...) return ... end
function t.f(s) return s end
function t:m(a, b, ...) return self, a, b, ... end
local function g() return end
local h = function(a) return a end
goto over do local s, m, d = 1, 2, 3 end ::over::
f() f(1) f{1} f'1' f"1" f[[1]] t.f(1) t:m(1) t:m{1} t:m'1' f(1)(2){3}'4' ;(f or g)()
local s = 20
local r = s / s + 10 / s - (s)
x = f
(g)()
return f, g, h, r;
