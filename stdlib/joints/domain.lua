-- SPDX-License-Identifier: MIT
return { order = 34.5 }
