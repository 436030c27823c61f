-- SPDX-License-Identifier: MIT
return { order = 95 }
