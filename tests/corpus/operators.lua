-- SPDX-License-Identifier: MIT
-- Every operator, with and without blanks.
local a, b, c = 1, 2, 3
local arithmetic = a+b-c*a/b//c%a^b, a + b - c * a / b // c % a ^ b, -a, - a, -(-a)
local bits = a&b|c~a<<b>>c, ~a, ~ ~a, a ~ ~b
local comparison = a==b, a~=b, a<b, a>b, a<=b, a>=b
local logic = a and b or not c, not not a
local strings = a..b..c, a .. b, #"x", # {}
local field = ({ x = { y = 1 } }).x.y, ({ 1 })[1], ("x"):len()
local dots = (function(...) return ..., select("#",...) end)(1,...)
return arithmetic,bits,comparison,logic,strings,field,dots
