-- SPDX-License-Identifier: MIT
return { order = 20, always = true }
