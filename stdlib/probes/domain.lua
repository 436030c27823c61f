-- SPDX-License-Identifier: MIT
return { order = 31.6 }
