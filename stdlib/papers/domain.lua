-- SPDX-License-Identifier: MIT
return { order = 35, always = true }
