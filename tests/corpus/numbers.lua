-- SPDX-License-Identifier: MIT
-- Every shape of a numeral (Lua 5.4 reference manual, 3.1).
local ints = { 3, 345, 0xff, 0xBEBADA, 0Xa, 0, 007, 9223372036854775807 }
local floats = { 3.0, 3.1416, 314.16e-2, 0.31416E1, 34e1, 0x0.1E, 0xA23p-4, 0X1.921FB54442D18P+1, .5, 5., 5.e3, .5E+2,
1e+5 }
local hex = 0xe-1 + 0xe+1 - 0x10p1 .. 0xA.8p1
local glued = 1-1, 1+1, 1*1, 1/1, 1//1, 1%1, 1^1, 1 ..1, 1==1, 1~=1, 1<1, 1<=1, 1>1, 1>=1, 1&1, 1|1, 1~1, 1<<1, 1>>1
local minus = -1, - 1, - -1, 2^-3, -2^2, 3-2-1, 3 - -2, 3/8, 1-3/8, 2-3/8, 6-1/2
local modulo = 7%3, 7%(3), 7 % 3, 7 %3, 5%ints[2], 5%#floats, 5%.5, 0x10% 3, ints[1]% 3
local ifs = (function() if 1==1 then return 1 end return 2 end)()
for i=1,3 do local x=i end for i=10,1,-1 do end
return ints,floats,hex,glued,minus,modulo,ifs
