-- SPDX-License-Identifier: MIT
return { order = 30.6 }
