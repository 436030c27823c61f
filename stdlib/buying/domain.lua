-- SPDX-License-Identifier: MIT
return { order = 60, always = true }
