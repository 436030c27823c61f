-- SPDX-License-Identifier: MIT
local bom = 1
return bom
