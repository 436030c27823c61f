-- SPDX-License-Identifier: MIT
-- Every shape of a string and of a comment.  Literals in them stay: 5ft 24" 5% - 3 “smart” – 1,5ft
local a, b = 'single "quotes" 5ft', "double 'quotes' 24\" 5%"
local c = 'escapes \a\b\f\n\r\t\v\\\"\'\065\x41\u{20AC}\z
           go on here' .. "over \
the line" .. '\\' .. "\"" .. ''  .. ""
local d = [[long ]=] 5ft]] .. [=[
first line end is dropped ]] ]==] 24"]=] .. [==[
]=] ]] ]==]
local e = { [ [[key]] ] = 1, [ [=[k]=] ] = 2, ["key"] = 3 }
local f = #[[x]] + #'x'
print 'call' print "call" print [[call]] print [=[call]=] ; ("x"):rep(3) local g = ("y"):upper()
--[[ a long comment 5ft
24" ]] local h = 1 --[==[ another ]] ]=]
]==] local i = 2 -- [[ not long
--[ not long either
---[[ nor this
local j = 3 --]] 
--[=x not long
--
return a, b, c, d, e, f, g, h, i, j -- the end has no line end